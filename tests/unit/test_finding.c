/* The one test of a drop: where the interval of 1/R lies. */
#include "rodbook/level/drop/finding.h"

#include <math.h>
#include <string.h>

#include "closed.h"
#include "rodbook/level/drop/old_rule.h"

#define R0 6371000.0

/* C = shown over S' = 2 m^2, so that 1/R = C; an allowance of `limit` in all. */
static struct level_finding judged(double shown, double prediction, double limit)
{
	struct level_case c = {.shown = shown,
	                       .span = 2,
	                       .prediction = prediction,
	                       .bound = limit,
	                       .variance = limit * limit,
	                       .decides = LEVEL_BY_ALL};
	return level_judge(&c);
}

/* The rule of the five answers: the interval against 0 and the prediction (common practice, no
 * source). */
START_TEST(test_answers_at_their_limits)
{
	static const struct {
		double shown, predicted, allowance;
		enum level_drop_answer answer;
	} table[] = {
	    {0.5, 0.5, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    /* no allowance: the interval is one point, and takes itself in */
	    {0.5, 0.5, 0, LEVEL_SHOWN_COMPATIBLE},
	    {0, 0, 0, LEVEL_NOT_SEPARATED},
	    {0.5, 0.7499999, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    {0.5, 0.2500001, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    {0.5, 0.7500001, 0.25, LEVEL_SHOWN_INCOMPATIBLE},
	    {0.5, 0.2499999, 0.25, LEVEL_SHOWN_INCOMPATIBLE},
	    {9, 0.5, 0.25, LEVEL_SHOWN_INCOMPATIBLE},
	    {0.2499999, 0.4, 0.25, LEVEL_NOT_SEPARATED},
	    {0.2500001, 0.4, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    {0.2499999, 0.6, 0.25, LEVEL_NONE_SHOWN},
	    {0, 0.2499999, 0.25, LEVEL_NOT_SEPARATED},
	    {0, 0.2500001, 0.25, LEVEL_NONE_SHOWN},
	    {-0.2499999, 0.5, 0.25, LEVEL_NONE_SHOWN},
	    {-0.2500001, 0.5, 0.25, LEVEL_OPPOSITE},
	    {-9, 0.5, 0.25, LEVEL_OPPOSITE},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		for (int turned = 0; turned < 2; turned++) {
			struct level_finding got =
			    judged(table[i].shown, table[i].predicted, table[i].allowance);
			ck_assert_int_eq(got.none, LEVEL_ANSWERED);
			ck_assert_msg(
			    got.answer == table[i].answer, "%g against %g +- %g: %s, not %s",
			    table[i].shown, table[i].predicted, table[i].allowance,
			    level_answer_code(got.answer), level_answer_code(table[i].answer));
			ck_assert_double_eq_tol(got.low, table[i].shown - table[i].allowance,
			                        1e-12);
			ck_assert_double_eq_tol(got.high, table[i].shown + table[i].allowance,
			                        1e-12);
			ck_assert_double_eq(got.allowed, table[i].allowance);
		}
}
END_TEST

static level_nm length(const char *text)
{
	level_nm out;
	struct fault why;
	ck_assert_msg(level_parse_length(text, LEVEL_M, &out, &why), "%s", why.text);
	return out;
}

/* Nothing but a declared allowance, if all add up. */
static struct level_terms bare_terms(const char *declared, double k)
{
	struct level_terms out = {.radius = LEVEL_MEAN_RADIUS, .k = k};
	ck_assert(level_parse_declared(declared, LEVEL_M, out.declared, NULL));
	return out;
}

/* 50 and 2 500 ft, both marks at one known height. */
static struct level_closing cross(const char *near, const char *far, const char *near_reading,
                                  const char *far_reading, const char *declared, double k,
                                  bool far_is_bs)
{
	struct level_sight sights[2];
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms with = bare_terms(declared, k);
	sights[far_is_bs] = known(
	    sight(far_is_bs ? LEVEL_FS : LEVEL_BS, "PEG 1", length(near_reading), length(near)), 0,
	    0);
	sights[!far_is_bs] =
	    known(sight(far_is_bs ? LEVEL_BS : LEVEL_FS, "PEG 2", length(far_reading), length(far)),
	          0, 0);
	return closed_with(&run, &with, "construction", 0);
}

/* S = 762^2 - 15.24^2 = 580 411.742 m^2; with k = 0.13 F = -0.13 S/12 742 000 = -5.921 639 mm and P
 * = 0.87 S/12 742 000 = 39.629 431 mm, by hand. The same lengths in each unit: 1 ft = 0.3048 m = 12
 * in. C = D - F; flat to round 45.551 070 mm. */
START_TEST(test_answers_in_each_unit)
{
	static const char *const near[] = {"15.24 m", "50 ft", "600 in"};
	static const char *const far[] = {"762 m", "2500 ft", "30000 in"};
	static const char *const near_reading[] = {"1.524 m", "5 ft", "60 in"};
	static const struct {
		const char *far_reading[3], *declared[3];
		double drop, allowance; /* m */
		enum level_drop_answer answer;
	} table[] = {
	    {{"1.5621 m", "5.125 ft", "61.5 in"},
	     {"3.048 mm", "0.01 ft", "0.12 in"},
	     0.0381,
	     0.003048,
	     LEVEL_SHOWN_COMPATIBLE},
	    {{"1.53924 m", "5.05 ft", "60.6 in"},
	     {"3.048 mm", "0.01 ft", "0.12 in"},
	     0.01524,
	     0.003048,
	     LEVEL_SHOWN_INCOMPATIBLE},
	    {{"1.527048 m", "5.01 ft", "60.12 in"},
	     {"45.72 mm", "0.15 ft", "1.8 in"},
	     0.003048,
	     0.04572,
	     LEVEL_NOT_SEPARATED},
	    {{"1.517904 m", "4.98 ft", "59.76 in"},
	     {"3.048 mm", "0.01 ft", "0.12 in"},
	     -0.006096,
	     0.003048,
	     LEVEL_NONE_SHOWN},
	    {{"1.50876 m", "4.95 ft", "59.4 in"},
	     {"3.048 mm", "0.01 ft", "0.12 in"},
	     -0.01524,
	     0.003048,
	     LEVEL_OPPOSITE},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		for (int unit = 0; unit < 3; unit++)
			for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
				double turn = far_is_bs ? -1 : 1;
				struct level_closing got =
				    cross(near[unit], far[unit], near_reading[unit],
				          table[i].far_reading[unit], table[i].declared[unit], 0.13,
				          far_is_bs);
				ck_assert(got.has_observed && !got.finding.none);
				ck_assert_double_eq(got.finding.turn, turn);
				ck_assert_str_eq(level_answer_code(got.finding.answer),
				                 level_answer_code(table[i].answer));
				ck_assert_double_eq_tol(got.observed, turn * table[i].drop, 2e-9);
				ck_assert_double_eq_tol(got.predicted, turn * 0.039629431, 1e-9);
				ck_assert_double_eq_tol(got.flat, turn * -0.005921639, 1e-9);
				ck_assert_double_eq_tol(got.separation, 0.045551070, 1e-9);
				ck_assert_double_eq_tol(
				    got.margin, table[i].drop + 0.005921639 - table[i].allowance,
				    3e-9);
			}
}
END_TEST

/* A flat surface shows F, not zero. Error-free readings over one, in air whose k is known: whatever
 * k is, no drop is shown, and nothing opposite. Tested against zero, k = -0.5 would show a drop of
 * 22.8 mm here, k = 0.13 nothing, k = 1.2 a rise. */
START_TEST(test_flat_shows_no_curvature)
{
	static const double ks[] = {-1, -0.5, -0.13, 0, 0.13, 0.5, 1, 1.2, 4};
	for (size_t i = 0; i < sizeof ks / sizeof *ks; i++) {
		char reading[40];
		struct level_closing got;
		/* light sinks by k S/2R0, and the reading with it */
		snprintf(reading, sizeof reading, "%.9f m", 1.524 - ks[i] * 580411.742 / (2 * R0));
		got = cross("15.24 m", "762 m", "1.524 m", reading, "3 mm", ks[i], false);
		ck_assert_double_eq_tol(got.observed, got.flat, 2e-9);
		ck_assert_double_eq_tol(got.shown, 0, 2e-9);
		ck_assert_int_eq(got.finding.answer, LEVEL_NONE_SHOWN);
		ck_assert_double_eq_tol(got.margin, -0.003, 2e-9);
	}
}
END_TEST

/* And a round surface shows its own curvature in the same air, k > 1 included, where D itself is a
 * rise. */
START_TEST(test_round_shows_its_own)
{
	static const double ks[] = {-1, 0, 0.13, 1, 1.2, 4};
	for (size_t i = 0; i < sizeof ks / sizeof *ks; i++) {
		char reading[40];
		struct level_closing got;
		snprintf(reading, sizeof reading, "%.9f m",
		         1.524 + (1 - ks[i]) * 580411.742 / (2 * R0));
		got = cross("15.24 m", "762 m", "1.524 m", reading, "3 mm", ks[i], false);
		ck_assert_int_eq(got.finding.answer, LEVEL_SHOWN_COMPATIBLE);
		ck_assert_double_eq_tol(got.finding.middle * R0, 1, 1e-6);
		ck_assert_double_eq_tol(got.finding.k_needed, ks[i], 1e-6);
	}
}
END_TEST

/* 1/R = 2C/S' = 2 x 44.021 639 mm/580 411.742 m^2 = 1.516 911 e-7/m, R = 6 592 345.9 m, +- 2 x
 * 0.003 048/580 411.742; k = 1 - 2 R0 D/S. All of it by hand. */
START_TEST(test_radius_of_a_drop)
{
	for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
		struct level_closing got =
		    cross("50 ft", "2500 ft", "5 ft", "5.125 ft", "0.01 ft", 0.13, far_is_bs);
		double low = 1.516910702e-7 - 1.050288969e-8;
		double high = 1.516910702e-7 + 1.050288969e-8;
		ck_assert_double_eq_tol(got.finding.middle, 1.516910702e-7, 1e-15);
		ck_assert_double_eq_tol(got.finding.low, low, 1e-15);
		ck_assert_double_eq_tol(got.finding.high, high, 1e-15);
		ck_assert_double_eq_tol(got.finding.radius.middle, 6592345.87, 0.05);
		ck_assert_double_eq_tol(got.finding.radius.low, 1 / high, 1);
		ck_assert_double_eq_tol(got.finding.radius.high, 1 / low, 1);
		ck_assert_double_eq_tol(got.finding.k_needed, 0.163576192, 1e-7);
	}
}
END_TEST

START_TEST(test_radii)
{
	struct level_radius got = level_radius_of(1 / 12000000.0, 1 / 6000000.0, 3 / 12000000.0);
	ck_assert_double_eq_tol(got.low, 4000000, 1e-6);
	ck_assert_double_eq_tol(got.middle, 6000000, 1e-6);
	ck_assert_double_eq_tol(got.high, 12000000, 1e-6);
	/* where 1/R reaches 0 or less there is no upper limit */
	ck_assert(isinf(level_radius_of(0, 0.25, 0.5).high));
	ck_assert(isinf(level_radius_of(-0.25, 0.25, 0.75).high));
	/* no radius where 1/R is not above 0: of the middle, of all */
	got = level_radius_of(-0.25, 0, 0.25);
	ck_assert_double_eq(got.low, 4);
	ck_assert_double_eq(got.middle, 0);
	got = level_radius_of(-0.5, -0.25, 0);
	ck_assert_double_eq(got.low, 0);
	ck_assert(isinf(got.high));
}
END_TEST

/* Air: what is left over above is explained by a k below, and the other way round. */
START_TEST(test_sides)
{
	struct level_case c = {.shown = 1, .span = 2, .air_u = {0.1, 0.3}, .air_bound = {0.2, 0.6}};
	for (int turned = 0; turned < 2; turned++) {
		struct level_finding got;
		c.decides = LEVEL_BY_U95;
		got = level_judge(&c);
		ck_assert_double_eq_tol(got.low, 0.8, 1e-12);
		ck_assert_double_eq_tol(got.high, 1.6, 1e-12);
		c.shown = -c.shown; /* the long sight as the BS turns both */
		c.span = -c.span;
	}
}
END_TEST

/* Distances known badly: at kappa their error is b kappa u; where that grows as fast as S'/2 there
 * is no interval. b u of 0.49: 2 x 0.49 < 1; x = 1 + 0.98 x has no end below 50. */
START_TEST(test_distances)
{
	struct level_length length = {.b = 1, .u = 0.49};
	struct level_case c = {
	    .shown = 1, .span = 2, .lengths = 1, .length = &length, .decides = LEVEL_BY_U95};
	struct level_finding got = level_judge(&c);
	ck_assert_int_eq(got.none, LEVEL_ANSWERED);
	ck_assert_double_eq_tol(got.high, 50, 1e-9);
	ck_assert_double_eq_tol(got.low, 1 / 1.98, 1e-12);
	length.u = 0.5;
	ck_assert_int_eq(level_judge(&c).none, LEVEL_NO_DISTANCE);
	c.decides = LEVEL_BY_ALL;
	ck_assert_int_eq(level_judge(&c).none, LEVEL_NO_DISTANCE);
	ck_assert_str_eq(level_no_answer_code(LEVEL_NO_DISTANCE), "distances");
}
END_TEST

START_TEST(test_equal_sights)
{
	struct level_case c = {.shown = 0.1, .bound = 1, .variance = 1};
	struct level_finding got = level_judge(&c);
	ck_assert_double_eq(got.turn, 0);
	ck_assert_int_eq(got.none, LEVEL_NO_SPAN);
	ck_assert_str_eq(level_no_answer_code(got.none), "balanced");
}
END_TEST

/* Crossings whose ends hang on water that nobody read have no answer, however firm their figures.
 */
START_TEST(test_no_water_no_answer)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "B", MM(1545), METRES(800))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms with = bare_terms("1 mm", 0.13);
	struct level_closing got;
	with.water = 0.005; /* declared is not read */
	got = closed_with(&run, &with, "construction", 0);
	ck_assert_int_eq(got.finding.none, LEVEL_NO_WATER);
	ck_assert_str_eq(level_no_answer_code(got.finding.none), "water-not-read");
}
END_TEST

/* The interval is that of the total that decides, by U with each line's u: declared 3 and 4 mm, 2
 * sqrt((9 + 16)/3) = 5.773 503 mm, if all add up 7; over 10^6 m^2. */
START_TEST(test_decides)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS,
	                            .declared = {{.bound = 0.003}, {.bound = 0.004}}};
	struct level_drop_sums sums = {0};
	struct level_reach near = {.distance = 0}, far = {.distance = 1000};
	struct level_ends ends = {0};
	struct level_weighing got;
	double observed = 0.05;
	level_drop_add(&sums, &terms, &near, &far);
	got = level_weigh(&sums, &terms, &ends, NULL, 0, &observed);
	ck_assert_double_eq_tol(got.finding.high - got.finding.middle, 1.4e-8, 1e-15);
	terms.decides = LEVEL_BY_U95;
	got = level_weigh(&sums, &terms, &ends, NULL, 0, &observed);
	ck_assert_double_eq_tol(got.finding.high - got.finding.middle, 1.1547005e-8, 1e-15);
	ck_assert_double_eq_tol(got.finding.middle - got.finding.low, 1.1547005e-8, 1e-15);
}
END_TEST

/* The rule of version 3 took off a tilt of 0.15 mm/m beyond a tolerance of 0.10 mm/m, where u is
 * 0.06 mm/m; today that test does not count. Over 800 m it is 0.12 m: of D = 0.170 23 m it left the
 * 0.050 23 m of the prediction, within 2 x 0.06 x 800 = 96 mm of 0 too. */
START_TEST(test_old_rule_takes_its_own_tilt)
{
	struct level_terms terms = {
	    .radius = LEVEL_MEAN_RADIUS,
	    .instrument = {{.tolerance = 0.0001, .tested = true, .tilt = 0.00015, .u = 0.00006}}};
	struct level_drop_sums sums = {0};
	struct level_reach near = {.distance = 0}, far = {.distance = 800};
	struct level_ends ends = {0};
	level_drop_add(&sums, &terms, &near, &far);
	ck_assert(!level_test_counts(&terms, 0));
	ck_assert_int_eq(level_answer_before(&sums, &terms, &ends, 0.17023), LEVEL_NOT_SEPARATED);
	/* where it counts today too, D is what it was */
	terms.instrument[0].u = 0.00002;
	ck_assert(level_test_counts(&terms, 0));
	ck_assert_int_eq(level_answer_before(&sums, &terms, &ends, 0.05023),
	                 LEVEL_SHOWN_COMPATIBLE);
}
END_TEST

/* Codes are written in files and stay; each sentence is its own, and proves nothing. */
START_TEST(test_words)
{
	static const char *const codes[] = {"shown-compatible", "shown-incompatible",
	                                    "not-separated", "none-shown", "opposite"};
	for (int i = 0; i < 5; i++) {
		const char *sentence = level_answer_sentence((enum level_drop_answer)i);
		ck_assert_str_eq(level_answer_code((enum level_drop_answer)i), codes[i]);
		ck_assert(strstr(sentence, "allowance") != NULL);
		ck_assert(!strstr(sentence, "prove"));
		ck_assert_uint_le(strlen(level_answer_brief((enum level_drop_answer)i)), 76);
		for (int j = 0; j < i; j++)
			ck_assert_str_ne(sentence,
			                 level_answer_sentence((enum level_drop_answer)j));
	}
}
END_TEST

/* Flat is ruled out at 95 % and would not be at 99 %: below 2.576/1.960 of U (JCGM 100:2008, table
 * G.1). U is 2 u = 0.2 here, and 0.2 x 2.576/1.960 = 0.262857. No U is above B, at 99 % neither:
 * what is shown beyond all limits at once is not narrow. */
START_TEST(test_narrow)
{
	static const struct {
		double shown, bound;
		bool narrow;
	} table[] = {{0.199, 9, false},     {0.201, 9, true},    {0.262857, 9, true},
	             {0.262858, 9, false},  {-0.201, 9, true},   {-0.262858, 9, false},
	             {0, 9, false},         {0.249, 0.25, true}, {0.251, 0.25, false},
	             {-0.251, 0.25, false}, {0.16, 0.15, false}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		for (int by_u = 0; by_u < 2; by_u++) {
			struct level_case c = {.shown = table[i].shown,
			                       .span = 2,
			                       .prediction = 0.2,
			                       .bound = by_u ? table[i].bound : 0.2,
			                       .variance = 0.01,
			                       .decides = by_u ? LEVEL_BY_U95 : LEVEL_BY_ALL};
			struct level_finding got = level_judge(&c);
			ck_assert_int_eq(got.narrow, by_u && table[i].narrow);
			if (got.narrow && !got.narrow_prediction)
				ck_assert_str_eq(level_answer_reserve(&got),
				                 "; narrowly: at 99 % flat would not be ruled out");
		}
}
END_TEST

/* The same of the prediction, X(1/R) = shown - 0.2 x 2 / 2: an answer leans to neither side. Held
 * to 0.2 x 2.576/1.960 = 0.262857 again. */
START_TEST(test_narrow_prediction)
{
	static const struct {
		double shown, bound;
		bool flat, prediction;
		const char *reserve;
	} table[] = {
	    {0.001, 9, false, false, ""},
	    {-0.001, 9, false, true, "; narrowly: at 99 % the prediction would not be ruled out"},
	    {-0.062, 9, false, true, "; narrowly: at 99 % the prediction would not be ruled out"},
	    {-0.063, 9, false, false, ""},
	    {-0.051, 0.25, false, false, ""},
	    {0.401, 9, false, true, "; narrowly: at 99 % the prediction would not be ruled out"},
	    {0.463, 9, false, false, ""},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		for (int by_u = 0; by_u < 2; by_u++) {
			struct level_case c = {.shown = table[i].shown,
			                       .span = 2,
			                       .prediction = 0.2,
			                       .bound = by_u ? table[i].bound : 0.2,
			                       .variance = 0.01,
			                       .decides = by_u ? LEVEL_BY_U95 : LEVEL_BY_ALL};
			struct level_finding got = level_judge(&c);
			ck_assert_int_eq(got.narrow, by_u && table[i].flat);
			ck_assert_int_eq(got.narrow_prediction, by_u && table[i].prediction);
			ck_assert_str_eq(level_answer_reserve(&got), by_u ? table[i].reserve : "");
		}
}
END_TEST

/* What the air alone makes of it at the prediction. Others 3, air 4: u 5, U 10, of which 8 are the
 * air's; on the other side the air is 1: u is the root of 10, U twice that, of which 2 are the
 * air's. More drop than predicted is set against the first side. If all add up it is the air's
 * limit. */
START_TEST(test_air_alone)
{
	struct level_case c = {.span = 2,
	                       .prediction = -1,
	                       .variance = 9,
	                       .bound = 100,
	                       .air_u = {4, 1},
	                       .air_bound = {11, 7},
	                       .decides = LEVEL_BY_U95};
	ck_assert_double_eq_tol(level_judge(&c).allowed, 10, 1e-12);
	ck_assert_double_eq_tol(level_judge(&c).air, 8, 1e-12);
	c.prediction = 1;
	ck_assert_double_eq_tol(level_judge(&c).allowed, 2 * sqrt(10), 1e-12);
	ck_assert_double_eq_tol(level_judge(&c).air, 2, 1e-12);
	c.decides = LEVEL_BY_ALL;
	ck_assert_double_eq_tol(level_judge(&c).air, 7, 1e-12);
	c.prediction = -1;
	ck_assert_double_eq_tol(level_judge(&c).air, 11, 1e-12);
	/* Few readings of others widen U by t; the air does no more than its limit. */
	c.decides = LEVEL_BY_U95;
	c.sampled.largest = 50;
	ck_assert_double_eq_tol(level_judge(&c).allowed, 50, 1e-12);
	ck_assert_double_eq_tol(level_judge(&c).air, 11, 1e-12);
	c.sampled.largest = 0;
	c.variance = c.air_u[0] = 0;
	ck_assert_double_eq(level_judge(&c).air, 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("finding", test_answers_at_their_limits, test_answers_in_each_unit,
	                 test_flat_shows_no_curvature, test_round_shows_its_own,
	                 test_radius_of_a_drop, test_radii, test_sides, test_distances,
	                 test_equal_sights, test_no_water_no_answer, test_decides,
	                 test_old_rule_takes_its_own_tilt, test_words, test_narrow,
	                 test_narrow_prediction, test_air_alone);
}
