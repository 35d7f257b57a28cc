/* Several crossings together, by generalized least squares: x = (X' C^-1 X)^-1 X' C^-1 y, with the
 * full covariance C of the drops. */
#include "rodbook/combine.h"

#include <math.h>
#include <stdlib.h>

#include "rodbook/quantile.h"

#define PARAMETERS (1 + LEVEL_INSTRUMENTS)

/* A fit: design and gain are parameters x crossings. */
struct fit {
	int parameters;
	size_t count;
	double *root; /* Cholesky factor of C, count x count */
	double *design[PARAMETERS], *gain[PARAMETERS], *y;
	double cofactor[PARAMETERS][PARAMETERS]; /* (X' C^-1 X)^-1 */
	double x[PARAMETERS];
	double chi_square;
};

static const struct level_source *find_source(const struct level_crossing *c, int id)
{
	for (size_t i = 0; i < c->sources; i++)
		if (c->source[i].id == id)
			return &c->source[i];
	return NULL;
}

static bool is_tilt(const struct level_crossing *c, int id)
{
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (c->tilt_source[i] == id)
			return true;
	return false;
}

/* u, in which samples count with t u/2; signed. */
static double weighed_u(const struct level_source *source)
{
	double more = source->sampled.expanded - source->sampled.variance;
	return copysign(sqrt(source->u * source->u + more), source->u);
}

static double covariance(const struct level_crossing *a, const struct level_crossing *b,
                         bool with_tilts)
{
	double sum = 0;
	for (size_t i = 0; i < a->sources; i++) {
		const struct level_source *other = find_source(b, a->source[i].id);
		if (other && (with_tilts || !is_tilt(a, a->source[i].id)))
			sum += weighed_u(&a->source[i]) * weighed_u(other);
	}
	return sum;
}

/* Cholesky factor in place, row by row; false where the matrix is not positive definite, in
 * proportion to its own diagonal. */
static bool factorize(double *m, size_t n)
{
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j <= i; j++) {
			double sum = m[i * n + j], whole = sum;
			for (size_t k = 0; k < j; k++)
				sum -= m[i * n + k] * m[j * n + k];
			if (i != j)
				m[i * n + j] = sum / m[j * n + j];
			else if (sum > 1e-10 * whole)
				m[i * n + i] = sqrt(sum);
			else
				return false;
		}
	return true;
}

/* root z = v, then root' v = z: C^-1 v. */
static void solve(const double *root, size_t n, double *v)
{
	for (size_t i = 0; i < n; i++) {
		for (size_t k = 0; k < i; k++)
			v[i] -= root[i * n + k] * v[k];
		v[i] /= root[i * n + i];
	}
	for (size_t i = n; i-- > 0;) {
		for (size_t k = i + 1; k < n; k++)
			v[i] -= root[k * n + i] * v[k];
		v[i] /= root[i * n + i];
	}
}

static double dot(const double *a, const double *b, size_t n)
{
	double sum = 0;
	for (size_t i = 0; i < n; i++)
		sum += a[i] * b[i];
	return sum;
}

/* Inverts the normal matrix, scaled to a unit diagonal so that meters and slopes compare. */
static bool invert(struct fit *f, double normal[PARAMETERS][PARAMETERS])
{
	size_t p = (size_t)f->parameters;
	double scaled[PARAMETERS * PARAMETERS], column[PARAMETERS];
	for (size_t i = 0; i < p; i++)
		for (size_t j = 0; j < p; j++)
			scaled[i * p + j] = normal[i][j] / sqrt(normal[i][i] * normal[j][j]);
	if (!factorize(scaled, p))
		return false;
	for (size_t j = 0; j < p; j++) {
		for (size_t i = 0; i < p; i++)
			column[i] = i == j;
		solve(scaled, p, column);
		for (size_t i = 0; i < p; i++)
			f->cofactor[i][j] = column[i] / sqrt(normal[i][i] * normal[j][j]);
	}
	return true;
}

/* The fit of y by the design; false where the parameters cannot be told apart. */
static bool adjust(struct fit *f)
{
	size_t n = f->count;
	double normal[PARAMETERS][PARAMETERS] = {{0}}, right[PARAMETERS] = {0};
	for (int i = 0; i < f->parameters; i++) {
		/* gain holds C^-1 X at first */
		for (size_t r = 0; r < n; r++)
			f->gain[i][r] = f->design[i][r];
		solve(f->root, n, f->gain[i]);
	}
	for (int i = 0; i < f->parameters; i++) {
		right[i] = dot(f->gain[i], f->y, n);
		for (int j = 0; j < f->parameters; j++)
			normal[i][j] = dot(f->gain[i], f->design[j], n);
		if (!(normal[i][i] > 0))
			return false;
	}
	if (!invert(f, normal))
		return false;
	for (size_t r = 0; r < n; r++) {
		double weighted[PARAMETERS];
		for (int i = 0; i < f->parameters; i++)
			weighted[i] = f->gain[i][r];
		for (int i = 0; i < f->parameters; i++) {
			f->gain[i][r] = 0;
			for (int j = 0; j < f->parameters; j++)
				f->gain[i][r] += f->cofactor[i][j] * weighted[j];
		}
	}
	for (int i = 0; i < f->parameters; i++) {
		f->x[i] = 0;
		for (int j = 0; j < f->parameters; j++)
			f->x[i] += f->cofactor[i][j] * right[j];
	}
	return true;
}

/* v' C^-1 v of the residuals, which take y's place. */
static void weigh_residuals(struct fit *f)
{
	double sum = 0;
	for (size_t r = 0; r < f->count; r++)
		for (int i = 0; i < f->parameters; i++)
			f->y[r] -= f->x[i] * f->design[i][r];
	for (size_t i = 0; i < f->count; i++) {
		for (size_t k = 0; k < i; k++)
			f->y[i] -= f->root[i * f->count + k] * f->y[k];
		f->y[i] /= f->root[i * f->count + i];
		sum += f->y[i] * f->y[i];
	}
	f->chi_square = sum;
}

/* The 95 % half interval of a combination. The weights of several follow the luck of their spreads
 * even so, and what is chosen by luck needs more: each sample's own t, in quadrature. */
static double expand(double variance, const struct level_sampled *sampled, size_t crossings)
{
	if (crossings == 1)
		return level_expand(variance, sampled);
	return 2 * sqrt(fmax(0, variance - sampled->variance) + sampled->expanded);
}

/* What each source does to a combination of the drops. */
static struct level_estimate estimate(const struct level_crossing *c, size_t n, const double *gain,
                                      double value, bool with_tilts)
{
	struct level_estimate out = {.value = value};
	struct level_sampled sampled = {0};
	double variance = 0;
	for (size_t i = 0; i < n; i++)
		for (size_t s = 0; s < c[i].sources; s++) {
			int id = c[i].source[s].id;
			double u = 0, bound = 0;
			bool first = true;
			if (!with_tilts && is_tilt(&c[i], id))
				continue;
			for (size_t j = 0; j < n; j++) {
				const struct level_source *same = find_source(&c[j], id);
				if (!same)
					continue;
				first = first && j >= i;
				u += gain[j] * same->u;
				bound += gain[j] * same->bound;
			}
			if (!first)
				continue;
			variance += u * u;
			out.bound += fabs(bound);
			level_sampled_add(&sampled, &c[i].source[s].sampled, gain[i]);
		}
	out.u = sqrt(variance);
	out.u95 = fmin(expand(variance, &sampled, n), out.bound);
	return out;
}

static bool spread(const struct level_crossing *c, struct fit *f, bool with_tilts)
{
	size_t n = f->count;
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < n; j++)
			f->root[i * n + j] = covariance(&c[i], &c[j], with_tilts);
	return factorize(f->root, n);
}

static double chance_of(double chi_square, int freedom)
{
	return freedom > 0 ? level_chi_square_above(chi_square, freedom) : 1;
}

static double decided(const struct level_estimate *e, enum level_decides decides)
{
	return decides == LEVEL_BY_BOUND ? e->bound : e->u95;
}

static void fill_share(const struct level_crossing *c, struct fit *f)
{
	f->parameters = 1;
	for (size_t i = 0; i < f->count; i++) {
		f->y[i] = c[i].observed;
		f->design[0][i] = c[i].predicted;
	}
}

/* The drop that curvature alone would make, per unit of 1/R, and what is left to it. */
static void fill_curvature(const struct level_crossing *c, struct fit *f)
{
	f->parameters = 1;
	for (size_t i = 0; i < f->count; i++) {
		double bent = -c[i].k * c[i].s_d2 / (2 * LEVEL_MEAN_RADIUS);
		f->y[i] = c[i].observed + bent;
		f->design[0][i] = (c[i].predicted + bent) * c[i].radius;
	}
}

static void fill_tilts(const struct level_crossing *c, struct fit *f, struct level_combined *out)
{
	fill_curvature(c, f);
	out->tilts = 0;
	for (int t = 0; t < LEVEL_INSTRUMENTS; t++) {
		bool used = false;
		for (size_t i = 0; i < f->count; i++)
			used = used || c[i].s_d[t] != 0;
		if (!used)
			continue;
		for (size_t i = 0; i < f->count; i++)
			f->design[f->parameters][i] = -c[i].s_d[t];
		out->tilt_instrument[out->tilts++] = t;
		f->parameters++;
	}
}

/* Fills the correlations of the fit's tilts with its curvature; false where one is as good as 1. */
static bool is_apart(const struct fit *f, struct level_combined *out)
{
	bool apart = true;
	for (int t = 0; t < out->tilts; t++) {
		out->correlation[t] =
		    f->cofactor[0][t + 1] / sqrt(f->cofactor[0][0] * f->cofactor[t + 1][t + 1]);
		apart = apart && fabs(out->correlation[t]) < LEVEL_APART_MOST;
	}
	return apart;
}

/* Tilt and curvature apart: the tilts are unknowns here, not errors. */
static void fit_apart(const struct level_crossing *c, struct fit *f, enum level_decides decides,
                      struct level_combined *out)
{
	fill_tilts(c, f, out);
	if (f->count < (size_t)f->parameters) {
		out->no_fit = "too few crossings to tell tilt from curvature";
		return;
	}
	if (!spread(c, f, false) || !adjust(f) || !is_apart(f, out)) {
		out->no_fit = "tilt and curvature cannot be told apart at these distances: "
		              "sight over another one";
		return;
	}
	weigh_residuals(f);
	out->has_fit = true;
	out->fitted = estimate(c, f->count, f->gain[0], f->x[0], false);
	for (int t = 0; t < out->tilts; t++)
		out->tilt[t] = estimate(c, f->count, f->gain[t + 1], f->x[t + 1], false);
	out->fit_chi_square = f->chi_square;
	out->fit_freedom = (int)f->count - f->parameters;
	out->fit_chance = chance_of(f->chi_square, out->fit_freedom);
	out->fit_radius = level_radius_of(out->fitted.value, decided(&out->fitted, decides));
}

static bool combine(const struct level_crossing *c, struct fit *f, enum level_decides decides,
                    struct level_combined *out)
{
	fill_share(c, f);
	if (!spread(c, f, true) || !adjust(f))
		return false;
	out->share = estimate(c, f->count, f->gain[0], f->x[0], true);
	out->answer = level_answer_of(out->share.value, 1, decided(&out->share, decides));
	weigh_residuals(f);
	out->chi_square = f->chi_square;
	out->freedom = (int)f->count - 1;
	out->chance = chance_of(f->chi_square, out->freedom);
	out->agree = out->chance >= 0.05;
	fill_curvature(c, f);
	if (!adjust(f))
		return false;
	out->curvature = estimate(c, f->count, f->gain[0], f->x[0], true);
	out->radius = level_radius_of(out->curvature.value, decided(&out->curvature, decides));
	fit_apart(c, f, decides, out);
	return true;
}

bool level_combine(const struct level_crossing *crossings, size_t count, enum level_decides decides,
                   struct level_combined *out, struct fault *why)
{
	struct fit fit = {.count = count};
	double *room;
	bool ok;
	*out = (struct level_combined){0};
	if (count == 0 || count > LEVEL_COMBINE_MOST)
		return fault_say(why, FAULT_INPUT, "from 1 to %d crossings are combined",
		                 LEVEL_COMBINE_MOST);
	for (size_t i = 0; i < count; i++)
		if (crossings[i].s_d2 == 0 || crossings[i].predicted == 0)
			return fault_say(why, FAULT_INPUT,
			                 "a crossing with equal sights has nothing to see");
	room = calloc(count * (count + 2 * PARAMETERS + 1), sizeof *room);
	if (!room)
		return fault_say(why, FAULT_FILE, "out of memory");
	fit.root = room;
	fit.y = room + count * count;
	for (size_t i = 0; i < PARAMETERS; i++) {
		fit.design[i] = fit.y + count * (1 + i);
		fit.gain[i] = fit.y + count * (1 + PARAMETERS + i);
	}
	ok = combine(crossings, &fit, decides, out);
	free(room);
	return ok || fault_say(why, FAULT_INPUT,
	                       "these crossings cannot be combined: their errors are one and the "
	                       "same");
}
