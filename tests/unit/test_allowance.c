/* The allowance, line by line, with the arithmetic worked by hand. Rules of combination: JCGM
 * 100:2008 (GUM), 4.3.7 (a rectangular bound a has the standard uncertainty a/sqrt 3), 5.1.2
 * (quadrature) and 6.3.3 (coverage factor 2). */
#include "rodbook/level/drop/finding.h"

#include <math.h>
#include <string.h>

#include "chance.h"
#include "sights.h"
#include "suite.h"

static struct level_terms terms(void)
{
	struct level_terms out = usual_terms();
	out.declared[0].bound = 0.002;
	out.water = 0.003;
	return out;
}

static void check_line(const struct level_allowance *got, enum level_allowance_line line,
                       double bound, double u)
{
	ck_assert_msg(fabs(got->bound[line] - bound) < 1e-8, "%s: bound %.9f, not %.9f",
	              level_allowance_name(line), got->bound[line], bound);
	ck_assert_msg(fabs(got->u[line] - u) < 1e-8, "%s: u %.9f, not %.9f",
	              level_allowance_name(line), got->u[line], u);
}

static void add(struct level_drop_sums *sums, const struct level_terms *with, double bs,
                enum level_method bs_method, double fs, enum level_method fs_method)
{
	struct level_reach near = {.distance = bs, .method = bs_method};
	struct level_reach far = {.distance = fs, .method = fs_method};
	level_drop_add(sums, with, &near, &far);
}

/* At kappa 0, where more drop is looked for. */
static struct level_allowance allow(const struct level_drop_sums *sums,
                                    const struct level_terms *with, bool water, double u_start,
                                    double u_end)
{
	struct level_ends ends = {.water = water, .known_u = {u_start, u_end}};
	return level_weigh(sums, with, &ends, NULL, 0, NULL).allowance;
}

/* One setup, R = 6 371 000 m, 2R = 12 742 000 m:
 * rod at 20 m: 0.5 + 0.010 x 20 = 0.7 mm; target at 800 m: 0.3 + 0.005 x 800 = 4.3 mm. */
static struct level_drop_sums crossing(bool far_is_bs)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = {0};
	if (far_is_bs)
		add(&sums, &with, 800, LEVEL_TARGET, 20, LEVEL_ROD);
	else
		add(&sums, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	return sums;
}

static void check_crossing_lines(const struct level_allowance *got)
{
	/* 0.0001 x |20 - 800| = 0.078; 0.078/sqrt 3 */
	check_line(got, LEVEL_LINE_INSTRUMENT, 0.078, 0.045033321);
	/* 2 x 0.7 + 2 x 4.3 = 10 mm; sqrt(0.49 + 18.49) = sqrt 18.98 = 4.356604182 mm */
	check_line(got, LEVEL_LINE_READING, 0.010, 0.004356604);
	/* 0.15 x (400 + 640 000)/12 742 000; the larger of all common, 0.075 x 639 600/12 742 000 =
	 * 3.764715 mm, and each sight's own, 0.075 x sqrt(400^2 + 640 000^2)/12 742 000 = 3.767070
	 */
	check_line(got, LEVEL_LINE_REFRACTION, 0.007538848, 0.003767070);
	/* 2/sqrt 3, 3/sqrt 3 mm */
	check_line(got, LEVEL_LINE_DECLARED, 0.002, 0.001154701);
	check_line(got, LEVEL_LINE_WATER, 0.003, 0.001732051);
	/* as given: 2 x (1.0 + 0.5) and sqrt(1.00 + 0.25) mm */
	check_line(got, LEVEL_LINE_KNOWN, 0.003, 0.001118034);
	/* 78 + 10 + 7.538848 + 2 + 3 + 3 mm */
	ck_assert_double_eq_tol(got->total_bound, 0.103538848, 1e-8);
	/* squares in mm^2: 2028 + 18.98 + 14.190816 + 1.333333 + 3 + 1.25 = 2066.754149;
	 * 2 x sqrt = 90.923136 mm */
	ck_assert_double_eq_tol(got->total_u95, 0.090923136, 1e-8);
}

START_TEST(test_crossing)
{
	for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
		struct level_terms with = terms();
		struct level_drop_sums sums = crossing(far_is_bs);
		struct level_allowance got;
		with.decides = LEVEL_BY_ALL;
		got = allow(&sums, &with, true, 0.001, 0.0005);
		check_crossing_lines(&got);
		ck_assert_double_eq(got.decides, got.total_bound);
		with.decides = LEVEL_BY_U95;
		got = allow(&sums, &with, true, 0.001, 0.0005);
		check_crossing_lines(&got);
		ck_assert_double_eq(got.decides, got.total_u95);
	}
}
END_TEST

/* Long sight as FS: P = h(800) - h(20) = 0.87 x (640 000 - 400)/12 742 000 = 0.043 670 695 m, and
 * the long sight as BS turns every sign. */
START_TEST(test_signs)
{
	struct level_drop_sums fs = crossing(false), bs = crossing(true);
	ck_assert_double_eq_tol(fs.drop, 0.043670695, 2e-9);
	ck_assert_double_eq_tol(bs.drop, -0.043670695, 2e-9);
	ck_assert_double_eq(fs.s_d[0], -780);
	ck_assert_double_eq(bs.s_d[0], 780);
	ck_assert_double_eq(fs.s_d2, -639600);
	ck_assert_double_eq(bs.s_d2, 639600);
	ck_assert_double_eq(fs.d2, bs.d2);
}
END_TEST

/* Where no water enters there is no water line. */
/* Where nothing is left over one side of the air counts for all: lines, totals and test. */
START_TEST(test_nothing_left_over)
{
	struct level_drop_sums sums = crossing(false);
	struct level_terms with = terms();
	struct level_ends ends = {.water = true};
	struct level_weighing got;
	double observed;
	with.dk_high = 3 * with.dk_low;
	observed = level_drop_flat(&sums, &with);
	got = level_weigh(&sums, &with, &ends, NULL, 0, &observed);
	ck_assert_double_eq(got.shown, 0);
	ck_assert_double_eq_tol(got.allowance.total_u95,
	                        got.allowance.coverage * got.allowance.u_total, 1e-12);
}
END_TEST

START_TEST(test_water)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = crossing(false);
	struct level_allowance got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_WATER, 0, 0);
	check_line(&got, LEVEL_LINE_KNOWN, 0, 0);
	/* 78 + 10 + 7.538848 + 2 mm */
	ck_assert_double_eq_tol(got.total_bound, 0.097538848, 1e-8);
	/* 2028 + 18.98 + 14.190816 + 1.333333 = 2062.504149 mm^2 */
	ck_assert_double_eq_tol(got.total_u95, 0.090829602, 1e-8);
}
END_TEST

/* Two setups whose lengths balance in the whole but not each: (10, 100) and (100, 10) m.
 * The tilt cancels. Each sight's own air does not: bound 0.15 x 2 x 10 100/12 742 000 = 0.237 796
 * mm, u = sqrt 2 x 0.075 x sqrt(100^2 + 10 000^2)/12 742 000 = 0.083 245 mm. Rods: 0.6 and 1.5 mm
 * twice each: bound 2 x 4.2 = 8.4 mm, u = sqrt(2 x (0.36 + 2.25)) = 2.284 732 mm. */
START_TEST(test_two_setups)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = {0};
	struct level_allowance got;
	add(&sums, &with, 10, LEVEL_ROD, 100, LEVEL_ROD);
	add(&sums, &with, 100, LEVEL_ROD, 10, LEVEL_ROD);
	got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_INSTRUMENT, 0, 0);
	check_line(&got, LEVEL_LINE_READING, 0.0084, 0.002284732);
	check_line(&got, LEVEL_LINE_REFRACTION, 0.000237796, 0.000083245);
	ck_assert_double_eq_tol(sums.drop, 0, 1e-15);
}
END_TEST

/* Forth and back with the far reading an FS both times doubles drop and tilt; as true reciprocal
 * setups (the far reading once FS, once BS) it cancels both. */
START_TEST(test_forth_and_back)
{
	struct level_terms with = terms();
	struct level_drop_sums once = {0}, doubled = {0}, reciprocal = {0};
	struct level_allowance one, two, none;
	add(&once, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	add(&doubled, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	add(&doubled, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	add(&reciprocal, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	add(&reciprocal, &with, 800, LEVEL_TARGET, 20, LEVEL_ROD);
	one = allow(&once, &with, false, 0, 0);
	two = allow(&doubled, &with, false, 0, 0);
	none = allow(&reciprocal, &with, false, 0, 0);
	ck_assert_double_eq_tol(doubled.drop, 2 * 0.043670695, 4e-9);
	ck_assert_double_eq_tol(two.bound[LEVEL_LINE_INSTRUMENT], 0.156, 1e-12);
	ck_assert_double_eq_tol(two.u[LEVEL_LINE_INSTRUMENT], 2 * one.u[LEVEL_LINE_INSTRUMENT],
	                        1e-12);
	/* readings are each their own */
	ck_assert_double_eq_tol(two.u[LEVEL_LINE_READING], sqrt(2) * 0.004356604, 1e-8);
	ck_assert_double_eq_tol(reciprocal.drop, 0, 1e-15);
	ck_assert_double_eq(none.bound[LEVEL_LINE_INSTRUMENT], 0);
	/* 4 x (0.7 + 4.3) mm */
	ck_assert_double_eq_tol(none.bound[LEVEL_LINE_READING], 0.020, 1e-12);
}
END_TEST

/* One rectangular line alone: 2a/sqrt 3 is more than a, and then a is enough. */
START_TEST(test_u_never_above_bound)
{
	struct level_terms with = {.radius = LEVEL_MEAN_RADIUS, .declared = {{.bound = 0.010}}};
	struct level_drop_sums sums = {0};
	struct level_allowance got = allow(&sums, &with, false, 0, 0);
	ck_assert_double_eq_tol(got.u[LEVEL_LINE_DECLARED], 0.005773503, 1e-9);
	ck_assert_double_eq(got.total_bound, 0.010);
	ck_assert_double_eq(got.total_u95, 0.010);
}
END_TEST

START_TEST(test_u_never_above_bound_anywhere)
{
	uint64_t state = chance_seed("allowance");
	for (int i = 0; i < 5000; i++) {
		struct level_terms with = terms();
		struct level_drop_sums sums = {0};
		struct level_allowance got;
		double total = 0, u_start, u_end;
		int setups = (int)chance(&state, 0, 6);
		with.dk_low = with.dk_high = (double)chance(&state, 0, 100) / 100;
		with.instrument[0].tolerance = (double)chance(&state, 0, 100) / 1e6;
		with.declared[0].bound = (double)chance(&state, 0, 20) / 1000;
		with.water = (double)chance(&state, 0, 20) / 1000;
		u_start = (double)chance(&state, 0, 5) / 1000;
		u_end = (double)chance(&state, 0, 5) / 1000;
		for (int j = 0; j < setups; j++)
			add(&sums, &with, (double)chance(&state, 1, 3000),
			    (enum level_method)chance(&state, 0, 2),
			    (double)chance(&state, 1, 3000),
			    (enum level_method)chance(&state, 0, 2));
		got = allow(&sums, &with, i % 2, u_start, u_end);
		for (int line = 0; line < LEVEL_ALLOWANCE_LINES; line++) {
			ck_assert_double_ge(got.bound[line], 0);
			ck_assert_double_ge(got.u[line], 0);
			ck_assert_double_le(got.u[line], got.bound[line]);
			total += got.bound[line];
		}
		ck_assert_double_eq_tol(got.total_bound, total, 1e-12);
		ck_assert_double_le(got.total_u95, got.total_bound);
	}
}
END_TEST

/* Balanced sights predict no drop, whatever the Earth, the air and the instrument do. */
START_TEST(test_balanced)
{
	uint64_t state = chance_seed("balanced");
	for (int i = 0; i < 3000; i++) {
		struct level_terms with = terms();
		struct level_drop_sums sums = {0};
		struct level_allowance got;
		with.radius = (double)chance(&state, 1000000, 7000000);
		with.k = (double)chance(&state, -300, 300) / 100;
		for (int j = (int)chance(&state, 1, 20); j > 0; j--) {
			double distance = (double)chance(&state, 1, 5000000) / 1000;
			add(&sums, &with, distance, LEVEL_ROD, distance, LEVEL_TARGET);
		}
		got = allow(&sums, &with, true, 0, 0);
		ck_assert_double_eq(sums.drop, 0);
		ck_assert_double_eq(sums.s_d[0], 0);
		ck_assert_double_eq(sums.s_d2, 0);
		ck_assert_double_eq(got.bound[LEVEL_LINE_INSTRUMENT], 0);
	}
}
END_TEST

/* Every method has its own figures. */
START_TEST(test_methods)
{
	/* at 100 m: rod 0.5 + 1.0, tape 1, target 0.3 + 0.5 mm (common practice, no source) */
	static const double u[] = {0.0015, 0.001, 0.0008};
	for (int i = 0; i < LEVEL_METHODS; i++) {
		struct level_terms with = terms();
		struct level_drop_sums sums = {0};
		add(&sums, &with, 100, (enum level_method)i, 100, (enum level_method)i);
		ck_assert_double_eq_tol(sums.reading_bound, 4 * u[i], 1e-12);
		ck_assert_double_eq_tol(sums.reading_variance, 2 * u[i] * u[i], 1e-15);
	}
}
END_TEST

START_TEST(test_names)
{
	static const char *const names[] = {"instrument", "reading", "refraction", "declared",
	                                    "water",      "known",   "drift",      "distance"};
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++)
		ck_assert_str_eq(level_allowance_name((enum level_allowance_line)i), names[i]);
}
END_TEST

/* Drift of 0.010 mm/m over 780 m: 15.6 mm, u 7.8 mm, whether the level was tested or not. */
START_TEST(test_drift)
{
	for (int tested = 0; tested < 2; tested++) {
		struct level_terms with = terms();
		struct level_drop_sums sums = crossing(tested);
		struct level_allowance got;
		with.drift = 0.00001;
		with.instrument[0].tested = tested;
		with.instrument[0].u = 0.00001;
		got = allow(&sums, &with, false, 0, 0);
		check_line(&got, LEVEL_LINE_DRIFT, 0.0156, 0.0078);
	}
}
END_TEST

/* Four sets: t95(3) = 3.182 (JCGM 100:2008, table G.2). u 0.01 mm/m over 780 m. */
START_TEST(test_tilt_of_few_sets)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = crossing(false);
	struct level_allowance got;
	with.instrument[0] = (struct level_instrument){
	    .tolerance = 0.0001, .tested = true, .u = 0.00001, .sets = 4, .g = 60};
	got = allow(&sums, &with, false, 0, 0);
	ck_assert_double_eq_tol(got.bound[LEVEL_LINE_INSTRUMENT], 3.182 * 0.0078, 5e-6);
	ck_assert_double_eq_tol(got.u[LEVEL_LINE_INSTRUMENT], 0.0078, 1e-12);
	with.instrument[0].sets = 1;
	got = allow(&sums, &with, false, 0, 0);
	ck_assert_double_eq_tol(got.bound[LEVEL_LINE_INSTRUMENT], 2 * 0.0078, 1e-12);
}
END_TEST

/* What pegs leave of curvature: S' = S - g L = 639 600 - 60 x 780 m^2, and P = S'/2R less light. */
START_TEST(test_pegs_assume_nothing)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = crossing(false);
	with.instrument[0] = (struct level_instrument){
	    .tolerance = 0.0001, .tested = true, .tilt = 0.00002, .u = 0.00001, .g = 60};
	ck_assert_double_eq_tol(level_drop_span(&sums, &with), 592800, 1e-9);
	/* 46.523309 mm less 0.13 x 639 600/12 742 000 = 6.525506 mm */
	ck_assert_double_eq_tol(level_drop_predicted(&sums, &with), 0.039997803, 2e-9);
	/* 0.02 mm/m with curvature taken off is 60/12 742 000 more with it left in */
	ck_assert_double_eq_tol(level_light_tilt(&with, 0), 0.000024708837, 1e-12);
	with.instrument[0].u = 0.0001; /* too coarse: the tolerance stays, and g with it goes */
	ck_assert_double_eq(level_drop_span(&sums, &with), 639600);
	ck_assert_double_eq(level_light_tilt(&with, 0), 0);
}
END_TEST

/* Declared slopes go with L, whatever its sign: 0.01 mm/m x 780 m = 7.8 mm; 2 mm of a length. */
START_TEST(test_slopes)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = crossing(true);
	struct level_allowance got;
	with.declared[1].slope = 0.00001;
	got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_DECLARED, 0.0098, sqrt(0.0078 * 0.0078 + 0.000004) / sqrt(3));
}
END_TEST

/* Wind of 7 m/s over 820 m of sights, 3 m deep: 1.6e-7 x 49 x 820/3 = 2.142933 mm (the form is
 * recalled). */
START_TEST(test_set_up_by_wind)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = crossing(false);
	struct level_allowance got;
	with.water = 0;
	with.depth = 3;
	with.wind = 7;
	got = allow(&sums, &with, true, 0, 0);
	check_line(&got, LEVEL_LINE_WATER, 0.002142933, 0.001237223);
	with.depth = 0;
	got = allow(&sums, &with, true, 0, 0);
	check_line(&got, LEVEL_LINE_WATER, 0, 0);
}
END_TEST

/* A share of the air declared common: of all common 3.764715 and all own 3.767070 mm (above). */
START_TEST(test_declared_share_of_air)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = {0};
	struct level_allowance got;
	add(&sums, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	add(&sums, &with, 20, LEVEL_ROD, 800, LEVEL_TARGET);
	got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_REFRACTION, 2 * 0.007538848, 2 * 0.003764715);
	with.air_declared = true;
	got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_REFRACTION, 2 * 0.007538848, sqrt(2) * 0.003767070);
	with.air_common = 1;
	got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_REFRACTION, 2 * 0.007538848, 2 * 0.003764715);
}
END_TEST

/* A line at 95 % is its u times the factor of the total, so that the squares of the lines make the
 * square of the total; by all limits it is its bound. 2.5 = 0.05/0.02. */
START_TEST(test_line_size)
{
	struct level_allowance a = {.u_total = 0.02, .total_u95 = 0.05};
	a.u[LEVEL_LINE_WATER] = 0.012;
	a.bound[LEVEL_LINE_WATER] = 0.04;
	ck_assert_double_eq_tol(level_line_size(&a, LEVEL_LINE_WATER, LEVEL_BY_U95), 0.030, 1e-12);
	ck_assert_double_eq_tol(level_line_size(&a, LEVEL_LINE_WATER, LEVEL_BY_ALL), 0.040, 1e-12);
	ck_assert_double_eq(level_line_size(&a, LEVEL_LINE_DRIFT, LEVEL_BY_U95), 0);
}
END_TEST

/* The air alone is its line, but never more than its bound: where few readings of the water make
 * the factor 5, 5 x 0.012 is 0.06, and the bound is 0.04. */
START_TEST(test_air_alone)
{
	struct level_allowance a = {.u_total = 0.02, .total_u95 = 0.05};
	a.u[LEVEL_LINE_REFRACTION] = 0.012;
	a.bound[LEVEL_LINE_REFRACTION] = 0.04;
	ck_assert_double_eq_tol(level_air_alone(&a, LEVEL_BY_U95), 0.030, 1e-12);
	ck_assert_double_eq_tol(level_air_alone(&a, LEVEL_BY_ALL), 0.040, 1e-12);
	a.total_u95 = 0.1;
	ck_assert_double_eq_tol(level_air_alone(&a, LEVEL_BY_U95), 0.040, 1e-12);
}
END_TEST

/* A maker's 10 mm, u 5.774, beside water of two readings, u 4, limit 12.706 x 4.
 * Welch-Satterthwaite (JCGM 100:2008, G.4): 7.024^4/4^4 = 9.5 degrees of freedom, t(9) 2.262 (table
 * G.2): 13.06 of the level would be above its 10; the water's 9.05 is not above 50.8. */
START_TEST(test_line_never_above_its_limit)
{
	struct level_allowance a = {0};
	enum level_allowance_line lines[LEVEL_ALLOWANCE_LINES];
	a.bound[LEVEL_LINE_INSTRUMENT] = 0.010;
	a.u[LEVEL_LINE_INSTRUMENT] = 0.010 / sqrt(3);
	a.bound[LEVEL_LINE_WATER] = 12.706 * 0.004;
	a.u[LEVEL_LINE_WATER] = 0.004;
	a.u_total = 0.0070238;
	a.total_u95 = 2.262 * 0.0070238;
	ck_assert_double_eq_tol(level_line_size(&a, LEVEL_LINE_INSTRUMENT, LEVEL_BY_U95), 0.010,
	                        1e-12);
	ck_assert_double_eq_tol(level_line_size(&a, LEVEL_LINE_WATER, LEVEL_BY_U95), 0.009048,
	                        1e-6);
	level_lines_by_size(&a, LEVEL_BY_U95, lines);
	ck_assert_int_eq(lines[0], LEVEL_LINE_INSTRUMENT);
	level_lines_by_size(&a, LEVEL_BY_ALL, lines);
	ck_assert_int_eq(lines[0], LEVEL_LINE_WATER);
}
END_TEST

int main(void)
{
	return RUN_TESTS("allowance", test_crossing, test_signs, test_nothing_left_over, test_water,
	                 test_two_setups, test_forth_and_back, test_u_never_above_bound,
	                 test_u_never_above_bound_anywhere, test_balanced, test_methods, test_names,
	                 test_drift, test_tilt_of_few_sets, test_pegs_assume_nothing, test_slopes,
	                 test_set_up_by_wind, test_declared_share_of_air, test_line_size,
	                 test_air_alone, test_line_never_above_its_limit);
}
