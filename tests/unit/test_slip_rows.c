/* Slips of a run of a book, by the rows they stand in and the lines they are shown in. */
#include "rodbook/report/report.h"
#include "rodbook/work/slips.h"
#include "unit/books.h"
#include "unit/suite.h"

/* 1.725 booked for 1.275 behind a struck sight: 1.432 - 1.725 + 1.118 - 1.276 = -0.451, and with
 * the digits turned round 1.432 - 1.275 + 1.118 - 1.276 = -0.001; 12 x sqrt 0.12 km = 4.2 mm. */
static void book_loop(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	shelf_begin(s, "a", LEVEL_LOOP);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "1.432", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_IS, "P", "1.5", "30", ""));
	ck_assert(shelf_strike(s, 1));
	ck_assert(shelf_sight(s, LEVEL_FS, "B", "1.725", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_BS, "B", "1.118", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "A", "1.276", "30", ""));
}

START_TEST(test_rows)
{
	struct shelf s;
	struct work_run run;
	struct level_slips slips = {0};
	long row[REPORT_SLIPS_SHOWN] = {-1};
	char *text = NULL, again[REPORT_SLIP_BYTES];
	size_t size = 0;
	FILE *out;
	book_loop(&s);
	ck_assert(work_run_load(s.book, "a", NULL, &run, &s.why));
	ck_assert(work_slips(&run, &slips, &s.why));
	ck_assert_uint_eq(slips.count, 1);
	/* row 1 is the struck one */
	ck_assert_uint_eq(slips.slip[0].at, 2);
	ck_assert_str_eq(run.book.note[slips.slip[0].at].reading, "1.725");
	report_slip_again(&run, &slips.slip[0], again, sizeof again);
	ck_assert_str_eq(again, "read FS of setup 1 again: digits may have changed places");
	out = open_memstream(&text, &size);
	ck_assert(out != NULL);
	report_slips_text(out, &run, &slips, row);
	fclose(out);
	ck_assert_int_gt(row[0], 0);
	ck_assert_msg(strncmp(text + row[0], " 1     1 FS    B ", 17) == 0, "%s", text + row[0]);
	ck_assert_int_eq(text[row[0] - 1], '\n');
	free(text);
	level_slips_free(&slips);
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("slip rows", test_rows);
}
