/* What the runs of a book found for a station. Figures by hand: two rod readings of 0.5 mm and a
 * setup without distances, 5 mm, make u = sqrt(25.5) mm (common practice, no source). */
#include "rodbook/work/stations.h"

#include <math.h>

#include "books.h"
#include "fault/forge.h"
#include "rodbook/book/closings.h"
#include "suite.h"

#define MM(n) ((level_nm)(n)*1000000)

static void read_one(struct shelf *s, enum level_kind kind, const char *station,
                     const char *reading)
{
	ck_assert_msg(shelf_sight(s, kind, station, reading, "", ""), "%s", s->why.text);
}

/* BM1, 100 m, and a nail above or below the line. */
static void level_nail(struct shelf *s, const char *run, const char *nail)
{
	shelf_begin(s, run, LEVEL_LOOP);
	read_one(s, LEVEL_BS, "BM1", "1.500");
	read_one(s, LEVEL_IS, "NAIL", nail);
	read_one(s, LEVEL_FS, "BM1", "1.500");
}

static void load(struct shelf *s, const char *only, struct work_stations *out)
{
	ck_assert_msg(work_stations(s->book, only, out, &s->why), "%s", s->why.text);
}

static void shelf_with_marks(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "BM1", "100", "", "bolt", &s->why));
}

START_TEST(test_between_runs)
{
	struct shelf s;
	struct work_stations got;
	shelf_with_marks(&s);
	level_nail(&s, "spring", "1.000");
	level_nail(&s, "autumn", "1.014");
	load(&s, NULL, &got);
	ck_assert_uint_eq(got.count, 2);
	ck_assert_str_eq(got.station[0].name, "BM1");
	ck_assert_str_eq(got.station[0].source, "bolt");
	ck_assert(got.station[0].has_given);
	ck_assert_uint_eq(got.station[0].count, 2);
	ck_assert_int_eq(got.station[0].state, WORK_STATION_AGREES);
	ck_assert_str_eq(got.station[1].name, "NAIL");
	ck_assert(!got.station[1].has_given);
	ck_assert_int_eq(got.station[1].mean, MM(100493));
	ck_assert_int_eq(got.station[1].spread, MM(14));
	ck_assert_int_eq(got.station[1].latest, MM(100486));
	ck_assert_int_eq(got.station[1].state, WORK_STATION_AGREES);
	work_stations_free(&got);
	/* 20 mm is more than twice sqrt(51) mm. */
	level_nail(&s, "winter", "1.034");
	load(&s, "NAIL", &got);
	ck_assert_uint_eq(got.count, 1);
	ck_assert_uint_eq(got.determinations, 3);
	ck_assert_str_eq(got.determination[0].run, "spring");
	ck_assert_int_eq(got.determination[0].agrees, LEVEL_UNKNOWN);
	ck_assert_double_eq_tol(got.determination[0].u, sqrt(25.5e-6), 1e-12);
	ck_assert_int_eq(got.determination[1].agrees, LEVEL_YES);
	ck_assert_int_eq(got.determination[1].less_before, -MM(14));
	ck_assert_double_eq_tol(got.determination[1].before_u, sqrt(51e-6), 1e-12);
	ck_assert_int_eq(got.determination[2].agrees, LEVEL_NO);
	ck_assert_int_eq(got.determination[2].less_before, -MM(20));
	ck_assert_int_eq(got.station[0].state, WORK_STATION_DIFFERS);
	ck_assert_str_eq(work_station_state_name(got.station[0].state), "differs");
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* Two IS on one nail from one setup: 0.55 m apart, where two readings of 0.5 mm explain 1.4 mm. */
START_TEST(test_within_a_run)
{
	struct shelf s;
	struct work_stations got;
	shelf_with_marks(&s);
	shelf_begin(&s, "slab", LEVEL_OPEN);
	read_one(&s, LEVEL_BS, "BM1", "1.500");
	read_one(&s, LEVEL_IS, "NAIL", "1.000");
	read_one(&s, LEVEL_IS, "NAIL", "1.550");
	read_one(&s, LEVEL_IS, "NAIL", "1.551");
	load(&s, "NAIL", &got);
	ck_assert_int_eq(got.determination[1].agrees, LEVEL_NO);
	ck_assert_int_eq(got.determination[1].less_before, -MM(550));
	ck_assert_double_eq_tol(got.determination[1].before_u, sqrt(0.5e-6), 1e-12);
	ck_assert_int_eq(got.determination[2].agrees, LEVEL_YES);
	/* what agrees later does not mend it */
	ck_assert_int_eq(got.station[0].state, WORK_STATION_DIFFERS);
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

START_TEST(test_found_once)
{
	struct shelf s;
	struct work_stations got;
	shelf_with_marks(&s);
	level_nail(&s, "spring", "1.000");
	load(&s, "NAIL", &got);
	ck_assert_uint_eq(got.determinations, 1);
	ck_assert_int_eq(got.determination[0].agrees, LEVEL_UNKNOWN);
	ck_assert_int_eq(got.station[0].state, WORK_STATION_SINGLE);
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* Where nobody knows when a run was begun, its sights of which the day alone is known are in the
 * order of their days, not of their runs. */
START_TEST(test_days)
{
	struct shelf s;
	struct work_stations got;
	struct work_taken counts;
	shelf_with_marks(&s);
	ck_assert_msg(shelf_import(&s,
	                           "run,kind,sight,station,reading,time\n"
	                           "two,open,BS,BM1,1.5,2026-05-06\n"
	                           "two,open,FS,NAIL,1.3,2026-05-06\n"
	                           "one,open,BS,BM1,1.5,2026-05-05\n"
	                           "one,open,FS,NAIL,1.2,2026-05-05\n",
	                           &counts),
	              "%s", s.why.text);
	book_close(s.book);
	forge(s.path, "UPDATE run SET time = ''");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	load(&s, "NAIL", &got);
	ck_assert_uint_eq(got.determinations, 2);
	ck_assert_str_eq(got.determination[0].run, "one");
	ck_assert_str_eq(got.determination[1].run, "two");
	ck_assert_int_eq(got.station[0].latest, MM(100200));
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* The given elevation has its own u; where the run ends on the mark that it begins on, that is
 * shared. */
START_TEST(test_given)
{
	struct shelf s;
	struct work_stations got;
	shelf_with_marks(&s);
	ck_assert(book_mark_set(s.book, "BM1", "100", "0.003", "bolt", &s.why));
	ck_assert(book_mark_set(s.book, "BM2", "101", "0.004", "", &s.why));
	shelf_begin(&s, "over", LEVEL_LOOP);
	read_one(&s, LEVEL_BS, "BM1", "1.500");
	read_one(&s, LEVEL_FS, "BM2", "0.490");
	read_one(&s, LEVEL_BS, "BM2", "0.490");
	read_one(&s, LEVEL_FS, "BM1", "1.520");
	load(&s, "BM2", &got);
	ck_assert_int_eq(got.determination[0].less_given, MM(10));
	ck_assert_double_eq_tol(got.determination[0].u, sqrt(25.5e-6 + 9e-6), 1e-12);
	ck_assert_double_eq_tol(got.determination[0].given_u, sqrt(25.5e-6 + 9e-6 + 16e-6), 1e-12);
	ck_assert_int_eq(got.determination[0].agrees, LEVEL_YES);
	work_stations_free(&got);
	load(&s, "BM1", &got);
	ck_assert_int_eq(got.determination[0].less_given, -MM(20));
	ck_assert_double_eq_tol(got.determination[0].given_u, sqrt(51e-6), 1e-12);
	ck_assert_int_eq(got.determination[0].agrees, LEVEL_NO);
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* Heights above a mark that is not known go together with each other, and with no known ones; TPs
 * are no stations, crossings determine nothing. */
START_TEST(test_what_goes_together)
{
	struct shelf s;
	struct work_stations got;
	shelf_with_marks(&s);
	level_nail(&s, "known", "1.000");
	shelf_begin(&s, "unknown", LEVEL_OPEN);
	read_one(&s, LEVEL_BS, "PEG", "1.200");
	read_one(&s, LEVEL_FS, "TP1", "1.000");
	read_one(&s, LEVEL_BS, "TP1", "1.000");
	read_one(&s, LEVEL_FS, "NAIL", "0.700");
	shelf_begin(&s, "again", LEVEL_OPEN);
	read_one(&s, LEVEL_BS, "PEG", "1.300");
	read_one(&s, LEVEL_IS, "NAIL", "0.800");
	shelf_begin(&s, "pond", LEVEL_CROSSING);
	read_one(&s, LEVEL_BS, "NAIL", "1.300");
	read_one(&s, LEVEL_FS, "FAR", "0.800");
	load(&s, NULL, &got);
	ck_assert_uint_eq(got.count, 3);
	ck_assert_uint_eq(got.crossings, 1);
	ck_assert_str_eq(got.station[1].name, "NAIL");
	ck_assert_uint_eq(got.station[1].count, 3);
	/* What hangs on a known elevation stands in the list, before what does not. */
	ck_assert_uint_eq(got.station[1].compared, 1);
	ck_assert_int_eq(got.station[1].latest, MM(100500));
	ck_assert_int_eq(got.station[1].state, WORK_STATION_AGREES);
	ck_assert_int_eq(got.station[2].state, WORK_STATION_SINGLE);
	ck_assert_uint_eq(got.station[2].count, 0);
	ck_assert(!got.determination[got.station[1].first + 1].has_before);
	ck_assert(got.determination[got.station[1].first + 2].has_before);
	ck_assert_int_eq(got.determination[got.station[1].first + 2].less_before, 0);
	work_stations_free(&got);
	ck_assert(!work_stations(s.book, "TP1", &got, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* A mark that has another elevation now than a closed run was closed with. */
START_TEST(test_moved)
{
	struct shelf s;
	struct work_stations got;
	shelf_with_marks(&s);
	level_nail(&s, "spring", "1.000");
	ck_assert_msg(book_run_close(s.book, &s.run, "no distances", &s.why), "%s", s.why.text);
	ck_assert(book_mark_set(s.book, "BM1", "99.9", "", "bolt", &s.why));
	load(&s, NULL, &got);
	ck_assert_uint_eq(got.moved_count, 1);
	ck_assert_str_eq(got.moved[0].mark, "BM1");
	ck_assert_str_eq(got.moved_run[0], "spring");
	ck_assert_int_eq(got.station[0].given, MM(99900));
	ck_assert_int_eq(got.station[1].latest, MM(100500));
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

/* A mark that no run has reached, in a book without a determination: no list to point into. */
START_TEST(test_mark_alone)
{
	struct shelf s;
	struct work_stations got;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "BM1", "100", "", "bolt", &s.why));
	ck_assert(work_stations(s.book, "BM1", &got, &s.why));
	ck_assert_uint_eq(got.count, 1);
	ck_assert_uint_eq(got.station[0].count, 0);
	ck_assert_uint_eq(got.station[0].compared, 0);
	ck_assert_int_eq(got.station[0].state, WORK_STATION_SINGLE);
	work_stations_free(&got);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("stations", test_mark_alone, test_between_runs, test_within_a_run,
	                 test_found_once, test_days, test_given, test_what_goes_together,
	                 test_moved);
}
