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

/* The source of b that is the same error as this one; NULL where there is none. */
static const struct level_source *same_source(const struct level_crossing *b,
                                              const struct level_source *source)
{
	for (size_t i = 0; i < b->sources; i++)
		if (level_key_same(&b->source[i].key, &source->key))
			return &b->source[i];
	return NULL;
}

static bool is_same_length(const struct level_length *a, const struct level_length *b)
{
	return level_key_same(&a->key, &b->key) && a->distance == b->distance;
}

/* u, in which samples count with t u/2; signed. */
static double weighed_u(const struct level_source *source)
{
	double more = source->sampled.expanded - source->sampled.variance;
	return copysign(sqrt(source->u * source->u + more), source->u);
}

/* Tilts are unknowns in a fit, not errors. */
static bool counts(const struct level_source *source, bool with_tilts)
{
	return with_tilts || source->instrument < 0;
}

/* What one crossing alone is off by, with the air of its own. */
static double own_variance(const struct level_crossing *a, bool with_tilts)
{
	double air = (a->dk_low + a->dk_high) / 4 * a->air_u, sum = air * air;
	for (size_t i = 0; i < a->sources; i++)
		if (counts(&a->source[i], with_tilts))
			sum += weighed_u(&a->source[i]) * weighed_u(&a->source[i]);
	for (size_t i = 0; i < a->lengths; i++)
		sum += a->length[i].a * a->length[i].u * a->length[i].a * a->length[i].u;
	return sum;
}

/* What two crossings are off by together. */
static double covariance(const struct level_crossing *a, const struct level_crossing *b,
                         bool with_tilts)
{
	double sum = 0;
	for (size_t i = 0; i < a->sources; i++) {
		const struct level_source *other = same_source(b, &a->source[i]);
		if (other && counts(&a->source[i], with_tilts))
			sum += weighed_u(&a->source[i]) * weighed_u(other);
	}
	for (size_t i = 0; i < a->lengths; i++)
		for (size_t j = 0; j < b->lengths; j++)
			if (is_same_length(&a->length[i], &b->length[j]))
				sum += a->length[i].a * a->length[i].u * b->length[j].a *
				       b->length[j].u;
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

/* The errors of a combination of crossings, as a case whose left-over is value - kappa. */
static void add_shared(const struct level_crossing *c, size_t n, const double *gain,
                       bool with_tilts, struct level_case *out)
{
	for (size_t i = 0; i < n; i++)
		for (size_t s = 0; s < c[i].sources; s++) {
			const struct level_source *source = &c[i].source[s];
			double u = gain[i] * source->u, bound = gain[i] * source->bound;
			bool seen = false;
			if (!counts(source, with_tilts))
				continue;
			level_sampled_add(&out->sampled, &source->sampled, gain[i]);
			for (size_t j = 0; j < n; j++) {
				const struct level_source *same =
				    j == i ? NULL : same_source(&c[j], source);
				if (!same)
					continue;
				seen = seen || j < i;
				u += gain[j] * same->u;
				bound += gain[j] * same->bound;
			}
			if (seen)
				continue;
			out->variance += u * u;
			out->bound += fabs(bound);
		}
}

/* Each day's air by itself, or one air for all: whichever does more. */
static void add_air(const struct level_crossing *c, size_t n, const double *gain,
                    struct level_case *out)
{
	for (int side = 0; side < 2; side++) {
		double common = 0, own = 0;
		for (size_t i = 0; i < n; i++) {
			double dk = side ? c[i].dk_high : c[i].dk_low;
			double alone = gain[i] * dk / 2 * c[i].air_u;
			common += gain[i] * dk / 2 * c[i].air_common;
			own += alone * alone;
			out->air_bound[side] += fabs(gain[i]) * dk * c[i].air_most;
		}
		out->air_u[side] = fmax(fabs(common), sqrt(own));
	}
}

static size_t merge_lengths(const struct level_crossing *c, size_t n, const double *gain,
                            struct level_length *out)
{
	size_t count = 0;
	for (size_t i = 0; i < n; i++)
		for (size_t l = 0; l < c[i].lengths; l++) {
			const struct level_length *length = &c[i].length[l];
			size_t at = 0;
			while (at < count && !is_same_length(&out[at], length))
				at++;
			if (at == count) {
				out[count] = *length;
				out[count].a = out[count].b = 0;
				count++;
			}
			out[at].a += gain[i] * length->a;
			out[at].b += gain[i] * length->b;
		}
	return count;
}

/* The case of a weighted sum of crossings; lengths has room for all of theirs. */
static struct level_case case_of(const struct level_crossing *c, const struct fit *f, int parameter,
                                 enum level_decides decides, bool with_tilts,
                                 struct level_length *lengths)
{
	struct level_case out = {.shown = f->x[parameter],
	                         .span = 2,
	                         .length = lengths,
	                         .decides = decides,
	                         .several = f->count > 1};
	add_shared(c, f->count, f->gain[parameter], with_tilts, &out);
	add_air(c, f->count, f->gain[parameter], &out);
	out.lengths = merge_lengths(c, f->count, f->gain[parameter], lengths);
	return out;
}

static struct level_estimate estimate_of(const struct level_case *c)
{
	return (struct level_estimate){c->shown, level_case_u(c, 0), level_case_u95(c, 0),
	                               level_case_all(c, 0)};
}

static bool spread(const struct level_crossing *c, struct fit *f, bool with_tilts)
{
	size_t n = f->count;
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < n; j++)
			f->root[i * n + j] = i == j ? own_variance(&c[i], with_tilts)
			                            : covariance(&c[i], &c[j], with_tilts);
	return factorize(f->root, n);
}

static double chance_of(double chi_square, int freedom)
{
	return freedom > 0 ? level_chi_square_above(chi_square, freedom) : 1;
}

/* What curvature shows, per unit of 1/R, and what each crossing has of it. */
static void fill_curvature(const struct level_crossing *c, struct fit *f)
{
	f->parameters = 1;
	for (size_t i = 0; i < f->count; i++) {
		f->y[i] = c[i].shown;
		f->design[0][i] = c[i].span / 2;
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
                      struct level_length *lengths, struct level_combined *out)
{
	struct level_case curvature;
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
	out->has_fit = true;
	curvature = case_of(c, f, 0, decides, false, lengths);
	curvature.prediction = out->prediction;
	out->fitted = estimate_of(&curvature);
	out->fit = level_judge(&curvature);
	for (int t = 0; t < out->tilts; t++) {
		struct level_case tilt = case_of(c, f, t + 1, decides, false, lengths);
		out->tilt[t] = estimate_of(&tilt);
	}
	weigh_residuals(f);
	out->fit_chi_square = f->chi_square;
	out->fit_freedom = (int)f->count - f->parameters;
	out->fit_chance = chance_of(f->chi_square, out->fit_freedom);
}

static bool combine(const struct level_crossing *c, struct fit *f, enum level_decides decides,
                    struct level_length *lengths, struct level_combined *out)
{
	struct level_case all;
	fill_curvature(c, f);
	if (!spread(c, f, true) || !adjust(f))
		return false;
	for (size_t i = 0; i < f->count; i++)
		out->prediction += f->gain[0][i] * c[i].span / 2 / c[i].radius;
	all = case_of(c, f, 0, decides, true, lengths);
	all.prediction = out->prediction;
	out->curvature = estimate_of(&all);
	out->finding = level_judge(&all);
	weigh_residuals(f);
	out->chi_square = f->chi_square;
	out->freedom = (int)f->count - 1;
	out->chance = chance_of(f->chi_square, out->freedom);
	out->agree = out->chance >= 0.05;
	if (!out->agree)
		out->finding.none = LEVEL_NO_ACCORD;
	fit_apart(c, f, decides, lengths, out);
	return true;
}

bool level_combine(const struct level_crossing *crossings, size_t count, enum level_decides decides,
                   struct level_combined *out, struct fault *why)
{
	struct fit fit = {.count = count};
	struct level_length *lengths;
	double *room;
	bool ok;
	*out = (struct level_combined){0};
	if (count == 0 || count > LEVEL_COMBINE_MOST)
		return fault_say(why, FAULT_INPUT, "from 1 to %d crossings are combined",
		                 LEVEL_COMBINE_MOST);
	for (size_t i = 0; i < count; i++)
		if (crossings[i].span == 0)
			return fault_say(why, FAULT_INPUT,
			                 "a crossing with equal sights has nothing to see");
	room = calloc(count * (count + 2 * PARAMETERS + 1), sizeof *room);
	lengths = calloc(count * LEVEL_LENGTHS_MOST, sizeof *lengths);
	if (!room || !lengths) {
		free(room);
		free(lengths);
		return fault_say(why, FAULT_FILE, "out of memory");
	}
	fit.root = room;
	fit.y = room + count * count;
	for (size_t i = 0; i < PARAMETERS; i++) {
		fit.design[i] = fit.y + count * (1 + i);
		fit.gain[i] = fit.y + count * (1 + PARAMETERS + i);
	}
	ok = combine(crossings, &fit, decides, lengths, out);
	free(room);
	free(lengths);
	return ok || fault_say(why, FAULT_INPUT,
	                       "these crossings cannot be combined: their errors are one and the "
	                       "same");
}

void level_crossing_of(const struct level_drop_sums *sums, const struct level_terms *terms,
                       const struct level_ends *ends, const struct level_identity *identity,
                       const int instrument[LEVEL_INSTRUMENTS], double observed,
                       struct level_crossing *out)
{
	struct level_air_effect air = level_air_effect(sums);
	*out = (struct level_crossing){.s = level_drop_s(sums),
	                               .span = level_drop_span(sums, terms),
	                               .radius = terms->radius,
	                               .dk_low = terms->dk_low,
	                               .dk_high = terms->dk_high,
	                               .shown = observed - level_drop_flat(sums, terms),
	                               .air_u = level_air_u(&air, terms),
	                               .air_common = air.common,
	                               .air_most = air.most};
	out->sources = level_sources(sums, terms, ends, identity, out->source);
	for (size_t i = 0; i < out->sources; i++)
		if (out->source[i].instrument >= 0)
			out->source[i].instrument = instrument[out->source[i].instrument];
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0)
			out->s_d[instrument[i]] += sums->s_d[i];
}
