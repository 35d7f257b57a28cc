/* A published net and small ones reckoned by hand. */
#include "rodbook/level/net.h"

#include <math.h>
#include <string.h>

#include "sights.h"
#include "suite.h"

enum { A, B, C, E, F };

#define NET(marks_, lines_)                                                                        \
	((struct level_net){.marks = sizeof(marks_) / sizeof *(marks_),                            \
	                    .lines = sizeof(lines_) / sizeof *(lines_),                            \
	                    .mark = (marks_),                                                      \
	                    .line = (lines_)})

/* Data: Strang and Borre, Linear Algebra, Geodesy, and GPS, 1997, ch. 8 (recalled); its solution
 * recomputed with numpy: E 10.74450, F 11.99762, variance 5.563e-5 m^2/km with 3 degrees of
 * freedom, standard deviations 4.56 and 4.61 mm. */
static const struct level_net_mark published_marks[] = {{"A", true, MM(10021)},
                                                        {"B", true, MM(10321)},
                                                        {"C", true, MM(11002)},
                                                        {"E", false, 0},
                                                        {"F", false, 0}};
static const struct level_net_line published_lines[] = {{A, E, MM(732), 0.970},
                                                        {A, F, MM(1978), 1.002},
                                                        {B, E, MM(420), 1.070},
                                                        {C, F, MM(988), 1.110},
                                                        {E, F, MM(1258), 0.890}};

static void adjusted(const struct level_net *net, struct level_net_result *out)
{
	struct fault why = {0};
	ck_assert_msg(level_net_adjust(net, NULL, NULL, out, &why), "%s", why.text);
}

static double sd_mm(const struct level_net_result *r, size_t mark)
{
	return 1000 * sqrt(r->variance * r->mark[mark].cofactor);
}

START_TEST(test_published)
{
	struct level_net net = NET(published_marks, published_lines);
	struct level_net_result r;
	adjusted(&net, &r);
	ck_assert_double_eq_tol(level_to_meters(r.mark[E].elevation), 10.74450, 5e-6);
	ck_assert_double_eq_tol(level_to_meters(r.mark[F].elevation), 11.99762, 5e-6);
	ck_assert_int_eq(r.mark[A].elevation, MM(10021));
	ck_assert_int_eq(r.freedom, 3);
	ck_assert_double_eq_tol(r.variance, 5.563e-5, 5e-9);
	ck_assert_double_eq_tol(sd_mm(&r, E), 4.56, 0.005);
	ck_assert_double_eq_tol(sd_mm(&r, F), 4.61, 0.005);
	/* No standard deviation is stated, so there is no test. */
	ck_assert(r.has_variance && !r.has_test);
	level_net_free(&r);
}
END_TEST

START_TEST(test_variance_test)
{
	/* f s0^2 / sigma^2 = 3 x 55.63 / 9 and / 36; chi-square of 3 at 0.025 and 0.975 is 0.216
	 * and 9.348 (tables of the distribution, recalled). */
	struct level_net net = NET(published_marks, published_lines);
	struct level_net_result r;
	net.sigma = 0.003;
	adjusted(&net, &r);
	ck_assert(r.has_test && !r.passes);
	ck_assert_double_eq_tol(r.chi_square, 18.543, 0.002);
	ck_assert_double_eq_tol(r.low, 0.216, 5e-4);
	ck_assert_double_eq_tol(r.high, 9.348, 5e-4);
	level_net_free(&r);
	net.sigma = 0.006;
	adjusted(&net, &r);
	ck_assert(r.passes);
	ck_assert_double_eq_tol(r.chi_square, 4.636, 0.001);
	level_net_free(&r);
	/* Two-sided: what fits too well does not pass either. */
	net.sigma = 0.1;
	adjusted(&net, &r);
	ck_assert(r.has_test && !r.passes);
	level_net_free(&r);
}
END_TEST

START_TEST(test_two_lines)
{
	/* Two lines of 1 and 3 km miss each other by 4 mm: weights 1 and 1/3, so the first gets 1
	 * mm, the other 3; v'Pv = 1 + 9/3 = 4 mm^2, q of the mark 3/4 km, q_vv 1/4 and 9/4. */
	const struct level_net_mark marks[] = {{"A", true, 0}, {"P", false, 0}};
	const struct level_net_line lines[] = {{0, 1, MM(1000), 1}, {1, 0, -MM(1004), 3}};
	struct level_net net = NET(marks, lines);
	struct level_net_result r;
	adjusted(&net, &r);
	ck_assert_int_eq(r.mark[1].elevation, MM(1001));
	ck_assert_int_eq(r.line[0].adjusted, MM(1001));
	ck_assert_int_eq(r.line[1].adjusted, -MM(1001));
	ck_assert_double_eq_tol(r.line[0].residual, 0.001, 1e-12);
	ck_assert_double_eq_tol(r.line[1].residual, 0.003, 1e-12);
	ck_assert_double_eq_tol(r.variance, 4e-6, 1e-15);
	ck_assert_double_eq_tol(r.mark[1].cofactor, 0.75, 1e-12);
	ck_assert_double_eq_tol(r.line[0].cofactor, 0.25, 1e-12);
	ck_assert_double_eq_tol(r.line[1].redundancy, 0.75, 1e-12);
	/* 1 / (2 sqrt(1/4)) = 3 / (2 sqrt(9/4)) = 1: with one degree of freedom all are 1, and
	 * nothing is to be suspected before another. */
	ck_assert_double_eq_tol(r.line[0].standardized, 1, 1e-9);
	ck_assert_double_eq_tol(r.line[1].standardized, 1, 1e-9);
	ck_assert(!r.has_limit);
	ck_assert_int_eq(r.suspects, 0);
	level_net_free(&r);
	/* With 1 mm stated they are 2, below the normal quantile of 1 - 0.05/4, 2.241 (tables of
	 * the normal distribution, recalled); with 0.5 mm 4: both suspect, and not told apart. */
	net.sigma = 0.001;
	adjusted(&net, &r);
	ck_assert_double_eq_tol(r.line[1].standardized, 2, 1e-9);
	ck_assert(r.has_limit);
	ck_assert_double_eq_tol(r.limit, 2.2414, 1e-4);
	ck_assert_int_eq(r.suspects, 0);
	level_net_free(&r);
	net.sigma = 0.0005;
	adjusted(&net, &r);
	ck_assert_int_eq(r.suspects, 2);
	level_net_free(&r);
}
END_TEST

START_TEST(test_suspect)
{
	/* Six equal lines between two marks, one of which is 50 mm off: residuals of n - 1 equal
	 * ones and a blunder. tau of 5 degrees of freedom for 6 lines: with t of 4 degrees at
	 * 1 - 0.05/12, 4.851 (tables of t, recalled), sqrt 5 x 4.851 / sqrt(4 + 4.851^2) = 2.067.
	 */
	const struct level_net_mark marks[] = {{"A", true, 0}, {"P", false, 0}};
	const struct level_net_line lines[] = {{0, 1, MM(1000), 1}, {0, 1, MM(1001), 1},
	                                       {0, 1, MM(1050), 1}, {0, 1, MM(999), 1},
	                                       {0, 1, MM(1002), 1}, {0, 1, MM(998), 1}};
	struct level_net net = NET(marks, lines);
	struct level_net_result r;
	adjusted(&net, &r);
	ck_assert(r.has_limit);
	ck_assert_double_eq_tol(r.limit, 2.067, 2e-3);
	ck_assert_int_eq(r.suspects, 1);
	ck_assert(r.line[2].suspect);
	ck_assert_uint_eq(r.largest, 2);
	level_net_free(&r);
}
END_TEST

START_TEST(test_unchecked)
{
	/* A spur adds nothing to compare: its residual is 0, whatever was read. */
	const struct level_net_mark marks[] = {{"A", true, 0}, {"P", false, 0}, {"spur", false, 0}};
	const struct level_net_line lines[] = {
	    {0, 1, MM(1000), 1}, {0, 1, MM(1004), 1}, {1, 2, MM(500), 2}};
	struct level_net net = NET(marks, lines);
	struct level_net_result r;
	adjusted(&net, &r);
	ck_assert_int_eq(r.freedom, 1);
	ck_assert_int_eq(r.mark[2].elevation, MM(1502));
	ck_assert_double_eq_tol(r.mark[2].cofactor, 2.5, 1e-12);
	ck_assert(r.line[0].checked && !r.line[2].checked && !r.line[2].has_standardized);
	level_net_free(&r);
	/* Alone it is no more than carried along. */
	net.lines = 1;
	net.marks = 2;
	net.sigma = 0.002;
	adjusted(&net, &r);
	ck_assert_int_eq(r.freedom, 0);
	ck_assert(!r.has_variance && !r.has_test && !r.has_limit);
	ck_assert_int_eq(r.mark[1].elevation, MM(1000));
	level_net_free(&r);
}
END_TEST

START_TEST(test_loop_and_held)
{
	/* A line back to its own mark, and one between held marks: each a degree of freedom, and
	 * all of an error shows. */
	const struct level_net_mark marks[] = {{"A", true, 0}, {"B", true, MM(500)}};
	const struct level_net_line lines[] = {{0, 0, MM(3), 1}, {0, 1, MM(499), 4}};
	struct level_net net = NET(marks, lines);
	struct level_net_result r;
	adjusted(&net, &r);
	ck_assert_int_eq(r.freedom, 2);
	ck_assert_double_eq_tol(r.line[0].residual, -0.003, 1e-15);
	ck_assert_double_eq_tol(r.line[1].residual, 0.001, 1e-15);
	ck_assert_double_eq_tol(r.line[0].redundancy, 1, 1e-15);
	/* (9 + 1/4) / 2 mm^2 */
	ck_assert_double_eq_tol(r.variance, 4.625e-6, 1e-15);
	level_net_free(&r);
}
END_TEST

static void refused(const struct level_net *net, const char *words)
{
	struct level_net_result r;
	struct fault why = {0};
	ck_assert(!level_net_adjust(net, NULL, NULL, &r, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert_msg(strstr(why.text, words) != NULL, "%s", why.text);
}

START_TEST(test_refused)
{
	struct level_net_mark marks[14];
	struct level_net_line lines[13];
	char name[14][8];
	struct level_net net = {.mark = marks, .line = lines};
	refused(&net, "no line");
	for (size_t i = 0; i < 14; i++) {
		snprintf(name[i], sizeof name[i], "M%zu", i + 1);
		marks[i] = (struct level_net_mark){name[i], false, 0};
		if (i)
			lines[i - 1] = (struct level_net_line){i - 1, i, MM(100), 1};
	}
	net.marks = 3;
	net.lines = 2;
	refused(&net, "no mark of this net has a known elevation");
	refused(&net, "M1, M2 and M3");
	/* A part on its own. */
	marks[0].fixed = true;
	lines[1] = (struct level_net_line){2, 2, 0, 1};
	refused(&net, "not tied to a held mark: M3");
	/* Many are not all named. */
	lines[1] = (struct level_net_line){2, 3, 0, 1};
	net.marks = 14;
	net.lines = 13;
	refused(&net, "M3, M4, M5, M6, M7, M8, M9, M10 and 4 more");
}
END_TEST

struct told {
	int calls;
	double last, largest_step;
	bool falls;
};

static void tell(void *context, double fraction)
{
	struct told *told = context;
	told->falls = told->falls || fraction < told->last || fraction > 1;
	if (fraction - told->last > told->largest_step)
		told->largest_step = fraction - told->last;
	told->last = fraction;
	told->calls++;
}

/* A loop of two lines of a million km each, that goes on over a line of 1 nm: the short line's
 * weight leaves nothing of the others' in double precision, which memory is not to blame for. */
START_TEST(test_too_unequal)
{
	static const struct level_net_mark marks[] = {
	    {"A", true, MM(1000)}, {"X", false, 0}, {"Y", false, 0}};
	static const struct level_net_line lines[] = {
	    {0, 1, MM(100), 1e6}, {1, 2, MM(1), 1e-12}, {2, 0, MM(-100), 1e6}};
	struct level_net net = NET(marks, lines);
	refused(&net, "too unequal");
}
END_TEST

START_TEST(test_progress)
{
	/* A lattice of 30 x 30 marks. */
	enum { SIDE = 30 };
	static struct level_net_mark marks[SIDE * SIDE];
	static struct level_net_line lines[2 * SIDE * SIDE];
	struct level_net net = {.marks = SIDE * SIDE, .mark = marks, .line = lines};
	struct level_net_result r;
	struct told told = {0};
	for (size_t i = 0; i < SIDE * SIDE; i++) {
		marks[i] = (struct level_net_mark){"M", i == 0, 0};
		if (i % SIDE)
			lines[net.lines++] = (struct level_net_line){i - 1, i, 0, 1};
		if (i >= SIDE)
			lines[net.lines++] = (struct level_net_line){i - SIDE, i, 0, 1};
	}
	ck_assert(level_net_adjust(&net, tell, &told, &r, NULL));
	ck_assert(!told.falls);
	ck_assert_double_eq(told.last, 1);
	ck_assert_int_ge(told.calls, 20);
	ck_assert_double_le(told.largest_step, 0.2);
	level_net_free(&r);
}
END_TEST

int main(void)
{
	return RUN_TESTS("net", test_published, test_variance_test, test_two_lines, test_suspect,
	                 test_unchecked, test_loop_and_held, test_refused, test_too_unequal,
	                 test_progress);
}
