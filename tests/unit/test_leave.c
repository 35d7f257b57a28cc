/* What is still open before leaving, thing by thing: made to appear, and not to. Limits are those
 * of third order (FGCC 1984, recalled): 12 mm per root of kilometers, 10 m between BS and FS
 * distances of a setup and of the run, tilt 0.10 mm/m. What has no source beside it is common
 * practice, no source. Ranks are those of the manual. */
#include "fault/forge.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/crossing.h"
#include "unit/leaving.h"

START_TEST(test_line)
{
	struct shelf s;
	struct work_leave_item got;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	OPEN(WORK_NOTHING_BOOKED);
	WEIGHS(1, false);
	ck_assert_str_eq(got.run, "a");
	NOT_OPEN(WORK_RUN_NOT_CLOSED);
	BS("A", "1.5", "40");
	NOT_OPEN(WORK_NOTHING_BOOKED);
	OPEN(WORK_SETUP_OPEN);
	WEIGHS(1, true);
	ck_assert_int_eq(got.setup, 1);
	ck_assert_str_eq(got.station, "A");
	OPEN(WORK_RUN_NOT_CLOSED);
	WEIGHS(12, false);
	ck_assert(!got.ready);
	FS("B", "1.5", "40");
	NOT_OPEN(WORK_SETUP_OPEN);
	OPEN(WORK_NOT_BACK);
	WEIGHS(1, true);
	ck_assert_str_eq(got.station, "B");
	ck_assert_str_eq(got.other, "A");
	BS("B", "1.5", "40");
	NOT_OPEN(WORK_NOT_BACK);
	OPEN(WORK_SETUP_OPEN);
	ck_assert_int_eq(got.setup, 2);
	FS("C", "1.5", "40");
	BS("C", "1.5", "40");
	FS("A", "1.5", "40");
	NOT_OPEN(WORK_NOT_BACK);
	NOT_OPEN(WORK_LINE_GAP);
	OPEN(WORK_RUN_NOT_CLOSED);
	ck_assert(got.ready);
	ck_assert(book_strike(s.book, &s.run, 2, true, "", &s.why));
	OPEN(WORK_LINE_GAP);
	WEIGHS(3, true);
	NOT_OPEN(WORK_NOT_BACK);
	shelf_close(&s);
}
END_TEST

/* A loop of two setups that misses by 1.5 + 1.5 - 1.5 - last. */
static void loop(struct shelf *to, const char *last, const char *distance)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	BS("A", "1.5", distance);
	FS("B", "1.5", distance);
	BS("B", "1.5", distance);
	FS("A", last, distance);
	*to = s;
}

/* 12 mm sqrt 0.16 = 4.8 mm: 4 mm stand, 5 mm do not. Equal sights take nothing off. */
START_TEST(test_misclosure)
{
	struct shelf s;
	struct work_leave_item got;
	loop(&s, "1.504", "40");
	NOT_OPEN(WORK_OVER_ALLOWABLE);
	NOT_OPEN(WORK_NOT_JUDGED);
	NOT_OPEN(WORK_OPEN_RUN);
	shelf_close(&s);
	loop(&s, "1.505", "40");
	OPEN(WORK_OVER_ALLOWABLE);
	WEIGHS(2, true);
	ck_assert_int_eq(got.figure, -MM(5));
	ck_assert_int_eq(got.limit, 4800000);
	ck_assert(got.corrected);
	shelf_close(&s);
	loop(&s, "1.505", "");
	NOT_OPEN(WORK_OVER_ALLOWABLE);
	OPEN(WORK_NOT_JUDGED);
	WEIGHS(4, false);
	ck_assert_int_eq(got.figure, -MM(5));
	/* 10 mm sqrt 2, common practice, no source */
	ck_assert_int_eq(got.limit, 14142136);
	ck_assert_uint_eq(got.count, 4);
	/* 0.003 ft sqrt 2 = 1.3 mm (USGS Techniques and Methods 3-A19) */
	ck_assert(book_set(s.book, "tolerance", "stream-gauge", &s.why));
	NOT_OPEN(WORK_NOT_JUDGED);
	OPEN(WORK_OVER_ALLOWABLE);
	ck_assert(!got.corrected);
	shelf_close(&s);
	/* 15 mm are more than the same 14.1 mm: that blocks, though no distance is known. */
	loop(&s, "1.515", "");
	NOT_OPEN(WORK_NOT_JUDGED);
	OPEN(WORK_OVER_ALLOWABLE);
	WEIGHS(2, true);
	ck_assert_int_eq(got.figure, -MM(15));
	ck_assert_int_eq(got.limit, 14142136);
	ck_assert_uint_eq(got.count, 4);
	shelf_close(&s);
}
END_TEST

START_TEST(test_nothing_to_close_on)
{
	struct shelf s;
	struct work_leave_item got;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	BS("A", "1.5", "40");
	NOT_OPEN(WORK_OPEN_RUN);
	FS("B", "1.5", "40");
	OPEN(WORK_OPEN_RUN);
	WEIGHS(4, false);
	NOT_OPEN(WORK_END_UNKNOWN);
	ck_assert(book_run_set_kind(s.book, s.run.info.id, LEVEL_LINK, &s.why));
	NOT_OPEN(WORK_OPEN_RUN);
	mark(&s, "B", "10", "a bolt");
	OPEN(WORK_END_UNKNOWN);
	WEIGHS(4, false);
	ck_assert_str_eq(got.station, "A");
	ck_assert(book_mark_strike(s.book, "B", &s.why));
	mark(&s, "A", "10", "a bolt");
	OPEN(WORK_END_UNKNOWN);
	ck_assert_str_eq(got.station, "B");
	mark(&s, "B", "10", "a bolt");
	NOT_OPEN(WORK_END_UNKNOWN);
	shelf_close(&s);
}
END_TEST

/* Two setups with FS distances given, BS distances 40 m. */
static void unequal(struct shelf *to, enum level_run_kind kind, const char *first,
                    const char *second)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", kind);
	BS("A", "1.5", "40");
	FS("B", "1.5", first);
	BS("B", "1.5", "40");
	FS("A", "1.5", second);
	*to = s;
}

START_TEST(test_imbalance)
{
	struct shelf s;
	struct work_leave_item got;
	unequal(&s, LEVEL_LOOP, "30", "40");
	NOT_OPEN(WORK_SETUP_UNEQUAL);
	NOT_OPEN(WORK_RUN_UNEQUAL);
	shelf_close(&s);
	/* one longer, one shorter: 11 m each, and nothing over the run */
	unequal(&s, LEVEL_LOOP, "51", "29");
	OPEN(WORK_SETUP_UNEQUAL);
	WEIGHS(5, false);
	ck_assert_int_eq(got.figure, METRES(11));
	ck_assert_int_eq(got.limit, METRES(10));
	NOT_OPEN(WORK_RUN_UNEQUAL);
	ck_assert(book_set(s.book, "tolerance", "construction", &s.why));
	NOT_OPEN(WORK_SETUP_UNEQUAL);
	shelf_close(&s);
	/* 6 m each, 12 m over the run */
	unequal(&s, LEVEL_LOOP, "46", "46");
	NOT_OPEN(WORK_SETUP_UNEQUAL);
	OPEN(WORK_RUN_UNEQUAL);
	WEIGHS(5, false);
	ck_assert_int_eq(got.figure, METRES(12));
	ck_assert_int_eq(got.limit, METRES(10));
	ck_assert(book_set(s.book, "tolerance", "construction", &s.why));
	NOT_OPEN(WORK_RUN_UNEQUAL);
	shelf_close(&s);
	unequal(&s, LEVEL_LOOP, "46", "");
	NOT_OPEN(WORK_RUN_UNEQUAL);
	shelf_close(&s);
	/* a crossing is unequal on purpose */
	unequal(&s, LEVEL_CROSSING, "60", "60");
	NOT_OPEN(WORK_SETUP_UNEQUAL);
	NOT_OPEN(WORK_RUN_UNEQUAL);
	shelf_close(&s);
}
END_TEST

/* A peg test of L1: midway nothing, and 60 m farther so much. */
static void peg(struct shelf *s, const char *far)
{
	struct book_pegtest test = {.instrument = "L1", .dk = "0"};
	struct level_peg_result result;
	snprintf(test.standings, sizeof test.standings, "30,1.000,30,1.000; 2,1.000,62,%s", far);
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
}

static char other_time[BOOK_TIME_BYTES];

static void other_clock(char out[BOOK_TIME_BYTES])
{
	strcpy(out, other_time);
}

/* One setup read with an instrument at a time; peg tests of the book are of 2026-05-04. */
static void read_with(struct shelf *to, const char *instrument, const char *time)
{
	struct book_instrument level = {.name = "L1", .tolerance = "0.1 mm/m"};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(s.book, &level, &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	if (*time)
		shelf_reopen(&s, other_clock);
	snprintf(other_time, sizeof other_time, "%s", time);
	BS("A", "1.5", "40", .instrument = instrument);
	FS("B", "1.5", "40", .instrument = instrument);
	shelf_reopen(&s, shelf_clock);
	*to = s;
}

START_TEST(test_instrument)
{
	struct shelf s;
	struct work_leave_item got;
	read_with(&s, "", "");
	OPEN(WORK_LEVEL_UNNAMED);
	WEIGHS(6, false);
	NOT_OPEN(WORK_LEVEL_UNTESTED);
	shelf_close(&s);
	read_with(&s, "L1", "");
	NOT_OPEN(WORK_LEVEL_UNNAMED);
	OPEN(WORK_LEVEL_UNTESTED);
	WEIGHS(6, false);
	ck_assert_int_eq(got.tested.state, WORK_NO_TEST);
	ck_assert_str_eq(got.tested.instrument, "L1");
	peg(&s, "1.000");
	NOT_OPEN(WORK_LEVEL_UNTESTED);
	shelf_close(&s);
	/* 12 mm over 60 m: 0.2 mm/m */
	read_with(&s, "L1", "");
	peg(&s, "1.012");
	OPEN(WORK_LEVEL_UNTESTED);
	ck_assert_int_eq(got.tested.state, WORK_TEST_FAILED);
	shelf_close(&s);
	/* a test is good for a day */
	read_with(&s, "L1", "2026-05-05T08:00:00+02:00");
	peg(&s, "1.000");
	NOT_OPEN(WORK_LEVEL_UNTESTED);
	shelf_close(&s);
	read_with(&s, "L1", "2026-05-06T08:00:00+02:00");
	peg(&s, "1.000");
	OPEN(WORK_LEVEL_UNTESTED);
	ck_assert_int_eq(got.tested.state, WORK_TEST_OLD);
	ck_assert_int_eq(got.tested.days, 2);
	shelf_close(&s);
}
END_TEST

START_TEST(test_mark)
{
	struct shelf s;
	struct work_leave_item got;
	shelf_open(&s, LEVEL_M);
	mark(&s, "A", "10", "");
	mark(&s, "FAR", "20", "");
	NOT_OPEN(WORK_MARK_UNSAID);
	for (int i = 0; i < 2; i++) {
		shelf_begin(&s, i ? "b" : "a", LEVEL_LOOP);
		BS("A", "1.5", "40");
		FS("A", "1.5", "40");
	}
	OPEN(WORK_MARK_UNSAID);
	WEIGHS(8, false);
	ck_assert_str_eq(got.station, "A");
	ck_assert_str_eq(got.run, "a");
	mark(&s, "A", "10", "a bolt in the quay");
	NOT_OPEN(WORK_MARK_UNSAID);
	shelf_close(&s);
}
END_TEST

START_TEST(test_draft)
{
	struct shelf s;
	struct work_leave_item got;
	struct book_draft draft[2] = {{.used = true, .kind = "BS", .method = "rod"}};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	NOT_OPEN(WORK_DRAFT_WAITS);
	put(draft[0].reading, "1.5");
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	OPEN(WORK_DRAFT_WAITS);
	WEIGHS(9, true);
	shelf_close(&s);
}
END_TEST

START_TEST(test_booked_against)
{
	struct shelf s;
	struct work_leave_item got;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	BS("A", "1.5", "40");
	FS("B", "1.5", "95", .against = "long sight");
	BS("B", "1.5", "96", .against = "longer sight");
	OPEN(WORK_BOOKED_AGAINST);
	WEIGHS(10, false);
	ck_assert_uint_eq(got.count, 2);
	ck_assert_int_eq(got.sight, LEVEL_FS);
	ck_assert_str_eq(got.station, "B");
	ck_assert_str_eq(got.text, "long sight");
	ck_assert(shelf_strike(&s, 2));
	OPEN(WORK_BOOKED_AGAINST);
	ck_assert_uint_eq(got.count, 1);
	ck_assert(shelf_strike(&s, 1));
	NOT_OPEN(WORK_BOOKED_AGAINST);
	shelf_close(&s);
}
END_TEST

/* Rods exchanged from setup to setup: over an even number what each reads too high at its zero
 * cancels. */
START_TEST(test_rods)
{
	struct shelf s;
	struct work_leave_item got;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R1", .zero = "0"}, &s.why));
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R2", .zero = "0"}, &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	BS("A", "1.5", "", .rod = "R1");
	FS("B", "1.5", "", .rod = "R2");
	OPEN(WORK_RODS_ODD);
	WEIGHS(11, false);
	BS("B", "1.5", "", .rod = "R2");
	FS("C", "1.5", "", .rod = "R1");
	NOT_OPEN(WORK_RODS_ODD);
	shelf_begin(&s, "b", LEVEL_OPEN);
	BS("A", "1.5", "", .rod = "R1");
	FS("B", "1.5", "", .rod = "R1");
	NOT_OPEN(WORK_RODS_ODD);
	shelf_close(&s);
}
END_TEST

/* Of a closed run only what blocks. 2 sights of 40 m: 12 mm sqrt 0.08 = 3.4 mm. */
START_TEST(test_closed)
{
	struct shelf s;
	struct work_leave list;
	shelf_open(&s, LEVEL_M);
	mark(&s, "A", "10", "");
	mark(&s, "B", "10", "");
	shelf_begin(&s, "a", LEVEL_LINK);
	BS("A", "1.5", "40");
	FS("B", "1.5", "40");
	ck_assert(work_leave(s.book, NULL, 0, &list, &s.why));
	/* two marks, a level without a name, not closed */
	ck_assert_uint_eq(list.count, 4);
	ck_assert(!list.item[0].closed);
	work_leave_free(&list);
	ck_assert(book_run_close(s.book, &s.run, "", &s.why));
	ck_assert(work_leave(s.book, NULL, 0, &list, &s.why));
	ck_assert_uint_eq(list.count, 0);
	work_leave_free(&list);
	mark(&s, "B", "10.004", "");
	ck_assert(work_leave(s.book, NULL, 0, &list, &s.why));
	ck_assert_uint_eq(list.count, 1);
	/* The run keeps what it was closed with; that the mark is another one now is said. */
	ck_assert_int_eq(list.item[0].code, WORK_MARK_MOVED);
	ck_assert(list.item[0].closed && !list.item[0].blocks);
	ck_assert_str_eq(list.item[0].moved.mark, "B");
	ck_assert_int_eq(list.item[0].moved.then, MM(10000));
	ck_assert_int_eq(list.item[0].moved.now, MM(10004));
	work_leave_free(&list);
	shelf_close(&s);
}
END_TEST

START_TEST(test_by_name)
{
	static const char *const names[] = {"b", "a"}, *const nobody[] = {"a", "none"};
	struct shelf s;
	struct work_leave list;
	struct work_leave_item got;
	shelf_open(&s, LEVEL_M);
	for (int i = 0; i < 3; i++)
		shelf_begin(&s, (const char *[]){"a", "b", "c"}[i], LEVEL_LOOP);
	ck_assert(work_leave(s.book, names, 2, &list, &s.why));
	ck_assert_uint_eq(list.count, 2);
	ck_assert_str_eq(list.item[0].run, "b");
	ck_assert_str_eq(list.item[1].run, "a");
	ck_assert_int_eq(list.style.unit, LEVEL_M);
	ck_assert_str_eq(list.set.name, "third-order");
	work_leave_free(&list);
	ck_assert(!work_leave(s.book, nobody, 2, &list, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	work_leave_free(&list);
	NOT_OPEN(WORK_RUN_UNREADABLE);
	/* a run that holds what nobody could have booked keeps nobody from the others */
	book_close(s.book);
	forge(s.path, "UPDATE run SET grade = 'none' WHERE name = 'b'");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	OPEN(WORK_RUN_UNREADABLE);
	WEIGHS(13, true);
	ck_assert_str_eq(got.run, "b");
	ck_assert_ptr_nonnull(strstr(got.text, "\"none\" is no grade"));
	ck_assert_uint_eq(times(&s, WORK_NOTHING_BOOKED, &got), 2);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("leave", test_line, test_misclosure, test_nothing_to_close_on,
	                 test_imbalance, test_instrument, test_mark, test_draft,
	                 test_booked_against, test_rods, test_closed, test_by_name);
}
