/* The half-typed form comes back as it was left. */
#include "book/store.h"
#include "rodbook/book/book.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/editors.h"

#include "books.h"
#include "suite.h"

static void same_draft(const struct book_draft *a, const struct book_draft *b)
{
	ck_assert_int_eq(a->used, b->used);
	ck_assert_int_eq(a->at, b->at);
	ck_assert_int_eq(a->inserts, b->inserts);
	ck_assert_int_eq(a->focus, b->focus);
	ck_assert_int_eq(a->wires, b->wires);
	ck_assert_str_eq(a->kind, b->kind);
	ck_assert_str_eq(a->method, b->method);
	ck_assert_str_eq(a->station, b->station);
	ck_assert_str_eq(a->reading, b->reading);
	ck_assert_str_eq(a->upper, b->upper);
	ck_assert_str_eq(a->middle, b->middle);
	ck_assert_str_eq(a->lower, b->lower);
	ck_assert_str_eq(a->distance, b->distance);
	ck_assert_str_eq(a->remark, b->remark);
}

START_TEST(test_save_load)
{
	struct shelf s;
	struct book_draft got[2], none = {0};
	/* texts that are no lengths yet are what a draft is for */
	struct book_draft draft[2] = {{.used = true,
	                               .focus = 3,
	                               .kind = "FS",
	                               .method = "target",
	                               .station = "T\xc3\x9f 1",
	                               .reading = "1.",
	                               .distance = "4' 9 3/",
	                               .remark = "\"gusty\", then calm"},
	                              {.used = true,
	                               .at = 7,
	                               .inserts = true,
	                               .wires = true,
	                               .upper = "4.31",
	                               .middle = "x",
	                               .lower = "-"}};
	int64_t a, b, seq;

	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	a = s.run.info.id;
	shelf_begin(&s, "b", LEVEL_OPEN);
	b = s.run.info.id;
	seq = s.run.seq;
	ck_assert(book_draft_load(s.book, a, got, &s.why));
	same_draft(&got[0], &none);
	same_draft(&got[1], &none);
	ck_assert(book_draft_save(s.book, a, draft, &s.why));
	ck_assert(book_draft_load(s.book, b, got, &s.why));
	ck_assert(!got[0].used && !got[1].used);
	/* from the disk, after a crash */
	book_close(s.book);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	ck_assert(book_draft_load(s.book, a, got, &s.why));
	same_draft(&got[0], &draft[0]);
	same_draft(&got[1], &draft[1]);
	/* a draft is no change of the book: nobody's view of it becomes stale */
	shelf_take(&s, b);
	ck_assert_int_eq(s.run.seq, seq);
	/* an unused draft is dropped, the other stays; a new one takes the old one's place */
	draft[0].used = false;
	strcpy(draft[1].remark, "second");
	ck_assert(book_draft_save(s.book, a, draft, &s.why));
	ck_assert(book_draft_load(s.book, a, got, &s.why));
	same_draft(&got[0], &none);
	same_draft(&got[1], &draft[1]);
	/* and it can be saved within a change that is thrown away */
	ck_assert(book_begin(s.book, &s.why));
	draft[1].used = false;
	ck_assert(book_draft_save(s.book, a, draft, &s.why));
	ck_assert(!book_finish(s.book, false, &s.why));
	ck_assert(book_draft_load(s.book, a, got, &s.why));
	ck_assert(got[1].used);
	/* a run that is not there has none to keep */
	ck_assert(book_draft_save(s.book, a, draft, &s.why));
	draft[1].used = true;
	ck_assert(!book_draft_save(s.book, 999, draft, &s.why));
	shelf_close(&s);
}
END_TEST

static struct book *enter(struct shelf *s, size_t *others)
{
	struct book *book = book_open(s->path, shelf_clock, &s->why);
	struct book_editor *list;
	ck_assert_msg(book != NULL, "%s", s->why.text);
	ck_assert_msg(book_editor_enter(book, &list, others, &s->why), "%s", s->why.text);
	if (*others)
		ck_assert_str_eq(list[0].since, "2026-05-04T09:30:00+02:00");
	free(list);
	return book;
}

static void check_draft(struct book *book, int64_t run, const char *reading)
{
	struct book_draft got[2];
	struct fault why = {0};
	ck_assert_msg(book_draft_load(book, run, got, &why), "%s", why.text);
	ck_assert_str_eq(got[0].reading, reading);
}

/* Two editors on one run have a half-typed sight each. One that is left behind goes to whoever
 * opens the run next, and never to an editor that has one of its own. */
START_TEST(test_two_editors)
{
	struct shelf s;
	struct book *first, *second, *third;
	struct book_draft one[2] = {{.used = true, .unit = LEVEL_M, .reading = "1.1"}};
	struct book_draft two[2] = {{.used = true, .unit = LEVEL_M, .reading = "2.2"}};
	struct book_draft none[2] = {{.used = false}};
	size_t others;
	bool waits;
	int64_t run;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_run_add(s.book, "a", LEVEL_OPEN, &run, &s.why));
	first = enter(&s, &others);
	ck_assert_uint_eq(others, 0);
	ck_assert(book_draft_save(first, run, one, &s.why));
	second = enter(&s, &others);
	ck_assert_uint_eq(others, 1);
	check_draft(second, run, "");
	ck_assert(book_draft_save(second, run, two, &s.why));
	check_draft(first, run, "1.1");
	check_draft(second, run, "2.2");
	/* the first is gone without a word to its form */
	ck_assert(book_editor_leave(first, &s.why));
	book_close(first);
	check_draft(second, run, "2.2");
	third = enter(&s, &others);
	ck_assert_uint_eq(others, 1);
	check_draft(third, run, "1.1");
	check_draft(second, run, "2.2");
	ck_assert(book_draft_save(second, run, none, &s.why));
	check_draft(third, run, "1.1");
	ck_assert(book_draft_waits(second, run, &waits, &s.why));
	ck_assert(waits);
	ck_assert(book_draft_save(third, run, none, &s.why));
	ck_assert(book_draft_waits(second, run, &waits, &s.why));
	ck_assert(!waits);
	book_close(second);
	book_close(third);
	shelf_close(&s);
}
END_TEST

/* A form that is saved again is the same row, with all of its texts: neither it nor its place in
 * the index moves, so two pages of the file are written (the first has the number of changes). */
START_TEST(test_saved_again)
{
	struct shelf s;
	struct book_draft got[2];
	struct book_draft draft[2] = {
	    {.used = true,
	     .focus = 3,
	     .kind = "FS",
	     .station = "TP1",
	     .reading = "1.",
	     .again = true},
	    {.used = true, .at = 7, .inserts = true, .wires = true, .upper = "4.31"}};
	int64_t first = 0, again = 0, rows = 0;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	ck_assert(sql_integer(s.book, "SELECT rowid FROM draft WHERE slot=0", &first, &s.why));
	draft[0] = (struct book_draft){.used = true,
	                               .focus = 5,
	                               .kind = "IS",
	                               .station = "TP2",
	                               .reading = "1.432",
	                               .distance = "30",
	                               .remark = "wet"};
	draft[1].at = 8;
	draft[1].inserts = draft[1].wires = false;
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	ck_assert(book_draft_load(s.book, s.run.info.id, got, &s.why));
	same_draft(&got[0], &draft[0]);
	same_draft(&got[1], &draft[1]);
	ck_assert(!got[0].again);
	ck_assert(sql_integer(s.book, "SELECT rowid FROM draft WHERE slot=0", &again, &s.why));
	ck_assert_int_eq(again, first);
	ck_assert(sql_integer(s.book, "SELECT count(*) FROM draft", &rows, &s.why));
	ck_assert_int_eq(rows, 2);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("draft", test_save_load, test_two_editors, test_saved_again);
}
