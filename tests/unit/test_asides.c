/* Marks that do not hold in a run, and what a closed run keeps of its marks. */
#include <string.h>

#include "rodbook/book/aside.h"
#include "rodbook/book/closings.h"
#include "rodbook/csv/csv.h"
#include "rodbook/book/journal.h"
#include "unit/books.h"
#include "unit/suite.h"

/* A loop that finds M 1 m from where it should be. */
static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "10", "0.001", "", &s->why));
	ck_assert(book_mark_set(s->book, "M", "12", "", "", &s->why));
	shelf_begin(s, "a", LEVEL_LOOP);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "2", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "M", "1", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_BS, "M", "1", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "A", "2", "40", ""));
	shelf_take(s, s->run.info.id);
}

static bool set(struct shelf *s, const char *mark, bool aside, const char *reason)
{
	if (!book_aside_set(s->book, &s->run, mark, aside, reason, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

START_TEST(test_set_aside)
{
	struct shelf s;
	struct book_aside *list;
	struct book_verified verified = {0};
	size_t count;
	make(&s);
	ck_assert(!book_run_close(s.book, &s.run, "", &s.why));
	FAULT(&s, FAULT_INPUT, "M does not hold");
	ck_assert(!set(&s, "M", true, ""));
	FAULT(&s, FAULT_INPUT, "for a reason");
	ck_assert(!set(&s, "Q", true, "moved"));
	FAULT(&s, FAULT_INPUT, "meets no mark Q");
	ck_assert(!set(&s, "A", true, "moved"));
	FAULT(&s, FAULT_INPUT, "start of run");
	ck_assert(!set(&s, "M", false, ""));
	FAULT(&s, FAULT_INPUT, "not set aside");
	ck_assert(set(&s, "M", true, "it has settled"));
	ck_assert(s.run.run.sight[1].aside && s.run.run.sight[2].aside);
	ck_assert(!s.run.run.sight[0].aside);
	ck_assert(!set(&s, "M", true, "again"));
	FAULT(&s, FAULT_INPUT, "set aside in run a already");
	ck_assert(set(&s, "M", false, "no, it has not"));
	ck_assert(!book_run_close(s.book, &s.run, "", &s.why));
	ck_assert(set(&s, "M", true, "it has"));
	ck_assert(book_run_close(s.book, &s.run, "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(!set(&s, "M", false, ""));
	FAULT(&s, FAULT_INPUT, "is closed");
	ck_assert(book_asides(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_uint_eq(count, 3);
	ck_assert_str_eq(list[1].why, "no, it has not");
	ck_assert(!list[1].aside && list[2].aside);
	free(list);
	ck_assert(book_verify(s.book, 0, &verified, &s.why));
	ck_assert_str_eq(verified.difference, "");
	shelf_close(&s);
}
END_TEST

/* The known elevations that a run was closed with are its own: another one, a struck mark and a new
 * one change nothing in it, and are told. */
START_TEST(test_closed_keeps_its_marks)
{
	struct shelf s;
	make(&s);
	ck_assert(set(&s, "M", true, "it has settled"));
	ck_assert(book_run_close(s.book, &s.run, "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.moved_count, 0);
	ck_assert(book_mark_set(s.book, "A", "10.25", "", "", &s.why));
	ck_assert(book_mark_strike(s.book, "M", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(s.run.run.sight[0].has_known && s.run.run.sight[1].has_known);
	ck_assert_int_eq(s.run.run.sight[0].known, 10 * LEVEL_NM_PER_M);
	ck_assert_int_eq(s.run.run.sight[0].known_u, 1000000);
	ck_assert_int_eq(s.run.run.sight[2].known, 12 * LEVEL_NM_PER_M);
	ck_assert_uint_eq(s.run.moved_count, 2);
	ck_assert_str_eq(s.run.moved[0].mark, "A");
	ck_assert(s.run.moved[0].has_then && s.run.moved[0].has_now);
	ck_assert_int_eq(s.run.moved[0].then, 10 * LEVEL_NM_PER_M);
	ck_assert_int_eq(s.run.moved[0].now, 10250000000);
	ck_assert_str_eq(s.run.moved[1].mark, "M");
	ck_assert(!s.run.moved[1].has_now);
	/* opened again it goes by the marks as they are */
	ck_assert(book_run_reopen(s.book, s.run.info.id, "look again", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_int_eq(s.run.run.sight[0].known, 10250000000);
	ck_assert(!s.run.run.sight[1].has_known);
	ck_assert_uint_eq(s.run.moved_count, 0);
	shelf_close(&s);
}
END_TEST

/* A mark that becomes known later was not known when the run was closed. */
START_TEST(test_known_later)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "2", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1", "40", ""));
	ck_assert(book_run_close(s.book, &s.run, "", &s.why));
	ck_assert(book_mark_set(s.book, "A", "10", "", "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(!s.run.run.sight[0].has_known);
	ck_assert_uint_eq(s.run.moved_count, 1);
	ck_assert(!s.run.moved[0].has_then);
	shelf_close(&s);
}
END_TEST

/* A mark given anew after the seal moves the drop of a crossing: that is noted, open or closed. */
START_TEST(test_moved_since_the_seal)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "", "", &s.why));
	ck_assert(book_mark_set(s.book, "Q", "1", "", "", &s.why));
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "20", ""));
	/* before the seal a mark may be given as often as one likes */
	ck_assert(book_mark_set(s.book, "A", "10.1", "", "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.6", "800", ""));
	ck_assert_uint_eq(s.run.moved_count, 0);
	/* one that this run does not meet, and one given anew with the same figure */
	ck_assert(book_mark_set(s.book, "Q", "2", "", "", &s.why));
	ck_assert(book_mark_set(s.book, "A", "10.100", "", "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.moved_count, 0);
	ck_assert(book_mark_set(s.book, "A", "10.25", "", "", &s.why));
	ck_assert(book_mark_set(s.book, "B", "10", "", "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.moved_count, 2);
	ck_assert_str_eq(s.run.moved[0].mark, "A");
	ck_assert(s.run.moved[0].at_seal && s.run.moved[0].has_then && s.run.moved[0].has_now);
	ck_assert_int_eq(s.run.moved[0].then, 10100000000);
	ck_assert_int_eq(s.run.moved[0].now, 10250000000);
	ck_assert_str_eq(s.run.moved[1].mark, "B");
	ck_assert(s.run.moved[1].at_seal && !s.run.moved[1].has_then);
	/* it is reckoned with the marks as they are */
	ck_assert_int_eq(s.run.run.sight[0].known, 10250000000);
	ck_assert(book_mark_set(s.book, "A", "10.1", "", "", &s.why));
	ck_assert(book_mark_strike(s.book, "B", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.moved_count, 0);
	shelf_close(&s);
}
END_TEST

/* A loop without distances is closed for a reason, which its closing keeps. */
START_TEST(test_closed_for_a_reason)
{
	struct shelf s;
	struct book_closing *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "", "", &s.why));
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "2", "", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1", "", ""));
	ck_assert(shelf_sight(&s, LEVEL_BS, "B", "1", "", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "A", "2.001", "", ""));
	ck_assert(!book_run_close(s.book, &s.run, "", &s.why));
	ck_assert_str_eq(s.why.field, "reason");
	ck_assert(book_run_close(s.book, &s.run, "garden wall, paced", &s.why));
	ck_assert(book_closings(s.book, s.run.info.id, &list, &count, &s.why));
	ck_assert_str_eq(list[0].why, "garden wall, paced");
	free(list);
	shelf_close(&s);
}
END_TEST

START_TEST(test_turn)
{
	struct shelf s;
	make(&s);
	ck_assert(book_run_set_turn(s.book, s.run.info.id, "M", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_str_eq(s.run.run.turn, "M");
	ck_assert(book_run_set_turn(s.book, s.run.info.id, "", &s.why));
	shelf_begin(&s, "b", LEVEL_LINK);
	ck_assert(!book_run_set_turn(s.book, s.run.info.id, "M", &s.why));
	FAULT(&s, FAULT_INPUT, "only a loop");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("asides", test_set_aside, test_closed_keeps_its_marks, test_known_later,
	                 test_moved_since_the_seal, test_closed_for_a_reason, test_turn);
}
