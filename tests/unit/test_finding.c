/* What an observed drop says. The rule of the five answers is common practice, no source. */
#include "rodbook/finding.h"

#include <math.h>
#include <string.h>

#include "closed.h"

/* Both drops turned by sgn(S); binary fractions, so that the limits are met exactly. */
START_TEST(test_answers_at_their_limits)
{
	static const struct {
		double observed, predicted, allowance;
		enum level_drop_answer answer;
	} table[] = {
	    {0.5, 0.5, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    /* the prediction just within the allowance, and just out of it */
	    {0.5, 0.75, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    {0.5, 0.25, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    {0.5, 0.7500001, 0.25, LEVEL_SHOWN_INCOMPATIBLE},
	    {0.5, 0.2499999, 0.25, LEVEL_SHOWN_INCOMPATIBLE},
	    {9, 0.5, 0.25, LEVEL_SHOWN_INCOMPATIBLE},
	    /* a drop as large as the allowance is within it */
	    {0.25, 0.5, 0.25, LEVEL_NOT_SEPARATED},
	    {0.2500001, 0.5, 0.25, LEVEL_SHOWN_COMPATIBLE},
	    {0.25, 0.5000001, 0.25, LEVEL_NONE_SHOWN},
	    {0, 0.25, 0.25, LEVEL_NOT_SEPARATED},
	    {0, 0.2500001, 0.25, LEVEL_NONE_SHOWN},
	    {-0.25, 0, 0.25, LEVEL_NOT_SEPARATED},
	    {-0.25, 0.5, 0.25, LEVEL_NONE_SHOWN},
	    {-0.2500001, 0.5, 0.25, LEVEL_OPPOSITE},
	    {-0.2500001, 0, 0.25, LEVEL_OPPOSITE},
	    {-9, 0.5, 0.25, LEVEL_OPPOSITE},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		enum level_drop_answer got =
		    level_answer_of(table[i].observed, table[i].predicted, table[i].allowance);
		ck_assert_msg(got == table[i].answer, "%g against %g +- %g: %s, not %s",
		              table[i].observed, table[i].predicted, table[i].allowance,
		              level_answer_code(got), level_answer_code(table[i].answer));
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

/* Nothing but a declared allowance, by the bound. */
static struct level_terms bare_terms(const char *declared)
{
	struct level_terms out = {.radius = LEVEL_MEAN_RADIUS, .k = 0.13};
	ck_assert(level_parse_declared(declared, LEVEL_M, out.declared, NULL));
	return out;
}

/* 50 and 2 500 ft. The far mark is read where the near one reads 5 ft and the drop is D. */
static struct level_closing cross(const char *near, const char *far, const char *near_reading,
                                  const char *far_reading, const char *declared, bool far_is_bs)
{
	struct level_sight sights[2];
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms with = bare_terms(declared);
	sights[far_is_bs] =
	    sight(far_is_bs ? LEVEL_FS : LEVEL_BS, "PEG 1", length(near_reading), length(near));
	sights[!far_is_bs] =
	    sight(far_is_bs ? LEVEL_BS : LEVEL_FS, "PEG 2", length(far_reading), length(far));
	return closed_with(&run, &with, "construction", 0);
}

/* S = 762^2 - 15.24^2 = 580 411.742 m^2 and P = 0.87 S/12 742 000 m = 39.629 431 mm, by hand. The
 * same lengths in each unit: 1 ft = 0.3048 m = 12 in. */
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
	    {{"1.525524 m", "5.005 ft", "60.06 in"},
	     {"3.048 mm", "0.01 ft", "0.12 in"},
	     0.001524,
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
				struct level_closing got = cross(
				    near[unit], far[unit], near_reading[unit],
				    table[i].far_reading[unit], table[i].declared[unit], far_is_bs);
				ck_assert(got.has_observed);
				ck_assert_double_eq(got.finding.turn, turn);
				ck_assert_str_eq(level_answer_code(got.finding.answer),
				                 level_answer_code(table[i].answer));
				ck_assert_double_eq_tol(got.observed, turn * table[i].drop, 1e-15);
				ck_assert_double_eq_tol(got.predicted, turn * 0.039629431, 1e-9);
				ck_assert_double_eq_tol(got.margin,
				                        table[i].drop - table[i].allowance, 1e-15);
			}
}
END_TEST

/* 1/R = 2 D/S + k/R0 = 0.0762/580 411.742 + 0.13/6 371 000 = 1.516 911 e-7/m, R = 6 592 345.9 m, +-
 * 2 x 0.003 048/580 411.742; k = 1 - 2 R D/S. All of it by hand. */
START_TEST(test_radius_of_a_drop)
{
	for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
		struct level_closing got =
		    cross("50 ft", "2500 ft", "5 ft", "5.125 ft", "0.01 ft", far_is_bs);
		double low = 1.516910702e-7 - 1.050288969e-8;
		double high = 1.516910702e-7 + 1.050288969e-8;
		ck_assert_double_eq_tol(got.finding.curvature, 1.516910702e-7, 1e-15);
		ck_assert_double_eq_tol(got.finding.curvature_u, 1.050288969e-8, 1e-15);
		ck_assert_double_eq_tol(got.finding.radius.middle, 6592345.87, 0.05);
		ck_assert_double_eq_tol(got.finding.radius.low, 1 / high, 1);
		ck_assert_double_eq_tol(got.finding.radius.high, 1 / low, 1);
		ck_assert_double_eq_tol(got.finding.k_needed, 0.163576192, 1e-8);
	}
}
END_TEST

START_TEST(test_interval)
{
	struct level_radius got;
	/* half as much again and half as much: 2/3 R and 2 R */
	got = level_radius_of(1 / 6000000.0, 1 / 12000000.0);
	ck_assert_double_eq_tol(got.low, 4000000, 1e-6);
	ck_assert_double_eq_tol(got.middle, 6000000, 1e-6);
	ck_assert_double_eq_tol(got.high, 12000000, 1e-6);
	/* where 1/R reaches 0 or less there is no upper limit */
	got = level_radius_of(0.25, 0.25);
	ck_assert_double_eq(got.low, 2);
	ck_assert_double_eq(got.middle, 4);
	ck_assert(isinf(got.high));
	ck_assert(isinf(level_radius_of(0.25, 0.5).high));
	ck_assert(!isinf(level_radius_of(0.25, 0.2499999).high));
	/* no radius where 1/R is not above 0: of the middle, of all */
	got = level_radius_of(0, 0.25);
	ck_assert_double_eq(got.low, 4);
	ck_assert_double_eq(got.middle, 0);
	ck_assert(isinf(got.high));
	got = level_radius_of(-0.25, 0.5);
	ck_assert_double_eq(got.low, 4);
	ck_assert_double_eq(got.middle, 0);
	got = level_radius_of(-0.25, 0.25);
	ck_assert_double_eq(got.low, 0);
	ck_assert_double_eq(got.middle, 0);
	ck_assert(isinf(got.high));
}
END_TEST

static struct level_drop_sums sums_of(const struct level_terms *terms, double bs, double fs)
{
	struct level_drop_sums out = {0};
	struct level_reach near = {.distance = bs}, far = {.distance = fs};
	level_drop_add(&out, terms, &near, &far);
	return out;
}

/* Over a flat surface light still bends by k/R0: D = -k S/2 R0, whatever radius is predicted. */
START_TEST(test_flat)
{
	static const double ks[] = {-1, 0, 0.13, 0.5, 2};
	static const double radii[] = {6335439, LEVEL_MEAN_RADIUS, 6399593.6};
	for (size_t i = 0; i < sizeof ks / sizeof *ks; i++)
		for (size_t j = 0; j < sizeof radii / sizeof *radii; j++) {
			struct level_terms terms = {
			    .radius = radii[j], .k = ks[i], .declared = {{.bound = 0.001}}};
			struct level_drop_sums sums = sums_of(&terms, 20, 800);
			struct level_ends ends = {0};
			struct level_allowance allowance = level_allow(&sums, &terms, &ends);
			struct level_finding got = level_find(
			    &sums, &terms, &allowance, -ks[i] * (640000 - 400) / (2 * 6371000.0));
			ck_assert_double_eq_tol(got.curvature, 0, 1e-20);
			ck_assert(isinf(got.radius.high));
			/* 2 x 0.001/639 600 */
			ck_assert_double_eq_tol(1 / got.radius.low, 0.002 / 639600, 1e-15);
		}
}
END_TEST

/* The prediction itself asks for the radius and the k that it was made with, exactly. */
START_TEST(test_prediction_asks_for_itself)
{
	struct level_terms terms = {.radius = 6362000, .k = 0.2, .declared = {{.bound = 0.001}}};
	struct level_drop_sums sums = sums_of(&terms, 20, 3000);
	struct level_allowance allowance = {.decides = 0.001};
	struct level_finding got = level_find(&sums, &terms, &allowance, sums.drop);
	ck_assert_double_eq_tol(got.curvature * 6362000, 1, 1e-15);
	ck_assert_double_eq_tol(got.k_needed, 0.2, 1e-12);
	ck_assert_int_eq(got.answer, LEVEL_SHOWN_COMPATIBLE);
}
END_TEST

/* With the k needed the prediction is the observation. */
START_TEST(test_k_needed)
{
	static const double drops[] = {-0.5, -0.01, 0, 0.0381, 0.3, 2};
	for (size_t i = 0; i < sizeof drops / sizeof *drops; i++)
		for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
			struct level_terms terms = {.radius = 6378000, .k = 0.13};
			double bs = far_is_bs ? 1500 : 30, fs = far_is_bs ? 30 : 1500;
			struct level_drop_sums sums = sums_of(&terms, bs, fs);
			struct level_allowance allowance = {.decides = 0.001};
			terms.k = level_find(&sums, &terms, &allowance, drops[i]).k_needed;
			sums = sums_of(&terms, bs, fs);
			ck_assert_double_eq_tol(sums.drop, drops[i], 1e-12);
		}
}
END_TEST

/* The half interval of 1/R is that of the total that decides. */
START_TEST(test_decides)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS,
	                            .k = 0.13,
	                            .declared = {{.bound = 0.003}, {.bound = 0.004}}};
	struct level_drop_sums sums = sums_of(&terms, 0, 1000);
	struct level_ends ends = {0};
	struct level_allowance allowance = level_allow(&sums, &terms, &ends);
	/* 2 x 7 mm/10^6 m^2 */
	ck_assert_double_eq_tol(level_find(&sums, &terms, &allowance, 0.05).curvature_u, 1.4e-8,
	                        1e-15);
	terms.decides = LEVEL_BY_U95;
	allowance = level_allow(&sums, &terms, &ends);
	/* 2 sqrt((9 + 16)/3) = 5.773 503 mm */
	ck_assert_double_eq_tol(level_find(&sums, &terms, &allowance, 0.05).curvature_u,
	                        1.1547005e-8, 1e-15);
}
END_TEST

START_TEST(test_equal_sights)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS, .k = 0.13};
	struct level_drop_sums sums = sums_of(&terms, 400, 400);
	struct level_allowance allowance = {.decides = 0.001};
	struct level_finding got = level_find(&sums, &terms, &allowance, 0.1);
	ck_assert_double_eq(got.turn, 0);
	ck_assert_double_eq(got.curvature, 0);
	ck_assert_double_eq(got.k_needed, 0);
}
END_TEST

/* Codes are written in files and stay; each sentence is its own, and none names a shape. */
START_TEST(test_words)
{
	static const char *const codes[] = {"shown-compatible", "shown-incompatible",
	                                    "not-separated", "none-shown", "opposite"};
	for (int i = 0; i < 5; i++) {
		const char *sentence = level_answer_sentence((enum level_drop_answer)i);
		ck_assert_str_eq(level_answer_code((enum level_drop_answer)i), codes[i]);
		ck_assert(strstr(sentence, "allowance") != NULL);
		ck_assert(!strstr(sentence, "flat") && !strstr(sentence, "round") &&
		          !strstr(sentence, "prove"));
		for (int j = 0; j < i; j++)
			ck_assert_str_ne(sentence,
			                 level_answer_sentence((enum level_drop_answer)j));
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("finding", test_answers_at_their_limits, test_answers_in_each_unit,
	                 test_radius_of_a_drop, test_interval, test_flat,
	                 test_prediction_asks_for_itself, test_k_needed, test_decides,
	                 test_equal_sights, test_words);
}
