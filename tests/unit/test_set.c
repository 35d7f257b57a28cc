/* Several readings of one sight. */
#include "rodbook/level/set.h"

#include <math.h>
#include <string.h>

#include "books.h"
#include "sights.h"
#include "suite.h"

/* 1.432, 1.433, 1.431, 1.436: mean 1.433; deviations -1, 0, -2, 3 mm; sd sqrt(14/3) = 2.160247 mm.
 */
START_TEST(test_spread)
{
	struct level_set set;
	struct fault why;
	ck_assert(level_parse_set("1.432; 1.433;1.431 ; 1.436", LEVEL_M, &set, &why));
	ck_assert_int_eq(set.count, 4);
	ck_assert_int_eq(set.mean, MM(1433));
	ck_assert_double_eq_tol(set.sd, 0.002160247, 1e-9);
	ck_assert_int_eq(set.farthest, 3);
	ck_assert_int_eq(set.off_by, MM(3));
	/* the struck one is there, and does not count */
	ck_assert(level_parse_set("1.432; 1.433; x1.533; 1.431", LEVEL_M, &set, &why));
	ck_assert_int_eq(set.count, 3);
	ck_assert_int_eq(set.struck, 1);
	ck_assert_int_eq(set.mean, MM(1432));
	ck_assert_double_eq_tol(set.sd, 0.001, 1e-12);
	/* one alone has no spread, and neither has one before a semicolon just typed */
	ck_assert(level_parse_set("1.432", LEVEL_M, &set, &why));
	ck_assert_int_eq(set.count, 1);
	ck_assert_double_eq(set.sd, 0);
	ck_assert_int_eq(set.farthest, -1);
	ck_assert(level_parse_set("1.432; ", LEVEL_M, &set, &why));
	ck_assert_int_eq(set.count, 1);
	/* the mean is rounded once: 1/3 nm up and down, half away from zero */
	ck_assert(level_parse_set("1 mm; 1 mm; 1.000001 mm", LEVEL_M, &set, &why));
	ck_assert_int_eq(set.mean, 1000000);
	ck_assert(level_parse_set("1 mm; 1.000001 mm", LEVEL_M, &set, &why));
	ck_assert_int_eq(set.mean, 1000001);
	ck_assert(level_parse_set("57 3/8\"; 4' 9 3/8\"", LEVEL_FTIN, &set, &why));
	ck_assert_int_eq(set.mean, 459 * LEVEL_NM_PER_IN / 8);
	ck_assert_double_eq(set.sd, 0);
}
END_TEST

START_TEST(test_refusals)
{
	static const char *const bad[] = {"",          "x1.4",      "x1.4; x1.5",
	                                  "1.4; high", "1.4;; 1.5", "1.4; x"};
	struct level_set set;
	struct fault why;
	char many[600] = "1";
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		ck_assert_msg(!level_parse_set(bad[i], LEVEL_M, &set, &why), "%s", bad[i]);
	for (int i = 1; i < LEVEL_SET_MOST; i++)
		strcat(many, "; 1");
	ck_assert(level_parse_set(many, LEVEL_M, &set, &why));
	strcat(many, "; 1");
	ck_assert(!level_parse_set(many, LEVEL_M, &set, &why));
}
END_TEST

START_TEST(test_carry)
{
	char text[200];
	ck_assert_str_eq(level_carry_set(text, sizeof text, "1.4; x1.5; 2 ft", LEVEL_M, LEVEL_FT),
	                 "1.4 m; x1.5 m; 2 ft");
	ck_assert_str_eq(level_carry_set(text, sizeof text, "1.4", LEVEL_M, LEVEL_FT), "1.4 m");
	ck_assert_str_eq(level_carry_set(text, sizeof text, "1.4; 1.5", LEVEL_M, LEVEL_M),
	                 "1.4; 1.5");
}
END_TEST

/* In a book: the mean is the reading, the text stays, and an altered one is found. */
START_TEST(test_booked)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.432; x9.9; 1.434"));
	ck_assert_int_eq(s.run.run.sight[0].reading, MM(1433));
	ck_assert_int_eq(s.run.run.sight[0].set_count, 2);
	ck_assert_double_eq_tol(s.run.run.sight[0].set_sd, 0.001414214, 1e-9);
	ck_assert_str_eq(s.run.note[0].reading, "1.432; x9.9; 1.434");
	ck_assert(!shelf_book(&s, LEVEL_FS, "B", "1.4; 101"));
	ck_assert(!shelf_book(&s, LEVEL_FS, "B", "1.4; -5.001"));
	ck_assert(!shelf_book(&s, LEVEL_FS, "B", "x1.4"));
	shelf_close(&s);
}
END_TEST

/* A set that is mended to one reading has no spread any more. */
START_TEST(test_no_set_any_more)
{
	const struct book_note note = {.unit = LEVEL_M, .reading = "1.433"};
	struct level_sight sight = {.kind = LEVEL_BS, .station = "A", .set_count = 2};
	struct book_settings settings;
	struct shelf s;
	sight.set_sd = 0.0014;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_settings(s.book, &settings, NULL));
	ck_assert_msg(book_read_sight(&settings, &note, &sight, &s.why), "%s", s.why.text);
	ck_assert_int_eq(sight.set_count, 0);
	ck_assert_double_eq(sight.set_sd, 0);
	shelf_close(&s);
}
END_TEST

/* A set enters the allowance with its own standard deviation of the mean where that is larger than
 * what the method has: sd 4 mm of 4 readings, 2 mm with 3 degrees of freedom, against 0.5 mm. Bound
 * t95(3) x 2 = 3.182 x 2 (JCGM 100:2008, table G.2) + 2 x 0.5. */
START_TEST(test_allowance)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS,
	                            .reading_fixed = {0.0005, 0.001, 0.0003}};
	struct level_drop_sums sums = {0};
	struct level_reach bs = {.distance = 10}, fs = {.distance = 100};
	struct level_ends ends = {0};
	struct level_allowance got;
	fs.set_count = 4;
	fs.set_sd = 0.004;
	level_drop_add(&sums, &terms, &bs, &fs);
	got = level_weigh(&sums, &terms, &ends, NULL, 0, NULL).allowance;
	ck_assert_double_eq_tol(got.bound[LEVEL_LINE_READING], 0.001 + 3.182 * 0.002, 1e-6);
	ck_assert_double_eq_tol(got.u[LEVEL_LINE_READING], sqrt(0.25 + 4) / 1000, 1e-12);
	/* Effective degrees of freedom 3 x (4.25/4)^2 = 3.387, t95 near 3.0 (t95 of 3 and 4
	 * is 3.182 and 2.776): 3.0 sqrt 4.25 is less than the 3.182 x 2 that the set needs by
	 * itself. */
	ck_assert_double_eq_tol(got.freedom, 3.387, 0.001);
	ck_assert_double_eq_tol(got.total_u95, 3.182 * 0.002, 1e-6);
	/* a set better than the method changes nothing */
	sums = (struct level_drop_sums){0};
	fs.set_sd = 0.0001;
	level_drop_add(&sums, &terms, &bs, &fs);
	ck_assert_double_eq_tol(sums.reading_bound, 0.002, 1e-12);
	ck_assert_double_eq(sums.sampled.variance, 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("set", test_no_set_any_more, test_spread, test_refusals, test_carry,
	                 test_booked, test_allowance);
}
