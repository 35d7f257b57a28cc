/* A crossing made ready to be combined with others, member by member, and what sums say of tilts
 * and of the air. */
#include "rodbook/level/drop/combine.h"

#include <math.h>

#include "sights.h"
#include "suite.h"

#define TWICE_R0 12742000.0

static const struct level_identity nobody;

/* Sights of 0 m and, by the first and the last instrument, 1000 m and 200 m: L = 1200 m. */
static struct level_drop_sums two_instruments(void)
{
	struct level_drop_sums sums = {.s_d2 = -1.04e6, .d2 = 1.04e6, .d4 = 1.0016e12};
	sums.s_d[0] = -1000;
	sums.s_d[LEVEL_INSTRUMENTS - 1] = -200;
	return sums;
}

/* k = 0.2, between 0.3 below and 0.7 above: F = -0.2 S/2R0, in mm -16.3240; most of what the air
 * does for each unit of k is S/2R0 = 81.6198 mm. */
START_TEST(test_members)
{
	struct level_drop_sums sums = two_instruments();
	struct level_terms terms = {.radius = 6400000, .k = 0.2, .dk_low = 0.3, .dk_high = 0.7};
	struct level_ends ends = {0};
	int index[LEVEL_INSTRUMENTS] = {5, 0, 0, 0, 0, 0, 0, 2};
	struct level_crossing got;
	terms.instrument[0].tolerance = 0.00005;
	terms.instrument[LEVEL_INSTRUMENTS - 1].tolerance = 0.0001;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0.050, &got);
	ck_assert_double_eq(got.s, 1.04e6);
	ck_assert_double_eq(got.span, 1.04e6);
	ck_assert_double_eq(got.radius, 6400000);
	ck_assert_double_eq(got.dk_low, 0.3);
	ck_assert_double_eq(got.dk_high, 0.7);
	ck_assert_double_eq_tol(got.shown, 0.050 + 0.2 * 1.04e6 / TWICE_R0, 1e-12);
	ck_assert_double_eq_tol(got.air_common, 1.04e6 / TWICE_R0, 1e-12);
	ck_assert_double_eq_tol(got.air_u, 1.04e6 / TWICE_R0, 1e-12);
	ck_assert_double_eq_tol(got.air_most, 1.04e6 / TWICE_R0, 1e-12);
	ck_assert_uint_eq(got.sources, 2);
	ck_assert_uint_eq(got.lengths, 0);
	ck_assert_int_eq(got.source[0].instrument, 5);
	ck_assert_double_eq_tol(got.source[0].bound, 0.050, 1e-12);
	ck_assert_int_eq(got.source[1].instrument, 2);
	ck_assert_double_eq_tol(got.source[1].bound, 0.020, 1e-12);
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		ck_assert_double_eq(got.s_d[i], i == 5 ? -1000 : i == 2 ? -200 : 0);
	/* two of its instruments are one among all crossings */
	index[LEVEL_INSTRUMENTS - 1] = 5;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0.050, &got);
	ck_assert_double_eq(got.s_d[5], -1200);
	ck_assert_int_eq(got.source[1].instrument, 5);
}
END_TEST

/* A source that is no tilt stays none, whatever the instruments are called. */
START_TEST(test_no_tilt)
{
	struct level_drop_sums sums = {.s_d2 = -1e6, .d2 = 1e6, .d4 = 1e12};
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS, .declared = {{.bound = 0.002}}};
	struct level_ends ends = {.known_u = {0.001, 0}};
	const int index[LEVEL_INSTRUMENTS] = {3, 3, 3, 3, 3, 3, 3, 3};
	struct level_crossing got;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0, &got);
	ck_assert_uint_eq(got.sources, 2);
	ck_assert_int_eq(got.source[0].instrument, -1);
	ck_assert_int_eq(got.source[1].instrument, -1);
	/* nothing known to be wrong is no source */
	terms.declared[0].bound = 0;
	ends.known_u[0] = 0;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0, &got);
	ck_assert_uint_eq(got.sources, 0);
}
END_TEST

/* Two sights of 600 m and 800 m: d^4 0.1296 and 0.4096, their root sqrt 0.5392 = 0.734302 (10^6
 * m^2); one air for both 1.0; with 0.25 of the variance in common sqrt(0.25 + 0.75 x 0.5392) =
 * 0.808950. The long sight as the BS turns what is in common. */
START_TEST(test_air)
{
	struct level_drop_sums sums = {.s_d2 = -1e6, .d2 = 1e6, .d4 = 0.5392e12};
	struct level_terms terms = {
	    .radius = LEVEL_MEAN_RADIUS, .air_declared = true, .air_common = 0.25};
	struct level_ends ends = {0};
	const int index[LEVEL_INSTRUMENTS] = {0};
	struct level_crossing got;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0, &got);
	ck_assert_double_eq_tol(got.air_u * TWICE_R0, 0.808950e6, 1);
	ck_assert_double_eq_tol(got.air_common * TWICE_R0, 0.808950e6, 1);
	sums.s_d2 = 1e6;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0, &got);
	ck_assert_double_eq_tol(got.air_u * TWICE_R0, 0.808950e6, 1);
	ck_assert_double_eq_tol(got.air_common * TWICE_R0, -0.808950e6, 1);
	/* not declared: the larger of the two */
	terms.air_declared = false;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0, &got);
	ck_assert_double_eq_tol(got.air_u * TWICE_R0, 1e6, 1);
	ck_assert_double_eq_tol(got.air_common * TWICE_R0, -1e6, 1);
	sums.s_d2 = 0.1e6;
	level_crossing_of(&sums, &terms, &ends, &nobody, index, 0, &got);
	ck_assert_double_eq_tol(got.air_u * TWICE_R0, 0.734302e6, 1);
	ck_assert_double_eq_tol(got.air_common * TWICE_R0, -0.1e6, 1);
}
END_TEST

/* Both instruments tested, 0.02 and 0.03 mm/m, g 60 m and 40 m: sum g L = 60 x 1000 + 40 x 200. */
START_TEST(test_pegs_of_each)
{
	struct level_drop_sums sums = two_instruments();
	struct level_terms terms = {.radius = 6400000};
	struct level_instrument *first = &terms.instrument[0],
	                        *last = &terms.instrument[LEVEL_INSTRUMENTS - 1];
	*first = (struct level_instrument){0.0001, true, 0.00002, 0.000001, 0, 60};
	*last = (struct level_instrument){0.0001, true, 0.00003, 0.000001, 0, 40};
	sums.drop = 0.08;
	sums.rods = 0.0005;
	ck_assert_double_eq_tol(level_drop_span(&sums, &terms), 1.04e6 - 68000, 1e-6);
	ck_assert_double_eq_tol(level_drop_predicted(&sums, &terms), 0.08 - 68000 / 12.8e6, 1e-12);
	ck_assert_double_eq_tol(level_drop_reach(&sums), 1200, 1e-12);
	/* mm: 0.5 - 0.02 x 1000 - 0.03 x 200; with curvature left in also g L/2R = 5.3125 */
	ck_assert_double_eq_tol(level_known_error(&sums, &terms), -0.0255, 1e-12);
	ck_assert_double_eq_tol(level_known_light_error(&sums, &terms), -0.0308125, 1e-12);
	/* the last one untested: neither its tilt nor its pegs count */
	last->tested = false;
	ck_assert_double_eq_tol(level_drop_span(&sums, &terms), 1.04e6 - 60000, 1e-6);
	ck_assert_double_eq_tol(level_known_error(&sums, &terms), -0.0195, 1e-12);
	ck_assert_double_eq_tol(level_known_light_error(&sums, &terms), -0.0241875, 1e-12);
}
END_TEST

/* A tilt that refutes its tolerance: |t + g/4R| less 2 u is beyond tolerance + g/4R. In units of
 * 2^-10 so that the limits are met exactly: t 3, u 1, tolerance 1. */
START_TEST(test_refuted_tolerance)
{
	const double unit = 1.0 / 1024;
	struct level_terms terms = {.radius = 1024};
	struct level_instrument *with = &terms.instrument[0];
	*with = (struct level_instrument){unit, true, 3 * unit, unit, 0, 0};
	ck_assert(!level_test_counts(&terms, 0));
	with->tilt = 3.001 * unit;
	ck_assert(level_test_counts(&terms, 0));
	with->tilt = -3.001 * unit;
	ck_assert(level_test_counts(&terms, 0));
	/* g/4R = 1 makes it 4, and the tolerance 2; its sign goes with the tilt's, not against */
	with->g = 4;
	with->tilt = 3 * unit;
	ck_assert(!level_test_counts(&terms, 0));
	with->tilt = 3.001 * unit;
	ck_assert(level_test_counts(&terms, 0));
	with->tilt = -4.999 * unit;
	ck_assert(!level_test_counts(&terms, 0));
	with->tilt = -5.001 * unit;
	ck_assert(level_test_counts(&terms, 0));
	with->g = -4;
	with->tilt = 4.999 * unit;
	ck_assert(!level_test_counts(&terms, 0));
	with->tilt = 5.001 * unit;
	ck_assert(level_test_counts(&terms, 0));
	/* not refuted, and the better one: u below tolerance/sqrt 3 = 0.57735 */
	*with = (struct level_instrument){unit, true, 0, 0.5773 * unit, 0, 0};
	ck_assert(level_test_counts(&terms, 0));
	with->u = 0.5774 * unit;
	ck_assert(!level_test_counts(&terms, 0));
	/* two sets: t95(1) = 12.706 (JCGM 100:2008, table G.2), half of which is 6.353 */
	with->sets = 2;
	with->u = 0.0908 * unit;
	ck_assert(level_test_counts(&terms, 0));
	with->u = 0.0910 * unit;
	ck_assert(!level_test_counts(&terms, 0));
	with->sets = 1;
	ck_assert(level_test_counts(&terms, 0));
}
END_TEST

/* Readings and their spread: 4 readings, t95(3) = 3.182; by method u 2 mm each. */
START_TEST(test_mean_of_few)
{
	struct level_mean_u got = level_mean_of(4, 0.0013, 0.002);
	/* 3.182 x 1.3 = 4.14 mm is more than 2 x 2 */
	ck_assert_double_eq_tol(got.u, 0.00065, 1e-12);
	ck_assert_double_eq(got.freedom, 3);
	ck_assert_double_eq_tol(got.bound, 3.182 * 0.00065, 1e-6);
	got = level_mean_of(4, 0.0012, 0.002);
	ck_assert_double_eq_tol(got.u, 0.001, 1e-12);
	ck_assert(isinf(got.freedom));
	ck_assert_double_eq_tol(got.bound, 0.002, 1e-12);
	/* one reading has no spread, whatever stands there */
	got = level_mean_of(1, 0.5, 0.002);
	ck_assert_double_eq_tol(got.u, 0.002, 1e-12);
	ck_assert(isinf(got.freedom));
	ck_assert_double_eq_tol(got.bound, 0.004, 1e-12);
	/* what is read without error has no spread either */
	ck_assert(isinf(level_mean_of(1, 0, 0).freedom));
	/* two: t95(1) = 12.706 */
	got = level_mean_of(2, 0.001, 0.002);
	ck_assert_double_eq(got.freedom, 1);
	ck_assert_double_eq_tol(got.bound, 12.706 * 0.001 / sqrt(2), 1e-6);
}
END_TEST

/* The largest line, by the total that decides; of two alike the first. */
START_TEST(test_largest_line)
{
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		struct level_allowance allowance = {0};
		int next = (i + 1) % LEVEL_ALLOWANCE_LINES;
		/* no line is larger than its bound: twice 0.6 is, twice 0.4 is not */
		allowance.bound[i] = 2;
		allowance.u[i] = 0.4;
		allowance.bound[next] = 1;
		allowance.u[next] = 0.6;
		ck_assert_int_eq(level_largest_line(&allowance, LEVEL_BY_ALL), i);
		ck_assert_int_eq(level_largest_line(&allowance, LEVEL_BY_U95), next);
		allowance.u[i] = 0.6;
		ck_assert_int_eq(level_largest_line(&allowance, LEVEL_BY_U95), i);
		allowance.bound[LEVEL_ALLOWANCE_LINES - 1] = 2;
		ck_assert_int_eq(level_largest_line(&allowance, LEVEL_BY_ALL), i);
	}
}
END_TEST

START_TEST(test_lines_by_size)
{
	static const struct level_allowance allowance = {.bound = {31, 35, 32, 35, 30, 39, 33, 32},
	                                                 .u = {8, 7, 6, 5, 4, 3, 2, 1}};
	static const enum level_allowance_line by_all[] = {5, 1, 3, 6, 2, 7, 0, 4};
	enum level_allowance_line lines[LEVEL_ALLOWANCE_LINES];
	level_lines_by_size(&allowance, LEVEL_BY_ALL, lines);
	ck_assert_mem_eq(lines, by_all, sizeof lines);
	level_lines_by_size(&allowance, LEVEL_BY_U95, lines);
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++)
		ck_assert_int_eq(lines[i], i);
}
END_TEST

/* Figures without a k say nothing. */
START_TEST(test_no_k)
{
	struct level_drop_sums sums = two_instruments();
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS, .declared = {{.bound = 0.001}}};
	struct level_ends ends = {0};
	double observed = 0.08;
	ck_assert_int_eq(level_weigh(&sums, &terms, &ends, NULL, 0, &observed).finding.none,
	                 LEVEL_ANSWERED);
	terms.no_k = true;
	ck_assert_int_eq(level_weigh(&sums, &terms, &ends, NULL, 0, &observed).finding.none,
	                 LEVEL_NO_K);
}
END_TEST

int main(void)
{
	return RUN_TESTS("crossing_parts", test_members, test_no_tilt, test_air, test_pegs_of_each,
	                 test_refuted_tolerance, test_mean_of_few, test_largest_line,
	                 test_lines_by_size, test_no_k);
}
