/* Two epochs against the weighted least squares of the GNU Scientific Library: random nets, free
 * and held; and how often marks that stand look changed, over thousands of simulated epochs. */
#include "rodbook/level/changes.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdio.h>

#include "unit/chance.h"
#include "unit/suite.h"

#define PAIRS 300
#define MARKS_MOST 30
#define LINES_MOST 90
#define TOLERANCE 1e-9 /* m */

/* One epoch of the same marks, in an order of its own. */
struct world {
	struct level_net_mark mark[MARKS_MOST];
	struct level_net_line line[LINES_MOST];
	struct level_net net;
	struct level_net_result result;
	size_t place[MARKS_MOST]; /* where the mark of that number stands in this net */
};

struct solution {
	double height[MARKS_MOST];
	gsl_matrix *q; /* marks x marks, in the order of the net; 0 at held ones */
	double sum;    /* v'Pv */
	int freedom;
};

/* Least squares by the full design matrix, held on the marks that are said to be. */
static void solve(const struct world *w, const bool *held, struct solution *out)
{
	size_t n = w->net.lines, p = 0, column[MARKS_MOST];
	gsl_matrix *design, *covariance;
	gsl_vector *weight = gsl_vector_alloc(n), *y = gsl_vector_alloc(n), *c;
	gsl_multifit_linear_workspace *work;
	for (size_t m = 0; m < w->net.marks; m++)
		column[m] = held[m] ? SIZE_MAX : p++;
	design = gsl_matrix_calloc(n, p);
	covariance = gsl_matrix_alloc(p, p);
	c = gsl_vector_alloc(p);
	work = gsl_multifit_linear_alloc(n, p);
	for (size_t i = 0; i < n; i++) {
		const struct level_net_line *line = &w->net.line[i];
		const size_t ends[] = {line->from, line->to};
		double rise = level_to_meters(line->rise);
		for (int e = 0; e < 2; e++) {
			double sign = e ? 1 : -1;
			if (held[ends[e]])
				rise -= sign * level_to_meters(w->mark[ends[e]].elevation);
			else
				*gsl_matrix_ptr(design, i, column[ends[e]]) += sign;
		}
		gsl_vector_set(y, i, rise);
		gsl_vector_set(weight, i, 1 / line->measure);
	}
	ck_assert_int_eq(gsl_multifit_wlinear(design, weight, y, c, covariance, &out->sum, work),
	                 0);
	out->freedom = (int)n - (int)p;
	out->q = gsl_matrix_calloc(w->net.marks, w->net.marks);
	for (size_t m = 0; m < w->net.marks; m++) {
		out->height[m] =
		    held[m] ? level_to_meters(w->mark[m].elevation) : gsl_vector_get(c, column[m]);
		for (size_t k = 0; k < w->net.marks; k++)
			if (!held[m] && !held[k])
				gsl_matrix_set(out->q, m, k,
				               gsl_matrix_get(covariance, column[m], column[k]));
	}
	gsl_matrix_free(design);
	gsl_matrix_free(covariance);
	gsl_vector_free(weight);
	gsl_vector_free(y);
	gsl_vector_free(c);
	gsl_multifit_linear_free(work);
}

/* Lines that join all marks, and more at random; the marks in an order of its own. */
static void draw(struct world *w, size_t marks, size_t held, const level_nm *height,
                 uint64_t *state)
{
	size_t more = (size_t)chance(state, 1, LINES_MOST - MARKS_MOST);
	for (size_t m = 0; m < marks; m++)
		w->place[m] = m;
	for (size_t m = marks; m-- > 1;) {
		size_t other = (size_t)chance(state, 0, (int64_t)m), kept = w->place[m];
		w->place[m] = w->place[other];
		w->place[other] = kept;
	}
	for (size_t m = 0; m < marks; m++)
		w->mark[w->place[m]] = (struct level_net_mark){"M", m < held, height[m]};
	for (size_t i = 0; i < marks - 1 + more; i++) {
		bool tree = i < marks - 1;
		size_t to = tree ? i + 1 : (size_t)chance(state, 0, (int64_t)marks - 1),
		       from = (size_t)chance(state, 0, tree ? (int64_t)to - 1 : (int64_t)marks - 1);
		double km = (double)chance(state, 100, 30000) / 1000;
		level_nm error = (level_nm)(sqrt(km) * (double)chance(state, -4000000, 4000000));
		w->line[i] = (struct level_net_line){w->place[from], w->place[to],
		                                     height[to] - height[from] + error, km};
	}
	w->net = (struct level_net){
	    .marks = marks, .lines = marks - 1 + more, .mark = w->mark, .line = w->line};
}

static void compare(struct world w[2], const struct level_twice *twice, size_t marks,
                    struct level_changes *out)
{
	struct fault why = {0};
	for (int e = 0; e < 2; e++)
		ck_assert_msg(level_net_adjust(&w[e].net, NULL, NULL, &w[e].result, &why), "%s",
		              why.text);
	ck_assert_msg(level_changes(&(struct level_epoch){&w[0].net, &w[0].result},
	                            &(struct level_epoch){&w[1].net, &w[1].result}, twice, marks,
	                            out, &why),
	              "%s", why.text);
}

static void check_loose(const struct world w[2], const struct level_changes *out, double sigma)
{
	struct solution s[2];
	double variance;
	int f;
	for (int e = 0; e < 2; e++) {
		bool held[MARKS_MOST];
		for (size_t m = 0; m < w[e].net.marks; m++)
			held[m] = w[e].mark[m].fixed;
		solve(&w[e], held, &s[e]);
	}
	f = s[0].freedom + s[1].freedom;
	ck_assert_int_eq(out->freedom, f);
	variance = (s[0].sum + s[1].sum) / f;
	ck_assert_double_eq_tol(sqrt(out->variance), sqrt(variance), TOLERANCE);
	for (size_t i = 0; i < out->count; i++) {
		const struct level_change *c = &out->change[i];
		double change = s[1].height[c->mark.second] - s[0].height[c->mark.first];
		double q = gsl_matrix_get(s[0].q, c->mark.first, c->mark.first) +
		           gsl_matrix_get(s[1].q, c->mark.second, c->mark.second);
		double sd = sigma > 0 ? sigma * sqrt(q) : sqrt(variance * q);
		double t = sigma > 0 ? gsl_cdf_ugaussian_Qinv(0.025) : gsl_cdf_tdist_Qinv(0.025, f);
		/* Two elevations, each rounded to 1 nm. */
		ck_assert_double_eq_tol(level_to_meters(c->change), change, TOLERANCE + 1e-9);
		ck_assert_double_eq_tol(c->sd, sd, TOLERANCE);
		ck_assert_double_eq_tol(c->limit, t * sd, t * TOLERANCE);
		if (fabs(fabs(change) - t * sd) > 1e-7)
			ck_assert_int_eq(c->significant == LEVEL_YES, fabs(change) > t * sd);
	}
	gsl_matrix_free(s[0].q);
	gsl_matrix_free(s[1].q);
}

/* By how much mark b has changed over mark a in both free solutions, and its standard deviation
 * over s. */
static void between(const struct solution s[2], const struct level_twice *a,
                    const struct level_twice *b, double *change, double *sd)
{
	const size_t ia[] = {a->first, a->second}, ib[] = {b->first, b->second};
	double q = 0, rise[2];
	for (int e = 0; e < 2; e++) {
		rise[e] = s[e].height[ib[e]] - s[e].height[ia[e]];
		q += gsl_matrix_get(s[e].q, ia[e], ia[e]) + gsl_matrix_get(s[e].q, ib[e], ib[e]) -
		     2 * gsl_matrix_get(s[e].q, ia[e], ib[e]);
	}
	*change = rise[1] - rise[0];
	*sd = sqrt(q);
}

/* Whether all held marks but one (none: SIZE_MAX) agree, from the first of them; *near: an answer
 * that rounding could turn. */
static bool agree_without(const struct solution s[2], const struct level_changes *out,
                          size_t without, double unit, double f, bool *near)
{
	double m = (double)out->held_count - 1 - (without != SIZE_MAX);
	double tail = 0.025 / m, limit;
	size_t from = without == 0 ? 1 : 0;
	bool agree = true;
	if (m < 1)
		return true;
	limit = isinf(f) ? gsl_cdf_ugaussian_Qinv(tail) : gsl_cdf_tdist_Qinv(tail, f);
	for (size_t i = from + 1; i < out->held_count; i++) {
		double change, sd;
		if (i == without)
			continue;
		between(s, &out->held[from].mark, &out->held[i].mark, &change, &sd);
		agree = agree && fabs(change) <= limit * unit * sd;
		*near = *near || fabs(fabs(change) - limit * unit * sd) < 1e-7;
	}
	return agree;
}

/* Whether the known elevations fit, from v'Pv of the free nets. */
static void check_fit(const struct level_changes *out, double sum, int f, double sigma)
{
	double added = out->freedom - f;
	double ratio =
	    (out->freedom * out->variance - sum) / added / (sigma > 0 ? sigma * sigma : sum / f);
	double limit = sigma > 0 ? gsl_cdf_chisq_Pinv(0.95, added) / added
	                         : gsl_cdf_fdist_Pinv(0.95, added, f);
	if (fabs(ratio / limit - 1) > 1e-6)
		ck_assert_int_eq(out->fits, ratio <= limit ? LEVEL_YES : LEVEL_NO);
}

static void check_held(const struct world w[2], const struct level_changes *out, double sigma)
{
	struct solution s[2];
	double f, unit;
	bool near = false, agree;
	if (out->held_count < 2)
		return;
	/* Held on a mark that is none of them, where there is one: the datum must not matter. */
	for (int e = 0; e < 2; e++) {
		bool held[MARKS_MOST] = {false};
		held[out->count ? (e ? out->change[0].mark.second : out->change[0].mark.first)
		                : 0] = true;
		solve(&w[e], held, &s[e]);
	}
	f = s[0].freedom + s[1].freedom;
	ck_assert_int_eq(out->free_freedom, (int)f);
	ck_assert_uint_eq(out->tested, out->held_count - 1);
	ck_assert_double_eq_tol(sqrt(out->free_variance), sqrt((s[0].sum + s[1].sum) / f),
	                        TOLERANCE);
	unit = sigma > 0 ? sigma : sqrt((s[0].sum + s[1].sum) / f);
	f = sigma > 0 ? (double)INFINITY : f;
	for (size_t i = 1; i < out->held_count; i++) {
		double change, sd;
		between(s, &out->held[0].mark, &out->held[i].mark, &change, &sd);
		ck_assert_double_eq_tol(level_to_meters(out->held[i].change), change,
		                        TOLERANCE + 1e-9);
		ck_assert_double_eq_tol(out->held[i].sd, unit * sd, TOLERANCE);
	}
	check_fit(out, (s[0].sum + s[1].sum), s[0].freedom + s[1].freedom, sigma);
	agree = agree_without(s, out, SIZE_MAX, unit, f, &near);
	for (size_t i = 0; i < out->held_count; i++) {
		bool without = agree_without(s, out, i, unit, f, &near);
		if (!near)
			ck_assert_int_eq(out->held[i].explains, !agree && without);
	}
	if (!near)
		ck_assert_int_eq(out->agrees, agree ? LEVEL_YES : LEVEL_NO);
	gsl_matrix_free(s[0].q);
	gsl_matrix_free(s[1].q);
}

START_TEST(test_random)
{
	uint64_t state = chance_seed("two epochs against GSL");
	int disagree = 0, named = 0, changed = 0;
	for (int i = 0; i < PAIRS; i++) {
		size_t marks = (size_t)chance(&state, 3, MARKS_MOST);
		size_t held = (size_t)chance(&state, 1, marks > 6 ? 5 : 2);
		double sigma = i % 2 ? 0.003 : 0;
		level_nm height[MARKS_MOST];
		struct level_twice twice[MARKS_MOST];
		struct level_changes out;
		struct world w[2];
		for (size_t m = 0; m < marks; m++)
			height[m] = chance(&state, -500, 3000) * LEVEL_NM_PER_M +
			            chance(&state, 0, 999999999);
		draw(&w[0], marks, held, height, &state);
		/* One mark goes down by up to 60 mm; it may be a held one. */
		if (chance(&state, 0, 1)) {
			size_t moved = (size_t)chance(
			    &state, 0, (int64_t)(chance(&state, 0, 1) ? held - 1 : marks - 1));
			level_nm stood = height[moved];
			height[moved] -= chance(&state, 0, 60000000);
			draw(&w[1], marks, held, height, &state);
			if (moved < held)
				w[1].mark[w[1].place[moved]].elevation = stood;
		} else {
			draw(&w[1], marks, held, height, &state);
		}
		for (size_t m = 0; m < marks; m++)
			twice[m] = (struct level_twice){w[0].place[m], w[1].place[m]};
		for (int e = 0; e < 2; e++)
			w[e].net.sigma = sigma;
		compare(w, twice, marks, &out);
		ck_assert_uint_eq(out.held_count, held);
		ck_assert_uint_eq(out.count, marks - held);
		check_loose(w, &out, sigma);
		check_held(w, &out, sigma);
		disagree += out.agrees == LEVEL_NO;
		named += out.explaining == 1;
		for (size_t c = 0; c < out.count; c++)
			changed += out.change[c].significant == LEVEL_YES;
		level_changes_free(&out);
		level_net_free(&w[0].result);
		level_net_free(&w[1].result);
	}
	/* Each answer was among them. */
	printf("%d of %d pairs disagree, %d name one held mark; %d marks changed\n", disagree,
	       PAIRS, named, changed);
	ck_assert_int_gt(disagree, PAIRS / 20);
	ck_assert_int_gt(named, PAIRS / 40);
	ck_assert_int_gt(changed, PAIRS / 10);
}
END_TEST

int main(void)
{
	return RUN_TESTS("changes", test_random);
}
