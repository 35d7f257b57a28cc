/* A long sight before it is made: what it would show, and from which distance. */
#include "rodbook/level/drop/plan.h"

#include <math.h>
#include <string.h>

#include "sights.h"
#include "suite.h"

#define FOOT 0.3048
#define INCH 0.0254

static struct level_plan plan_of(double distance)
{
	struct level_plan out = {
	    .distance = distance, .far_method = LEVEL_TARGET, .terms = usual_terms()};
	out.terms.declared[0].bound = 0.001;
	out.terms.declared[1].bound = 0.001;
	out.k_source = LEVEL_K_SET;
	return out;
}

/* Over 2 550 ft: curvature 1.87 in, 1.60 in of it seen with k = 1/7 (computed); a level of 1/16 in
 * in 300 ft may be 8.5 sixteenths off, 0.53 in (common practice, no source). */
START_TEST(test_2550_feet)
{
	struct level_plan plan = plan_of(2550 * FOOT);
	struct level_planned got;
	plan.terms.k = 1.0 / 7;
	plan.terms.instrument[0].tolerance = 1.0 / 16 / 3600;
	ck_assert(level_plan_check(&plan, NULL));
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.curvature / INCH, 1.87, 0.005);
	ck_assert_double_eq_tol(got.visible_drop / INCH, 1.60, 0.005);
	ck_assert_double_eq_tol(got.predicted / INCH, 1.60, 0.005);
	ck_assert_double_eq_tol((got.curvature - got.refraction) / INCH, 1.60, 0.005);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_INSTRUMENT] / INCH, 0.53, 0.005);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_INSTRUMENT] / INCH * 16, 8.5, 1e-9);
}
END_TEST

/* 800 m with a near sight of 20 m, by hand as for a crossing: P = 0.87 x 639 600/12 742 000 m, from
 * flat to round 639 600/12 742 000 m; the limits 78 + 10 + 7.538 848 + 2 mm; squares of u in mm^2:
 * 2028 + 18.98 + 14.190 816 + 1/3 + 1/3 = 2061.837 483, twice the root 90.814 922 mm. */
START_TEST(test_margins)
{
	struct level_plan plan = plan_of(800);
	struct level_planned got;
	plan.near = 20;
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.predicted, 0.043670695, 2e-9);
	ck_assert_double_eq_tol(got.separation, 0.050196202, 1e-9);
	ck_assert_double_eq_tol(got.margin_bound, 0.050196202 - 0.097538848, 1e-8);
	ck_assert_double_eq_tol(got.margin_u95, 0.050196202 - 0.090814922, 1e-8);
	ck_assert_double_eq(got.shortest, got.shortest_bound);
	plan.terms.decides = LEVEL_BY_U95;
	got = level_plan_of(&plan);
	ck_assert_double_eq(got.shortest, got.shortest_u95);
	/* the chance that it tells: Phi(-40.618720/45.407461) = Phi(-0.894538) = 0.18552 (normal
	 * table: Phi(-0.89) = 0.18673, Phi(-0.90) = 0.18406; from memory) */
	ck_assert(got.has_chance);
	ck_assert_double_eq_tol(got.chance, 0.1855, 0.0003);
	/* no chance is promised for a default air */
	plan.k_source = LEVEL_K_DEFAULT;
	ck_assert(!level_plan_of(&plan).has_chance);
	ck_assert_double_lt(got.shortest_u95, got.shortest_bound);
}
END_TEST

/* q d^2 = m d + a, with q = (1/R - dk_low/R0)/2, m the tilt, twice the drift and twice the
 * reading's slope, a all that does not grow: d = (m + sqrt(m^2 + 4 q a))/2q. */
START_TEST(test_shortest_by_bound)
{
	static const struct {
		double tolerance, k, dk, declared;
	} table[] = {
	    {0.0001, 0.13, 0.15, 0.002},    {0.00001, 0.13, 0.15, 0.002},
	    {0.00001, 0.13, 0.5, 0.010},    {0.000003, 0.2, 0.05, 0},
	    {0.0001, -1, 0.5, 0.050},       {0.0003, 0.13, 0.8, 0.002},
	    {1.0 / 57600, 1.0 / 7, 0, 0.1}, {0.00005, 3, 0.99, 0.002},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_plan plan = plan_of(1000);
		double q = (1 - table[i].dk) / (2 * 6371000.0);
		/* target: 0.005 mm/m; near rod and target: 0.5 and 0.3 mm; drift 0.01 mm/m */
		double m = table[i].tolerance + 2 * 0.00001 + 2 * 0.000005;
		double a = table[i].declared + 2 * (0.0005 + 0.0003);
		double expected = (m + sqrt(m * m + 4 * q * a)) / (2 * q);
		struct level_planned got;
		plan.terms.instrument[0].tolerance = table[i].tolerance;
		plan.terms.k = table[i].k;
		plan.terms.dk_low = table[i].dk;
		plan.terms.drift = 0.00001;
		plan.terms.declared[0].bound = table[i].declared;
		plan.terms.declared[1].bound = 0;
		got = level_plan_of(&plan);
		ck_assert_double_eq_tol(got.shortest_bound, expected, 1e-5);
	}
}
END_TEST

/* At the shortest distance the margin is 0; short of it below, beyond it above. */
START_TEST(test_margin_at_the_shortest)
{
	static const double tolerances[] = {0.000001, 0.00001, 0.0001, 0.001};
	static const double nears[] = {0, 3, 50, 700};
	for (size_t i = 0; i < sizeof tolerances / sizeof *tolerances; i++)
		for (size_t j = 0; j < sizeof nears / sizeof *nears; j++)
			for (int by_bound = 0; by_bound < 2; by_bound++) {
				struct level_plan plan = plan_of(1000);
				double at, margin[3];
				plan.near = nears[j];
				plan.terms.instrument[0].tolerance = tolerances[i];
				at = by_bound ? level_plan_of(&plan).shortest_bound
				              : level_plan_of(&plan).shortest_u95;
				ck_assert_double_gt(at, nears[j]);
				for (int side = 0; side < 3; side++) {
					struct level_planned got;
					plan.distance = at + (side - 1) * 1e-5;
					got = level_plan_of(&plan);
					margin[side] = by_bound ? got.margin_bound : got.margin_u95;
				}
				ck_assert_double_lt(margin[0], 0);
				ck_assert_double_eq_tol(margin[1], 0, 1e-8);
				ck_assert_double_gt(margin[2], 0);
			}
}
END_TEST

/* Up to 1000 km a distance is found: a tilt of 10 mm/m and dk 0.83, q = 0.17/12 742 000, put it at
 * 0.01/q = 749 529 m. */
START_TEST(test_farthest)
{
	struct level_plan plan = {.distance = 1000, .terms = {.radius = LEVEL_MEAN_RADIUS}};
	struct level_planned got;
	plan.terms.dk_low = 0.83;
	plan.terms.instrument[0].tolerance = 0.01;
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.shortest_bound, 749529.4, 0.1);
	plan.distance = got.shortest_bound;
	ck_assert_double_eq_tol(level_plan_of(&plan).margin_bound, 0, 1e-6);
	/* and not beyond */
	plan.terms.instrument[0].tolerance = 0.015;
	ck_assert(isinf(level_plan_of(&plan).shortest_bound));
	plan.terms.instrument[0].tolerance = 0.01;
	plan.near = 900000;
	ck_assert(isinf(level_plan_of(&plan).shortest_bound) ||
	          level_plan_of(&plan).shortest_bound <= 1e6);
}
END_TEST

/* Where k may lie below by as much as the Earth bends, no sight can tell, whatever k is. */
START_TEST(test_no_distance)
{
	static const double dks[] = {1, 1.01, 1.5, 5}, ks[] = {-0.5, 0.13, 1.2};
	for (size_t i = 0; i < sizeof dks / sizeof *dks; i++)
		for (size_t j = 0; j < 3; j++) {
			struct level_plan plan = plan_of(1000);
			plan.terms.dk_low = dks[i];
			plan.terms.k = ks[j];
			ck_assert(isinf(level_plan_of(&plan).shortest_bound));
		}
}
END_TEST

/* In 95 of 100 cases it tells from where the separation is U + 1.645 u; by the air alone, no
 * distance does where 0.55 R0/R or more may lie below: U = dk S/2R0 x 1, u half of it, so that 1 <=
 * dk (1 + 0.8225). */
START_TEST(test_sure)
{
	struct level_plan plan = plan_of(1000);
	struct level_planned got;
	plan.terms.decides = LEVEL_BY_U95;
	plan.terms.instrument[0].tolerance = 0.00001;
	plan.terms.dk_low = 0.3;
	got = level_plan_of(&plan);
	ck_assert_double_gt(got.sure, got.shortest);
	plan.distance = got.sure;
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.chance, 0.95, 0.0005);
	ck_assert_double_eq_tol(got.margin_u95 / got.allowance.u_total, 1.645, 1e-6);
	plan.terms.dk_low = 0.56;
	ck_assert(isinf(level_plan_of(&plan).sure));
	ck_assert(isfinite(level_plan_of(&plan).shortest_u95));
}
END_TEST

/* Ten readings of the water at each end, of 1 mm each by tape: t95(9) = 2.262 (JCGM 100:2008, table
 * G.2: 2.26) x 1/sqrt 10 mm at each, with a floor of 2 mm. */
START_TEST(test_planned_water)
{
	struct level_plan plan = plan_of(800);
	struct level_planned got;
	plan.waters = 10;
	plan.terms.water_floor = 0.002;
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_WATER],
	                        2 * (0.002262 / sqrt(10) + 0.002), 1e-6);
	plan.waters = 0;
	ck_assert_double_eq(level_plan_of(&plan).allowance.bound[LEVEL_LINE_WATER], 0);
	/* as a run read it: 3 and 4 mm, u 1 and 2 mm by 9 and many degrees of freedom */
	plan.has_ends = true;
	plan.ends = (struct level_ends){
	    .water = true, .mean = {{0.001, 9, 0.003}, {0.002, (double)INFINITY, 0.004}}};
	got = level_plan_of(&plan);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_WATER], 0.007 + 2 * 0.002, 1e-12);
	ck_assert_double_eq_tol(got.allowance.u[LEVEL_LINE_WATER],
	                        sqrt(0.001 * 0.001 + 0.002 * 0.002 + 2 * 0.002 * 0.002 / 3), 1e-12);
}
END_TEST

/* One way over flowing water whose slope is not declared has no answer, so that no sight promises
 * one; where the ends do not hang on water its flow counts for nothing. */
START_TEST(test_flowing)
{
	struct level_plan plan = plan_of(3000);
	struct level_planned got;
	plan.waters = 10;
	plan.terms.flow = -1;
	plan.k_source = LEVEL_K_PLAN;
	got = level_plan_of(&plan);
	ck_assert_int_eq(got.bar, LEVEL_PLAN_FLOWS);
	ck_assert_str_eq(level_plan_bar_code(got.bar), "flowing");
	ck_assert(got.has_chance);
	ck_assert_double_eq(got.chance, 0);
	plan.waters = 0;
	ck_assert_int_eq(level_plan_of(&plan).bar, LEVEL_PLAN_FREE);
	plan.waters = 10;
	plan.terms.flow = 0.0001;
	ck_assert_int_eq(level_plan_of(&plan).bar, LEVEL_PLAN_FREE);
}
END_TEST

/* Over land below 3 m there is no default. */
START_TEST(test_no_default)
{
	struct level_plan plan = plan_of(800);
	struct level_planned got;
	plan.by_air = true;
	plan.air = level_air_nothing();
	plan.over = LEVEL_OVER_LAND;
	plan.has_hi = true;
	plan.hi = 2.9;
	got = level_plan_of(&plan);
	ck_assert_int_eq(got.bar, LEVEL_PLAN_NO_K);
	ck_assert(isinf(got.shortest) && !got.has_chance);
	plan.hi = 3;
	got = level_plan_of(&plan);
	ck_assert_int_eq(got.bar, LEVEL_PLAN_FREE);
	ck_assert_double_eq(got.k.low, 0.5);
}
END_TEST

/* From 1 m to 100 km as in long doubles. */
START_TEST(test_stable)
{
	for (double distance = 1; distance <= 100000; distance *= 1.37) {
		struct level_plan plan = plan_of(distance);
		struct level_planned got;
		long double d = distance, r = 6371000, k = (long double)plan.terms.k;
		long double c = d * d / (sqrtl(r * r + d * d) + r), bent = k * d * d / (2 * r);
		plan.has_hi = true;
		plan.hi = 1.5;
		ck_assert(level_plan_check(&plan, NULL));
		got = level_plan_of(&plan);
		ck_assert_double_eq_tol(got.curvature / (double)c, 1, 1e-15);
		ck_assert_double_eq_tol(got.refraction / (double)bent, 1, 1e-15);
		ck_assert_double_eq_tol(got.visible_drop / (double)(c - bent), 1, 1e-15);
		ck_assert_double_eq_tol(got.predicted / (double)(c - bent), 1, 1e-15);
		ck_assert(isfinite(got.margin_bound) && isfinite(got.margin_u95));
		ck_assert(isfinite(got.hidden) && isfinite(got.clearance));
	}
}
END_TEST

static void check_refused(const struct level_plan *plan, const char *said)
{
	struct fault why = {0};
	ck_assert(!level_plan_check(plan, &why));
	ck_assert_msg(strstr(why.text, said) != NULL, "%s", why.text);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert(!level_plan_check(plan, NULL));
}

START_TEST(test_refused)
{
	static const double below[] = {0, -1, NAN, -INFINITY};
	struct level_plan plan;
	for (size_t i = 0; i < sizeof below / sizeof *below; i++) {
		plan = plan_of(below[i]);
		check_refused(&plan, "give the length of the sight");
		plan = plan_of(800);
		plan.has_hi = true;
		plan.hi = below[i];
		check_refused(&plan, "give a height above 0");
		plan.has_hi = false;
		ck_assert(level_plan_check(&plan, NULL));
		if (below[i] == 0)
			continue;
		plan.near = below[i];
		check_refused(&plan, "near sight is shorter");
		plan = plan_of(800);
		plan.has_hi = plan.has_target = true;
		plan.hi = 1.6;
		plan.target = below[i];
		check_refused(&plan, "on or above the water");
	}
	plan = plan_of(1000001);
	check_refused(&plan, "1000 km");
	plan = plan_of(INFINITY);
	check_refused(&plan, "1000 km");
	plan = plan_of(800);
	plan.near = 800;
	check_refused(&plan, "equal sights show no drop");
	plan.near = 801;
	check_refused(&plan, "near sight is shorter");
	plan = (struct level_plan){.distance = 800, .terms = {.radius = LEVEL_MEAN_RADIUS}};
	check_refused(&plan, "allowance of zero");
}
END_TEST

START_TEST(test_just_accepted)
{
	struct level_plan plan = plan_of(1000000);
	plan.near = 999999;
	plan.has_hi = plan.has_target = true;
	plan.hi = 1e-6;
	plan.target = 0;
	ck_assert(level_plan_check(&plan, NULL));
	/* one error alone is enough */
	plan = (struct level_plan){.distance = 800,
	                           .terms = {.radius = LEVEL_MEAN_RADIUS, .drift = 0.00001}};
	ck_assert(level_plan_check(&plan, NULL));
}
END_TEST

/* One arc minute is 0.000290888 rad: over 1000 m by 24 power 12.12 mm, by 1 power 290.9 mm. */
START_TEST(test_target_size)
{
	ck_assert_double_eq_tol(level_target_size(1000, 24), 0.01212, 5e-6);
	ck_assert_double_eq_tol(level_target_size(1000, 1), 0.29089, 5e-6);
	ck_assert_double_eq_tol(level_target_size(500, 24), 0.00606, 5e-6);
}
END_TEST

/* Where the sight that could tell is out of reach. By hand, without refraction a level 1.8 m above
 * the water meets a pole d away at 1.8 m + d^2/12742 km: at 3.6 m from 4789 m on. With k = 0.13 the
 * light falls by 0.13 d^2/12742 km, and comes down to flat water within 13.3 km. */
START_TEST(test_shortest_out_of_reach)
{
	struct level_plan plan = plan_of(1000);
	struct level_planned got;
	plan.terms.k = 0;
	plan.terms.dk_low = plan.terms.dk_high = 0.9;
	got = level_plan_of(&plan);
	ck_assert_double_gt(got.shortest, 13300);
	ck_assert_int_eq(got.shortest_bar, LEVEL_PLAN_FREE);
	plan.has_hi = true;
	plan.hi = 1.8;
	ck_assert_int_eq(level_plan_of(&plan).shortest_bar, LEVEL_PLAN_FREE);
	plan.pole = 3.6;
	got = level_plan_of(&plan);
	ck_assert_int_eq(got.bar, LEVEL_PLAN_FREE);
	ck_assert_int_eq(got.shortest_bar, LEVEL_PLAN_ABOVE);
	/* a pole that reaches is no bar */
	plan.pole = 1.9 + got.shortest * got.shortest / 12742000;
	ck_assert_int_eq(level_plan_of(&plan).shortest_bar, LEVEL_PLAN_FREE);
	plan.terms.k = 0.13;
	ck_assert_int_eq(level_plan_of(&plan).shortest_bar, LEVEL_PLAN_HIDDEN);
}
END_TEST

int main(void)
{
	return RUN_TESTS("plan", test_shortest_out_of_reach, test_target_size, test_2550_feet,
	                 test_margins, test_shortest_by_bound, test_margin_at_the_shortest,
	                 test_farthest, test_no_distance, test_sure, test_planned_water,
	                 test_flowing, test_no_default, test_stable, test_refused,
	                 test_just_accepted);
}
