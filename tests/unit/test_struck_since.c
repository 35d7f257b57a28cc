/* What a drop and a statement say of entries that were struck once the figures were sealed, and of
 * runs that close on nothing. */
#include "books.h"
#include "rodbook/book/crossing.h"
#include "rodbook/work/run.h"
#include "suite.h"

static char *text;
static size_t size;

static void has(const char *line)
{
	ck_assert_msg(strstr(text, line) != NULL, "no \"%s\" in:\n%s", line, text);
}

static void has_not(const char *line)
{
	ck_assert_msg(strstr(text, line) == NULL, "\"%s\" in:\n%s", line, text);
}

static void print(struct shelf *s, bool statement)
{
	struct work_run run;
	FILE *out;
	free(text);
	out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert(work_run_load(s->book, s->run.info.name, NULL, &run, &s->why));
	if (statement)
		ck_assert_msg(report_statement(out, s->book, &run, REPORT_STATEMENT_TEXT, &s->why),
		              "%s", s->why.text);
	else
		ck_assert_msg(report_drop(out, s->book, &run, false, &s->why), "%s", s->why.text);
	ck_assert_int_eq(fclose(out), 0);
	work_run_free(&run);
}

/* Sealed by its long sight; then one water, the air and the sight itself are struck. */
START_TEST(test_struck)
{
	struct shelf s;
	struct book_air air = {.sky = "calm"};
	struct book_air *airs;
	struct book_water *waters;
	size_t count;
	int64_t id;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "east", LEVEL_CROSSING);
	id = s.run.info.id;
	ck_assert(book_water_add(s.book, id, "PEG-E", "0.412", "", "", &s.why));
	ck_assert(book_water_add(s.book, id, "PEG-E", "0.416", "", "", &s.why));
	ck_assert(book_water_add(s.book, id, "PEG-W", "0.287", "", "", &s.why));
	ck_assert_msg(book_air_add(s.book, id, &air, &s.why), "%s", s.why.text);
	shelf_take(&s, id);
	ck_assert(shelf_sight(&s, LEVEL_BS, "PEG-E", "1.137", "6", ""));
	ck_assert_msg(shelf_sight(&s, LEVEL_FS, "PEG-W", "1.419", "1480", ""), "%s", s.why.text);
	print(&s, false);
	has_not("struck since it was sealed");
	ck_assert(book_waters(s.book, id, &waters, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert_msg(book_water_strike(s.book, id, waters[1].id, "a wave", &s.why), "%s",
	              s.why.text);
	free(waters);
	print(&s, false);
	has("struck since it was sealed:\n"
	    "  water at PEG-E 0.416, 2026-05-04T09:30:00+02:00: a wave\n");
	ck_assert(book_airs(s.book, id, &airs, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_msg(book_air_strike(s.book, id, airs[0].id, "misread", &s.why), "%s", s.why.text);
	free(airs);
	print(&s, false);
	/* one heading for all of them */
	has("struck since it was sealed:\n"
	    "  water at PEG-E 0.416, 2026-05-04T09:30:00+02:00: a wave\n"
	    "  air of 2026-05-04T09:30:00+02:00, 2026-05-04T09:30:00+02:00: misread\n");
	shelf_take(&s, id);
	ck_assert_msg(book_strike(s.book, &s.run, 1, false, "slipped", &s.why), "%s", s.why.text);
	shelf_take(&s, id);
	ck_assert(shelf_sight(&s, LEVEL_FS, "PEG-W", "1.500", "1480", ""));
	print(&s, false);
	has("struck since it was sealed:\n"
	    "  FS PEG-W 1.419, 2026-05-04T09:30:00+02:00: slipped\n"
	    "  water at PEG-E 0.416, 2026-05-04T09:30:00+02:00: a wave\n"
	    "  air of 2026-05-04T09:30:00+02:00, 2026-05-04T09:30:00+02:00: misread\n");
	shelf_close(&s);
}
END_TEST

/* No misclosure is worked out where there is none, or where an open run happens on a known mark. */
START_TEST(test_closing_on_nothing)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	ck_assert(book_mark_set(s.book, "B", "10.1", NULL, NULL, &s.why));
	shelf_begin(&s, "link", LEVEL_LINK);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "P", "1.400", "40", ""));
	print(&s, true);
	has("  page check = (sum BS - sum FS) - (end - start) = 0.000000000: holds\n");
	has_not("  misclosure = ");
	shelf_begin(&s, "open", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.400", "40", ""));
	print(&s, true);
	has_not("  misclosure = ");
	has_not("  allowable = ");
	shelf_begin(&s, "closed", LEVEL_LINK);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.401", "40", ""));
	print(&s, true);
	has("  misclosure = end - known end = 10.099000000 - 10.100000000 = -0.001000000\n");
	has("  corrected = misclosure + P - sum w s (g d + e) = -0.001000000 + 0.000000000\n"
	    "      - 0.000000000 = -0.001000000\n");
	/* 12 mm sqrt 0.08 */
	has("  allowable = 12 mm x sqrt(K) = 0.003394113 m, K = 0.080000000 km\n");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("struck_since", test_struck, test_closing_on_nothing);
}
