/* A closed run stays as it is, whoever asks, until it is opened again for a reason. */
#include "books.h"
#include "rodbook/book/closings.h"
#include "suite.h"

static bool close_it(struct shelf *s)
{
	if (!book_run_close(s->book, &s->run, "", &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

/* An open run of one setup, with water and air. */
static void make(struct shelf *s)
{
	struct book_air air = {.sky = "overcast"};
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(s, LEVEL_FS, "B", "2"));
	ck_assert(book_water_add(s->book, s->run.info.id, "A", "0.4", "", "", &s->why));
	ck_assert(book_air_add(s->book, s->run.info.id, &air, &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(!s->run.info.closed);
}

START_TEST(test_closed_stays)
{
	struct shelf s;
	struct book_air air = {.sky = "calm"};
	char what[160];
	int64_t run;
	make(&s);
	run = s.run.info.id;
	ck_assert(close_it(&s));
	ck_assert(s.run.info.closed);
	ck_assert_int_eq(s.run.info.reopened, 0);
#define REFUSED(call)                                                                              \
	do {                                                                                       \
		ck_assert(!(call));                                                                \
		FAULT(&s, FAULT_INPUT, "run a is closed: reopen it first, with a reason");         \
		s.why = (struct fault){0};                                                         \
	} while (0)
	REFUSED(shelf_book(&s, LEVEL_BS, "B", "1"));
	REFUSED(shelf_insert(&s, 1, LEVEL_IS, "P", "1"));
	REFUSED(shelf_change(&s, 1, LEVEL_FS, "B", "2.1"));
	REFUSED(shelf_strike(&s, 1));
	REFUSED(book_strike(s.book, &s.run, 0, true, "", &s.why));
	REFUSED(book_undo(s.book, &s.run, what, &s.why));
	REFUSED(book_redo(s.book, &s.run, what, &s.why));
	REFUSED(book_run_rename(s.book, run, "b", &s.why));
	REFUSED(book_run_set_kind(s.book, run, LEVEL_LOOP, &s.why));
	REFUSED(book_run_set_plan(s.book, run, "", &s.why));
	REFUSED(book_water_add(s.book, run, "A", "0.4", "", "", &s.why));
	REFUSED(book_water_strike(s.book, run, 1, "waves", &s.why));
	REFUSED(book_air_add(s.book, run, &air, &s.why));
	REFUSED(book_air_strike(s.book, run, 1, "sun", &s.why));
	REFUSED(book_amend(s.book, &s.run, "k", "0.2", "looked again", &s.why));
	REFUSED(close_it(&s));
	/* what belongs to the book, or to another run, may change */
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	shelf_begin(&s, "b", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	shelf_close(&s);
}
END_TEST

START_TEST(test_reopened)
{
	struct shelf s;
	struct book_closing *list;
	size_t count;
	char what[160];
	make(&s);
	ck_assert(!book_run_reopen(s.book, s.run.info.id, "why not", &s.why));
	FAULT(&s, FAULT_INPUT, "run a is not closed");
	ck_assert(close_it(&s));
	ck_assert(!book_run_reopen(s.book, s.run.info.id, "", &s.why));
	FAULT(&s, FAULT_INPUT, "for a reason: say why");
	ck_assert(!book_run_reopen(s.book, s.run.info.id, "a\nb", &s.why));
	ck_assert(!book_run_reopen(s.book, 99, "none", &s.why));
	ck_assert(book_run_reopen(s.book, s.run.info.id, "the rod stood on a stone", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(!s.run.info.closed);
	ck_assert_int_eq(s.run.info.reopened, 1);
	/* undo takes back what was done before the closing, and neither closes nor opens anything
	 */
	ck_assert(book_undo(s.book, &s.run, what, &s.why));
	ck_assert_str_eq(what, "taken back: air");
	shelf_take(&s, s.run.info.id);
	ck_assert(!s.run.info.closed);
	ck_assert(close_it(&s));
	ck_assert(book_closings(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert(list[0].closed && !list[1].closed && list[2].closed);
	ck_assert_str_eq(list[0].why, "");
	ck_assert_str_eq(list[1].why, "the rod stood on a stone");
	ck_assert_str_eq(list[1].time, "2026-05-04T09:30:00+02:00");
	free(list);
	shelf_close(&s);
}
END_TEST

/* A change of the run since it was loaded, and a sight half typed, keep it open. */
START_TEST(test_not_now)
{
	struct shelf s;
	struct book_draft draft[2] = {{.used = true, .kind = "BS", .station = "B"}};
	bool waits;
	make(&s);
	ck_assert(book_run_rename(s.book, s.run.info.id, "c", &s.why));
	ck_assert(!book_run_close(s.book, &s.run, "", &s.why));
	FAULT(&s, FAULT_STALE, "changed by another program");
	shelf_take(&s, s.run.info.id);
	strcpy(draft[0].reading, "1.4");
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	ck_assert(!close_it(&s));
	FAULT(&s, FAULT_INPUT, "a half-typed sight waits");
	/* what was only proposed, or chosen for the next sight, is none */
	draft[0].reading[0] = '\0';
	strcpy(draft[0].rod, "long");
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	ck_assert(book_draft_waits(s.book, s.run.info.id, &waits, &s.why));
	ck_assert(!waits);
	ck_assert(close_it(&s));
	shelf_close(&s);
}
END_TEST

/* A crossing whose long sight was booked is sealed by it, and may be closed over any drop. */
START_TEST(test_crossing)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "5", ""));
	ck_assert(!close_it(&s));
	FAULT(&s, FAULT_INPUT, "its last setup has no FS");
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.9", "800", ""));
	ck_assert(close_it(&s));
	shelf_close(&s);
}
END_TEST

/* Begun by mistake: set aside for a reason, and nothing is booked in it then. */
START_TEST(test_empty)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert(!close_it(&s));
	FAULT(&s, FAULT_INPUT, "closed only to set it aside");
	ck_assert_str_eq(s.why.field, "reason");
	ck_assert(book_run_close(s.book, &s.run, "begun by mistake", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(s.run.info.closed);
	ck_assert(!shelf_book(&s, LEVEL_BS, "A", "1"));
	FAULT(&s, FAULT_INPUT, "is closed: reopen it first");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("closings", test_empty, test_closed_stays, test_reopened, test_not_now,
	                 test_crossing);
}
