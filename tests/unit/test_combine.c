/* Several crossings together, the arithmetic by hand. */
#include "rodbook/level/drop/combine.h"

#include <math.h>
#include <string.h>

#include "sights.h"
#include "suite.h"

#define R0 6371000.0

/* A crossing that shows `shown` of curvature, over sights where a round surface shows `round`, m.
 */
static struct level_crossing crossing(double shown, double round)
{
	return (struct level_crossing){
	    .shown = shown, .span = 2 * R0 * round, .radius = R0, .s_d = {-800}};
}

static void add(struct level_crossing *c, int id, double u, double bound)
{
	c->source[c->sources++] =
	    (struct level_source){.key = {1, id, 0}, .instrument = -1, .u = u, .bound = bound};
}

/* 1/R as a share of the prediction's. */
static struct level_estimate share(const struct level_combined *got)
{
	const struct level_estimate *e = &got->curvature;
	return (struct level_estimate){e->value * R0, e->u * R0, e->u95 * R0, e->bound * R0};
}

static struct level_combined combine(const struct level_crossing *c, size_t count)
{
	struct level_combined out;
	struct fault why = {0};
	ck_assert_msg(level_combine(c, count, LEVEL_BY_U95, &out, &why), "%s", why.text);
	return out;
}

/* share = D/P = 30/40, u = 5/40, at 95 % 2 u, bound 12/40. */
START_TEST(test_one)
{
	struct level_crossing one = crossing(0.030, 0.040);
	struct level_combined got;
	add(&one, 7, 0.003, 0.005);
	add(&one, 8, -0.004, -0.007);
	got = combine(&one, 1);
	ck_assert_double_eq_tol(share(&got).value, 0.75, 1e-15);
	ck_assert_double_eq_tol(share(&got).u, 0.125, 1e-15);
	ck_assert_double_eq_tol(share(&got).u95, 0.25, 1e-15);
	ck_assert_double_eq_tol(share(&got).bound, 0.30, 1e-15);
	ck_assert_double_gt(got.finding.low, 0);
	ck_assert_double_eq_tol(got.finding.high * R0, 1, 1e-12);
	ck_assert_int_eq(got.freedom, 0);
	ck_assert_double_eq_tol(got.chi_square, 0, 1e-15);
	ck_assert_double_eq(got.chance, 1);
	ck_assert(got.agree);
	ck_assert(!got.has_fit);
	ck_assert(strstr(got.no_fit, "too few crossings") != NULL);
	/* the long sight as BS turns D and P, not the share */
	one.shown = -0.030;
	one.span = -2 * R0 * 0.040;
	one.s_d[0] = 800;
	got = combine(&one, 1);
	ck_assert_double_eq_tol(share(&got).value, 0.75, 1e-15);
	ck_assert_double_eq_tol(share(&got).bound, 0.30, 1e-15);
	ck_assert_double_gt(got.finding.low, 0);
	ck_assert_double_eq_tol(got.finding.high * R0, 1, 1e-12);
}
END_TEST

/* Weights 1/u^2 = 1 and 1/4 per mm^2, shares 1 and 1.25: (1 + 0.25 x 1.25)/1.25 = 1.05; u = 1/sqrt
 * (40^2 x 1.25) = 0.022 360 680; bound (0.8 x 2 + 0.2 x 4)/40 = 0.06. */
START_TEST(test_independent)
{
	struct level_crossing two[] = {crossing(0.040, 0.040), crossing(0.050, 0.040)};
	struct level_combined got;
	add(&two[0], 1, 0.001, 0.002);
	add(&two[1], 2, 0.002, 0.004);
	got = combine(two, 2);
	ck_assert_double_eq_tol(share(&got).value, 1.05, 1e-12);
	ck_assert_double_eq_tol(share(&got).u, 0.022360680, 1e-9);
	ck_assert_double_eq_tol(share(&got).u95, 0.044721360, 1e-9);
	ck_assert_double_eq_tol(share(&got).bound, 0.06, 1e-12);
	ck_assert_int_eq(got.freedom, 1);
}
END_TEST

/* Of 4 mm shared and 1 mm each its own, n crossings keep the 4 mm: u^2 = (16 + 1/n)/40^2, and of
 * the bounds 7 and 2 mm all. */
START_TEST(test_shared_error_does_not_shrink)
{
	struct level_crossing many[100];
	for (int i = 0; i < 100; i++) {
		many[i] = crossing(0.040, 0.040);
		add(&many[i], 1, 0.004, 0.007);
		add(&many[i], 2 + i, 0.001, 0.002);
	}
	for (size_t n = 1; n <= 100; n += 9) {
		struct level_combined got = combine(many, n);
		ck_assert_double_eq_tol(share(&got).u, sqrt(16 + 1.0 / (double)n) / 40, 1e-10);
		ck_assert_double_eq_tol(share(&got).bound, 9.0 / 40, 1e-10);
	}
}
END_TEST

/* Shares 0.75 and 1.25, u = 5 mm of 40 each: residuals of 10 mm, chi-square 2 x (10/5)^2 = 8; the
 * chance of that is erfc(sqrt(8/2)) = 1 - 0.995 322 265 (Abramowitz and Stegun, Handbook of
 * Mathematical Functions, table 7.1, recalled). Half a quarter as far apart it is 1/2, and the
 * chance 1 - 0.520 499 878. */
START_TEST(test_discordant)
{
	struct level_crossing two[] = {crossing(0.030, 0.040), crossing(0.050, 0.040)};
	struct level_combined got;
	add(&two[0], 1, 0.005, 0.010);
	add(&two[1], 2, 0.005, 0.010);
	got = combine(two, 2);
	ck_assert_double_eq_tol(share(&got).value, 1, 1e-12);
	ck_assert_double_eq_tol(got.chi_square, 8, 1e-12);
	ck_assert_double_eq_tol(got.chance, 1 - 0.995322265, 1e-9);
	ck_assert(!got.agree);
	two[0].shown = 0.0375;
	two[1].shown = 0.0425;
	got = combine(two, 2);
	ck_assert_double_eq_tol(got.chi_square, 0.5, 1e-12);
	ck_assert_double_eq_tol(got.chance, 1 - 0.520499878, 1e-9);
	ck_assert(got.agree);
	/* an error that both share explains no difference between them */
	two[0].shown = 0.030;
	two[1].shown = 0.050;
	add(&two[0], 3, 0.030, 0.060);
	add(&two[1], 3, 0.030, 0.060);
	ck_assert_double_eq_tol(combine(two, 2).chi_square, 8, 1e-9);
	/* but one that they share with opposite signs does: (10 + 10)^2/(25 + 25 + (2 x 30)^2) */
	two[1].source[1].u = -0.030;
	got = combine(two, 2);
	ck_assert_double_eq_tol(got.chi_square, 400.0 / 3650, 1e-9);
	ck_assert(got.agree);
}
END_TEST

/* An interval without bounds has none to show, whether the crossings agree or not. */
START_TEST(test_discordant_without_bounds)
{
	struct level_crossing two[] = {crossing(0.030, 0.040), crossing(0.300, 0.040)};
	struct level_combined got;
	for (int i = 0; i < 2; i++) {
		add(&two[i], 10 + i, 0.003, 0.006);
		two[i].lengths = 1;
		two[i].length[0] = (struct level_length){.distance = 800, .b = 800, .u = 400};
	}
	got = combine(two, 2);
	ck_assert(!got.agree);
	ck_assert_int_eq(got.finding.none, LEVEL_NO_DISTANCE);
}
END_TEST

/* Forth and back between two marks, one of which stands 15 mm off: it cancels. */
START_TEST(test_marks_cancel)
{
	struct level_crossing two[] = {crossing(0.055, 0.040), crossing(0.025, 0.040)};
	struct level_combined got;
	add(&two[0], 9, 0.010, 0.020);
	add(&two[1], 9, -0.010, -0.020);
	add(&two[0], 1, 0.001, 0.002);
	add(&two[1], 2, 0.001, 0.002);
	got = combine(two, 2);
	ck_assert_double_eq_tol(share(&got).value, 1, 1e-12);
	/* 1 mm/sqrt 2 and 2 mm of 40 */
	ck_assert_double_eq_tol(share(&got).u, sqrt(0.5) / 40, 1e-12);
	ck_assert_double_eq_tol(share(&got).bound, 0.05, 1e-12);
	ck_assert(got.agree);
}
END_TEST

/* A near sight of 0 m and a far one; the level's tilt and the surface's curvature are given. */
static struct level_crossing planted(double far, double tilt, double radius, double sign)
{
	double curved = isinf(radius) ? 0 : level_curvature(far, radius);
	struct level_crossing out = {.shown = sign * (curved + tilt * far),
	                             .span = sign * far * far,
	                             .radius = R0,
	                             .s_d = {-sign * far}};
	add(&out, 1, sign * 0.0001 * far / sqrt(3), sign * 0.0001 * far);
	out.source[0].instrument = 0;
	return out;
}

/* Two distances tell a tilt from a curvature, exactly where nothing else errs, also where the long
 * sight of one is a BS. */
START_TEST(test_apart)
{
	static const double tilts[] = {0, 0.00002, -0.0001};
	for (size_t i = 0; i < sizeof tilts / sizeof *tilts; i++)
		for (int flat = 0; flat < 2; flat++)
			for (int turned = 0; turned < 2; turned++) {
				double radius = flat ? (double)INFINITY : R0;
				struct level_crossing two[] = {
				    planted(400, tilts[i], radius, 1),
				    planted(1200, tilts[i], radius, turned ? -1 : 1)};
				struct level_combined got;
				add(&two[0], 2, 0.001, 0.002);
				add(&two[1], 3, 0.001, 0.002);
				got = combine(two, 2);
				ck_assert(got.has_fit && got.no_fit == NULL);
				ck_assert_int_eq(got.tilts, 1);
				ck_assert_int_eq(got.tilt_instrument[0], 0);
				ck_assert_double_eq_tol(got.tilt[0].value, tilts[i], 1e-11);
				ck_assert_double_eq_tol(got.fitted.value, flat ? 0 : 1 / R0, 1e-14);
				ck_assert_int_eq(got.fit_freedom, 0);
				if (!flat)
					ck_assert_double_eq_tol(got.fit.radius.middle, R0, 0.1);
			}
}
END_TEST

/* Errors of 1 mm each, at x = d^2/2 and l = d for d = 400 and 1200 m: the correlation is - sum xl/
 * sqrt(sum x^2 sum l^2) = -1.792/sqrt(2.0992 x 1.6) = -0.977 802. From two drops, D1 and D2, the
 * curvature is 2 (D2 - 3 D1)/960 000 m^2, u = 2 sqrt 10 mm/960 000 m^2, and the tilt (9 D1 -
 * D2)/2400 m, u = sqrt 82 mm/2400 m. */
START_TEST(test_correlation)
{
	struct level_crossing two[] = {planted(400, 0, R0, 1), planted(1200, 0, R0, 1)};
	struct level_combined got;
	add(&two[0], 2, 0.001, 0.002);
	add(&two[1], 3, 0.001, 0.002);
	got = combine(two, 2);
	ck_assert_double_eq_tol(got.correlation[0], -1.792 / sqrt(2.0992 * 1.6), 1e-7);
	ck_assert_double_eq_tol(got.fitted.u, 2 * sqrt(10) * 0.001 / 960000, 1e-15);
	ck_assert_double_eq_tol(got.tilt[0].u, sqrt(82) * 0.001 / 2400, 1e-12);
	ck_assert_double_eq_tol(got.fitted.bound, 2 * 4 * 0.002 / 960000, 1e-14);
	ck_assert_double_eq_tol(got.tilt[0].bound, 10 * 0.002 / 2400, 1e-11);
}
END_TEST

/* A third distance checks: one drop 6 mm too large of u = 1 mm each. The residuals are in
 * proportion to the cross product of x and l, at 1, 2, 3: (1, 4, 9) x (1, 2, 3) = (-6, 6, -2), so
 * that chi-square is (6 x 6)^2/76. */
START_TEST(test_third_checks)
{
	struct level_crossing three[] = {planted(400, 0.00001, R0, 1), planted(800, 0.00001, R0, 1),
	                                 planted(1200, 0.00001, R0, 1)};
	struct level_combined got;
	for (int i = 0; i < 3; i++)
		add(&three[i], 2 + i, 0.001, 0.002);
	got = combine(three, 3);
	ck_assert_int_eq(got.fit_freedom, 1);
	ck_assert_double_eq_tol(got.fit_chi_square, 0, 1e-12);
	ck_assert_double_eq_tol(got.fit_chance, 1, 1e-6);
	ck_assert_int_eq(got.fit.none, LEVEL_ANSWERED);
	three[1].shown += 0.006;
	got = combine(three, 3);
	ck_assert_double_eq_tol(got.fit_chi_square, 36.0 * 36 / 76, 1e-5);
	ck_assert_double_lt(got.fit_chance, 0.001);
	ck_assert_int_eq(got.fit.none, LEVEL_NO_ACCORD);
}
END_TEST

/* One distance cannot tell, however often; nor two distances a tilt each. */
START_TEST(test_not_apart)
{
	struct level_crossing c[4];
	struct level_combined got;
	for (int i = 0; i < 4; i++) {
		c[i] = planted(800, 0, R0, i % 2 ? -1 : 1);
		add(&c[i], 2 + i, 0.001, 0.002);
	}
	got = combine(c, 4);
	ck_assert(!got.has_fit);
	ck_assert(strstr(got.no_fit, "cannot be told apart") != NULL);
	c[0] = planted(400, 0, R0, 1);
	c[1] = planted(1200, 0, R0, 1);
	c[1].s_d[0] = 0;
	c[1].s_d[5] = -1200;
	c[1].source[0].instrument = 5;
	c[1].source[0].key.what = 9;
	add(&c[0], 2, 0.001, 0.002);
	add(&c[1], 3, 0.001, 0.002);
	got = combine(c, 2);
	ck_assert(!got.has_fit);
	ck_assert(strstr(got.no_fit, "too few crossings") != NULL);
}
END_TEST

/* Distances that differ by 5 mm of 1200 m tell nothing apart, nor do 1200 and 1260 m: with equal
 * errors, x = d^2/2 and l = d, the correlation is - sum xl/sqrt(sum x^2 sum l^2) at d in the ratio
 * 1 : q, -(1 + q^3)/sqrt((1 + q^4)(1 + q^2)): at q = 1.05 -2.157 625/sqrt(2.215 506 25 x 2.1025) =
 * -0.999 704, at 1.1 -2.331/sqrt(2.4641 x 2.21) = -0.998 884. */
START_TEST(test_nearly_one_distance)
{
	static const double apart[] = {1.000004, 1.05, 1.1};
	static const double correlation[] = {-1, -0.999704, -0.998888};
	for (int i = 0; i < 3; i++) {
		struct level_crossing two[] = {planted(1200, 0, R0, 1),
		                               planted(1200 * apart[i], 0, R0, 1)};
		struct level_combined got;
		add(&two[0], 2, 0.001, 0.002);
		add(&two[1], 3, 0.001, 0.002);
		got = combine(two, 2);
		ck_assert(got.has_fit == (i == 2));
		ck_assert((got.no_fit == NULL) == (i == 2));
		ck_assert(i == 2 || strstr(got.no_fit, "cannot be told apart at these distances: "
		                                       "sight over another one") != NULL);
		if (i > 0)
			ck_assert_double_eq_tol(got.correlation[0], correlation[i], 1e-6);
	}
}
END_TEST

/* Two instruments, a tilt each. */
START_TEST(test_two_tilts)
{
	struct level_crossing c[4];
	struct level_combined got;
	for (int i = 0; i < 4; i++) {
		c[i] = planted(400 * (i + 1), i < 2 ? 0.00003 : -0.00001, R0, 1);
		if (i >= 2) {
			c[i].s_d[4] = c[i].s_d[0];
			c[i].s_d[0] = 0;
			c[i].source[0].instrument = 4;
			c[i].source[0].key.what = 9;
		}
		add(&c[i], 20 + i, 0.001, 0.002);
	}
	got = combine(c, 4);
	ck_assert(got.has_fit);
	ck_assert_int_eq(got.tilts, 2);
	ck_assert_int_eq(got.tilt_instrument[0], 0);
	ck_assert_int_eq(got.tilt_instrument[1], 4);
	ck_assert_double_eq_tol(got.tilt[0].value, 0.00003, 1e-11);
	ck_assert_double_eq_tol(got.tilt[1].value, -0.00001, 1e-11);
	ck_assert_double_eq_tol(got.fitted.value, 1 / R0, 1e-14);
}
END_TEST

static double u95_of(const struct level_crossing *one)
{
	struct level_combined got = combine(one, 1);
	return share(&got).u95;
}

/* A sample's u counts with its t95: 2.5706 at 5 degrees of freedom, 2.09 at 20 (JCGM 100:2008,
 * table G.2: 2.57, 2.09), never beyond the bound, and never less than the sample needs by itself.
 */
START_TEST(test_freedom)
{
	struct level_crossing one = crossing(0.030, 0.040);
	struct level_combined got;
	struct level_mean_u mean = {0.004, 5, 2.5706 * 0.004};
	add(&one, 1, 0.004, 0.020);
	one.source[0].sampled = level_sampled_of(&mean);
	got = combine(&one, 1);
	ck_assert_double_eq_tol(share(&got).u95, 0.257, 0.0005);
	one.source[0].bound = 0.009;
	ck_assert_double_eq_tol(u95_of(&one), 0.225, 1e-12);
	/* with as much that is known well: (16 + 16)^2/(16^2/5) = 20, t95 = 2.09 */
	one.source[0].bound = 0.020;
	add(&one, 2, 0.004, 0.008);
	ck_assert_double_eq_tol(u95_of(&one), 2.09 * 0.1 * sqrt(2), 0.001);
	/* with a little that is known well: t95(5 x 1.0625^2) x sqrt 1.0625 x 0.1 is no more than
	 * 2.54 x 0.1031 (t95 at 5 and at 6 is 2.571 and 2.447; recalled) */
	one.source[1].u = 0.001;
	ck_assert_double_eq_tol(u95_of(&one), 0.258, 0.004);
	ck_assert_double_ge(u95_of(&one), 0.25706 - 1e-12);
}
END_TEST

/* 1/R = 2C/S' = 0.06/640 000; its interval by the total that decides: 5 mm x 2 and 20 mm, times
 * 2/640 000. */
START_TEST(test_curvature)
{
	struct level_crossing one = crossing(0.030, 640000 / (2 * R0));
	struct level_combined got;
	double curvature = 0.06 / 640000;
	add(&one, 1, 0.005, 0.020);
	got = combine(&one, 1);
	ck_assert_double_eq_tol(got.curvature.value, curvature, 1e-15);
	ck_assert_double_eq_tol(got.curvature.u, 0.01 / 640000, 1e-15);
	ck_assert_double_eq_tol(got.finding.low, curvature - 0.02 / 640000, 1e-15);
	ck_assert_double_eq_tol(got.finding.high, curvature + 0.02 / 640000, 1e-15);
	ck_assert_double_eq_tol(got.finding.radius.middle, 1 / curvature, 1e-3);
	ck_assert_int_eq(got.finding.answer, LEVEL_SHOWN_INCOMPATIBLE);
	/* the limit of 40 mm x 2/S' is wider, and then 0 is not excluded */
	one.source[0].bound = 0.040;
	ck_assert(level_combine(&one, 1, LEVEL_BY_ALL, &got, NULL));
	ck_assert_double_eq_tol(got.finding.low, curvature - 0.08 / 640000, 1e-15);
	ck_assert(isinf(got.finding.radius.high));
	ck_assert_int_eq(got.finding.answer, LEVEL_NOT_SEPARATED);
}
END_TEST

/* Air: in the weights each crossing's own, (dk_low + dk_high)/4; in u the larger of all common and
 * all own, with the side that explains what is left over. Two alike with dk 0.4 and 0.8 over S =
 * 640 000 m^2, 1 mm each of their own; W = 1/S' = 1/640 000. Common: 0.2 S/2R0 = 10.045519 mm, of
 * both together as much; own: that over sqrt 2. So u(0) = sqrt(10.045519^2 + 1/2) mm = 10.070375
 * mm, times 2/S'; beyond the middle 0.4 in place of 0.2: 20.091038 mm and 20.103477 mm. */
START_TEST(test_air)
{
	double s = 640000;
	struct level_crossing two[] = {crossing(0.05, s / (2 * R0)), crossing(0.05, s / (2 * R0))};
	struct level_combined got;
	for (int i = 0; i < 2; i++) {
		add(&two[i], 1 + i, 0.001, 0.002);
		two[i].dk_low = 0.4;
		two[i].dk_high = 0.8;
		two[i].air_u = two[i].air_common = two[i].air_most = s / (2 * R0);
	}
	got = combine(two, 2);
	ck_assert_double_eq_tol(got.curvature.u, 2 * 0.010070375 / s, 1e-14);
	/* if all add up, of flat ground: 0.4 S/2R0 = 20.091038 mm and 2 mm */
	ck_assert_double_eq_tol(got.curvature.bound, 2 * 0.022091038 / s, 1e-14);
	ck_assert_double_eq_tol(got.finding.middle - got.finding.low, 4 * 0.010070375 / s, 1e-14);
	ck_assert_double_eq_tol(got.finding.high - got.finding.middle, 4 * 0.020103477 / s, 1e-14);
	/* a day back and a day forth cancels what is common; what is own stays */
	two[1].air_common = -two[1].air_common;
	got = combine(two, 2);
	ck_assert_double_eq_tol(got.curvature.u,
	                        2 * sqrt(0.010045519 * 0.010045519 / 2 + 0.0000005) / s, 1e-14);
}
END_TEST

/* One crossing alone has the air of its own test, also where the share that its sights have in
 * common is declared: two sights of 800 m forth and back, each in its own air, are off by root 2
 * times one of them; 800^2/2R0 root 2 for each unit of k. */
START_TEST(test_air_of_one)
{
	static const int instrument[LEVEL_INSTRUMENTS];
	static const struct level_identity nobody;
	struct level_drop_sums sums = {0};
	struct level_terms terms = usual_terms();
	struct level_ends ends = {0};
	struct level_crossing one;
	struct level_reach near = {0}, far = {.distance = 800};
	level_drop_add(&sums, &terms, &near, &far);
	level_drop_add(&sums, &terms, &near, &far);
	terms.air_declared = true;
	terms.air_common = 0;
	level_crossing_of(&sums, &terms, &ends, &nobody, instrument, 0.05, &one);
	ck_assert_double_eq_tol(fabs(one.air_common), sqrt(2) * 640000 / (2 * R0), 1e-12);
	ck_assert_double_eq_tol(one.air_u, fabs(one.air_common), 1e-15);
}
END_TEST

/* One length measured once for both crossings does not shrink; two lengths do. a = 0, b = 800 m, u
 * = 8 m at kappa = 1/R0: 800 x 8/R0 = 1.004552 mm. */
START_TEST(test_lengths)
{
	for (int shared = 0; shared < 2; shared++) {
		struct level_crossing two[] = {crossing(0.05, 0.05), crossing(0.05, 0.05)};
		struct level_combined got;
		double root = shared ? 1 : sqrt(2), u = 0.001004552 / root;
		for (int i = 0; i < 2; i++) {
			add(&two[i], 1 + i, 0.001, 0.002);
			two[i].lengths = 1;
			two[i].length[0] = (struct level_length){
			    .key = {10, shared ? 1 : 1 + i, 0}, .distance = 800, .b = 800, .u = 8};
		}
		got = combine(two, 2);
		/* at the end of the interval, x = 1/R0 + 2 u(x), u(x)^2 = 0.5 mm^2 + (u x R0)^2 */
		double end = got.finding.high * R0, left = (end - 1) * 0.05,
		       want = 2 * sqrt(0.0000005 + u * u * end * end);
		ck_assert_double_eq_tol(left, want, 1e-7);
	}
}
END_TEST

/* A length counts by the tilt of its line and by curvature, once where both crossings share it. a =
 * -0.1 mm/m and u = 8 m are 0.8 mm of a flat surface: of two crossings with 1 mm of their own the
 * mean has u^2 = 1/2 + 0.8^2 mm^2, or with a length each 1/2 + 0.8^2/2, over 50 mm. At x/R0 it is
 * 800 x/R0 - 0.1 mm/m in place of a: less at 1/R0 than on a flat surface. */
START_TEST(test_tilted_lengths)
{
	for (int shared = 0; shared < 2; shared++) {
		struct level_crossing two[] = {crossing(0.05, 0.05), crossing(0.05, 0.05)};
		struct level_combined got;
		double root = shared ? 1 : sqrt(2), end, u;
		for (int i = 0; i < 2; i++) {
			add(&two[i], 1 + i, 0.001, 0.002);
			two[i].lengths = 1;
			two[i].length[0] = (struct level_length){.key = {10, shared ? 1 : 1 + i, 0},
			                                         .distance = 800,
			                                         .a = -0.0001,
			                                         .b = 800,
			                                         .u = 8};
		}
		got = combine(two, 2);
		ck_assert_double_eq_tol(share(&got).u, sqrt(shared ? 1.14 : 0.82) / 50, 1e-12);
		end = got.finding.high * R0;
		u = (800 * end / R0 - 0.0001) * 8 / root;
		ck_assert_double_eq_tol((end - 1) * 0.05, 2 * sqrt(0.0000005 + u * u), 1e-9);
	}
}
END_TEST

/* 20 mm apart with 5 mm each. A length that both share is off by 0.8 mm in both, and explains none
 * of it: chi-square 20^2/50 = 8. A length each: 20^2/(50 + 2 x 0.8^2) = 7.800 312. */
START_TEST(test_lengths_between)
{
	for (int shared = 0; shared < 2; shared++) {
		struct level_crossing two[] = {crossing(0.030, 0.040), crossing(0.050, 0.040)};
		for (int i = 0; i < 2; i++) {
			add(&two[i], 1 + i, 0.005, 0.010);
			two[i].lengths = 1;
			two[i].length[0] = (struct level_length){.key = {10, shared ? 1 : 1 + i, 0},
			                                         .distance = 800,
			                                         .a = -0.0001,
			                                         .b = 800,
			                                         .u = 8};
		}
		ck_assert_double_eq_tol(combine(two, 2).chi_square, shared ? 8 : 7.800312, 1e-6);
	}
}
END_TEST

/* The air of a crossing weighs it by (0.2 + 0.6)/4 x 4 mm = 0.8 mm, which with 0.6 mm of its own
 * make 1 mm; so the mean is that of test_independent. */
START_TEST(test_air_weighs)
{
	struct level_crossing two[] = {crossing(0.040, 0.040), crossing(0.050, 0.040)};
	struct level_combined got;
	add(&two[0], 1, 0.0006, 0.0012);
	add(&two[1], 2, 0.002, 0.004);
	two[0].dk_low = 0.2;
	two[0].dk_high = 0.6;
	two[0].air_u = two[0].air_common = two[0].air_most = 0.004;
	got = combine(two, 2);
	ck_assert_double_eq_tol(share(&got).value, 1.05, 1e-12);
}
END_TEST

static void check_refused(const struct level_crossing *c, size_t count, const char *said)
{
	struct level_combined out;
	struct fault why = {0};
	ck_assert(!level_combine(c, count, LEVEL_BY_U95, &out, &why));
	ck_assert_msg(strstr(why.text, said) != NULL, "%s", why.text);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert(!level_combine(c, count, LEVEL_BY_U95, &out, NULL));
}

START_TEST(test_refused)
{
	static struct level_crossing many[LEVEL_COMBINE_MOST + 1];
	struct level_combined out;
	for (int i = 0; i < LEVEL_COMBINE_MOST + 1; i++) {
		many[i] = crossing(0.030, 0.040);
		add(&many[i], 1 + i, 0.001, 0.002);
	}
	check_refused(many, 0, "from 1 to 200");
	check_refused(many, LEVEL_COMBINE_MOST + 1, "from 1 to 200");
	ck_assert(level_combine(many, LEVEL_COMBINE_MOST, LEVEL_BY_U95, &out, NULL));
	ck_assert_double_eq_tol(share(&out).value, 0.75, 1e-12);
	many[5].span = 0;
	check_refused(many, 6, "equal sights");
	ck_assert(level_combine(many, 5, LEVEL_BY_U95, &out, NULL));
	/* errors that are one and the same, and none at all */
	many[1].source[0].key = many[0].source[0].key;
	check_refused(many, 2, "one and the same");
	many[0].sources = 0;
	check_refused(many, 1, "one and the same");
}
END_TEST

int main(void)
{
	return RUN_TESTS("combine", test_one, test_independent, test_shared_error_does_not_shrink,
	                 test_discordant, test_discordant_without_bounds, test_marks_cancel,
	                 test_apart, test_correlation, test_third_checks, test_not_apart,
	                 test_nearly_one_distance, test_two_tilts, test_freedom, test_curvature,
	                 test_air, test_air_of_one, test_lengths, test_tilted_lengths,
	                 test_lengths_between, test_air_weighs, test_refused);
}
