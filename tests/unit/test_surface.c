/* A crossing that starts and ends on the water itself: each end stands 0 above it, read once. The u
 * of such a reading is a tape's, 1 mm, its bound twice that (common practice, no source), beside
 * the floor of 2 mm that each end has. */
#include <math.h>

#include "rodbook/book/journal.h"
#include "rodbook/work/leave.h"
#include "rodbook/work/run.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static void sight(struct shelf *s, const char *kind, const char *station, const char *reading,
                  const char *distance)
{
	struct work_typed typed = {.text[WORK_SIGHT] = kind,
	                           .text[WORK_STATION] = station,
	                           .text[WORK_READING] = reading,
	                           .text[WORK_DISTANCE] = distance};
	struct work_booked booked;
	ck_assert_msg(work_book_sight(s->book, "lake", &typed, &booked, &s->why), "%s",
	              s->why.text);
}

START_TEST(test_surface)
{
	struct shelf s;
	struct work_run run;
	struct work_leave leave;
	struct book_verified verified;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "lake", LEVEL_CROSSING);
	ck_assert(book_mark_set(s.book, "E", "0", NULL, "the lake", &s.why));
	ck_assert(book_mark_set(s.book, "W", "0", NULL, "the lake", &s.why));
	ck_assert(!book_mark_surface(s.book, "N", true, &s.why));
	ck_assert_str_eq(s.why.field, "mark");
	ck_assert(book_mark_surface(s.book, "E", true, &s.why));
	ck_assert(book_mark_surface(s.book, "W", true, &s.why));
	sight(&s, "BS", "E", "1.500", "6");
	sight(&s, "FS", "TP1", "1.200", "6");
	sight(&s, "BS", "TP1", "1.300", "5");
	sight(&s, "FS", "W", "1.660", "800");
	ck_assert(work_run_load(s.book, "lake", NULL, &run, &s.why));
	ck_assert(run.closing.by_water && !run.closing.water_missing);
	/* 1.500 - 1.200 + 1.300 - 1.660 */
	ck_assert_double_eq_tol(run.closing.observed, 0.06, 1e-9);
	ck_assert_double_eq_tol(run.closing.ends.mean[0].u, 0.001, 1e-12);
	ck_assert_double_eq_tol(run.closing.ends.mean[1].bound, 0.002, 1e-12);
	ck_assert_double_eq_tol(run.closing.allowance.bound[LEVEL_LINE_WATER], 0.008, 1e-12);
	work_run_free(&run);
	/* nobody is told to read the water that the rod stands on */
	ck_assert(work_leave(s.book, NULL, 0, &leave, &s.why));
	for (size_t i = 0; i < leave.count; i++)
		ck_assert(leave.item[i].code != WORK_NO_WATER &&
		          leave.item[i].code != WORK_WATER_ONE_END);
	work_leave_free(&leave);
	/* what is read all the same goes before */
	ck_assert(book_water_add(s.book, 1, "W", "0.002", "", "", &s.why));
	ck_assert(work_run_load(s.book, "lake", NULL, &run, &s.why));
	ck_assert_double_eq_tol(run.closing.observed, 0.062, 1e-9);
	work_run_free(&run);
	/* another elevation keeps that it is one */
	ck_assert(book_mark_set(s.book, "W", "0.1", NULL, "the lake", &s.why));
	shelf_take(&s, 1);
	ck_assert(s.run.run.sight[3].surface);
	ck_assert(book_mark_surface(s.book, "E", false, &s.why));
	ck_assert(work_run_load(s.book, "lake", NULL, &run, &s.why));
	ck_assert(run.closing.water_missing);
	work_run_free(&run);
	ck_assert(book_verify(s.book, 0, &verified, &s.why));
	ck_assert_str_eq(verified.difference, "");
	shelf_close(&s);
}
END_TEST

/* Reading in one state within a change neither fails nor takes the change back. */
START_TEST(test_hold_within_a_change)
{
	struct shelf s;
	struct book_mark *marks;
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_mark_set(s.book, "E", "0", NULL, "the lake", &s.why));
	ck_assert(book_hold(s.book, &s.why));
	book_release(s.book);
	ck_assert(book_mark_set(s.book, "W", "0", NULL, "the lake", &s.why));
	ck_assert(book_finish(s.book, true, &s.why));
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	free(marks);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("surface", test_surface, test_hold_within_a_change);
}
