/* Crossings combined, against the GNU Scientific Library: whitened by the Cholesky factor of their
 * covariance, generalized least squares is an ordinary fit. */
#include "rodbook/level/drop/combine.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

#include "unit/chance.h"
#include "unit/suite.h"

#define MOST 12
#define PARAMETERS 3
#define SETS 2000
#define RELATIVE 1e-9

/* Ids of shared errors; each crossing's own follow. */
enum { TILT = 1, AIR = 5, MARKS = 9, OWN = 20 };

static double real(uint64_t *state, double low, double high)
{
	return low + (high - low) * (double)(chance_next(state) >> 11) / 9007199254740992.0;
}

static void add(struct level_crossing *c, int id, double u, double freedom)
{
	/* t beyond 2 only by a bound of its own */
	double size = fabs(u);
	struct level_mean_u mean = {
	    size, freedom, isinf(freedom) ? 2 * size : size * gsl_cdf_tdist_Pinv(0.975, freedom)};
	c->source[c->sources++] = (struct level_source){.key = {1, id, 0},
	                                                .instrument = id < AIR ? id - TILT : -1,
	                                                .u = u,
	                                                .bound = 2.5 * u,
	                                                .sampled = level_sampled_of(&mean)};
}

/* A crossing with one of two instruments, on one of two days, between one of two pairs of marks,
 * read at random near a share of the prediction and a tilt. */
static struct level_crossing draw(uint64_t *state, int number, bool two, bool alike)
{
	struct level_crossing out = {.radius = real(state, 6.3e6, 6.4e6)};
	double near = real(state, 1, 100), far, s, turn;
	int instrument = two ? (int)chance(state, 0, 1) : 0;
	/* Distances apart, so that a fit has something to tell tilt and curvature by; or alike, so
	 * that it has little. */
	far = alike ? 800 + real(state, 0, 40) : 200 + 600 * (number % 3) + real(state, 0, 400);
	if (chance(state, 0, 1)) {
		double swap = near;
		near = far;
		far = swap;
	}
	s = far * far - near * near;
	turn = s > 0 ? 1 : -1;
	out.span = s;
	out.s_d[instrument] = near - far;
	out.shown = s / (2 * out.radius) + real(state, -0.01, 0.01) + 2e-5 * (far - near);
	/* tested by four and by six sets of pegs, whose spread all crossings share */
	add(&out, TILT + instrument, 3e-5 * (far - near), 3 + 2 * instrument);
	add(&out, AIR + (int)chance(state, 0, 1), 0.1 * s / (2 * LEVEL_MEAN_RADIUS),
	    (double)INFINITY);
	add(&out, MARKS + (int)chance(state, 0, 1), chance(state, 0, 1) ? 0.002 : -0.002,
	    (double)INFINITY);
	add(&out, OWN + 2 * number, turn * real(state, 0.002, 0.02), (double)INFINITY);
	add(&out, OWN + 2 * number + 1, real(state, 0.002, 0.02), (double)chance(state, 1, 20));
	return out;
}

/* Samples weigh with t u/2. */
static double source_weighed(const struct level_crossing *c, int id)
{
	for (size_t i = 0; i < c->sources; i++)
		if (c->source[i].key.what == id)
			return c->source[i].sampled.largest > 0
			           ? copysign(c->source[i].sampled.largest / 2, c->source[i].u)
			           : c->source[i].u;
	return 0;
}

static double source_u(const struct level_crossing *c, int id)
{
	for (size_t i = 0; i < c->sources; i++)
		if (c->source[i].key.what == id)
			return c->source[i].u;
	return 0;
}

/* t u of the sample with this id, 0 of other sources; the degrees of freedom of a sample's t. */
static double source_alone(const struct level_crossing *c, size_t count, int id)
{
	for (size_t i = 0; i < count; i++)
		for (size_t j = 0; j < c[i].sources; j++)
			if (c[i].source[j].key.what == id)
				return c[i].source[j].sampled.largest;
	return 0;
}

static double source_freedom(const struct level_crossing *c, size_t count, int id)
{
	for (size_t i = 0; i < count; i++)
		for (size_t j = 0; j < c[i].sources; j++)
			if (c[i].source[j].key.what == id && c[i].source[j].sampled.fourth > 0)
				return pow(c[i].source[j].u, 4) / c[i].source[j].sampled.fourth;
	return (double)INFINITY;
}

/* Everything that GSL says of a fit. */
struct fitted {
	double x[PARAMETERS], cofactor[PARAMETERS][PARAMETERS], chi_square;
	double gain[PARAMETERS][MOST];
};

/* Fits y; returns chi-square. */
static double fit(const gsl_matrix *root, const gsl_matrix *design, const double *y, gsl_vector *x,
                  gsl_matrix *cofactor)
{
	size_t n = design->size1, p = design->size2;
	gsl_matrix *white = gsl_matrix_alloc(n, p);
	gsl_vector *white_y = gsl_vector_alloc(n), *weight = gsl_vector_alloc(n);
	gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, p);
	double chi_square;
	gsl_matrix_memcpy(white, design);
	for (size_t i = 0; i < n; i++)
		gsl_vector_set(white_y, i, y[i]);
	gsl_vector_set_all(weight, 1);
	gsl_blas_dtrsm(CblasLeft, CblasLower, CblasNoTrans, CblasNonUnit, 1, root, white);
	gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, root, white_y);
	ck_assert_int_eq(
	    gsl_multifit_wlinear(white, weight, white_y, x, cofactor, &chi_square, work), 0);
	gsl_multifit_linear_free(work);
	gsl_vector_free(weight);
	gsl_vector_free(white_y);
	gsl_matrix_free(white);
	return chi_square;
}

/* First and last id that the covariance is made of: with the tilts or without. */
static struct fitted fit_all(const struct level_crossing *c, size_t n, int first, size_t p,
                             double column[PARAMETERS][MOST], const double *y)
{
	struct fitted out;
	gsl_matrix *root = gsl_matrix_calloc(n, n), *design = gsl_matrix_alloc(n, p);
	gsl_matrix *cofactor = gsl_matrix_alloc(p, p);
	gsl_vector *x = gsl_vector_alloc(p);
	for (size_t i = 0; i < n; i++) {
		for (size_t j = 0; j < n; j++)
			for (int id = first; id < OWN + 2 * MOST; id++)
				*gsl_matrix_ptr(root, i, j) +=
				    source_weighed(&c[i], id) * source_weighed(&c[j], id);
		for (size_t k = 0; k < p; k++)
			gsl_matrix_set(design, i, k, column[k][i]);
	}
	ck_assert_int_eq(gsl_linalg_cholesky_decomp1(root), 0);
	for (size_t i = 0; i < n; i++) {
		double unit[MOST] = {0};
		unit[i] = 1;
		fit(root, design, unit, x, cofactor);
		for (size_t k = 0; k < p; k++)
			out.gain[k][i] = gsl_vector_get(x, k);
	}
	out.chi_square = fit(root, design, y, x, cofactor);
	for (size_t k = 0; k < p; k++) {
		out.x[k] = gsl_vector_get(x, k);
		for (size_t l = 0; l < p; l++)
			out.cofactor[k][l] = gsl_matrix_get(cofactor, k, l);
	}
	gsl_vector_free(x);
	gsl_matrix_free(cofactor);
	gsl_matrix_free(design);
	gsl_matrix_free(root);
	return out;
}

static void check_near(const char *what, double got, double expected, double scale)
{
	ck_assert_msg(fabs(got - expected) <= RELATIVE * fmax(fabs(expected), scale),
	              "%s: %.15g, not %.15g", what, got, expected);
}

/* Bound and u source by source; at 95 % twice the root of GSL's variance, where samples weigh with
 * t u/2. Of a single crossing by Welch-Satterthwaite (JCGM 100:2008 G.4), a factor of at least 2,
 * and 2 above 60 degrees of freedom (6.3.3), never less than one sample needs by itself. */
static void check_estimate(const char *what, const struct level_estimate *got,
                           const struct fitted *f, size_t k, const struct level_crossing *c,
                           size_t n, int first)
{
	double u = 0, bound = 0, fourth = 0, factor = 2, alone = 0;
	for (int id = first; id < OWN + 2 * MOST; id++) {
		double sum = 0;
		for (size_t i = 0; i < n; i++)
			sum += f->gain[k][i] * source_u(&c[i], id);
		u += sum * sum;
		bound += 2.5 * fabs(sum);
		if (source_alone(c, n, id) > 0)
			alone = fmax(
			    alone, fabs(sum) * gsl_cdf_tdist_Pinv(0.975, source_freedom(c, n, id)));
		fourth += pow(sum, 4) / source_freedom(c, n, id);
	}
	u = sqrt(u);
	if (n > 1)
		alone = 2 * sqrt(f->cofactor[k][k]);
	else if (fourth > 0 && pow(u, 4) / fourth <= 60)
		factor = fmax(2, gsl_cdf_tdist_Pinv(0.975, pow(u, 4) / fourth));
	/* what is near 0 by chance is as good as its uncertainty */
	check_near(what, got->value, f->x[k], u);
	check_near(what, got->u, u, 0);
	check_near(what, got->bound, bound, 0);
	check_near(what, got->u95, fmin(fmax(factor * u, alone), bound), 0);
}

/* The largest |correlation| of a tilt with the curvature, by GSL. */
static double closest_correlation(const struct fitted *f, size_t tilts)
{
	double most = 0;
	for (size_t k = 1; k <= tilts; k++)
		most = fmax(most,
		            fabs(f->cofactor[0][k]) / sqrt(f->cofactor[0][0] * f->cofactor[k][k]));
	return most;
}

/* False where tilt and curvature could not be told apart. */
static bool check_set(const struct level_crossing *c, size_t n)
{
	double column[PARAMETERS][MOST], y[MOST];
	struct level_combined got;
	struct fault why;
	struct fitted f;
	size_t tilts = 0;
	double closest;
	ck_assert_msg(level_combine(c, n, LEVEL_BY_U95, &got, &why), "%s", why.text);

	for (size_t i = 0; i < n; i++) {
		column[0][i] = c[i].span / 2;
		y[i] = c[i].shown;
	}
	f = fit_all(c, n, TILT, 1, column, y);
	check_estimate("curvature", &got.curvature, &f, 0, c, n, TILT);
	check_near("chi-square", got.chi_square, f.chi_square, 1);
	check_near("chance", got.chance, n > 1 ? gsl_cdf_chisq_Q(f.chi_square, (double)n - 1) : 1,
	           1);

	for (int t = 0; t < 2; t++) {
		bool used = false;
		for (size_t i = 0; i < n; i++) {
			column[1 + tilts][i] = -c[i].s_d[t];
			used = used || c[i].s_d[t] != 0;
		}
		tilts += used;
	}
	if (n <= tilts) {
		ck_assert(!got.has_fit);
		return true;
	}
	f = fit_all(c, n, AIR, 1 + tilts, column, y);
	closest = closest_correlation(&f, tilts);
	/* what lies on the limit but for rounding may go either way */
	if (fabs(closest - LEVEL_APART_MOST) > RELATIVE)
		ck_assert_int_eq(got.has_fit, closest < LEVEL_APART_MOST);
	if (!got.has_fit)
		return false;
	check_estimate("fitted curvature", &got.fitted, &f, 0, c, n, AIR);
	ck_assert_int_eq(got.tilts, (int)tilts);
	for (size_t k = 1; k <= tilts; k++) {
		check_estimate("fitted tilt", &got.tilt[k - 1], &f, k, c, n, AIR);
		check_near("correlation", got.correlation[k - 1],
		           f.cofactor[0][k] / sqrt(f.cofactor[0][0] * f.cofactor[k][k]), 1);
	}
	check_near("chi-square of the fit", got.fit_chi_square, f.chi_square, 1);
	ck_assert_int_eq(got.fit_freedom, (int)(n - 1 - tilts));
	return true;
}

START_TEST(test_random_sets)
{
	uint64_t state = chance_seed("combine");
	int refused = 0;
	for (int set = 0; set < SETS; set++) {
		struct level_crossing c[MOST];
		size_t n = (size_t)chance(&state, 1, MOST);
		bool two = chance(&state, 0, 1), alike = chance(&state, 0, 7) == 0;
		for (size_t i = 0; i < n; i++)
			c[i] = draw(&state, (int)i, two, alike);
		refused += !check_set(c, n);
	}
	/* both sides of the limit are met: an eighth of the distances are alike */
	ck_assert_int_gt(refused, SETS / 100);
	ck_assert_int_lt(refused, SETS / 8 + SETS / 20);
}
END_TEST

int main(void)
{
	return RUN_TESTS("combine", test_random_sets);
}
