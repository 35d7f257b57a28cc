/* What was booked or struck after the figures of a crossing were sealed, and so does not count. */
#include "books.h"
#include "rodbook/book/crossing.h"
#include "rodbook/work/remedy.h"
#include "suite.h"

static const char *now;

static void clock_of_hand(char out[BOOK_TIME_BYTES])
{
	snprintf(out, BOOK_TIME_BYTES, "2026-05-04T%s:00Z", now);
}

static void pegs(struct shelf *s, const char *name)
{
	struct book_pegtest test = {.standings = "30,1.500,30,1.250; 5,1.500,55,1.250; "
	                                         "30,1.500,30,1.250; 5,1.500,55,1.250; "
	                                         "30,1.500,30,1.250; 5,1.500,55,1.251"};
	struct level_peg_result result;
	snprintf(test.instrument, sizeof test.instrument, "%s", name);
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
}

static int64_t air(struct shelf *s)
{
	struct book_air *list;
	size_t count;
	int64_t id;
	ck_assert_msg(book_air_add(s->book, s->run.info.id,
	                           &(struct book_air){.low = "18",
	                                              .low_height = "1",
	                                              .high = "17.8",
	                                              .high_height = "3",
	                                              .wind_from = "water"},
	                           &s->why),
	              "%s", s->why.text);
	shelf_take(s, s->run.info.id);
	ck_assert(book_airs(s->book, s->run.info.id, &list, &count, &s->why));
	id = list[count - 1].id;
	free(list);
	return id;
}

/* A crossing of two levels at 08:00, the air at 06:00 where wanted; its far sight seals at 08:00.
 */
static int64_t cross(struct shelf *s, bool with_air)
{
	int64_t id = 0;
	shelf_open(s, LEVEL_M);
	now = "06:00";
	shelf_reopen(s, clock_of_hand);
	ck_assert(book_instrument_set(
	    s->book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s->why));
	shelf_begin(s, "a", LEVEL_CROSSING);
	if (with_air)
		id = air(s);
	now = "08:00";
	ck_assert(shelf_sight(s, LEVEL_BS, "E", "1.5", "10", "L1"));
	ck_assert(shelf_sight(s, LEVEL_FS, "W", "1.6", "800", "L1"));
	return id;
}

static void load(struct shelf *s, struct work_run *run)
{
	ck_assert_msg(work_run_load(s->book, "a", NULL, run, &s->why), "%s", s->why.text);
}

/* Whether the air is said to differ from that at the seal. */
static bool air_since(struct shelf *s)
{
	struct work_run run;
	bool since;
	load(s, &run);
	since = run.airs.since_seal;
	work_run_free(&run);
	return since;
}

START_TEST(test_test_after)
{
	struct shelf s;
	struct work_run run;
	cross(&s, false);
	load(&s, &run);
	ck_assert_str_eq(run.tested.late, "");
	work_run_free(&run);
	now = "08:06";
	pegs(&s, "L1");
	now = "08:30";
	pegs(&s, "L1");
	load(&s, &run);
	ck_assert_str_eq(run.tested.late, "L1");
	ck_assert_str_eq(run.tested.late_time, "2026-05-04T08:06:00Z");
	/* the level of the sealed figures has no test of the day, and none in sets */
	ck_assert(!run.tested.of_day);
	ck_assert(!run.tested.in_sets);
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

/* One that the sealed figures know is not late, whatever comes behind it. */
START_TEST(test_test_before)
{
	struct shelf s;
	struct work_run run;
	shelf_open(&s, LEVEL_M);
	now = "07:00";
	shelf_reopen(&s, clock_of_hand);
	pegs(&s, "L1");
	shelf_begin(&s, "a", LEVEL_CROSSING);
	now = "08:00";
	ck_assert(shelf_sight(&s, LEVEL_BS, "E", "1.5", "10", "L1"));
	ck_assert(shelf_sight(&s, LEVEL_FS, "W", "1.6", "800", "L1"));
	now = "09:00";
	pegs(&s, "L1");
	load(&s, &run);
	ck_assert_str_eq(run.tested.late, "");
	ck_assert(run.tested.of_day);
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

START_TEST(test_air_booked)
{
	struct shelf s;
	cross(&s, false);
	ck_assert(!air_since(&s));
	now = "09:00";
	air(&s);
	ck_assert(air_since(&s));
	shelf_close(&s);
}
END_TEST

START_TEST(test_air_struck)
{
	struct shelf s;
	int64_t before = cross(&s, true), after;
	ck_assert(!air_since(&s));
	/* booked and struck since: what counts is as it was */
	now = "09:00";
	after = air(&s);
	ck_assert(air_since(&s));
	ck_assert(book_air_strike(s.book, s.run.info.id, after, "another day", &s.why));
	ck_assert(!air_since(&s));
	ck_assert(book_air_strike(s.book, s.run.info.id, before, "in the sun", &s.why));
	ck_assert(air_since(&s));
	shelf_close(&s);
}
END_TEST

/* Air that is held against the time of the sight is that of the seal: what is booked or struck
 * later does not mend it. */
START_TEST(test_air_apart)
{
	struct shelf s;
	struct work_run run;
	int64_t before = cross(&s, true);
	now = "11:00";
	air(&s);
	ck_assert(book_air_strike(s.book, s.run.info.id, before, "in the sun", &s.why));
	load(&s, &run);
	ck_assert_str_eq(run.times.air_sight, "2026-05-04T08:00:00Z");
	ck_assert_str_eq(run.times.air, "2026-05-04T06:00:00Z");
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

/* Who set k for a reason has said what counts. */
START_TEST(test_air_amended)
{
	struct shelf s;
	cross(&s, true);
	now = "09:00";
	air(&s);
	shelf_take(&s, s.run.info.id);
	ck_assert(book_amend(s.book, &s.run, "drift", "0.02 mm/m", "it was hot", &s.why));
	ck_assert(air_since(&s));
	shelf_take(&s, s.run.info.id);
	ck_assert_msg(book_amend(s.book, &s.run, "k", "0.2", "the air is known better", &s.why),
	              "%s", s.why.text);
	ck_assert(!air_since(&s));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("since_seal", test_test_after, test_test_before, test_air_booked,
	                 test_air_struck, test_air_amended, test_air_apart);
}
