/* The heads of a run's pages as a book keeps them, and those that a loaded run has: of the days on
 * which it was read, and of those that were given one. */
#include "books.h"
#include "rodbook/book/head.h"
#include "rodbook/work/run.h"
#include "suite.h"

static void give(struct shelf *s, const char *run, const char *day, enum book_head_text text,
                 const char *words)
{
	struct book_head head = {0};
	struct book_run_info info;
	strcpy(head.day, day);
	strcpy(head.text[text], words);
	ck_assert(book_run_find(s->book, run, &info, &s->why));
	ck_assert_msg(book_head_set(s->book, info.id, &head, &s->why), "%s", s->why.text);
}

/* Books by CSV, which takes times of other days along. */
static void read_on(struct shelf *s, const char *run, const char *const *days, size_t count)
{
	char text[2000] = "run,sight,station,reading,time\n";
	struct work_taken counts;
	for (size_t i = 0; i < count; i++)
		snprintf(text + strlen(text), sizeof text - strlen(text),
		         "%s,%s,P%zu,1,%sT10:00:00+02:00\n", run, i ? "IS" : "BS", i, days[i]);
	ck_assert_msg(shelf_import(s, text, &counts), "%s", s->why.text);
}

/* The days of a loaded run's heads with their party, weather and purpose. */
static const char *heads_of(struct shelf *s, const char *name)
{
	static char line[1000];
	struct work_run run;
	size_t used = 0;
	line[0] = '\0';
	ck_assert_msg(work_run_load(s->book, name, NULL, &run, &s->why), "%s", s->why.text);
	for (size_t i = 0; i < run.head_count; i++)
		used += (size_t)snprintf(
		    line + used, sizeof line - used, "%s%s %s/%s/%s", used ? ", " : "",
		    run.heads[i].day + 5, run.heads[i].text[BOOK_HEAD_PARTY],
		    run.heads[i].text[BOOK_HEAD_WEATHER], run.heads[i].text[BOOK_HEAD_PURPOSE]);
	work_run_free(&run);
	return line;
}

START_TEST(test_days)
{
	static const char *const days[] = {"2026-05-04", "2026-05-03", "2026-05-04", "2026-05-06"};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	read_on(&s, "a", days, 4);
	ck_assert_str_eq(heads_of(&s, "a"), "");
	/* a head on a day without sights, before them; it is carried over to those behind it */
	give(&s, "a", "2026-05-04", BOOK_HEAD_PURPOSE, "bench marks");
	ck_assert_str_eq(heads_of(&s, "a"), "05-04 //bench marks, 05-06 //bench marks");
	give(&s, "a", "2026-05-02", BOOK_HEAD_PARTY, "two");
	ck_assert_str_eq(heads_of(&s, "a"), "05-02 two//, 05-03 two//, 05-04 //bench marks, 05-06 "
	                                    "//bench marks");
	give(&s, "a", "2026-05-05", BOOK_HEAD_WEATHER, "rain");
	ck_assert_str_eq(heads_of(&s, "a"), "05-02 two//, 05-03 two//, 05-04 //bench marks, 05-05 "
	                                    "/rain/");
	give(&s, "a", "2026-05-06", BOOK_HEAD_WEATHER, "sun");
	/* another one of a day takes its place */
	give(&s, "a", "2026-05-02", BOOK_HEAD_PARTY, "three");
	ck_assert_str_eq(heads_of(&s, "a"), "05-02 three//, 05-03 three//, 05-04 //bench marks, "
	                                    "05-05 /rain/, 05-06 /sun/");
	shelf_close(&s);
}
END_TEST

/* Struck sights, and those whose time nobody knows, have no day. */
START_TEST(test_no_day)
{
	struct shelf s;
	struct work_taken counts;
	shelf_open(&s, LEVEL_M);
	ck_assert(shelf_import(&s, "run,sight,station,reading\nold,BS,A,1\n", &counts));
	shelf_begin(&s, "now", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	give(&s, "old", "2026-05-01", BOOK_HEAD_PARTY, "two");
	ck_assert_str_eq(heads_of(&s, "old"), "05-01 two//");
	ck_assert_str_eq(heads_of(&s, "now"), "05-04 two//");
	ck_assert(shelf_strike(&s, 0));
	ck_assert_str_eq(heads_of(&s, "now"), "");
	shelf_close(&s);
}
END_TEST

START_TEST(test_by_hand)
{
	struct shelf s;
	struct work_head head;
	struct book_head *list;
	char day[BOOK_DAY_BYTES];
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	book_today(s.book, day);
	ck_assert_str_eq(day, "2026-05-04");
	give(&s, "a", "2026-05-03", BOOK_HEAD_PARTY, "two");
	ck_assert(work_head(s.book, s.run.info.id, day, &head, &s.why));
	ck_assert(!head.stands && head.carried[BOOK_HEAD_PARTY]);
	ck_assert_str_eq(head.text[BOOK_HEAD_PARTY], "two");
	ck_assert(work_head_says(&head));
	/* booked as it is shown */
	strcpy(head.text[BOOK_HEAD_CHECKED], "both");
	ck_assert(work_head_set(s.book, s.run.info.id, &head, &s.why));
	ck_assert(work_head(s.book, s.run.info.id, day, &head, &s.why));
	ck_assert(head.stands && !head.carried[BOOK_HEAD_PARTY]);
	ck_assert_str_eq(head.text[BOOK_HEAD_PARTY], "two");
	ck_assert_str_eq(head.text[BOOK_HEAD_CHECKED], "both");
	ck_assert(book_heads(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(list[1].day, day);
	ck_assert_str_eq(list[1].time, "2026-05-04T09:30:00+02:00");
	free(list);
	/* again it is no change */
	ck_assert(work_head_set(s.book, s.run.info.id, &head, &s.why));
	ck_assert(book_heads(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	free(list);
	head = (struct work_head){0};
	ck_assert(!work_head_says(&head));
	strcpy(head.text[BOOK_HEAD_TEXTS - 1], "x");
	ck_assert(work_head_says(&head));
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	static const struct {
		const char *day, *party, *field;
	} cases[] = {
	    {"2026-05-04", "", ""},       {"2026-13-04", "two", "day"},
	    {"", "two", "day"},           {"2026-05-4", "two", "day"},
	    {"2026-02-30", "two", "day"}, {"2026-05-04", "a\x1b", "party"},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct book_head head = {0};
		strcpy(head.day, cases[i].day);
		strcpy(head.text[BOOK_HEAD_PARTY], cases[i].party);
		s.why = (struct fault){0};
		ck_assert_msg(!book_head_set(s.book, s.run.info.id, &head, &s.why), "case %zu", i);
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		if (*cases[i].field)
			ck_assert_str_eq(s.why.field, cases[i].field);
	}
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("heads_booked", test_days, test_no_day, test_by_hand, test_refused);
}
