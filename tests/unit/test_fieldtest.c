/* The field test of a level. */
#include "rodbook/level/fieldtest.h"

#include <math.h>
#include <string.h>

#include "chance.h"
#include "suite.h"

/* Pairs whose BS - FS is `height` plus `off`, in 0.1 mm; the rods stand higher and higher. */
static void add(struct level_pair *pairs, int count, int height, const int *off)
{
	for (int i = 0; i < count; i++) {
		pairs[i].foresight = (12000 + 137 * i) * INT64_C(100000);
		pairs[i].backsight = pairs[i].foresight + (height + off[i]) * INT64_C(100000);
	}
}

/* From midway, in 0.1 mm off the mean: 3 -3 3 -3 and six zeros, sum r^2 = 36, so s = sqrt(36/9) =
 * 2: 0.2 mm. Near one rod the scatter does not count. */
static const int midway[10] = {3, -3, 3, -3};
static const int near_one[10] = {9, -9, 5, -5, 1, -1};

static struct level_fieldtest simplified(int second)
{
	struct level_pair pairs[20];
	struct level_fieldtest out;
	add(pairs, 10, 5000, midway);
	add(pairs + 10, 10, second, near_one);
	ck_assert(level_fieldtest(pairs, 20, false, &out, NULL));
	return out;
}

START_TEST(test_simplified)
{
	/* 0.4 mm apart, and 2.5 s = 0.5 mm */
	struct level_fieldtest got = simplified(5004);
	ck_assert_double_eq_tol(got.mean[0], 0.5, 1e-15);
	ck_assert_double_eq_tol(got.mean[1], 0.5004, 1e-15);
	ck_assert_double_eq_tol(got.s, 0.0002, 1e-15);
	ck_assert_double_eq(got.freedom, 9);
	ck_assert_double_eq_tol(got.difference, -0.0004, 1e-15);
	ck_assert_double_eq_tol(got.limit, 0.0005, 1e-15);
	ck_assert(got.difference_passes && level_fieldtest_passes(&got));
	ck_assert(!got.has_sigma && !got.has_ratio);
	got = simplified(4996);
	ck_assert(level_fieldtest_passes(&got));
	/* 0.6 mm */
	got = simplified(5006);
	ck_assert(!got.difference_passes && !level_fieldtest_passes(&got));
	got = simplified(4994);
	ck_assert(!level_fieldtest_passes(&got));
}
END_TEST

/* Off each series' own mean: 6 -6 1 -1 1 -1 and fourteen zeros, sum r^2 = 76 twice, so s =
 * sqrt(152/38) = 2: 0.2 mm. */
static struct level_fieldtest full(int scale, int second)
{
	int off[20] = {6, -6, 1, -1, 1, -1};
	struct level_pair pairs[40];
	struct level_fieldtest out;
	for (int i = 0; i < 20; i++)
		off[i] *= scale;
	add(pairs, 20, 5000, off);
	add(pairs + 20, 20, second, off);
	ck_assert(level_fieldtest(pairs, 40, true, &out, NULL));
	return out;
}

START_TEST(test_full)
{
	struct level_fieldtest got = full(1, 4999);
	ck_assert_double_eq_tol(got.s, 0.0002, 1e-15);
	ck_assert_double_eq(got.freedom, 38);
	/* 0.2 mm x sqrt(16.6667)/sqrt(2) = 0.2 x 2.886751 */
	ck_assert_double_eq_tol(got.s_km, 0.000577350, 1e-9);
	ck_assert_double_eq_tol(got.difference, 0.0001, 1e-15);
	/* 0.64 x 0.2 mm = 0.128 mm */
	ck_assert_double_eq_tol(got.limit, 0.000128, 0.000001);
	ck_assert(got.difference_passes);
	/* 0.2 mm */
	got = full(1, 5002);
	ck_assert(!got.difference_passes && !level_fieldtest_passes(&got));
}
END_TEST

/* ISO 17123-2:2001 (recalled) prints its factors for two series of 20 pairs: s <= 1.19 sigma;
 * 1/1.91
 * <= s^2/s~^2 <= 1.91, which is F(0.975) of 38 and 38 degrees of freedom, both tests being full
 * ones; |delta| <= 0.64 s; and 2.89 s for 1 km of double run, which is sqrt(1000/60)/sqrt 2 =
 * 2.886751 rounded. */
START_TEST(test_iso_factors)
{
	struct level_fieldtest got = full(1, 5000), other = full(1, 5000);
	level_fieldtest_hold(&got, 0.0002);
	level_fieldtest_compare(&got, &other);
	ck_assert_double_eq_tol(got.chi_factor, 1.19, 0.005);
	ck_assert_double_eq_tol(got.f_high, 1.91, 0.005);
	ck_assert_double_eq_tol(1 / got.f_low, 1.91, 0.005);
	ck_assert_double_eq_tol(got.limit / got.s, 0.64, 0.005);
	ck_assert_double_eq_tol(level_double_run_factor(), 2.89, 0.005);
	ck_assert_double_eq_tol(level_double_run_factor(), 2.886751, 5e-7);
}
END_TEST

/* Other counts, by published tables (Abramowitz and Stegun, 26.8 to 26.10, recalled): chi-square
 * 0.95 of 9 is 16.919, F 0.975 of 9 and 9 is 4.03, t 0.975 of 8 is 2.306. */
START_TEST(test_other_counts)
{
	static const int off[5] = {2, -2, 1, -1, 0};
	struct level_fieldtest got = simplified(5000), other = simplified(5000);
	struct level_pair pairs[10];
	level_fieldtest_hold(&got, 0.0002);
	level_fieldtest_compare(&got, &other);
	ck_assert_double_eq_tol(got.chi_factor, sqrt(16.919 / 9), 0.0001);
	ck_assert_double_eq_tol(got.f_high, 4.03, 0.005);
	add(pairs, 5, 100, off);
	add(pairs + 5, 5, 100, off);
	ck_assert(level_fieldtest(pairs, 10, true, &got, NULL));
	ck_assert_double_eq(got.freedom, 8);
	ck_assert_double_eq_tol(got.s, sqrt(20.0 / 8) * 1e-4, 1e-15);
	ck_assert_double_eq_tol(got.limit / got.s, 2.306 * sqrt(2.0 / 5), 0.0005);
}
END_TEST

/* s = 0.2 mm: 1.185 x 0.17 = 0.2015 lets it pass, 1.185 x 0.165 = 0.1956 does not. */
START_TEST(test_sigma)
{
	struct level_fieldtest got = full(1, 5000);
	level_fieldtest_hold(&got, 0.00017);
	ck_assert(got.has_sigma && got.sigma_passes && level_fieldtest_passes(&got));
	level_fieldtest_hold(&got, 0.000165);
	ck_assert(!got.sigma_passes && !level_fieldtest_passes(&got));
}
END_TEST

/* Twice the scatter: a ratio of 4, and turned over 1/4; both are outside of 1.91. */
START_TEST(test_ratio)
{
	struct level_fieldtest one = full(1, 5000), two = full(2, 5000), same = full(1, 5000),
	                       none = full(0, 5000);
	level_fieldtest_compare(&one, &same);
	ck_assert(one.has_ratio && one.ratio_passes);
	ck_assert_double_eq(one.f_ratio, 1);
	level_fieldtest_compare(&one, &two);
	ck_assert_double_eq_tol(one.f_ratio, 0.25, 1e-14);
	ck_assert(!one.ratio_passes && !level_fieldtest_passes(&one));
	level_fieldtest_compare(&two, &same);
	ck_assert_double_eq_tol(two.f_ratio, 4, 1e-13);
	ck_assert(!two.ratio_passes);
	level_fieldtest_compare(&same, &none);
	ck_assert(!same.has_ratio && level_fieldtest_passes(&same));
	level_fieldtest_compare(&none, &two);
	ck_assert(!none.has_ratio);
	/* no scatter and no difference */
	ck_assert_double_eq(none.s, 0);
	ck_assert(none.difference_passes);
}
END_TEST

START_TEST(test_refusals)
{
	static struct level_pair pairs[LEVEL_FIELDTEST_MOST + 2];
	static const size_t counts[] = {0, 1, 2, 3, 5, 19, 21, LEVEL_FIELDTEST_MOST + 2};
	struct level_fieldtest got;
	struct fault why = {0};
	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
		why.kind = FAULT_NONE;
		ck_assert(!level_fieldtest(pairs, counts[i], false, &got, &why));
		ck_assert(!level_fieldtest(pairs, counts[i], true, &got, &why));
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
	ck_assert(level_fieldtest(pairs, LEVEL_FIELDTEST_LEAST, true, &got, &why));
	ck_assert(level_fieldtest(pairs, LEVEL_FIELDTEST_MOST, false, &got, &why));
	pairs[2].foresight = -1;
	ck_assert(!level_fieldtest(pairs, 20, false, &got, &why));
	ck_assert_str_eq(why.text, "pair 3: readings are 0 or more and at most 100 m");
	pairs[2].foresight = 0;
	pairs[19].backsight = 100 * LEVEL_NM_PER_M + 1;
	ck_assert(!level_fieldtest(pairs, 20, false, &got, &why));
	ck_assert_ptr_nonnull(strstr(why.text, "pair 20:"));
}
END_TEST

START_TEST(test_parse_sigma)
{
	static const char *const bad[] = {
	    "",       "0",   "-0.3 mm", "0.101",   "mm/km", "0.7/km",  "0.7 mm/m",
	    "1 m/km", "/km", " per km", "0.3 mm/", "abc",   "0 mm/km", "0.7 mm per mile"};
	struct fault why = {0};
	double sigma;
	ck_assert(level_parse_sigma("0.3 mm", LEVEL_M, &sigma, &why));
	ck_assert_double_eq_tol(sigma, 0.0003, 1e-15);
	ck_assert(level_parse_sigma("0.001", LEVEL_FT, &sigma, &why));
	ck_assert_double_eq_tol(sigma, 0.0003048, 1e-15);
	/* 0.7/2.886751 = 0.242487 */
	ck_assert(level_parse_sigma("0.7 mm/km", LEVEL_M, &sigma, &why));
	ck_assert_double_eq_tol(sigma, 0.000242487, 1e-9);
	ck_assert(level_parse_sigma("0.7 mm per km", LEVEL_FT, &sigma, &why));
	ck_assert_double_eq_tol(sigma, 0.000242487, 1e-9);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		why.kind = FAULT_NONE;
		ck_assert_msg(!level_parse_sigma(bad[i], LEVEL_M, &sigma, &why), "%s", bad[i]);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
}
END_TEST

/* The same pairs in meters, feet and inches: the same factors and ratios to 12 digits. 0.00003 m is
 * no whole part of a foot, so steps of 3/64 in are read: 3/64 in = 0.00390625 ft = 1.190625 mm. */
START_TEST(test_units)
{
	static const enum level_unit units[] = {LEVEL_M, LEVEL_FT, LEVEL_IN};
	static const double nm[] = {1e9, 304.8e6, 25.4e6};
	uint64_t state = chance_seed("fieldtest units");
	struct level_pair pairs[3][40];
	struct level_fieldtest got[3], other = full(3, 5000);
	for (int i = 0; i < 40; i++) {
		int64_t back = chance(&state, 1000, 1010) * 1190625,
		        fore = chance(&state, 500, 510) * 1190625;
		for (int u = 0; u < 3; u++) {
			char text[40];
			snprintf(text, sizeof text, "%.12f", (double)back / nm[u]);
			ck_assert(level_parse_length(text, units[u], &pairs[u][i].backsight, NULL));
			snprintf(text, sizeof text, "%.12f", (double)fore / nm[u]);
			ck_assert(level_parse_length(text, units[u], &pairs[u][i].foresight, NULL));
		}
	}
	for (int u = 0; u < 3; u++) {
		ck_assert(level_fieldtest(pairs[u], 40, true, &got[u], NULL));
		level_fieldtest_hold(&got[u], 0.001);
		level_fieldtest_compare(&got[u], &other);
		ck_assert_double_eq_tol(got[u].f_ratio, got[0].f_ratio, 1e-12 * got[0].f_ratio);
		ck_assert_double_eq_tol(got[u].s / got[u].sigma, got[0].s / got[0].sigma,
		                        1e-12 * got[0].s / got[0].sigma);
		ck_assert_double_eq_tol(got[u].difference / got[u].limit,
		                        got[0].difference / got[0].limit, 1e-12);
	}
}
END_TEST

/* Scatter without a tilt, drawn again and again: at 95 % a right figure is refused once in twenty
 * times. 4000 draws: 200 +- 6 standard deviations of 13.8. */
START_TEST(test_how_often_it_fails)
{
	uint64_t state = chance_seed("fieldtest");
	int sigma = 0, ratio = 0, delta = 0;
	struct level_fieldtest last = full(1, 5000);
	for (int draw = 0; draw < 4000; draw++) {
		struct level_pair pairs[40];
		struct level_fieldtest got;
		for (int i = 0; i < 40; i++) {
			/* twelve uniform numbers of variance (201^2 - 1)/12 each: nearly normal */
			int64_t sum = 0;
			for (int j = 0; j < 12; j++)
				sum += chance(&state, -100, 100);
			pairs[i] = (struct level_pair){1500000000 + sum, 1200000000};
		}
		ck_assert(level_fieldtest(pairs, 40, true, &got, NULL));
		level_fieldtest_hold(&got, sqrt(201.0 * 201 - 1) * 1e-9);
		level_fieldtest_compare(&got, &last);
		sigma += !got.sigma_passes;
		delta += !got.difference_passes;
		/* every other one, so that no test is compared twice */
		ratio += draw % 2 && !got.ratio_passes;
		last = got;
	}
	ck_assert_int_ge(sigma, 117);
	ck_assert_int_le(sigma, 283);
	ck_assert_int_ge(delta, 117);
	ck_assert_int_le(delta, 283);
	/* 2000 draws: 100 +- 6 x 9.75 */
	ck_assert_int_ge(ratio, 41);
	ck_assert_int_le(ratio, 159);
}
END_TEST

/* However high the rods stand, no digit of a residual is lost: 3 nm beside 90 m. */
START_TEST(test_large_mean)
{
	struct level_pair pairs[20];
	struct level_fieldtest got;
	for (int i = 0; i < 20; i++)
		pairs[i] = (struct level_pair){90 * LEVEL_NM_PER_M + (i % 2 ? 3 : -3), 0};
	ck_assert(level_fieldtest(pairs, 20, false, &got, NULL));
	/* sqrt(10 x 9/9) nm */
	ck_assert_double_eq_tol(got.s / 1e-9, sqrt(10), 1e-12);
	ck_assert_double_eq(got.difference, 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("fieldtest", test_simplified, test_full, test_iso_factors,
	                 test_other_counts, test_sigma, test_ratio, test_refusals, test_parse_sigma,
	                 test_units, test_how_often_it_fails, test_large_mean);
}
