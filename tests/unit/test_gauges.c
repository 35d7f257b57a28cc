/* Gauges read during a run. Worked by hand: STONE stands at 12.5 and is read at 1.5, so HI is
 * 14.000; the rod on G1 reads 1.6, so its surface stands at 12.400. A gauge that shows 12.41 there
 * shows 0.010 too much: found less read is -0.010. */
#include "rodbook/book/gauge.h"

#include "fault/forge.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/journal.h"
#include "rodbook/level/time.h"
#include "rodbook/work/gauges.h"
#include "rodbook/work/run.h"
#include "unit/books.h"
#include "unit/sights.h"
#include "unit/suite.h"

static const char *now = "2026-05-04T09:30:00+02:00";

static void clock_now(char out[BOOK_TIME_BYTES])
{
	strcpy(out, now);
}

static void make(struct shelf *s)
{
	now = "2026-05-04T09:30:00+02:00";
	shelf_open(s, LEVEL_M);
	shelf_reopen(s, clock_now);
	ck_assert(book_mark_set(s->book, "STONE", "12.5", "", "", &s->why));
	shelf_begin(s, "brook", LEVEL_LOOP);
	ck_assert(shelf_book(s, LEVEL_BS, "STONE", "1.5"));
}

static bool read_gauge(struct shelf *s, const char *station, const char *reading)
{
	return book_gauge_add(s->book, s->run.info.id, station, reading, "", "", &s->why);
}

static struct work_gauge only(struct shelf *s)
{
	struct work_gauges all;
	struct work_gauge one;
	ck_assert_msg(work_gauges(s->book, &all, &s->why), "%s", s->why.text);
	ck_assert_uint_eq(all.count, 1);
	ck_assert_uint_eq(all.unreadable, 0);
	one = all.list[0];
	work_gauges_free(&all);
	return one;
}

static void verified(struct shelf *s)
{
	struct book_verified found = {0};
	ck_assert_msg(book_verify(s->book, 0, &found, &s->why), "%s", s->why.text);
	ck_assert_str_eq(found.difference, "");
	/* entries are numbered from 1 without a gap */
	ck_assert_int_gt(found.entries, 0);
	ck_assert_int_eq(found.entries, found.last);
}

START_TEST(test_found)
{
	struct shelf s;
	struct work_gauge one;
	make(&s);
	ck_assert(read_gauge(&s, "G1", "12.41"));
	one = only(&s);
	ck_assert_int_eq(one.lack, WORK_GAUGE_NO_SIGHT);
	ck_assert_str_eq(work_gauge_lack_name(one.lack), "sight");
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_book(&s, LEVEL_IS, "G1", "1.6"));
	one = only(&s);
	ck_assert_int_eq(one.lack, WORK_GAUGE_WHOLE);
	ck_assert_str_eq(one.run, "brook");
	ck_assert_str_eq(one.gauge.time, now);
	ck_assert_int_eq(one.gauge.reading, MM(12410));
	ck_assert_int_eq(one.found, MM(12400));
	ck_assert_int_eq(one.difference, MM(-10));
	/* what is struck finds nothing */
	ck_assert(shelf_strike(&s, 1));
	one = only(&s);
	ck_assert_int_eq(one.lack, WORK_GAUGE_NO_SIGHT);
	ck_assert_int_eq(one.difference, 0);
	verified(&s);
	shelf_close(&s);
}
END_TEST

/* Its start alone tells a run nothing about a gauge: its elevation is given, not found. */
START_TEST(test_start)
{
	struct shelf s;
	make(&s);
	ck_assert(read_gauge(&s, "STONE", "12.5"));
	ck_assert_int_eq(only(&s).lack, WORK_GAUGE_NO_SIGHT);
	shelf_close(&s);
}
END_TEST

START_TEST(test_no_elevation)
{
	struct shelf s;
	make(&s);
	shelf_begin(&s, "lost", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "PEG", "1.5"));
	ck_assert(shelf_book(&s, LEVEL_IS, "G1", "1.6"));
	ck_assert(read_gauge(&s, "G1", "2.4"));
	ck_assert_int_eq(only(&s).lack, WORK_GAUGE_NO_ELEVATION);
	ck_assert_str_eq(work_gauge_lack_name(WORK_GAUGE_NO_ELEVATION), "elevation");
	shelf_close(&s);
}
END_TEST

/* The water rises: of two rods held on it the one nearest in time to the reading counts, over a
 * change of the clock to winter time as well. 02:40+02:00 is 00:40 UTC, and 02:10+01:00 is 01:10
 * UTC: 00:50 UTC is nearer to the first. */
START_TEST(test_nearest)
{
	struct shelf s;
	make(&s);
	now = "2026-10-25T02:40:00+02:00";
	ck_assert(shelf_book(&s, LEVEL_IS, "G1", "1.6"));
	now = "2026-10-25T02:10:00+01:00";
	ck_assert(shelf_book(&s, LEVEL_IS, "G1", "1.5"));
	now = "2026-10-25T02:50:00+02:00";
	ck_assert(read_gauge(&s, "G1", "12.4"));
	ck_assert_int_eq(only(&s).found, MM(12400));
	ck_assert(book_gauge_strike_at(s.book, s.run.info.id, "G1", "once more", &s.why));
	now = "2026-10-25T02:00:00+01:00";
	ck_assert(read_gauge(&s, "G1", "12.4"));
	{
		struct work_gauges all;
		ck_assert(work_gauges(s.book, &all, &s.why));
		ck_assert_uint_eq(all.count, 2);
		ck_assert_int_eq(all.list[0].found, MM(12400));
		ck_assert_int_eq(all.list[1].found, MM(12500));
		ck_assert_int_eq(all.list[1].difference, MM(100));
		work_gauges_free(&all);
	}
	verified(&s);
	shelf_close(&s);
}
END_TEST

/* Sights that came without a time: the last one. */
START_TEST(test_no_times)
{
	static const char csv[] = "run,kind,sight,station,reading,time\n"
	                          "a,open,BS,STONE,1.5,\n"
	                          "a,open,IS,G1,1.6,\n"
	                          "a,open,IS,G1,1.7,\n";
	struct shelf s;
	struct work_taken counts;
	struct book_run_info info;
	make(&s);
	ck_assert_msg(shelf_import(&s, csv, &counts), "%s", s.why.text);
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	ck_assert(book_gauge_add(s.book, info.id, "G1", "12.3", "", "", &s.why));
	ck_assert_int_eq(only(&s).found, MM(12300));
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused)
{
	struct shelf s;
	struct book_gauge *list;
	size_t count;
	make(&s);
	ck_assert(!read_gauge(&s, "", "1"));
	ck_assert_str_eq(s.why.field, "station");
	ck_assert(!read_gauge(&s, "G1", "high"));
	ck_assert_str_eq(s.why.field, "reading");
	ck_assert(!book_gauge_strike_at(s.book, 1, "G1", "a slip", &s.why));
	FAULT(&s, FAULT_INPUT, "no gauge reading counts at G1");
	ck_assert(read_gauge(&s, "G1", "8 ft"));
	ck_assert(read_gauge(&s, "G1", "-0.2"));
	ck_assert(!book_gauge_strike_at(s.book, 1, "G1", "", &s.why));
	FAULT(&s, FAULT_INPUT, "for a reason");
	ck_assert(book_gauge_strike_at(s.book, 1, "G1", "a boat went by", &s.why));
	ck_assert(book_gauges(s.book, 1, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	/* 8 ft are 2.4384 m */
	ck_assert_int_eq(list[0].reading, 2438400000);
	ck_assert_str_eq(list[0].struck, "");
	ck_assert_str_eq(list[1].struck, now);
	ck_assert_str_eq(list[1].why, "a boat went by");
	free(list);
	verified(&s);
	shelf_close(&s);
}
END_TEST

START_TEST(test_undo)
{
	struct shelf s;
	char what[160];
	make(&s);
	ck_assert(read_gauge(&s, "G1", "12.41"));
	shelf_take(&s, 1);
	ck_assert(book_undo(s.book, &s.run, what, &s.why));
	ck_assert_str_eq(what, "taken back: gauge");
	ck_assert_str_eq(only(&s).gauge.why, "undone");
	shelf_take(&s, 1);
	ck_assert(book_redo(s.book, &s.run, what, &s.why));
	ck_assert_str_eq(only(&s).gauge.struck, "");
	verified(&s);
	shelf_close(&s);
}
END_TEST

/* A closed run takes no reading and strikes none, and keeps those it has. */
START_TEST(test_closed)
{
	struct shelf s;
	make(&s);
	ck_assert(shelf_book(&s, LEVEL_IS, "G1", "1.6"));
	ck_assert(shelf_book(&s, LEVEL_FS, "P", "1"));
	ck_assert(shelf_book(&s, LEVEL_BS, "P", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "STONE", "1.5"));
	ck_assert(read_gauge(&s, "G1", "12.41"));
	shelf_take(&s, 1);
	ck_assert_msg(book_run_close(s.book, &s.run, "no lengths", &s.why), "%s", s.why.text);
	ck_assert(!read_gauge(&s, "G1", "12.4"));
	FAULT(&s, FAULT_INPUT, "closed");
	ck_assert(!book_gauge_strike_at(s.book, 1, "G1", "a slip", &s.why));
	FAULT(&s, FAULT_INPUT, "closed");
	ck_assert_int_eq(only(&s).difference, MM(-10));
	verified(&s);
	shelf_close(&s);
}
END_TEST

/* Seconds by hand: from 1 March to 2 March is a day of 86 400 s; 09:30 at +02:00 is 07:30 UTC. */
START_TEST(test_seconds)
{
	int64_t a, b;
	ck_assert(level_time_seconds("2026-03-01T09:30:00+02:00", &a));
	ck_assert(level_time_seconds("2026-03-02T07:30:05Z", &b));
	ck_assert_int_eq(b - a, 86405);
	ck_assert(level_time_seconds("2026-03-01T02:00-05:30", &b));
	ck_assert_int_eq(b - a, 0);
	ck_assert(level_time_seconds("2026-03-01 07:31", &b));
	ck_assert_int_eq(b - a, 60);
	ck_assert(!level_time_seconds("2026-03-01", &b));
	ck_assert(!level_time_seconds("noon", &b));
	ck_assert(!level_time_seconds("", &b));
}
END_TEST

/* A run that cannot be read hides its gauges' elevations, and no others. */
START_TEST(test_spoiled_run)
{
	struct shelf s;
	struct work_gauges all;
	make(&s);
	ck_assert(shelf_book(&s, LEVEL_IS, "G1", "1.6"));
	ck_assert(read_gauge(&s, "G1", "12.41"));
	shelf_begin(&s, "creek", LEVEL_LOOP);
	ck_assert(read_gauge(&s, "G2", "3.2"));
	book_close(s.book);
	forge(s.path, "UPDATE run SET grade = 'none' WHERE name = 'creek'");
	s.book = book_open(s.path, clock_now, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	ck_assert_msg(work_gauges(s.book, &all, &s.why), "%s", s.why.text);
	ck_assert_uint_eq(all.count, 2);
	ck_assert_uint_eq(all.unreadable, 1);
	ck_assert_int_eq(all.list[0].lack, WORK_GAUGE_WHOLE);
	ck_assert_int_eq(all.list[0].difference, MM(-10));
	ck_assert_str_eq(all.list[1].run, "creek");
	ck_assert_int_eq(all.list[1].lack, WORK_GAUGE_NO_RUN);
	work_gauges_free(&all);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("gauges", test_found, test_start, test_no_elevation, test_nearest,
	                 test_no_times, test_refused, test_undo, test_closed, test_spoiled_run,
	                 test_seconds);
}
