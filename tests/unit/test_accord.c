/* Whether crossings agree, at the limit of it, and how many may be combined. Chi-square at 95
 * %: 3.841 with 1 degree of freedom, 5.991 with 2 (any table; recalled). */
#include "rodbook/level/drop/combine.h"

#include <math.h>

#include "rodbook/level/drop/plan.h"
#include "sights.h"
#include "suite.h"

#define R0 LEVEL_MEAN_RADIUS

/* Shows this much over sights where a round surface shows 40 mm; u 5 mm of its own. */
static struct level_crossing crossing(double shown, int id, double reach)
{
	struct level_crossing out = {
	    .shown = shown, .span = 2 * R0 * 0.040, .radius = R0, .s_d = {-reach}, .sources = 1};
	out.source[0] =
	    (struct level_source){.key = {1, id, 0}, .instrument = -1, .u = 0.005, .bound = 0.010};
	return out;
}

static struct level_combined combined(const struct level_crossing *c, size_t count)
{
	struct level_combined out;
	struct fault why = {0};
	ck_assert_msg(level_combine(c, count, LEVEL_BY_U95, &out, &why), "%s", why.text);
	return out;
}

/* Two that differ by x mm: chi-square x^2/50. 13.8: 3.809; 13.9: 3.864. */
START_TEST(test_two)
{
	struct level_crossing two[2] = {crossing(0.040, 1, 800), crossing(0.0538, 2, 800)};
	struct level_combined got = combined(two, 2);
	ck_assert_double_eq_tol(got.chi_square, 3.8088, 1e-9);
	/* of one surface, weighted alike, the prediction is 1/R */
	ck_assert_double_eq_tol(got.prediction * R0, 1, 1e-12);
	ck_assert(got.agree);
	ck_assert_int_eq(got.finding.none, LEVEL_ANSWERED);
	two[1].shown = 0.0539;
	got = combined(two, 2);
	ck_assert(!got.agree);
	ck_assert_int_eq(got.finding.none, LEVEL_NO_ACCORD);
}
END_TEST

/* Three, two of them alike: residuals x/3, x/3 and 2x/3, chi-square 6/9 x^2/25. 14.9: 5.920; 15.1:
 * 6.080. */
START_TEST(test_three)
{
	struct level_crossing three[3] = {crossing(0.040, 1, 800), crossing(0.040, 2, 800),
	                                  crossing(0.0549, 3, 800)};
	struct level_combined got = combined(three, 3);
	ck_assert_int_eq(got.freedom, 2);
	ck_assert_double_eq_tol(got.chi_square, 2 * 14.9 * 14.9 / 75, 1e-9);
	ck_assert(got.agree);
	three[2].shown = 0.0551;
	ck_assert(!combined(three, 3).agree);
}
END_TEST

/* The fit apart: spans that grow with the square of the distance, tilts with the distance. Three
 * crossings leave it one degree of freedom. */
START_TEST(test_fit)
{
	struct level_crossing three[3];
	struct level_combined got;
	double off = 0;
	for (int turned = 0; turned < 2; turned++) {
		for (int i = 0; i < 3; i++) {
			double d = 400 * (i + 1);
			three[i] = crossing(d * d / 2 / R0, i + 1, d);
			three[i].span = d * d;
		}
		/* a residual that only the middle one has: its weight in it is found by halving */
		three[1].shown += off;
		got = combined(three, 3);
		ck_assert(got.has_fit);
		ck_assert_int_eq(got.fit_freedom, 1);
		ck_assert_int_eq(got.tilts, 1);
		ck_assert_int_eq(got.tilt_instrument[0], 0);
		if (!turned) {
			ck_assert_double_eq_tol(got.fit_chi_square, 0, 1e-12);
			ck_assert_double_eq_tol(got.fit_chance, 1, 1e-6);
			ck_assert_double_eq_tol(got.fitted.value * R0, 1, 1e-9);
			ck_assert_double_eq_tol(got.tilt[0].value, 0, 1e-12);
			/* The vector that no curvature and no tilt makes, of d = 1, 2, 3 and d^2 =
			 * 1, 4, 9: (3, -3, 1). Off by x in the middle: (3 x)^2/(9 + 9 + 1)/u^2. */
			off = 0.005 * sqrt(3.80 * 19 / 9);
		} else {
			ck_assert_double_eq_tol(got.fit_chi_square, 3.80, 1e-9);
			ck_assert_int_eq(got.fit.none, LEVEL_ANSWERED);
		}
	}
	three[1].shown += 0.005 * (sqrt(3.88 * 19 / 9) - sqrt(3.80 * 19 / 9));
	got = combined(three, 3);
	ck_assert_double_eq_tol(got.fit_chi_square, 3.88, 1e-9);
	ck_assert_int_eq(got.fit.none, LEVEL_NO_ACCORD);
}
END_TEST

START_TEST(test_how_many)
{
	static struct level_crossing many[LEVEL_COMBINE_MOST + 1];
	struct level_combined got;
	struct fault why = {0};
	for (int i = 0; i <= LEVEL_COMBINE_MOST; i++)
		many[i] = crossing(0.040, i + 1, 800);
	got = combined(many, LEVEL_COMBINE_MOST);
	ck_assert_int_eq(got.freedom, LEVEL_COMBINE_MOST - 1);
	/* 5/40 over root 200 */
	ck_assert_double_eq_tol(got.curvature.u * R0, 0.125 / sqrt(200), 1e-9);
	ck_assert(!level_combine(many, LEVEL_COMBINE_MOST + 1, LEVEL_BY_U95, &got, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert(!level_combine(many, 0, LEVEL_BY_U95, &got, &why));
	/* equal sights, and errors that are one and the same */
	many[2].span = 0;
	ck_assert(!level_combine(many, 3, LEVEL_BY_U95, &got, &why));
	many[2] = many[1];
	ck_assert(!level_combine(many, 3, LEVEL_BY_U95, &got, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
}
END_TEST

/* Several crossings: each sample by its own t, in mm 2 sqrt(25 - 16 + 40); where rounding makes the
 * sampled part the larger one 2 sqrt 40; never above the bound. One crossing: by its largest
 * sample.
 */
START_TEST(test_samples_of_several)
{
	struct level_case c = {.shown = 1, .span = 2, .variance = 25, .bound = 100};
	c.sampled = (struct level_sampled){16, 40, 0, 17};
	ck_assert_double_eq_tol(level_case_u95(&c, 0), 17, 1e-12);
	c.several = true;
	ck_assert_double_eq_tol(level_case_u95(&c, 0), 14, 1e-12);
	c.variance = 15;
	ck_assert_double_eq_tol(level_case_u95(&c, 0), 2 * sqrt(40), 1e-12);
	c.bound = 11;
	ck_assert_double_eq_tol(level_case_u95(&c, 0), 11, 1e-12);
}
END_TEST

/* Samples of a tested tilt, four sets (t95(3) = 3.1824): u 10 mm, t u 31.824 mm. */
START_TEST(test_sample_of_a_tilt)
{
	struct level_drop_sums sums = {.s_d = {-1000}, .s_d2 = -1e6};
	struct level_terms terms = {.radius = R0};
	struct level_ends ends = {0};
	static const struct level_identity nobody;
	struct level_source list[LEVEL_SOURCES_MOST];
	terms.instrument[0] = (struct level_instrument){0.0001, true, 0, 0.00001, 4, 0};
	ck_assert_uint_eq(level_sources(&sums, &terms, &ends, &nobody, list), 1);
	ck_assert_double_eq_tol(list[0].sampled.variance, 1e-4, 1e-12);
	ck_assert_double_eq_tol(list[0].sampled.expanded, 15.912e-3 * 15.912e-3, 1e-7);
	ck_assert_double_eq_tol(list[0].sampled.largest, 31.824e-3, 1e-6);
}
END_TEST

/* A plan by its air is reckoned with the k of that air at its distance. */
START_TEST(test_plan_by_air)
{
	struct level_plan plan = {.distance = 800, .has_hi = true, .hi = 2.4, .by_air = true};
	struct level_sightline line = {2.4, 800, R0};
	struct level_planned got;
	struct level_k_found found;
	plan.terms = usual_terms();
	plan.air = level_air_nothing();
	plan.air.low = 15;
	plan.air.low_height = 1;
	plan.air.high = 15.4;
	plan.air.high_height = 2;
	found = level_k_find(&plan.air, &line, LEVEL_OVER_WATER);
	ck_assert_double_ne(found.chosen.low, found.chosen.high);
	got = level_plan_of(&plan);
	ck_assert_double_eq(got.k.k, found.chosen.k);
	ck_assert_double_eq(got.k.low, found.chosen.low);
	ck_assert_double_eq(got.k.high, found.chosen.high);
	ck_assert_int_eq(got.k_source, LEVEL_K_THERMOMETERS);
	/* level all along: it runs lowest at the instrument, or where the light comes down to */
	plan.by_air = false;
	plan.k_source = LEVEL_K_SET;
	plan.terms.k = 0;
	got = level_plan_of(&plan);
	ck_assert_double_eq(got.clearance_at, 0);
	ck_assert_double_eq(got.clearance, 2.4);
	ck_assert_int_eq(got.k_source, LEVEL_K_SET);
	/* the pole ends where the cross-hair of a round surface stands: 2.4 + c */
	plan.pole = got.crosshair_round;
	ck_assert_int_eq(level_plan_of(&plan).bar, LEVEL_PLAN_FREE);
	plan.pole = got.crosshair_round - 0.001;
	ck_assert_int_eq(level_plan_of(&plan).bar, LEVEL_PLAN_ABOVE);
	plan.pole = -0.001;
	ck_assert(!level_plan_check(&plan, NULL));
	plan.pole = 0;
	ck_assert(level_plan_check(&plan, NULL));
}
END_TEST

/* Sights may be short, lines low, and a surface small; nothing of that may be nothing. */
START_TEST(test_short_line)
{
	struct level_air_reading air = level_air_nothing();
	struct level_k_pair got = {.theta = 7};
	air.low = 15;
	air.low_height = 1;
	air.high = 15.4;
	air.high_height = 2;
	ck_assert(level_k_by_thermometers(&air, &(struct level_sightline){0.5, 0.5, 0.5}, &got));
	ck_assert(!level_k_by_thermometers(&air, &(struct level_sightline){0, 0.5, 0.5}, &got));
	ck_assert_double_eq(got.theta, 0);
	ck_assert(!level_k_by_thermometers(&air, &(struct level_sightline){0.5, 0, 0.5}, &got));
	ck_assert(!level_k_by_thermometers(&air, &(struct level_sightline){0.5, 0.5, 0}, &got));
	ck_assert(
	    !level_k_by_thermometers(&air, &(struct level_sightline){0.5, INFINITY, 1}, &got));
	ck_assert(!level_k_by_thermometers(&air, &(struct level_sightline){INFINITY, 1, 1}, &got));
}
END_TEST

int main(void)
{
	return RUN_TESTS("accord", test_two, test_three, test_fit, test_how_many,
	                 test_samples_of_several, test_sample_of_a_tilt, test_plan_by_air,
	                 test_short_line);
}
