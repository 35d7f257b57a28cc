/* Marks and their known elevations. */
#include "rodbook/book/book.h"

#include "books.h"
#include "suite.h"

START_TEST(test_set_change_strike)
{
	struct shelf s;
	struct book_mark *marks;
	size_t count;
	shelf_open(&s, LEVEL_FT);
	ck_assert(book_mark_set(s.book, "PIT", "-1.25", "", "", &s.why));
	ck_assert(book_mark_set(s.book, "BM1", "100", "0.01", "iron pipe, \"old\"", &s.why));
	ck_assert(book_mark_set_in(s.book, LEVEL_M, "BM2", "30.48", "3 mm", NULL, &s.why));
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	/* 100 ft = 30.48 m = 100 ft */
	ck_assert_str_eq(marks[0].name, "BM1");
	ck_assert_int_eq(marks[0].elevation, 30480000000);
	ck_assert_int_eq(marks[0].u, 3048000);
	ck_assert_str_eq(marks[0].u_typed, "0.01");
	ck_assert_str_eq(marks[0].source, "iron pipe, \"old\"");
	ck_assert_int_eq(marks[0].unit, LEVEL_FT);
	ck_assert_int_eq(marks[1].elevation, 30480000000);
	ck_assert_int_eq(marks[1].u, 3000000);
	ck_assert_int_eq(marks[1].unit, LEVEL_M);
	ck_assert_str_eq(marks[1].typed, "30.48");
	ck_assert_str_eq(marks[2].name, "PIT");
	ck_assert_int_eq(marks[2].elevation, -381000000);
	free(marks);

	/* the same name again is another elevation of the same mark, and forgets the old rest */
	ck_assert(book_mark_set(s.book, "BM1", "101", NULL, NULL, &s.why));
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert_str_eq(marks[0].typed, "101");
	ck_assert_int_eq(marks[0].u, 0);
	ck_assert_str_eq(marks[0].source, "");
	free(marks);

	ck_assert(book_mark_strike(s.book, "BM1", &s.why));
	ck_assert(!book_mark_strike(s.book, "BM1", &s.why));
	FAULT(&s, FAULT_INPUT, "no mark BM1");
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	free(marks);
	/* and a struck name can be given anew */
	ck_assert(book_mark_set(s.book, "BM1", "102", NULL, NULL, &s.why));
	ck_assert(book_mark_strike(s.book, "BM1", &s.why));
	ck_assert(book_mark_set(s.book, "BM1", "103", NULL, NULL, &s.why));
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert_str_eq(marks[0].typed, "103");
	free(marks);
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	static const char *const bad[][4] = {
	    {"", "1", NULL, NULL},
	    {"A", "", NULL, NULL},
	    {"A", "high", NULL, NULL},
	    {"A", "1", "-0.001", NULL},
	    {"A", "1", "some", NULL},
	    {"A\x1b[31m", "1", NULL, NULL},
	    {"A\xc0\x80", "1", NULL, NULL},
	    {"A\xcc\x81", "1", NULL, NULL},
	    {"01234567890123456789012345678901234567890", "1", NULL, NULL},
	    {"A", "1\n", NULL, NULL},
	    {"A", "1", NULL, "two\nlines"},
	    {"A", "1", NULL, "\xff"},
	    {"A", "200000 km", NULL, NULL},
	    {"A", "                                                            1", NULL, NULL},
	};
	struct shelf s;
	struct book_mark *marks;
	size_t count;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ck_assert_msg(
		    !book_mark_set(s.book, bad[i][0], bad[i][1], bad[i][2], bad[i][3], &s.why),
		    "line %zu", i);
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	}
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(marks);
	shelf_close(&s);
}
END_TEST

/* A mark's elevation reaches every sight on a station of that very name, at once. */
START_TEST(test_reaches_sights)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "BM1", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "bm1", "2"));
	ck_assert(!s.run.run.sight[0].has_known);
	ck_assert(book_mark_set(s.book, "BM1", "29.230", "2 mm", "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(s.run.run.sight[0].has_known);
	ck_assert_int_eq(s.run.run.sight[0].known, 29230000000);
	ck_assert_int_eq(s.run.run.sight[0].known_u, 2000000);
	ck_assert(!s.run.run.sight[1].has_known);
	ck_assert(book_mark_strike(s.book, "BM1", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(!s.run.run.sight[0].has_known);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("marks", test_set_change_strike, test_refused, test_reaches_sights);
}
