/* A class is a procedure, not a figure: what the record cannot show is not known, never kept (FGCC,
 * Standards and Specifications for Geodetic Control Networks, 1984, sec. 3.5, recalled). */
#include <string.h>

#include "rodbook/work/limits.h"
#include "unit/books.h"
#include "unit/suite.h"

static void limits(struct shelf *s, const char *name, enum work_kept out[WORK_LIMITS])
{
	struct work_run run;
	ck_assert_msg(work_run_load(s->book, name, NULL, &run, &s->why), "%s", s->why.text);
	work_limits(&run, out);
	work_run_free(&run);
}

static void loop(struct shelf *s, const char *bs, const char *fs, const char *distance)
{
	ck_assert(book_mark_set(s->book, "A", "100", "", "", &s->why));
	shelf_begin(s, "a", LEVEL_LOOP);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", bs, distance, ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "A", fs, distance, ""));
}

/* One setup, BS and FS on one mark, readings to 0.01 ft, a level that nobody tested. */
START_TEST(test_one_setup)
{
	struct shelf s;
	enum work_kept kept[WORK_LIMITS];
	shelf_open(&s, LEVEL_FT);
	ck_assert(book_set(s.book, "tolerance", "first-order-1", &s.why));
	loop(&s, "4.16", "4.16", "100");
	limits(&s, "a", kept);
	ck_assert_int_eq(kept[WORK_LIMIT_MISCLOSURE], WORK_KEPT);
	ck_assert_int_eq(kept[WORK_LIMIT_SIGHT], WORK_KEPT);
	ck_assert_int_eq(kept[WORK_LIMIT_SETUP_IMBALANCE], WORK_KEPT);
	ck_assert_int_eq(kept[WORK_LIMIT_IMBALANCE], WORK_KEPT);
	ck_assert_int_eq(kept[WORK_LIMIT_HALF], WORK_NOT_KNOWN);
	ck_assert_int_eq(kept[WORK_LIMIT_STANDINGS], WORK_NOT_ASKED);
	ck_assert_int_eq(kept[WORK_LIMIT_CLEARANCE], WORK_NOT_KNOWN);
	ck_assert_int_eq(kept[WORK_LIMIT_TEST], WORK_NOT_KNOWN);
	/* 0.01 ft is 3 mm, and 3 mm sqrt 0.061 = 0.7 mm */
	ck_assert_int_eq(kept[WORK_LIMIT_READINGS], WORK_NOT_KNOWN);
	shelf_close(&s);
}
END_TEST

/* A loop that closes over a mark a meter off: its misclosure is kept, the section is not. */
START_TEST(test_sections)
{
	struct shelf s;
	enum work_kept kept[WORK_LIMITS];
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "tolerance", "third-order", &s.why));
	ck_assert(book_mark_set(s.book, "B", "101", "", "", &s.why));
	loop(&s, "1.000", "1.000", "40");
	limits(&s, "a", kept);
	ck_assert_int_eq(kept[WORK_LIMIT_SECTIONS], WORK_NOT_ASKED);
	shelf_begin(&s, "b", LEVEL_LOOP);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.000", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.000", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_BS, "B", "1.000", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "A", "1.000", "40", ""));
	limits(&s, "b", kept);
	ck_assert_int_eq(kept[WORK_LIMIT_MISCLOSURE], WORK_KEPT);
	ck_assert_int_eq(kept[WORK_LIMIT_SECTIONS], WORK_BROKEN);
	ck_assert(book_mark_set(s.book, "B", "100.001", "", "", &s.why));
	limits(&s, "b", kept);
	ck_assert_int_eq(kept[WORK_LIMIT_SECTIONS], WORK_KEPT);
	shelf_close(&s);
}
END_TEST

/* 60 m sights: first order, class I asks for 50 m. To 0.1 mm they are fine enough for 1.0 mm. */
START_TEST(test_broken)
{
	struct shelf s;
	enum work_kept kept[WORK_LIMITS];
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "tolerance", "first-order-1", &s.why));
	loop(&s, "1.4320", "1.4340", "60");
	limits(&s, "a", kept);
	ck_assert_int_eq(kept[WORK_LIMIT_MISCLOSURE], WORK_BROKEN);
	ck_assert_int_eq(kept[WORK_LIMIT_SIGHT], WORK_BROKEN);
	ck_assert_int_eq(kept[WORK_LIMIT_READINGS], WORK_KEPT);
	shelf_close(&s);
	shelf_open(&s, LEVEL_M);
	loop(&s, "1.432", "1.434", "");
	limits(&s, "a", kept);
	/* by setups it would close: that is no class */
	ck_assert_int_eq(kept[WORK_LIMIT_MISCLOSURE], WORK_NOT_KNOWN);
	ck_assert_int_eq(kept[WORK_LIMIT_SIGHT], WORK_NOT_KNOWN);
	ck_assert_int_eq(kept[WORK_LIMIT_READINGS], WORK_NOT_KNOWN);
	shelf_close(&s);
}
END_TEST

/* The last place of what was typed: a stream gauge allows 0.003 ft, 0.9 mm, a setup. */
START_TEST(test_readings)
{
	static const struct {
		const char *reading;
		enum work_kept kept;
	} table[] = {
	    {"1.43", WORK_NOT_KNOWN},    {"1.439", WORK_NOT_KNOWN},   {"1.4390", WORK_KEPT},
	    {"1432.1 mm", WORK_KEPT},    {"1432 mm", WORK_NOT_KNOWN}, {"56 3/8 in", WORK_NOT_KNOWN},
	    {"56 3/32 in", WORK_KEPT},   {"2", WORK_NOT_KNOWN},       {"4.999 ft", WORK_KEPT},
	    {"4.99 ft", WORK_NOT_KNOWN}, {"1.", WORK_NOT_KNOWN},      {"-1", WORK_NOT_KNOWN},
	    {"+1.4390", WORK_KEPT}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct shelf s;
		enum work_kept kept[WORK_LIMITS];
		shelf_open(&s, LEVEL_M);
		ck_assert(book_set(s.book, "tolerance", "stream-gauge", &s.why));
		loop(&s, table[i].reading, table[i].reading, "20");
		limits(&s, "a", kept);
		ck_assert_msg(kept[WORK_LIMIT_READINGS] == table[i].kept, "%s: %d",
		              table[i].reading, (int)kept[WORK_LIMIT_READINGS]);
		ck_assert_int_eq(kept[WORK_LIMIT_SIGHT], WORK_NOT_ASKED);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("limits_kept", test_one_setup, test_sections, test_broken, test_readings);
}
