/* Names that look alike, and readings with fewer decimals than those before them. Expected by eye:
 * common practice, no source. */
#include "rodbook/work/doubts.h"
#include "unit/books.h"
#include "unit/suite.h"

START_TEST(test_alike)
{
	static const struct {
		const char *a, *b;
		bool alike;
	} cases[] = {
	    {"BM1", "bm1", true},      {"BM 1", "BM1", true},    {"BM-1", "BM.1", true},
	    {"TP1", "TP01", true},     {"TP1", "TP001", true},   {"P10", "P1O", true},
	    {"Pl", "P1", true},        {"PEG_E", "peg e", true}, {"BM1", "BM1", false},
	    {"TP1", "TP11", false},    {"TP10", "TP100", false}, {"TP1", "TP10", false},
	    {"P0", "P", false},        {"12+50", "1250", false}, {"WALL N", "WALL S", false},
	    {"PEG-E", "PEG-W", false}, {"PIER", "pier", true},   {"WALL", "wall", true},
	    {"Il", "1I", true},        {"TP01", "TPO1", true},   {"PI", "Pl", true},
	    {"i", "l", false},         {"L1", "11", false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(work_is_alike(cases[i].a, cases[i].b) == cases[i].alike, "%s %s",
		              cases[i].a, cases[i].b);
		ck_assert_msg(work_is_alike(cases[i].b, cases[i].a) == cases[i].alike, "%s %s",
		              cases[i].b, cases[i].a);
	}
}
END_TEST

static struct work_doubts doubt_of(struct shelf *s, enum level_kind kind, size_t at, bool changes,
                                   const char *station, const char *reading)
{
	struct book_mark *marks;
	struct level_sight sight;
	struct book_note note;
	struct book_water *waters;
	size_t count, water_count;
	struct work_doubts out;
	ck_assert(book_marks(s->book, &marks, &count, &s->why));
	ck_assert_msg(shelf_read(s, kind, station, reading, &sight, &note), "%s", s->why.text);
	ck_assert(book_waters(s->book, s->run.info.id, &waters, &water_count, &s->why));
	out = work_doubt(s->book, &s->run, at, changes, marks, count, waters, water_count, NULL,
	                 &sight, &note);
	free(waters);
	free(marks);
	return out;
}

static struct work_doubts doubt(struct shelf *s, size_t at, bool changes, const char *station,
                                const char *reading)
{
	return doubt_of(s, LEVEL_FS, at, changes, station, reading);
}

START_TEST(test_names_of_book_and_run)
{
	const unsigned alike = 1u << LEVEL_WARN_ALIKE;
	struct shelf s;
	struct work_doubts got;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "BM1", "10", "", "", &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	got = doubt(&s, 0, false, "bm1", "1.5");
	ck_assert_uint_eq(got.set, alike);
	ck_assert_str_eq(got.alike, "BM1");
	ck_assert_uint_eq(doubt(&s, 0, false, "BM1", "1.5").set, 0);
	ck_assert(shelf_book(&s, LEVEL_BS, "BM1", "1.5"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.5"));
	ck_assert_str_eq(doubt(&s, 2, false, "TP01", "1.5").alike, "TP1");
	/* a station that is there is no new name, whatever else it looks like */
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "1.5"));
	ck_assert(shelf_book(&s, LEVEL_FS, "tp1", "1.5"));
	ck_assert_uint_eq(doubt(&s, 4, false, "tp1", "1.5").set, 0);
	ck_assert_uint_eq(doubt(&s, 4, false, "TP1", "1.5").set, 0);
	/* a sight that is renamed does not look like itself */
	ck_assert_uint_eq(doubt(&s, 0, true, "GATE", "1.5").set, 0);
	ck_assert(shelf_strike(&s, 3));
	ck_assert_uint_eq(doubt(&s, 4, false, "tp1", "1.5").set, alike);
	shelf_close(&s);
}
END_TEST

START_TEST(test_decimals)
{
	const unsigned fewer = 1u << LEVEL_WARN_DECIMALS;
	struct shelf s;
	struct work_doubts got;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.432"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.43"));
	ck_assert_uint_eq(doubt(&s, 2, false, "TP2", "1.4").set, 0);
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "1.200"));
	got = doubt(&s, 3, false, "TP2", "1.4");
	ck_assert_uint_eq(got.set, fewer);
	ck_assert_int_eq(got.decimals, 2);
	ck_assert_uint_eq(doubt(&s, 3, false, "TP2", "2").set, fewer);
	ck_assert_uint_eq(doubt(&s, 3, false, "TP2", "1.45").set, 0);
	/* another unit, a set, a sight that is struck */
	ck_assert_uint_eq(doubt(&s, 3, false, "TP2", "140 cm").set, 0);
	ck_assert_uint_eq(doubt(&s, 3, false, "TP2", "1.4; 1.4").set, 0);
	ck_assert(shelf_strike(&s, 2));
	ck_assert_uint_eq(doubt(&s, 3, false, "TP2", "1.4").set, 0);
	shelf_close(&s);
}
END_TEST

static bool read_water(struct shelf *s, const char *station)
{
	if (!book_water_add(s->book, s->run.info.id, station, "0.4", "", "", &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

START_TEST(test_water_at_no_sight)
{
	const unsigned dry = 1u << LEVEL_WARN_DRY;
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_CROSSING);
	/* it may be read after the sight */
	ck_assert_uint_eq(doubt_of(&s, LEVEL_BS, 0, false, "lake", "1.5").set, 0);
	ck_assert(read_water(&s, "EAST"));
	ck_assert_uint_eq(doubt_of(&s, LEVEL_BS, 0, false, "EAST", "1.5").set, 0);
	ck_assert_uint_eq(doubt_of(&s, LEVEL_BS, 0, false, "lake", "1.5").set, dry);
	ck_assert_str_eq(doubt_of(&s, LEVEL_BS, 0, false, "lake", "1.5").dry, "EAST");
	ck_assert(shelf_book(&s, LEVEL_BS, "EAST", "1.5"));
	ck_assert(read_water(&s, "PEG-W"));
	/* an FS on a target may have an offset to the peg */
	ck_assert_uint_eq(doubt(&s, 1, false, "TARGET", "1.5").set, 0);
	/* the BS is renamed: its own water is left alone then */
	ck_assert_str_eq(doubt_of(&s, LEVEL_BS, 0, true, "lake", "1.5").dry, "EAST");
	shelf_close(&s);
	/* a loop has no water */
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "b", LEVEL_LOOP);
	ck_assert_uint_eq(doubt_of(&s, LEVEL_BS, 0, false, "lake", "1.5").set, 0);
	shelf_close(&s);
}
END_TEST

/* The first long sight of a crossing seals, and what is not booked by then cannot be sealed. */
START_TEST(test_seals_bare)
{
	const level_nm from = 200 * LEVEL_NM_PER_M;
	struct level_sight sights[] = {{.kind = LEVEL_BS, .state = LEVEL_BOOKED, .distance = 1},
	                               {.kind = LEVEL_FS, .state = LEVEL_DRAFT, .distance = from}};
	struct level_run run = {.kind = LEVEL_CROSSING, .count = 2, .sight = sights};
	struct book_terms terms = {.k_source = LEVEL_K_DEFAULT};
	struct book_water water = {.station = "A"};
	ck_assert(work_doubt_seal(&run, 1, &terms, from, NULL, 0));
	ck_assert(!work_doubt_seal(&run, 1, &terms, from + 1, NULL, 0));
	ck_assert(!work_doubt_seal(&run, 1, &terms, from, &water, 1));
	strcpy(water.struck, "2026-05-09T08:00:00+02:00");
	ck_assert(work_doubt_seal(&run, 1, &terms, from, &water, 1));
	terms.k_source = LEVEL_K_THERMOMETERS;
	ck_assert(!work_doubt_seal(&run, 1, &terms, from, NULL, 0));
	terms.k_source = LEVEL_K_DEFAULT;
	terms.sealed = true;
	ck_assert(!work_doubt_seal(&run, 1, &terms, from, NULL, 0));
	terms.sealed = false;
	sights[0].has_known = true;
	ck_assert(!work_doubt_seal(&run, 1, &terms, from, NULL, 0));
	sights[0].has_known = false;
	run.kind = LEVEL_OPEN;
	ck_assert(!work_doubt_seal(&run, 1, &terms, from, NULL, 0));
}
END_TEST

/* A distance typed first would become a name: a number is asked about where no name is one. */
START_TEST(test_odd_number)
{
	const unsigned number = 1u << LEVEL_WARN_NUMBER;
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert_uint_eq(doubt(&s, 0, false, "29", "1.5").set, 0);
	ck_assert(shelf_book(&s, LEVEL_BS, "BM1", "1.5"));
	ck_assert_uint_eq(doubt(&s, 1, false, "29", "1.5").set, number);
	ck_assert_uint_eq(doubt(&s, 1, false, "29.5", "1.5").set, number);
	ck_assert_uint_eq(doubt(&s, 1, false, "0+29", "1.5").set, 0);
	ck_assert_uint_eq(doubt(&s, 1, false, "P29", "1.5").set, 0);
	ck_assert(shelf_book(&s, LEVEL_FS, "101", "1.5"));
	ck_assert_uint_eq(doubt(&s, 2, false, "102", "1.5").set, 0);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("doubts", test_alike, test_names_of_book_and_run, test_decimals,
	                 test_water_at_no_sight, test_seals_bare, test_odd_number);
}
