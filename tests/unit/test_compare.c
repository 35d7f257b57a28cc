/* What a sight on a station finds less what was known of it. The tolerance is third order, 12 mm by
 * the root of kilometers (FGCC 1984, sec. 3.5, recalled); readings of 0.5 mm without distances, 5
 * mm a setup (common practice, no source). */
#include "rodbook/work/compare.h"

#include <math.h>
#include <string.h>
#include <time.h>

#include "leaving.h"
#include "rodbook/work/sight.h"

#define IS(station, reading, length)                                                               \
	book_row(&s, LEVEL_IS, station, reading, (struct typed){.distance = length})

/* The last sight of the run in hand. */
static struct work_compared compared(struct shelf *s)
{
	struct work_run run;
	struct work_determination other;
	struct work_compared out;
	bool has;
	size_t last = s->run.run.count - 1;
	ck_assert_msg(work_run_load(s->book, s->run.info.name, NULL, &run, &s->why), "%s",
	              s->why.text);
	ck_assert(work_determined(s->book, &run.book, run.book.run.sight[last].station, &other,
	                          &has, &s->why));
	out = work_compare(&run.book.run, &run.page, &run.terms.terms,
	                   &(struct level_rule){run.closing.set, run.settings.setup_figure}, last,
	                   has ? &other : NULL);
	work_run_free(&run);
	return out;
}

/* The BS of a further standing. */
static void book_again(struct shelf *s, const char *station, const char *reading)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, LEVEL_BS, station, reading, &sight, &note));
	sight.again = true;
	ck_assert_msg(book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why), "%s",
	              s->why.text);
	shelf_take(s, s->run.info.id);
}

static size_t apart(struct shelf *s, struct work_leave_item *first)
{
	return times(s, WORK_STATION_APART, first);
}

/* An IS over 50 and 75 m on a known mark: 12 mm sqrt 0.125 = 4.243 mm. */
START_TEST(test_known_mark_on_the_side)
{
	struct shelf s;
	struct work_compared got;
	struct work_leave_item item;
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	mark(&s, "BM2", "100.5", "bolt");
	shelf_begin(&s, "r", LEVEL_OPEN);
	BS("BM1", "1.500", "50");
	IS("BM2", "1.004", "75");
	got = compared(&s);
	ck_assert_int_eq(got.against, WORK_AGAINST_GIVEN);
	/* -4 mm, and h of 75 m less h of 50 m, 0.213 mm (k 0.13), taken off the reading */
	ck_assert_int_le(llabs(got.difference - (-MM(4) + 213400)), 100);
	ck_assert_int_eq(got.allowable, 4242641);
	ck_assert(got.holds);
	ck_assert_uint_eq(apart(&s, &item), 0);
	IS("BM2", "1.006", "75");
	got = compared(&s);
	ck_assert(!got.holds);
	ck_assert_uint_eq(apart(&s, &item), 1);
	ck_assert_str_eq(item.station, "BM2");
	ck_assert(item.blocks);
	ck_assert_int_eq(item.rank, WORK_RANK_STATION);
	ck_assert(book_strike(s.book, &s.run, 2, false, "slip", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(apart(&s, &item), 0);
	shelf_close(&s);
}
END_TEST

/* The same nail twice from one setup, and again as the turning point. */
START_TEST(test_twice_in_a_run)
{
	struct shelf s;
	struct work_compared got;
	struct work_leave_item item;
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	shelf_begin(&s, "r", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	IS("NAIL", "1.004", "");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_NOTHING);
	IS("NAIL", "1.005", "");
	got = compared(&s);
	ck_assert_int_eq(got.against, WORK_AGAINST_EARLIER);
	ck_assert_int_eq(got.difference, -MM(1));
	/* 2 sqrt(0.5) mm */
	ck_assert_int_eq(got.allowable, 1414214);
	ck_assert(got.holds);
	FS("NAIL", "1.010", "");
	got = compared(&s);
	ck_assert_int_eq(got.difference, -MM(5));
	ck_assert_int_eq(got.setup, 1);
	ck_assert(!got.holds);
	ck_assert_uint_eq(apart(&s, &item), 1);
	ck_assert_int_eq(item.compared.setup, 1);
	shelf_close(&s);
}
END_TEST

/* In a second standing of the setup, from another height of the instrument: neither reading nor BS
 * is shared, so four readings of 0.5 mm, 2 mm, may be. */
START_TEST(test_second_standing)
{
	struct shelf s;
	struct work_compared got;
	struct work_leave_item item;
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	shelf_begin(&s, "r", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	IS("NAIL", "1.000", "");
	FS("TP1", "1.200", "");
	book_again(&s, "BM1", "1.600");
	IS("NAIL", "1.101", "");
	got = compared(&s);
	ck_assert_int_eq(got.against, WORK_AGAINST_EARLIER);
	ck_assert_int_eq(got.difference, -MM(1));
	ck_assert_int_eq(got.allowable, MM(2));
	ck_assert(got.holds);
	IS("NAIL", "1.651", "");
	ck_assert(!compared(&s).holds);
	ck_assert_uint_eq(apart(&s, &item), 1);
	shelf_close(&s);
}
END_TEST

START_TEST(test_another_run)
{
	struct shelf s;
	struct work_compared got;
	struct work_leave_item item;
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	shelf_begin(&s, "spring", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	IS("NAIL", "1.000", "");
	shelf_begin(&s, "autumn", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	IS("NAIL", "1.014", "");
	got = compared(&s);
	ck_assert_int_eq(got.against, WORK_AGAINST_RUN);
	ck_assert_str_eq(got.run, "spring");
	ck_assert_int_eq(got.difference, -MM(14));
	/* 2 sqrt(51) mm */
	ck_assert_int_eq(got.allowable, 14282857);
	ck_assert(got.holds);
	/* Another epoch is no slip of this run. */
	shelf_begin(&s, "winter", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	IS("NAIL", "1.034", "");
	got = compared(&s);
	ck_assert_str_eq(got.run, "autumn");
	ck_assert(!got.holds);
	ck_assert_uint_eq(apart(&s, &item), 0);
	/* From a start that is not known nothing goes together with it. */
	shelf_begin(&s, "apart", LEVEL_OPEN);
	BS("PEG", "1.500", "");
	IS("NAIL", "1.034", "");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_NOTHING);
	shelf_close(&s);
}
END_TEST

/* Back on the start, and on the first known mark, the misclosure tells; on the way a section. */
START_TEST(test_where_the_misclosure_tells)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	mark(&s, "BM2", "100.5", "bolt");
	mark(&s, "BM3", "101", "bolt");
	shelf_begin(&s, "r", LEVEL_LINK);
	BS("BM1", "1.500", "40");
	FS("BM2", "1.010", "40");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_NOTHING);
	BS("BM2", "1.500", "40");
	FS("BM3", "1.010", "40");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_GIVEN);
	ck_assert_int_eq(compared(&s).difference, -MM(10));
	ck_assert(!compared(&s).holds);
	BS("BM3", "1.500", "40");
	FS("BM1", "2.500", "40");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_NOTHING);
	shelf_close(&s);
}
END_TEST

static double seconds_of(struct shelf *s, const char *station, const struct book_run *run)
{
	struct work_determination other;
	struct timespec from, to;
	bool has;
	clock_gettime(CLOCK_MONOTONIC, &from);
	for (int i = 0; i < 3; i++)
		ck_assert(work_determined(s->book, run, station, &other, &has, &s->why));
	clock_gettime(CLOCK_MONOTONIC, &to);
	ck_assert(has == (strcmp(station, "NAIL") == 0));
	return (double)(to.tv_sec - from.tv_sec) + (double)(to.tv_nsec - from.tv_nsec) / 1e9;
}

/* A turning point of the run in hand has the name of one in every other run: none of these is read
 * for it. A ratio, not a time. */
START_TEST(test_turning_point_reads_no_run)
{
	struct shelf s;
	struct book_run run;
	char name[20];
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	for (int i = 0; i < 60; i++) {
		snprintf(name, sizeof name, "r%d", i);
		shelf_begin(&s, name, LEVEL_OPEN);
		BS("BM1", "1.500", "");
		FS("TP1", "1.000", "");
		BS("TP1", "1.500", "");
		FS("NAIL", "1.000", "");
	}
	shelf_begin(&s, "last", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	ck_assert(book_load(s.book, s.run.info.id, &run, &s.why));
	ck_assert_double_lt(10 * seconds_of(&s, "TP1", &run), seconds_of(&s, "NAIL", &run));
	book_run_free(&run);
	shelf_close(&s);
}
END_TEST

/* A crossing determines nothing: what it shows is a drop. */
START_TEST(test_crossing)
{
	struct shelf s;
	struct work_leave_item item;
	shelf_open(&s, LEVEL_M);
	mark(&s, "BM1", "100", "bolt");
	mark(&s, "KNOWN", "90", "bolt");
	shelf_begin(&s, "over land", LEVEL_OPEN);
	BS("BM1", "1.500", "40");
	FS("FAR", "1.500", "40");
	shelf_begin(&s, "over", LEVEL_CROSSING);
	BS("BM1", "1.500", "5");
	IS("KNOWN", "1.500", "5");
	IS("NAIL", "1.000", "5");
	IS("NAIL", "1.500", "5");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_NOTHING);
	FS("FAR", "2.500", "800");
	ck_assert_int_eq(compared(&s).against, WORK_AGAINST_NOTHING);
	ck_assert_uint_eq(apart(&s, &item), 0);
	shelf_close(&s);
}
END_TEST

/* What is booked against a station that differs is warned of; one that agrees is no used name. */
START_TEST(test_warning)
{
	struct shelf s;
	struct work_booked booked;
	struct work_typed typed = {.text = {[WORK_SIGHT] = "IS", [WORK_STATION] = "NAIL"}};
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "r", LEVEL_OPEN);
	BS("BM1", "1.500", "");
	IS("NAIL", "1.000", "");
	typed.text[WORK_READING] = "1.001";
	ck_assert(work_book_sight(s.book, "r", &typed, &booked, &s.why));
	ck_assert_uint_eq(booked.warned.set, 0);
	typed.text[WORK_READING] = "1.551";
	ck_assert(work_book_sight(s.book, "r", &typed, &booked, &s.why));
	ck_assert_uint_eq(booked.warned.set, 1u << LEVEL_WARN_STATION);
	ck_assert_int_eq(booked.compared.difference, -MM(550));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("compare", test_known_mark_on_the_side, test_twice_in_a_run,
	                 test_second_standing, test_another_run, test_where_the_misclosure_tells,
	                 test_warning, test_crossing, test_turning_point_reads_no_run);
}
