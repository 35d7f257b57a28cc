/* Random nets, against the weighted least squares of the GNU Scientific Library: its full design
 * matrix by singular values knows nothing of sparse factors, orders or sections. */
#include "rodbook/level/net.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdio.h>

#include "unit/chance.h"
#include "unit/suite.h"

#define NETS 400
#define MARKS_MOST 40
#define LINES_MOST 120
#define TOLERANCE 1e-9 /* m */

struct world {
	struct level_net_mark mark[MARKS_MOST];
	struct level_net_line line[LINES_MOST];
	struct level_net net;
	size_t column[MARKS_MOST]; /* of the loose marks, in the design matrix */
	size_t loose;
};

/* A tree from the fixed marks outward, some of it with a single line, then lines at random:
 * parallel ones, loops and lines between fixed marks among them. */
static void draw(struct world *w, uint64_t *state)
{
	size_t marks = (size_t)chance(state, 2, MARKS_MOST),
	       fixed = (size_t)chance(state, 1, marks > 6 ? 5 : 1),
	       more = (size_t)chance(state, 1, LINES_MOST - MARKS_MOST), lines = 0;
	level_nm height[MARKS_MOST];
	w->loose = 0;
	for (size_t m = 0; m < marks; m++) {
		height[m] =
		    chance(state, -500, 3000) * LEVEL_NM_PER_M + chance(state, 0, 999999999);
		w->mark[m] = (struct level_net_mark){"M", m < fixed, height[m]};
		w->column[m] = m < fixed ? SIZE_MAX : w->loose++;
	}
	for (size_t i = 0; i < marks - fixed + more; i++) {
		bool tree = i < marks - fixed;
		size_t to = tree ? fixed + i : (size_t)chance(state, 0, (int64_t)marks - 1),
		       from = (size_t)chance(state, 0, tree ? (int64_t)to - 1 : (int64_t)marks - 1);
		bool turned = chance(state, 0, 1);
		double km = (double)chance(state, 10, 30000) / 1000;
		level_nm error = (level_nm)(sqrt(km) * (double)chance(state, -4000000, 4000000));
		w->line[lines++] = (struct level_net_line){
		    turned ? to : from, turned ? from : to,
		    (turned ? height[from] - height[to] : height[to] - height[from]) + error, km};
	}
	w->net =
	    (struct level_net){.marks = marks, .lines = lines, .mark = w->mark, .line = w->line};
}

static void check(const struct world *w, const struct level_net_result *r)
{
	size_t n = w->net.lines, p = w->loose;
	gsl_matrix *design = gsl_matrix_calloc(n, p), *covariance = gsl_matrix_alloc(p, p);
	gsl_vector *weight = gsl_vector_alloc(n), *y = gsl_vector_alloc(n),
	           *c = gsl_vector_alloc(p);
	gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, p);
	double chi_square, variance;
	for (size_t i = 0; i < n; i++) {
		const struct level_net_line *line = &w->net.line[i];
		double rise = level_to_meters(line->rise);
		const size_t ends[] = {line->from, line->to};
		for (int e = 0; e < 2; e++) {
			double sign = e ? 1 : -1;
			if (w->mark[ends[e]].fixed)
				rise -= sign * level_to_meters(w->mark[ends[e]].elevation);
			else
				*gsl_matrix_ptr(design, i, w->column[ends[e]]) += sign;
		}
		gsl_vector_set(y, i, rise);
		gsl_vector_set(weight, i, 1 / line->measure);
	}
	ck_assert_int_eq(gsl_multifit_wlinear(design, weight, y, c, covariance, &chi_square, work),
	                 0);
	ck_assert_int_eq(r->freedom, (int)(n - p));
	variance = n > p ? chi_square / (double)(n - p) : 0;
	ck_assert_double_eq_tol(sqrt(r->variance), sqrt(variance), TOLERANCE);
	for (size_t m = 0; m < w->net.marks; m++) {
		double q;
		if (w->mark[m].fixed) {
			ck_assert_int_eq(r->mark[m].elevation, w->mark[m].elevation);
			continue;
		}
		q = gsl_matrix_get(covariance, w->column[m], w->column[m]);
		ck_assert_double_eq_tol(level_to_meters(r->mark[m].elevation),
		                        gsl_vector_get(c, w->column[m]), TOLERANCE + 5e-10);
		ck_assert_double_eq_tol(sqrt(r->variance * r->mark[m].cofactor), sqrt(variance * q),
		                        TOLERANCE);
	}
	for (size_t i = 0; i < n; i++) {
		gsl_vector_view row = gsl_matrix_row(design, i);
		double fitted, sd, q;
		gsl_multifit_linear_est(&row.vector, c, covariance, &fitted, &sd);
		q = w->net.line[i].measure - sd * sd;
		ck_assert_double_eq_tol(r->line[i].residual, fitted - gsl_vector_get(y, i),
		                        TOLERANCE);
		ck_assert_double_eq_tol(r->line[i].cofactor, q, 1e-8 * w->net.line[i].measure);
		if (r->line[i].has_standardized && r->line[i].redundancy > 1e-3)
			ck_assert_double_eq_tol(
			    r->line[i].standardized,
			    (fitted - gsl_vector_get(y, i)) / sqrt(variance * q), 1e-5);
	}
	gsl_matrix_free(design);
	gsl_matrix_free(covariance);
	gsl_vector_free(weight);
	gsl_vector_free(y);
	gsl_vector_free(c);
	gsl_multifit_linear_free(work);
}

START_TEST(test_random)
{
	uint64_t state = chance_seed("nets against GSL");
	struct fault why = {0};
	int single = 0;
	for (int i = 0; i < NETS; i++) {
		struct world w;
		struct level_net_result r;
		draw(&w, &state);
		ck_assert_msg(level_net_adjust(&w.net, NULL, NULL, &r, &why), "%s", why.text);
		if (w.loose)
			check(&w, &r);
		for (size_t l = 0; l < w.net.lines; l++)
			single += !r.line[l].checked;
		level_net_free(&r);
	}
	/* Lines that nothing checks were among them. */
	ck_assert_int_gt(single, NETS / 20);
}
END_TEST

/* The limits of the largest residual and of the variance, from GSL's distributions. */
START_TEST(test_limits)
{
	uint64_t state = chance_seed("limits of nets");
	for (int i = 0; i < 200; i++) {
		struct world w;
		struct level_net_result r;
		double checked = 0;
		draw(&w, &state);
		w.net.sigma = i % 2 ? 0.002 : 0;
		ck_assert(level_net_adjust(&w.net, NULL, NULL, &r, NULL));
		for (size_t l = 0; l < w.net.lines; l++)
			checked += r.line[l].checked;
		if (r.has_limit && w.net.sigma > 0) {
			ck_assert_double_eq_tol(r.limit, gsl_cdf_ugaussian_Qinv(0.025 / checked),
			                        1e-7);
		} else if (r.has_limit) {
			double f = r.freedom, t = gsl_cdf_tdist_Qinv(0.025 / checked, f - 1);
			ck_assert_double_eq_tol(r.limit, t * sqrt(f / (f - 1 + t * t)), 1e-7);
		}
		if (r.has_test) {
			double f = r.freedom;
			ck_assert_double_eq_tol(r.low, gsl_cdf_chisq_Pinv(0.025, f), 1e-7);
			ck_assert_double_eq_tol(r.high, gsl_cdf_chisq_Pinv(0.975, f), 1e-7);
			ck_assert_double_eq_tol(r.chi_square, f * r.variance / 4e-6,
			                        1e-9 * r.chi_square);
		}
		level_net_free(&r);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("net", test_random, test_limits);
}
