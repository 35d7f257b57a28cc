/* The same long sight at another hour is a crossing of its own, proposed after the one before. */
#include "rodbook/work/repeat.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static void sight(struct shelf *s, const char *run, const char *kind, const char *station,
                  const char *reading, const char *distance, const char *method)
{
	struct work_typed typed = {.text[WORK_SIGHT] = kind,
	                           .text[WORK_STATION] = station,
	                           .text[WORK_READING] = reading,
	                           .text[WORK_METHOD] = method,
	                           .text[WORK_DISTANCE] = distance};
	struct work_booked booked;
	ck_assert_msg(work_book_sight(s->book, run, &typed, &booked, &s->why), "%s", s->why.text);
}

START_TEST(test_repeat)
{
	const struct level_style style = level_style_default(LEVEL_M);
	struct shelf s;
	struct book_run_info info;
	struct book_draft draft[2], far;
	struct book_plan plan;
	struct book_figures figures = {0};
	bool found;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	ck_assert(book_figure_put(&figures, "distance", "800 m", &s.why));
	ck_assert_msg(book_plan_set(s.book, "far", &figures, &s.why), "%s", s.why.text);
	ck_assert(book_run_set_plan(s.book, 1, "far", &s.why));
	ck_assert(!work_repeat(s.book, "over", "", &info, &s.why));
	FAULT(&s, FAULT_INPUT, "no long sight to repeat");
	sight(&s, "over", "BS", "E", "1.500", "6 m", "tape");
	sight(&s, "over", "FS", "W", "1.560", "800", "target");
	ck_assert_msg(work_repeat(s.book, "over", "", &info, &s.why), "%s", s.why.text);
	ck_assert_str_eq(info.name, "over-2");
	ck_assert_int_eq(info.kind, LEVEL_CROSSING);
	ck_assert_str_eq(info.plan, "far");
	ck_assert_uint_eq(info.sights, 0);
	ck_assert(book_plan_find(s.book, "far", &plan, &s.why));
	ck_assert(book_draft_load(s.book, info.id, draft, &s.why));
	ck_assert(draft[0].used);
	ck_assert_str_eq(draft[0].kind, "BS");
	ck_assert_str_eq(draft[0].station, "E");
	ck_assert_str_eq(draft[0].method, "tape");
	ck_assert_str_eq(draft[0].distance, "6 m");
	/* a reading is never proposed */
	ck_assert_str_eq(draft[0].reading, "");
	ck_assert_int_eq(draft[0].focus, WORK_STATION);
	ck_assert(work_repeat(s.book, "over", "", &info, &s.why));
	ck_assert_str_eq(info.name, "over-3");
	ck_assert(work_repeat(s.book, "over", "at six", &info, &s.why));
	ck_assert_str_eq(info.name, "at six");
	ck_assert(!work_repeat(s.book, "over", "at six", &info, &s.why));
	ck_assert(!work_repeat(s.book, "nowhere", "", &info, &s.why));
	/* the far sight too, once the near one is booked, and not before or after */
	shelf_take(&s, 2);
	ck_assert(work_far_sight(s.book, &s.run, &style, &far, &found, &s.why));
	ck_assert(!found);
	sight(&s, "over-2", "BS", "E", "1.502", "6", "tape");
	shelf_take(&s, 2);
	ck_assert(work_far_sight(s.book, &s.run, &style, &far, &found, &s.why));
	ck_assert(found);
	ck_assert_str_eq(far.kind, "FS");
	ck_assert_str_eq(far.station, "W");
	ck_assert_str_eq(far.method, "target");
	ck_assert_str_eq(far.distance, "800");
	ck_assert_str_eq(far.reading, "");
	sight(&s, "over-2", "FS", "W", "1.561", "800", "target");
	shelf_take(&s, 2);
	ck_assert(work_far_sight(s.book, &s.run, &style, &far, &found, &s.why));
	ck_assert(!found);
	/* its own number goes up, where it is one */
	ck_assert(work_repeat(s.book, "over-2", "", &info, &s.why));
	ck_assert_str_eq(info.name, "over-4");
	sight(&s, "at six", "BS", "E", "1.502", "6", "tape");
	sight(&s, "at six", "FS", "W", "1.561", "800", "target");
	ck_assert(book_run_rename(s.book, info.id - 1, "a name of forty characters, as long as-5",
	                          &s.why));
	ck_assert_msg(
	    work_repeat(s.book, "a name of forty characters, as long as-5", "", &info, &s.why),
	    "%s", s.why.text);
	ck_assert_str_eq(info.name, "a name of forty characters, as long -2");
	/* from the other shore it is sighted back */
	shelf_begin(&s, "back", LEVEL_CROSSING);
	sight(&s, "back", "BS", "W", "1.5", "6", "tape");
	shelf_take(&s, s.run.info.id);
	ck_assert(work_far_sight(s.book, &s.run, &style, &far, &found, &s.why));
	ck_assert(found);
	ck_assert_str_eq(far.station, "E");
	ck_assert_str_eq(far.method, "target");
	ck_assert_str_eq(far.distance, "800");
	/* a crossing from another mark has none */
	shelf_begin(&s, "bay", LEVEL_CROSSING);
	sight(&s, "bay", "BS", "N", "1.5", "6", "tape");
	shelf_take(&s, s.run.info.id);
	ck_assert(work_far_sight(s.book, &s.run, &style, &far, &found, &s.why));
	ck_assert(!found);
	shelf_begin(&s, "ring", LEVEL_LOOP);
	ck_assert(!work_repeat(s.book, "ring", "", &info, &s.why));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("repeat", test_repeat);
}
