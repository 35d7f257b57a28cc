/* The rule of books up to version 3, each part of its allowance alone and then all of them. Its
 * figures, in mm, are reckoned in the comments. */
#include "rodbook/level/drop/old_rule.h"

#include <math.h>

#include "sights.h"
#include "suite.h"

/* 1000 m to the FS: S = 10^6 m^2. What is predicted is set to 1 m, far beyond every allowance. */
static struct level_drop_sums plain_sums(void)
{
	return (struct level_drop_sums){.drop = 1,
	                                .s_d = {-1000},
	                                .s_d2 = -1e6,
	                                .d2 = 1e6,
	                                .setup_d4 = 0.25e12,
	                                .length = 1000};
}

static struct level_terms plain_terms(enum level_decides decides)
{
	return (struct level_terms){.radius = LEVEL_MEAN_RADIUS, .decides = decides};
}

/* The answers on both sides of each limit, the long sight being the FS, then the BS. */
static void limits_are(const struct level_drop_sums *of, const struct level_terms *terms,
                       const struct level_ends *ends, double mm)
{
	const struct {
		double observed;
		enum level_drop_answer answer;
	} table[] = {
	    {-1.0001 * mm, LEVEL_OPPOSITE},
	    {-0.9999 * mm, LEVEL_NONE_SHOWN},
	    {0.9999 * mm, LEVEL_NONE_SHOWN},
	    {1.0001 * mm, LEVEL_SHOWN_INCOMPATIBLE},
	    {1000 - 1.0001 * mm, LEVEL_SHOWN_INCOMPATIBLE},
	    {1000 - 0.9999 * mm, LEVEL_SHOWN_COMPATIBLE},
	    {1000 + 0.9999 * mm, LEVEL_SHOWN_COMPATIBLE},
	    {1000 + 1.0001 * mm, LEVEL_SHOWN_INCOMPATIBLE},
	};
	struct level_drop_sums sums = *of;
	for (int turn = 1; turn >= -1; turn -= 2) {
		for (size_t i = 0; i < sizeof table / sizeof *table; i++)
			ck_assert_msg(
			    level_answer_before(&sums, terms, ends,
			                        turn * table[i].observed / 1000) == table[i].answer,
			    "allowance %g mm, drop %g mm, turn %d", mm, table[i].observed, turn);
		sums.drop = -sums.drop;
		sums.s_d2 = -sums.s_d2;
		sums.s_d[0] = -sums.s_d[0];
	}
}

/* The same sums and ends by if all add up and by the 95 % interval. */
static void both_are(const struct level_drop_sums *sums, struct level_terms terms,
                     const struct level_ends *ends, double all, double u95)
{
	terms.decides = LEVEL_BY_ALL;
	limits_are(sums, &terms, ends, all);
	terms.decides = LEVEL_BY_U95;
	limits_are(sums, &terms, ends, u95);
}

/* Untested: the tolerance times 1000 m, and that by root 3; tested: 2 u and u. */
START_TEST(test_instruments)
{
	struct level_drop_sums sums = plain_sums();
	struct level_terms terms = plain_terms(0);
	struct level_ends ends = {0};
	terms.instrument[0] = (struct level_instrument){.tolerance = 0.00005};
	/* 50; 2 x 50/1.7320508 = 57.735, no more than 50 */
	both_are(&sums, terms, &ends, 50, 50);
	terms.instrument[0] =
	    (struct level_instrument){.tolerance = 0.00005, .tested = true, .u = 0.00001};
	both_are(&sums, terms, &ends, 20, 20);
	/* with 30 mm at the start: 20 + 60; 2 sqrt(100 + 900) = 63.2456 */
	ends.known_u[0] = 0.030;
	both_are(&sums, terms, &ends, 80, 63.245553);
	/* u over the tolerance by root 3, 28.868 mm: untested again, 110; 2 sqrt(2500/3 + 900) */
	terms.instrument[0].u = 0.00002886;
	both_are(&sums, terms, &ends, 117.72, 83.256221);
	terms.instrument[0].u = 0.00003;
	both_are(&sums, terms, &ends, 110, 83.266640);
}
END_TEST

/* 8 mm of readings, u 4 mm; declared 6 mm; known to 3 and 4 mm. */
START_TEST(test_sums_of_lines)
{
	struct level_drop_sums sums = plain_sums();
	struct level_terms terms = plain_terms(0);
	struct level_ends ends = {.known_u = {0.003, 0.004}};
	/* 2 (3 + 4); 2 sqrt(9 + 16) */
	both_are(&sums, terms, &ends, 14, 10);
	sums.reading_bound = 0.008;
	sums.reading_variance = 16e-6;
	/* 14 + 8; 2 sqrt(25 + 16) = 12.8062 */
	both_are(&sums, terms, &ends, 22, 12.806248);
	terms.declared[LEVEL_DECLARED_MOST - 1].bound = 0.006;
	/* 22 + 6; 2 sqrt(41 + 36/3) = 14.5602 */
	both_are(&sums, terms, &ends, 28, 14.560220);
}
END_TEST

/* k off by 0.5 either way over S/2R0 = 10^6/12 742 000 m = 78.4806 mm is 39.2403 mm; u is half of
 * that for one air, and sqrt(0.25) of it where each setup has its own; 0.64 of the variance in
 * common: sqrt(0.64 + 0.36 x 0.25) = 0.854400 of 19.6202 = 16.7635 mm. */
START_TEST(test_air)
{
	struct level_drop_sums sums = plain_sums();
	struct level_terms terms = plain_terms(0);
	struct level_ends ends = {0};
	terms.dk_low = 0.5;
	terms.dk_high = 7;
	terms.air_common = 0.64;
	both_are(&sums, terms, &ends, 39.240308, 19.620154);
	terms.air_declared = true;
	both_are(&sums, terms, &ends, 39.240308, 33.526993);
}
END_TEST

/* The surface: the greater of what is declared, 5 mm, and its floor; 10^-5 over 1000 m of flow are
 * 10 mm; ends read with u 1 mm and 9 degrees of freedom, t u 2.262 mm, and 2 mm by method. */
START_TEST(test_water)
{
	struct level_drop_sums sums = plain_sums();
	struct level_terms terms = plain_terms(0);
	struct level_ends ends = {.mean = {{0.001, 9, 0.002262}, {0.002, INFINITY, 0.004}}};
	struct level_ends known = {.known_u = {0.003, 0}};
	terms.water = 0.005;
	terms.water_floor = 0.002;
	known.mean[0] = ends.mean[0];
	/* no end hangs on the water: only what is known counts */
	both_are(&sums, terms, &known, 6, 6);
	ends.water = true;
	/* 5 + 2.262 + 4; 2 sqrt(25/3 + 1 + 4) = 7.3030, many degrees of freedom */
	both_are(&sums, terms, &ends, 11.262, 7.302967);
	terms.water_floor = 0.006;
	/* 6 + 6.262; 2 sqrt(12 + 5) = 8.2462 */
	both_are(&sums, terms, &ends, 12.262, 8.246211);
	terms.flow = 0.00001;
	/* + 10; 2 sqrt(17 + 100/3) = 14.1892 */
	both_are(&sums, terms, &ends, 22.262, 14.189198);
	terms.flow = -1; /* not declared */
	both_are(&sums, terms, &ends, 12.262, 8.246211);
}
END_TEST

/* Water read so that its spread is most of all: u 4 mm with 1 degree of freedom, t 12.706 (JCGM
 * 100:2008, table G.2), is never covered by less than 50.825 mm, which here is less than the sum.
 */
START_TEST(test_few_readings)
{
	struct level_drop_sums sums = plain_sums();
	struct level_terms terms = plain_terms(0);
	struct level_ends ends = {.water = true, .mean = {{0.004, 1, 0.050825}}};
	ends.mean[1] = (struct level_mean_u){0.030, INFINITY, 0.060};
	/* variance 16 + 900 = 916, freedom 916^2/256 = 3278: 2 sqrt 916 = 60.531 */
	both_are(&sums, terms, &ends, 110.825, 60.530984);
	ends.mean[1] = (struct level_mean_u){0.010, INFINITY, 0.020};
	/* variance 116, freedom 116^2/256 = 52.6: no more than 2.007 x 10.77 = 21.6, so 50.825 */
	both_are(&sums, terms, &ends, 70.825, 50.825);
}
END_TEST

/* Where the prediction itself lies within the allowance, 14 mm of known marks and 10 predicted. */
START_TEST(test_not_separated)
{
	struct level_drop_sums sums = plain_sums();
	struct level_terms terms = plain_terms(LEVEL_BY_ALL);
	struct level_ends ends = {.known_u = {0.003, 0.004}};
	sums.drop = 0.010;
	ck_assert_int_eq(level_answer_before(&sums, &terms, &ends, -0.0039), LEVEL_NOT_SEPARATED);
	ck_assert_int_eq(level_answer_before(&sums, &terms, &ends, -0.0041), LEVEL_NONE_SHOWN);
	ck_assert_int_eq(level_answer_before(&sums, &terms, &ends, 0.0139), LEVEL_NOT_SEPARATED);
	ck_assert_int_eq(level_answer_before(&sums, &terms, &ends, 0.0141), LEVEL_SHOWN_COMPATIBLE);
}
END_TEST

int main(void)
{
	return RUN_TESTS("old_rule", test_instruments, test_sums_of_lines, test_air, test_water,
	                 test_few_readings, test_not_separated);
}
