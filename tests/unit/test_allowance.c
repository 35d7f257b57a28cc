/* The allowance, line by line, with the arithmetic worked by hand. Rules of combination: JCGM
 * 100:2008 (GUM), 4.3.7 (a rectangular bound a has the standard uncertainty a/sqrt 3), 5.1.2
 * (quadrature) and 6.3.3 (coverage factor 2). */
#include "rodbook/drop.h"

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

static struct level_allowance allow(const struct level_drop_sums *sums,
                                    const struct level_terms *with, bool water, double known_bound,
                                    double known_u)
{
	struct level_ends ends = {
	    .water = water, .known_bound = known_bound, .known_variance = known_u * known_u};
	return level_allow(sums, with, &ends);
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
	/* 0.15 x (400 + 640 000)/12 742 000; 0.075 x |400 - 640 000|/12 742 000 */
	check_line(got, LEVEL_LINE_REFRACTION, 0.007538848, 0.003764715);
	/* 2/sqrt 3, 3/sqrt 3 mm */
	check_line(got, LEVEL_LINE_DECLARED, 0.002, 0.001154701);
	check_line(got, LEVEL_LINE_WATER, 0.003, 0.001732051);
	/* as given: 2 x (1.0 + 0.5) and sqrt(1.00 + 0.25) mm */
	check_line(got, LEVEL_LINE_KNOWN, 0.003, 0.001118034);
	/* 78 + 10 + 7.538848 + 2 + 3 + 3 mm */
	ck_assert_double_eq_tol(got->total_bound, 0.103538848, 1e-8);
	/* squares in mm^2: 2028 + 18.98 + 14.173077 + 1.333333 + 3 + 1.25 = 2066.736410;
	 * 2 x sqrt = 90.922745 mm */
	ck_assert_double_eq_tol(got->total_u95, 0.090922745, 1e-8);
}

START_TEST(test_crossing)
{
	for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
		struct level_terms with = terms();
		struct level_drop_sums sums = crossing(far_is_bs);
		double known_bound = 0.003, known_u = 0.001118033989;
		struct level_allowance got = allow(&sums, &with, true, known_bound, known_u);
		check_crossing_lines(&got);
		ck_assert_double_eq(got.decides, got.total_bound);
		with.decides = LEVEL_BY_U95;
		got = allow(&sums, &with, true, known_bound, known_u);
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
	ck_assert_double_eq(fs.refraction_bound, bs.refraction_bound);
}
END_TEST

/* Only a crossing has a water line. */
START_TEST(test_water)
{
	struct level_terms with = terms();
	struct level_drop_sums sums = crossing(false);
	struct level_allowance got = allow(&sums, &with, false, 0, 0);
	check_line(&got, LEVEL_LINE_WATER, 0, 0);
	check_line(&got, LEVEL_LINE_KNOWN, 0, 0);
	/* 78 + 10 + 7.538848 + 2 mm */
	ck_assert_double_eq_tol(got.total_bound, 0.097538848, 1e-8);
	/* 2028 + 18.98 + 14.173077 + 1.333333 = 2062.486410 mm^2 */
	ck_assert_double_eq_tol(got.total_u95, 0.090829211, 1e-8);
}
END_TEST

/* Two setups whose lengths balance in the whole but not each: (10, 100) and (100, 10) m.
 * The tilt cancels. Each setup's own air does not: bound 0.15 x 2 x 10 100/12 742 000 = 0.237 796
 * mm, u = sqrt 2 x 0.075 x 9 900/12 742 000 = 0.082 409 mm. Rods: 0.6 and 1.5 mm twice each: bound
 * 2 x 4.2 = 8.4 mm, u = sqrt(2 x (0.36 + 2.25)) = 2.284 732 mm. */
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
	check_line(&got, LEVEL_LINE_REFRACTION, 0.000237796, 0.000082409);
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
		with.dk = (double)chance(&state, 0, 100) / 100;
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
		got = allow(&sums, &with, i % 2, 2 * (u_start + u_end), hypot(u_start, u_end));
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
		ck_assert_double_eq(got.u[LEVEL_LINE_REFRACTION], 0);
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
	static const char *const names[] = {"instrument", "reading", "refraction",
	                                    "declared",   "water",   "known"};
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++)
		ck_assert_str_eq(level_allowance_name((enum level_allowance_line)i), names[i]);
}
END_TEST

int main(void)
{
	return RUN_TESTS("allowance", test_crossing, test_signs, test_water, test_two_setups,
	                 test_forth_and_back, test_u_never_above_bound,
	                 test_u_never_above_bound_anywhere, test_balanced, test_methods,
	                 test_names);
}
