/* What is likely to come next: expected by eye, as an observer would write it (common practice, no
 * source). */
#include "rodbook/work/next.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static struct work_next_given given_of(const struct shelf *s)
{
	return (struct work_next_given){
	    .book = s->book, .run = &s->run, .last_instrument = "", .style = {.unit = LEVEL_M}};
}

static const char *station_of(const struct shelf *s, size_t at, enum level_kind kind)
{
	static char station[LEVEL_STATION_BYTES];
	const struct work_next_given given = given_of(s);
	strcpy(station, "untouched");
	work_next_station(&given, at, kind, station);
	return station;
}

static void book_all(struct shelf *s, const char *const stations[][2], size_t count)
{
	for (size_t i = 0; i < count; i++) {
		enum level_kind kind;
		ck_assert(level_kind_find(stations[i][0], &kind));
		ck_assert_msg(shelf_book(s, kind, stations[i][1], "1.5"), "%s", s->why.text);
	}
}

/* The places along a line that stations are named by go on over a turning point, and past a station
 * of another name. */
START_TEST(test_places)
{
	static const char *const line[][2] = {
	    {"BS", "GATE"}, {"IS", "0+20"}, {"IS", "0+40"}, {"FS", "TP1"},
	    {"BS", "TP1"},  {"IS", "kerb"}, {"IS", "12"},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	book_all(&s, line, 7);
	ck_assert_str_eq(station_of(&s, 7, LEVEL_IS), "0+60");
	ck_assert_str_eq(station_of(&s, 7, LEVEL_FS), "TP2");
	ck_assert_str_eq(station_of(&s, 7, LEVEL_BS), "");
	ck_assert_str_eq(station_of(&s, 3, LEVEL_IS), "0+60");
	/* one place makes no step */
	ck_assert_str_eq(station_of(&s, 2, LEVEL_IS), "");
	/* a struck one does not count */
	ck_assert(shelf_book(&s, LEVEL_IS, "0+65", "1.5"));
	ck_assert_str_eq(station_of(&s, 8, LEVEL_IS), "0+90");
	ck_assert(shelf_strike(&s, 7));
	ck_assert_str_eq(station_of(&s, 8, LEVEL_IS), "0+60");
	shelf_close(&s);
}
END_TEST

/* A turning point that is a place stands twice, and is one step. */
START_TEST(test_turning_place)
{
	static const char *const line[][2] = {
	    {"BS", "GATE"}, {"IS", "0+50"}, {"FS", "0+75"}, {"BS", "0+75"}};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	book_all(&s, line, 4);
	ck_assert_str_eq(station_of(&s, 4, LEVEL_IS), "1+00");
	shelf_close(&s);
}
END_TEST

static void book_along(struct shelf *s, const char *station, const char *along)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, LEVEL_IS, station, "1.5", &sight, &note));
	strcpy(note.along, along);
	ck_assert(book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why));
	shelf_take(s, s->run.info.id);
}

START_TEST(test_along)
{
	struct shelf s;
	char along[BOOK_TYPED_BYTES] = "untouched";
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "GATE", "1.5"));
	book_along(&s, "P1", "87.5");
	ck_assert(!work_next_along(&s.run, 2, LEVEL_M, along));
	ck_assert_str_eq(along, "");
	book_along(&s, "P2", "90");
	ck_assert(shelf_book(&s, LEVEL_IS, "P3", "1.5"));
	ck_assert(work_next_along(&s.run, 4, LEVEL_M, along));
	ck_assert_str_eq(along, "92.5");
	/* in another unit they mean something else */
	ck_assert(!work_next_along(&s.run, 4, LEVEL_FT, along));
	shelf_close(&s);
}
END_TEST

/* The BS stays on the rod that stands on its turning point; with two rods the FS is on the other.
 */
START_TEST(test_rods)
{
	struct shelf s;
	struct work_next_given given;
	struct book_draft next;
	static const struct {
		enum level_kind kind;
		const char *station, *rod;
	} sights[] = {{LEVEL_BS, "A", "R1"}, {LEVEL_FS, "TP1", "R2"}, {LEVEL_BS, "TP1", "R2"}};
	struct book_rod rod = {.name = "R1"};
	shelf_open(&s, LEVEL_M);
	ck_assert_msg(book_rod_set(s.book, &rod, &s.why), "%s", s.why.text);
	strcpy(rod.name, "R2");
	ck_assert(book_rod_set(s.book, &rod, &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	for (size_t i = 0; i < 3; i++) {
		struct level_sight sight;
		struct book_note note;
		ck_assert(shelf_read(&s, sights[i].kind, sights[i].station, "1.5", &sight, &note));
		strcpy(note.rod, sights[i].rod);
		ck_assert(book_add(s.book, &s.run, i, &sight, &note, &s.why));
		shelf_take(&s, s.run.info.id);
		given = given_of(&s);
		work_next(&given, i + 1, &next);
		ck_assert_str_eq(next.rod, i == 0 ? "R1" : i == 1 ? "R2" : "R1");
		ck_assert_str_eq(next.kind, i == 1 ? "BS" : "FS");
		ck_assert_str_eq(next.station, i < 2 ? "TP1" : "TP2");
		ck_assert_int_eq(next.focus, WORK_STATION);
		ck_assert_str_eq(next.reading, "");
	}
	shelf_close(&s);
}
END_TEST

/* The first BS is on the one mark of the book, by the level looked through last. */
START_TEST(test_begins)
{
	struct shelf s;
	struct book_mark marks[] = {{.name = "GATE"}, {.name = "SILL"}};
	struct work_next_given given;
	struct book_draft next;
	static const struct book_figures plan = {
	    "level\tL2\nnear_method\ttape\nfar_method\ttarget\n"};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	given = given_of(&s);
	given.marks = marks;
	given.mark_count = 1;
	given.last_instrument = "L1";
	work_next(&given, 0, &next);
	ck_assert_str_eq(next.kind, "BS");
	ck_assert_str_eq(next.station, "GATE");
	ck_assert_str_eq(next.instrument, "L1");
	ck_assert_str_eq(next.method, "rod");
	given.mark_count = 2;
	work_next(&given, 0, &next);
	ck_assert_str_eq(next.station, "");
	/* what the plan says goes before, and what was chosen before that */
	given.figures = &plan;
	work_next(&given, 0, &next);
	ck_assert_str_eq(next.instrument, "L2");
	ck_assert_str_eq(next.method, "tape");
	given.chosen_instrument = "";
	work_next(&given, 0, &next);
	ck_assert_str_eq(next.instrument, "");
	ck_assert(shelf_book(&s, LEVEL_BS, "GATE", "1.5"));
	given = given_of(&s);
	given.figures = &plan;
	work_next(&given, 1, &next);
	ck_assert_str_eq(next.kind, "FS");
	ck_assert_str_eq(next.method, "target");
	ck_assert_str_eq(next.instrument, "");
	shelf_close(&s);
}
END_TEST

/* In a series each sight at the end is an IS, while a setup is open; a row put in is not. */
START_TEST(test_series)
{
	struct shelf s;
	struct work_next_given given;
	struct book_draft next;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "", ""));
	ck_assert(shelf_sight(&s, LEVEL_IS, "0+20", "1.2", "", ""));
	ck_assert(shelf_sight(&s, LEVEL_IS, "0+40", "1.3", "", ""));
	shelf_take(&s, s.run.info.id);
	given = given_of(&s);
	work_next(&given, 3, &next);
	ck_assert_str_eq(next.kind, "FS");
	ck_assert_str_eq(next.station, "TP1");
	given.series = true;
	work_next(&given, 3, &next);
	ck_assert_str_eq(next.kind, "IS");
	ck_assert_str_eq(next.station, "0+60");
	ck_assert(shelf_sight(&s, LEVEL_FS, "TP1", "1.4", "", ""));
	shelf_take(&s, s.run.info.id);
	given = given_of(&s);
	given.series = true;
	work_next(&given, 4, &next);
	ck_assert_str_eq(next.kind, "BS");
	ck_assert_str_eq(next.station, "TP1");
	shelf_close(&s);
}
END_TEST

START_TEST(test_water)
{
	struct level_closing none = {0}, ends = {.start_station = "A", .end_station = "B"};
	struct book_water water[2] = {{.station = "A"}, {.station = "B"}};
	const struct book_mark marks[] = {{.name = "A"}, {.name = "B"}, {.name = "C"}};
	ck_assert_str_eq(work_next_water(&none, water, 0, marks, 2), "");
	ck_assert_str_eq(work_next_water(&none, water, 1, marks, 1), "A");
	/* the other one of two marks, but not one of two others */
	ck_assert_str_eq(work_next_water(&none, water, 1, marks, 2), "B");
	ck_assert_str_eq(work_next_water(&none, water, 1, marks, 3), "A");
	ck_assert_str_eq(work_next_water(&none, water, 2, marks, 2), "B");
	/* the ends of the run go before the marks */
	ck_assert_str_eq(work_next_water(&ends, water, 0, marks, 3), "A");
	ck_assert_str_eq(work_next_water(&ends, water, 1, marks, 3), "B");
	ck_assert_str_eq(work_next_water(&ends, water, 2, marks, 3), "B");
	strcpy(water[0].struck, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(work_next_water(&ends, water, 1, marks, 3), "A");
	/* a start alone, as while its FS is awaited */
	ends.end_station = NULL;
	water[0].struck[0] = '\0';
	ck_assert_str_eq(work_next_water(&ends, water, 1, marks, 2), "B");
}
END_TEST

START_TEST(test_water_sets)
{
	ck_assert(!work_water_is_set(1, 9));
	ck_assert(work_water_is_set(1, 10));
	ck_assert(work_water_is_set(3, 3));
}
END_TEST

/* The shelf's clock stands still: what is booked now is booked today. */
START_TEST(test_paper_day)
{
	struct shelf s;
	char now[BOOK_TIME_BYTES], day[BOOK_TIME_BYTES];
	shelf_open(&s, LEVEL_M);
	shelf_clock(now);
	work_paper_day(s.book, "1999-05-04T09:30:00+02:00", now, day);
	ck_assert_str_eq(day, "1999-05-04");
	work_paper_day(s.book, "1999-05-04T09:30:00+02:00", "", day);
	ck_assert_str_eq(day, "");
	work_paper_day(s.book, now, now, day);
	ck_assert_str_eq(day, "");
	/* typed on another day: that sheet is done with */
	work_paper_day(s.book, "1999-05-04T09:30:00+02:00", "1999-05-05T10:00:00+02:00", day);
	ck_assert_str_eq(day, "");
	shelf_close(&s);
}
END_TEST

START_TEST(test_time_over)
{
	static const char *const cases[][3] = {
	    {"1999-05-04", "09:30", "1999-05-04T09:30"},
	    {"1999-05-04T08:00:00+02:00", "09:30", "1999-05-04T09:30"},
	    {"1999-05-04", "1999-05-06T09:30", "1999-05-06T09:30"},
	    {"1999-05-04", "", ""},
	    {"1999-05-04", "25:30", "25:30"},
	    {"", "09:30", "09:30"},
	    {"08:00", "09:30", "09:30"},
	};
	char out[BOOK_TIME_BYTES];
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		work_time_over(cases[i][0], cases[i][1], out);
		ck_assert_str_eq(out, cases[i][2]);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("next", test_places, test_turning_place, test_along, test_rods,
	                 test_begins, test_series, test_water, test_water_sets, test_paper_day,
	                 test_time_over);
}
