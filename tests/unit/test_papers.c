/* Papers for a browser: what stands in the rows of a page, and which columns it has. */
#include "books.h"
#include "rodbook/work/run.h"
#include "rodbook/work/sight.h"
#include "suite.h"

static char *text;

static void print(struct shelf *s, enum report_paper paper)
{
	struct work_run run;
	size_t size;
	FILE *out;
	free(text);
	out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert(work_run_load(s->book, s->run.info.name, NULL, &run, &s->why));
	ck_assert(report_html(out, s->book, &run, paper, &s->why));
	ck_assert_int_eq(fclose(out), 0);
	work_run_free(&run);
}

static void has(const char *line)
{
	ck_assert_msg(strstr(text, line) != NULL, "no \"%s\"", line);
}

static void has_not(const char *line)
{
	ck_assert_msg(strstr(text, line) == NULL, "\"%s\" is there", line);
}

/* 50 + 1.5 - 1.25 = 50.25. The clock of a shelf stands at 09:30. */
START_TEST(test_struck_row)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "50", NULL, NULL, &s.why));
	shelf_begin(&s, "way", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.500"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.520"));
	ck_assert(book_strike(s.book, &s.run, 1, false, "misread", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.250"));
	print(&s, REPORT_PAPER_PAGE);
	has("<del>1.520</del>");
	has("<td class=\"remark\">struck 09:30, misread</td>");
	has("<p>Struck: FS TP1 2026-05-04T09:30:00+02:00.</p>");
	has("50.250");
	shelf_close(&s);
}
END_TEST

static void count_columns(int wanted)
{
	int count = 0;
	for (const char *at = text; (at = strstr(at, "scope=\"col\"")); at++)
		count++;
	ck_assert_int_eq(count, wanted);
}

START_TEST(test_empty_columns)
{
	struct work_booked booked;
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "50", NULL, NULL, &s.why));
	shelf_begin(&s, "way", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.500"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.250"));
	print(&s, REPORT_PAPER_PAGE);
	has_not("dist.");
	has_not(">IS<");
	/* station, BS, HI, FS, rise and fall, elevation, remark */
	count_columns(7);
	ck_assert(shelf_sight(&s, LEVEL_BS, "TP1", "1.400", "30", ""));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "1.300"));
	print(&s, REPORT_PAPER_PAGE);
	has(">IS<");
	has("dist. BS");
	has_not("dist. FS");
	count_columns(9);
	/* an offset stands where an IS would */
	shelf_begin(&s, "pole", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.500"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.250"));
	ck_assert(work_book_sight(s.book, "pole",
	                          &(struct work_typed){.text[WORK_SIGHT] = "OFF",
	                                               .text[WORK_STATION] = "TP2",
	                                               .text[WORK_READING] = "1.100"},
	                          &booked, &s.why));
	print(&s, REPORT_PAPER_PAGE);
	has(">IS, offset<");
	has(">offset +1.100<");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("papers", test_struck_row, test_empty_columns);
}
