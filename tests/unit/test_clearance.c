/* A long sight before it is made: how low the line runs and what the water hides, against light
 * that is followed step by step. */
#include "rodbook/level/drop/plan.h"

#include <math.h>

#include "oracle/light.h"
#include "sights.h"
#include "suite.h"

static struct level_plan plan_of(double distance)
{
	return (struct level_plan){.distance = distance, .has_hi = true, .terms = usual_terms()};
}

/* Of light that leaves so that it grazes the surface: found by halving between what meets it and
 * what does not. Where it grazes, and how high it stands at the distance. */
static void graze(const struct level_plan *plan, double *where, double *height)
{
	double radius = plan->terms.radius, k = plan->terms.k;
	double low = -0.1, high = 0, left = 0, right = 0;
	for (int i = 0; i < 100; i++) {
		double tilt = (low + high) / 2;
		left = 0;
		right = 1e6;
		while (right - left > 1e-7) {
			double third = (right - left) / 3;
			if (line_height(radius, plan->hi, tilt, k, left + third) <
			    line_height(radius, plan->hi, tilt, k, right - third))
				right -= third;
			else
				left += third;
		}
		if (line_height(radius, plan->hi, tilt, k, left) > 0)
			high = tilt;
		else
			low = tilt;
	}
	*where = left;
	*height = line_height(radius, plan->hi, low, k, plan->distance);
}

START_TEST(test_horizon_and_hidden)
{
	static const struct {
		double distance, hi, k, radius;
	} table[] = {
	    {8000, 1.6, 0.13, LEVEL_MEAN_RADIUS},  {20000, 1.6, 0.13, LEVEL_MEAN_RADIUS},
	    {20000, 30, 0, LEVEL_MEAN_RADIUS},     {60000, 100, 0.1706, 6378000},
	    {12000, 0.3, -0.5, LEVEL_MEAN_RADIUS}, {50000, 2, 0.6, 6363000},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_plan plan = plan_of(table[i].distance);
		struct level_planned got;
		double where, height;
		plan.hi = table[i].hi;
		plan.terms.k = table[i].k;
		plan.terms.radius = table[i].radius;
		graze(&plan, &where, &height);
		got = level_plan_of(&plan);
		ck_assert_double_gt(got.hidden, 0);
		/* where a height has its least it is known to the root of its rounding */
		ck_assert_double_eq_tol(got.horizon, where, 0.5 + 1e-4 * where);
		/* along the tangent or along the surface, a distance is not quite the same */
		ck_assert_double_eq_tol(got.hidden, height, 1e-5 + 1e-4 * height);
	}
}
END_TEST

/* The distance to the horizon in whole numbers: sqrt(2 R h + h^2) is a tangent, by Pythagoras with
 * sides 5, 12, 13: R = 12, h = 1, and half as far again. */
START_TEST(test_tangent)
{
	struct level_plan plan = plan_of(7.5);
	struct level_planned got;
	plan.hi = 1;
	plan.terms.radius = 12;
	plan.terms.k = 0;
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.horizon, 5, 1e-12);
	ck_assert_double_eq_tol(got.hidden, sqrt(144 + 6.25) - 12, 1e-12);
	/* nothing is hidden up to the horizon */
	plan.distance = 5;
	ck_assert_double_eq_tol(level_plan_of(&plan).hidden, 0, 1e-12);
	plan.distance = 3;
	ck_assert_double_eq(level_plan_of(&plan).hidden, 0);
}
END_TEST

START_TEST(test_no_horizon)
{
	static const double ks[] = {1, 1.5};
	for (size_t i = 0; i < sizeof ks / sizeof *ks; i++) {
		struct level_plan plan = plan_of(90000);
		struct level_planned got;
		plan.hi = 1.5;
		plan.terms.k = ks[i];
		got = level_plan_of(&plan);
		ck_assert(isinf(got.horizon));
		ck_assert_double_eq(got.hidden, 0);
	}
}
END_TEST

/* The lowest of the line, step by step. */
static double scan(const struct level_plan *plan, double tilt, double k, double *where)
{
	double least = plan->hi;
	int steps = 100000;
	*where = 0;
	for (int i = 1; i <= steps; i++) {
		double at = plan->distance * i / steps;
		double height = line_height(plan->terms.radius, plan->hi, tilt, k, at);
		if (height < least) {
			least = height;
			*where = at;
		}
	}
	return least;
}

/* The lower of a flat and a round surface. */
static double scan_both(const struct level_plan *plan, double tilt, double *where)
{
	struct level_plan flat = *plan;
	double at_flat, round = scan(plan, tilt, plan->terms.k, where), level;
	flat.terms.radius = (double)INFINITY;
	level = scan(&flat, tilt, plan->terms.k, &at_flat);
	if (level < round)
		*where = at_flat;
	return fmin(level, round);
}

/* With the tilt as a test found it. */
START_TEST(test_clearance)
{
	static const struct {
		double distance, hi, tilt, k;
	} table[] = {
	    {800, 1.6, -0.0001, 0.13},   {3000, 1.6, -0.0001, 0.13},
	    {3000, 1.6, -0.00001, 0.13}, {3000, 1.6, -0.0003, 0.13},
	    {2000, 1.6, -0.0001, 0.9}, /* light that follows the Earth */
	    {2000, 1.6, -0.0001, 1.5}, /* and more than that: lowest at the end */
	    {9000, 0.4, -0.00002, -2},   {3000, 1.6, 0.00002, 0.13},
	    {3000, 1.6, 0.00002, -0.13}, /* lowest at the instrument */
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_plan plan = plan_of(table[i].distance);
		struct level_planned got;
		double where, least;
		plan.hi = table[i].hi;
		plan.terms.instrument[0] = (struct level_instrument){
		    .tolerance = 0.0001, .tested = true, .tilt = table[i].tilt, .u = 0.000005};
		plan.terms.k = table[i].k;
		least = scan_both(&plan, table[i].tilt, &where);
		got = level_plan_of(&plan);
		ck_assert_double_eq_tol(got.clearance, least, 2e-6);
		ck_assert_double_eq_tol(got.clearance_at, where, 2 + 1e-3 * where);
	}
}
END_TEST

/* A tolerance is no tilt that is known. */
START_TEST(test_clearance_of_an_untested_level)
{
	struct level_plan plan = plan_of(3000);
	double where, least;
	plan.hi = 1.6;
	plan.terms.instrument[0].tolerance = 0.0003;
	least = scan_both(&plan, 0, &where);
	ck_assert_double_eq_tol(level_plan_of(&plan).clearance, least, 2e-6);
	ck_assert_double_eq_tol(level_plan_of(&plan).clearance_at, where, 2);
}
END_TEST

/* A line below 0.1 m on either surface tells nothing. Over a flat one of k = 0.13 light sinks by
 * 0.13 d^2/12 742 000: from 0.3 m to 0.1 m in 4427.5 m. */
START_TEST(test_hidden_cannot_tell)
{
	struct level_plan plan = plan_of(4427);
	plan.hi = 0.3;
	plan.pole = 5;
	ck_assert_int_eq(level_plan_of(&plan).bar, LEVEL_PLAN_FREE);
	plan.distance = 4428;
	ck_assert_int_eq(level_plan_of(&plan).bar, LEVEL_PLAN_HIDDEN);
	ck_assert_str_eq(level_plan_bar_code(LEVEL_PLAN_HIDDEN), "hidden");
}
END_TEST

/* Where the cross-hair meets the far pole: flat 1.6 - 0.13 x 3000^2/12 742 000 = 1.508178 m, round
 * that + 3000^2/12 742 000 = 2.214509 m. A pole of 2.2 m is too short. */
START_TEST(test_crosshair)
{
	struct level_plan plan = plan_of(3000);
	struct level_planned got;
	plan.hi = 1.6;
	plan.pole = 2.3;
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.crosshair_flat, 1.508178, 1e-6);
	ck_assert_double_eq_tol(got.crosshair_round, 2.214504, 6e-6);
	ck_assert_int_eq(got.bar, LEVEL_PLAN_FREE);
	plan.pole = 2.2;
	got = level_plan_of(&plan);
	ck_assert_int_eq(got.bar, LEVEL_PLAN_ABOVE);
	ck_assert(!got.has_chance || got.chance == 0);
}
END_TEST

/* Light from the instrument to the target: its direction found by halving. */
START_TEST(test_target_clearance)
{
	static const struct {
		double distance, hi, target, k;
	} table[] = {
	    {3000, 1.6, 1.6, 0.13}, {3000, 1.6, 0.2, 0.13}, {3000, 0.3, 8, 0.13}, {9000, 2, 3, -1},
	    {9000, 2, 3, 1.4},      {500, 1.6, 0, 0.13},    {20000, 40, 2, 0.13}, {9000, 3, 2, 1.4},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_plan plan = plan_of(table[i].distance);
		struct level_planned got;
		double low = -0.1, high = 0.1, least, where;
		plan.has_target = true;
		plan.hi = table[i].hi;
		plan.target = table[i].target;
		plan.terms.k = table[i].k;
		for (int step = 0; step < 100; step++) {
			double tilt = (low + high) / 2;
			if (line_height(plan.terms.radius, plan.hi, tilt, plan.terms.k,
			                plan.distance) > plan.target)
				high = tilt;
			else
				low = tilt;
		}
		least = scan(&plan, low, plan.terms.k, &where);
		got = level_plan_of(&plan);
		ck_assert_double_eq_tol(got.target_clearance, least, 5e-5);
		ck_assert_double_eq_tol(got.target_clearance_at, where, 2 + 1e-3 * where);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("clearance", test_horizon_and_hidden, test_tangent, test_no_horizon,
	                 test_clearance, test_clearance_of_an_untested_level,
	                 test_hidden_cannot_tell, test_crosshair, test_target_clearance);
}
