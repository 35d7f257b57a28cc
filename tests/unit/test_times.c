/* When something was observed, when it was typed, and what the two say. The clock stands at
 * 2026-05-04T09:30 +02:00. Times and differences worked out by hand. */
#include <time.h>

#include "rodbook/book/gauge.h"
#include "rodbook/book/journal.h"
#include "rodbook/level/time.h"
#include "rodbook/level/warnings.h"
#include "rodbook/work/leave.h"
#include "rodbook/work/sight.h"
#include "rodbook/work/times.h"
#include "unit/books.h"
#include "unit/suite.h"

static void assert_verified(struct shelf *s)
{
	struct book_verified verified;
	ck_assert_msg(book_verify(s->book, 0, &verified, &s->why), "%s", s->why.text);
	ck_assert_str_eq(verified.difference, "");
}

static const char *completed(struct shelf *s, const char *typed)
{
	static char out[BOOK_TIME_BYTES];
	char now[BOOK_TIME_BYTES];
	return book_complete_time(s->book, typed, out, now, &s->why) ? out : "refused";
}

START_TEST(test_completed)
{
	struct shelf s;
	setenv("TZ", "UTC", 1);
	shelf_open(&s, LEVEL_M);
	ck_assert_str_eq(completed(&s, ""), "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(completed(&s, "08:05"), "2026-05-04T08:05+02:00");
	ck_assert_str_eq(completed(&s, "2026-05-01T08:05"), "2026-05-01T08:05+02:00");
	ck_assert_str_eq(completed(&s, "2026-05-01 08:05:59"), "2026-05-01T08:05:59+02:00");
	ck_assert_str_eq(completed(&s, "2026-05-01T08:05Z"), "2026-05-01T08:05Z");
	ck_assert_str_eq(completed(&s, "2026-05-01T08:05-03:30"), "2026-05-01T08:05-03:30");
	/* a day whose hour nobody wrote down */
	ck_assert_str_eq(completed(&s, "2026-05-01"), "2026-05-01");
	ck_assert_str_eq(completed(&s, "8:05"), "refused");
	ck_assert_str_eq(s.why.field, "time");
	ck_assert_str_eq(completed(&s, "24:00"), "refused");
	ck_assert_str_eq(completed(&s, "2026-02-29"), "refused");
	ck_assert_str_eq(completed(&s, "1 May"), "refused");
	ck_assert_str_eq(completed(&s, "2026-05-01T08:05:00.000000+02:00"), "refused");
	shelf_close(&s);
}
END_TEST

/* A zone with summer time: in January it is an hour behind what the clock shows in May. */
START_TEST(test_summer_time)
{
	struct shelf s;
	setenv("TZ", "XST-1XDT,M3.5.0,M10.5.0/3", 1);
	tzset();
	shelf_open(&s, LEVEL_M);
	ck_assert_str_eq(completed(&s, "2026-01-10T08:05"), "2026-01-10T08:05+01:00");
	ck_assert_str_eq(completed(&s, "2026-05-01T08:05"), "2026-05-01T08:05+02:00");
	shelf_close(&s);
	setenv("TZ", "UTC", 1);
	tzset();
}
END_TEST

/* Books a sight observed at that time. */
static void observe(struct shelf *s, enum level_kind kind, const char *station, const char *reading,
                    const char *time)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, kind, station, reading, &sight, &note));
	strcpy(note.time, time);
	ck_assert_msg(book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why), "%s",
	              s->why.text);
	shelf_take(s, s->run.info.id);
}

START_TEST(test_booked_later)
{
	struct shelf s;
	struct book_note note;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "r", LEVEL_OPEN);
	observe(&s, LEVEL_BS, "A", "1.5", "2026-05-01T08:00");
	observe(&s, LEVEL_FS, "B", "1.4", "");
	ck_assert_str_eq(s.run.note[0].time, "2026-05-01T08:00+02:00");
	ck_assert_str_eq(s.run.note[0].booked, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(s.run.note[1].time, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(s.run.note[1].booked, "");
	assert_verified(&s);
	/* what is changed keeps the time that it has, or takes another one */
	note = book_note_of(&s.run.note[0]);
	ck_assert(book_change(s.book, &s.run, 0, &s.run.run.sight[0], &note, &s.why));
	shelf_take(&s, 1);
	ck_assert_str_eq(s.run.note[1].time, "2026-05-01T08:00+02:00");
	note = book_note_of(&s.run.note[1]);
	strcpy(note.time, "2026-05-01T08:10");
	ck_assert(book_change(s.book, &s.run, 1, &s.run.run.sight[1], &note, &s.why));
	shelf_take(&s, 1);
	ck_assert_str_eq(s.run.note[2].time, "2026-05-01T08:10+02:00");
	assert_verified(&s);
	shelf_close(&s);
}
END_TEST

START_TEST(test_water_air_gauge)
{
	struct shelf s;
	struct book_air air = {.pressure = "1010", .time = "2026-05-01T07:00"}, *airs;
	struct book_water *waters;
	struct book_gauge *gauges;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "r", LEVEL_CROSSING);
	ck_assert(book_water_add(s.book, 1, "E", "0.4", "07:15", "", &s.why));
	ck_assert(book_air_add(s.book, 1, &air, &s.why));
	ck_assert(book_gauge_add(s.book, 1, "G", "2.4", "2026-05-02", "", &s.why));
	ck_assert(book_waters(s.book, 1, &waters, &count, &s.why));
	ck_assert_str_eq(waters[0].time, "2026-05-04T07:15+02:00");
	ck_assert_str_eq(waters[0].booked, "2026-05-04T09:30:00+02:00");
	ck_assert(book_airs(s.book, 1, &airs, &count, &s.why));
	ck_assert_str_eq(airs[0].time, "2026-05-01T07:00+02:00");
	ck_assert_str_eq(airs[0].booked, "2026-05-04T09:30:00+02:00");
	ck_assert(book_gauges(s.book, 1, &gauges, &count, &s.why));
	ck_assert_str_eq(gauges[0].time, "2026-05-02");
	ck_assert_str_eq(gauges[0].booked, "2026-05-04T09:30:00+02:00");
	ck_assert(!book_water_add(s.book, 1, "E", "0.4", "a week ago", "", &s.why));
	ck_assert_str_eq(s.why.field, "time");
	strcpy(air.time, "noon");
	ck_assert(!book_air_add(s.book, 1, &air, &s.why));
	ck_assert_str_eq(s.why.field, "time");
	assert_verified(&s);
	free(waters);
	free(airs);
	free(gauges);
	shelf_close(&s);
}
END_TEST

/* A test of last week that is typed after one of yesterday is kept, and does not become the tilt.
 */
START_TEST(test_pegtest_typed_late)
{
	struct shelf s;
	struct book_pegtest test = {.instrument = "L1",
	                            .standings = "30,1.000,30,1.000; 5,1.000,55,1.010"},
	                    *tests;
	struct book_instrument *list;
	struct level_peg_result result;
	char yesterday[BOOK_TYPED_BYTES];
	size_t count;
	shelf_open(&s, LEVEL_M);
	strcpy(test.time, "2026-05-03");
	ck_assert_msg(book_pegtest_add(s.book, &test, &result, &s.why), "%s", s.why.text);
	ck_assert(book_instruments(s.book, &list, &count, &s.why));
	strcpy(yesterday, list[0].tilt);
	ck_assert_str_eq(list[0].remark, "peg test of 2026-05-03, 1 set");
	free(list);
	strcpy(test.time, "2026-04-27");
	strcpy(test.standings, "30,1.000,30,1.000; 5,1.000,55,1.000");
	ck_assert(book_pegtest_add(s.book, &test, &result, &s.why));
	ck_assert(book_instruments(s.book, &list, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(list[0].tilt, yesterday);
	ck_assert(book_pegtests(s.book, "L1", &tests, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(tests[1].time, "2026-04-27");
	ck_assert_str_eq(tests[1].booked, "2026-05-04T09:30:00+02:00");
	assert_verified(&s);
	free(list);
	free(tests);
	shelf_close(&s);
}
END_TEST

static unsigned time_doubts(struct shelf *s, const char *typed)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, LEVEL_FS, "B", "1.4", &sight, &note));
	strcpy(note.time, typed);
	return work_doubt(s->book, &s->run, 1, false, NULL, 0, NULL, 0, NULL, &sight, &note).set;
}

START_TEST(test_warned)
{
	const unsigned back = 1u << LEVEL_WARN_TIME_BACK, ahead = 1u << LEVEL_WARN_TIME_AHEAD;
	struct shelf s;
	/* the same moment in two zones, and days alone */
	ck_assert_uint_eq(work_time_warnings("2026-05-04T09:00+02:00", "2026-05-04T08:00+01:00",
	                                     "2026-05-04T09:00+02:00"),
	                  0);
	ck_assert_uint_eq(
	    work_time_warnings("2026-05-04T09:00Z", "2026-05-04T08:59Z", "2026-05-04T09:01Z"),
	    back);
	ck_assert_uint_eq(work_time_warnings("", "2026-05-04T09:02Z", "2026-05-04T09:01Z"), ahead);
	ck_assert_uint_eq(work_time_warnings("2026-05-04", "2026-05-04T00:01Z", ""), 0);
	ck_assert_uint_eq(work_time_warnings("2026-05-05", "2026-05-04", "2026-05-03"),
	                  back | ahead);
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "r", LEVEL_OPEN);
	observe(&s, LEVEL_BS, "A", "1.5", "2026-05-02T08:00");
	ck_assert_uint_eq(time_doubts(&s, "2026-05-02T07:59"), back);
	ck_assert_uint_eq(time_doubts(&s, "2026-05-02T08:01"), 0);
	ck_assert_uint_eq(time_doubts(&s, "09:31"), ahead);
	ck_assert_uint_eq(time_doubts(&s, ""), 0);
	ck_assert_uint_eq(time_doubts(&s, "half past"), 0);
	ck_assert_str_eq(level_warning_name(LEVEL_WARN_TIME_BACK), "time back");
	ck_assert_str_eq(level_warning_name(LEVEL_WARN_TIME_AHEAD), "time ahead");
	shelf_close(&s);
}
END_TEST

/* Water a week apart at the two shores, and air hours from the sight. */
START_TEST(test_apart)
{
	struct shelf s;
	struct work_times times;
	struct book_terms unsealed = {0};
	struct work_leave leave;
	struct book_air air = {.pressure = "1010", .time = "2026-05-02T05:00"};
	char text[300];
	unsigned found = 0;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	observe(&s, LEVEL_BS, "E", "1.5", "2026-05-02T08:00");
	observe(&s, LEVEL_FS, "W", "1.4", "2026-05-02T08:20");
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert(!*times.water_start && !*times.air && !*times.back);
	ck_assert(book_water_add(s.book, 1, "E", "0.4", "2026-05-02T08:00", "", &s.why));
	ck_assert(book_water_add(s.book, 1, "W", "0.4", "2026-04-25T08:00", "", &s.why));
	ck_assert(book_air_add(s.book, 1, &air, &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(times.water_start, "2026-05-02T08:00+02:00");
	ck_assert_str_eq(times.water_end, "2026-04-25T08:00+02:00");
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_WATER, text, sizeof text),
	                 "the water was read at one end 2026-05-02 08:00, at the other 2026-04-25 "
	                 "08:00: it may have risen or fallen");
	/* without distances no sight is the long one */
	ck_assert_str_eq(times.air, "");
	for (size_t i = 0; i < 2; i++)
		s.run.run.sight[i].distance = (level_nm)(i ? 800 : 5) * LEVEL_NM_PER_M;
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_AIR, text, sizeof text),
	                 "the long sight was read 2026-05-02 08:20, air of the run 05:00");
	ck_assert(work_leave(s.book, NULL, 0, &leave, &s.why));
	for (size_t i = 0; i < leave.count; i++)
		if (leave.item[i].code == WORK_WATER_APART)
			found++;
	ck_assert_uint_eq(found, 1);
	work_leave_free(&leave);
	/* an hour apart is not more than an hour; what was read a week before still counts */
	ck_assert(book_water_add(s.book, 1, "W", "0.4", "2026-05-02T09:00", "", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(times.water_start, "2026-05-02T08:00+02:00");
	ck_assert_str_eq(times.water_end, "2026-04-25T08:00+02:00");
	ck_assert(book_water_strike(s.book, 1, 2, "of another week", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(times.water_start, "");
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_WATER, text, sizeof text), "");
	/* of two readings at the first shore the later one has its fellow, 65 minutes off */
	ck_assert(book_water_add(s.book, 1, "E", "0.4", "2026-05-02T10:05", "", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(times.water_start, "2026-05-02T10:05+02:00");
	ck_assert_str_eq(times.water_end, "2026-05-02T09:00+02:00");
	/* air read with the sight does not mend what was read hours before */
	strcpy(air.time, "2026-05-02T08:20");
	ck_assert(book_air_add(s.book, 1, &air, &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(times.air, "2026-05-02T05:00+02:00");
	ck_assert(book_air_strike(s.book, 1, 1, "too early", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(times.air, "");
	shelf_close(&s);
}
END_TEST

/* What was observed later than it was typed: the clock stands at 2026-05-04T09:30. */
START_TEST(test_ahead)
{
	struct shelf s;
	struct work_times times;
	struct book_terms unsealed = {0};
	struct book_air air = {.pressure = "1010", .time = "2026-05-04T10:00"};
	char text[300];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "over", LEVEL_CROSSING);
	ck_assert(book_gauge_add(s.book, 1, "G", "2.4", "2026-06-04", "", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "the gauge G was observed 2026-06-04 and typed 2026-05-04 09:30, which is "
	                 "earlier");
	ck_assert(book_air_add(s.book, 1, &air, &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "the air was observed 2026-05-04 10:00 and typed 09:30, which is earlier");
	ck_assert(book_water_add(s.book, 1, "E", "0.4", "2026-05-04T09:31", "", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "the water at E was observed 2026-05-04 09:31 and typed 09:30, which is "
	                 "earlier");
	ck_assert(book_water_strike(s.book, 1, 1, "typed wrongly", &s.why));
	ck_assert(book_air_strike(s.book, 1, 1, "typed wrongly", &s.why));
	ck_assert(book_gauge_strike(s.book, 1, 1, "typed wrongly", &s.why));
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert(!*times.back);
	shelf_close(&s);
}
END_TEST

START_TEST(test_order)
{
	struct shelf s;
	char text[300];
	struct work_times times;
	struct book_terms unsealed = {0};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "r", LEVEL_OPEN);
	observe(&s, LEVEL_BS, "A", "1.5", "2026-05-02T08:00");
	observe(&s, LEVEL_FS, "B", "1.4", "2026-05-02T07:50");
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "B was observed 2026-05-02 07:50, the sight before it 08:00");
	shelf_begin(&s, "s", LEVEL_OPEN);
	observe(&s, LEVEL_BS, "A", "1.5", "2026-05-05");
	ck_assert(work_times(s.book, &s.run, &unsealed, &times, &s.why));
	ck_assert_str_eq(report_times(&times, REPORT_TIMES_ORDER, text, sizeof text),
	                 "A was observed 2026-05-05 and typed 2026-05-04 09:30, which is earlier");
	assert_verified(&s);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("times", test_completed, test_summer_time, test_booked_later,
	                 test_water_air_gauge, test_pegtest_typed_late, test_warned, test_apart,
	                 test_ahead, test_order);
}
