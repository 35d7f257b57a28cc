/* Several crossings together, by generalized least squares: x = (X' C^-1 X)^-1 X' C^-1 y, with the
 * full covariance C of the drops. */
#include "rodbook/level/drop/combine.h"

#include <math.h>
#include <stdlib.h>

#include "level/drop/shared.h"
#include "rodbook/level/quantile.h"

#define PARAMETERS (1 + LEVEL_INSTRUMENTS)
/* A chance below this: they disagree (the usual 95 %). */
#define AGREE 0.05

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

/* The case of a parameter of the fit; lengths has room for those of all crossings. */
static struct level_case case_of(const struct level_crossing *c, const struct fit *f, int parameter,
                                 enum level_decides decides, bool with_tilts,
                                 struct level_length *lengths)
{
	struct level_case out = shared_case(c, f->count, f->gain[parameter], with_tilts, lengths);
	out.shown = f->x[parameter];
	out.decides = decides;
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
			f->root[i * n + j] = i == j ? shared_own(&c[i], with_tilts)
			                            : shared_covariance(&c[i], &c[j], with_tilts);
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
	if (!(out->fit_chance >= AGREE) && !out->fit.none)
		out->fit.none = LEVEL_NO_ACCORD;
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
	out->agree = out->chance >= AGREE;
	if (!out->agree && !out->finding.none)
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
		return fault_memory(why);
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
