/* What a leveller does with a book, without screen or paper. Limits are those of third order (FGCC
 * 1984, recalled): sights of 90 m, 10 m between BS and FS of a setup, tilt 0.10 mm/m. */
#include "rodbook/level/time.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static void assert_refused(const struct work_reader *with, struct work_typed typed,
                           const char *field)
{
	struct level_sight sight;
	struct book_note note;
	struct fault why = {0};
	ck_assert_msg(!work_read_sight(with, &typed, &sight, &note, &why), "%s", field);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert_msg(why.field && strcmp(why.field, field) == 0, "%s, not %s: %s",
	              why.field ? why.field : "nothing", field, why.text);
}

START_TEST(test_fault_names_the_text)
{
	struct shelf s;
	struct work_reader with;
	struct level_sight sight;
	struct book_note note;
	char remark[2000];
	shelf_open(&s, LEVEL_M);
	ck_assert(work_reader_open(s.book, &with, &s.why));
	memset(remark, 'a', sizeof remark - 1);
	remark[sizeof remark - 1] = '\0';
#define TYPED(...)                                                                                 \
	((struct work_typed){.text[WORK_SIGHT] = "BS",                                             \
	                     .text[WORK_STATION] = "A",                                            \
	                     .text[WORK_READING] = "1.5",                                          \
	                     __VA_ARGS__})
	assert_refused(&with,
	               (struct work_typed){.text[WORK_SIGHT] = "XS",
	                                   .text[WORK_STATION] = "A",
	                                   .text[WORK_READING] = "1"},
	               "sight");
	assert_refused(&with,
	               (struct work_typed){.text[WORK_SIGHT] = "BS", .text[WORK_READING] = "1"},
	               "station");
	assert_refused(&with,
	               (struct work_typed){.text[WORK_SIGHT] = "BS", .text[WORK_STATION] = "A"},
	               "reading");
	assert_refused(&with,
	               (struct work_typed){.text[WORK_SIGHT] = "BS",
	                                   .text[WORK_STATION] = "A",
	                                   .text[WORK_READING] = "1.x"},
	               "reading");
	assert_refused(&with, TYPED(.text[WORK_METHOD] = "thumb"), "method");
	assert_refused(&with, TYPED(.text[WORK_UNIT] = "cubit"), "unit");
	assert_refused(&with, TYPED(.text[WORK_TIME] = "yesterday"), "time");
	assert_refused(&with, TYPED(.text[WORK_AGAIN] = "twice"), "again");
	assert_refused(&with, TYPED(.text[WORK_DISTANCE] = "far"), "distance");
	assert_refused(&with, TYPED(.text[WORK_DISTANCE] = "0"), "distance");
	assert_refused(&with, TYPED(.text[WORK_DISTANCE] = "60", .text[WORK_DISTANCE_BY] = "eye"),
	               "distance");
	assert_refused(&with, TYPED(.text[WORK_INSTRUMENT] = "L9"), "instrument");
	assert_refused(&with, TYPED(.text[WORK_ROD] = "R9"), "rod");
	assert_refused(&with, TYPED(.text[WORK_ALONG] = "here"), "along");
	assert_refused(&with, TYPED(.text[WORK_REMARK] = remark), "remark");
	assert_refused(&with, TYPED(.text[WORK_PHOTO] = remark), "photo");
	assert_refused(&with, TYPED(.text[WORK_UPPER] = "1.6", .text[WORK_MIDDLE] = "1.5"),
	               "lower");
	assert_refused(
	    &with,
	    TYPED(.text[WORK_UPPER] = "1.6", .text[WORK_MIDDLE] = "x", .text[WORK_LOWER] = "1.4"),
	    "middle");
	/* a rod of 5 m cannot show 5.05, whatever the mean is; a tape can, and what is struck
	 * counts for nothing */
	struct work_typed set = TYPED(.wires = false);
	set.text[WORK_READING] = "4.8; 5.05";
	assert_refused(&with, set, "reading");
	set.text[WORK_METHOD] = "tape";
	ck_assert(work_read_sight(&with, &set, &sight, &note, NULL));
	set.text[WORK_METHOD] = "rod";
	set.text[WORK_READING] = "4.8; x5.05";
	ck_assert(work_read_sight(&with, &set, &sight, &note, NULL));
	assert_refused(&with, TYPED(.text[WORK_PHOTO] = remark + sizeof remark - 1 - 121), "photo");
	assert_refused(&with, TYPED(.text[WORK_PHOTO] = "a\tb"), "photo");
#undef TYPED
	work_reader_free(&with);
	shelf_close(&s);
}
END_TEST

/* 1.600, 1.500, 1.400: the mean is 1.500, and 100 times 0.200 makes 20 m. */
START_TEST(test_texts_make_a_sight)
{
	struct shelf s;
	struct work_reader with;
	struct level_sight sight;
	struct book_note note;
	shelf_open(&s, LEVEL_M);
	ck_assert(work_reader_open(s.book, &with, &s.why));
	ck_assert(work_read_sight(&with,
	                          &(struct work_typed){.text[WORK_SIGHT] = "FS",
	                                               .text[WORK_STATION] = "TP1",
	                                               .text[WORK_UPPER] = "1.600",
	                                               .text[WORK_MIDDLE] = "1.500",
	                                               .text[WORK_LOWER] = "1.400",
	                                               .text[WORK_REMARK] = "in wind"},
	                          &sight, &note, &s.why));
	ck_assert_int_eq(sight.kind, LEVEL_FS);
	ck_assert(sight.wires);
	ck_assert_int_eq(sight.reading, 1500000000);
	ck_assert_int_eq(sight.distance, 20 * LEVEL_NM_PER_M);
	ck_assert_int_eq(sight.method, LEVEL_ROD);
	ck_assert_str_eq(note.remark, "in wind");
	ck_assert_str_eq(note.reading, "");
	/* a bare number by the unit named: 5 ft are 1.524 m */
	ck_assert(work_read_sight(&with,
	                          &(struct work_typed){.text[WORK_SIGHT] = "BS",
	                                               .text[WORK_STATION] = "A",
	                                               .text[WORK_READING] = "5",
	                                               .text[WORK_UNIT] = "ft",
	                                               .text[WORK_METHOD] = "tape",
	                                               .text[WORK_AGAIN] = "again"},
	                          &sight, &note, &s.why));
	ck_assert_int_eq(sight.reading, 1524000000);
	ck_assert_int_eq(sight.method, LEVEL_TAPE);
	ck_assert(sight.again);
	ck_assert_int_eq(note.unit, LEVEL_FT);
	work_reader_free(&with);
	shelf_close(&s);
}
END_TEST

/* The longest texts that a book holds, of characters of four bytes: 120 in a remark, 40 in a name.
 */
START_TEST(test_longest_texts)
{
	struct shelf s;
	struct work_booked out;
	char remark[4 * 120 + 1] = "", name[4 * 40 + 1] = "";
	for (int i = 0; i < 120; i++)
		strcat(remark, "\xf0\xa0\x80\x80");
	for (int i = 0; i < 40; i++)
		strcat(name, "\xf0\xa0\x80\x80");
	shelf_open(&s, LEVEL_M);
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R"}, &s.why));
	shelf_begin(&s, "path", LEVEL_LOOP);
	struct book_instrument level = {.tolerance = "0.1 mm/m"};
	strcpy(level.name, name);
	ck_assert_msg(book_instrument_set(s.book, &level, &s.why), "%s", s.why.text);
	ck_assert_msg(work_book_sight(s.book, "path",
	                              &(struct work_typed){.text[WORK_SIGHT] = "BS",
	                                                   .text[WORK_STATION] = "A",
	                                                   .text[WORK_READING] = "1.5",
	                                                   .text[WORK_INSTRUMENT] = name,
	                                                   .text[WORK_ROD] = "R",
	                                                   .text[WORK_REMARK] = remark},
	                              &out, &s.why),
	              "%s", s.why.text);
	shelf_take(&s, s.run.info.id);
	ck_assert_str_eq(s.run.note[0].remark, remark);
	ck_assert_str_eq(s.run.note[0].instrument, name);
	shelf_close(&s);
}
END_TEST

static struct work_booked book_one(struct shelf *s, const char *kind, const char *station,
                                   const char *reading, const char *distance)
{
	struct work_booked out;
	ck_assert_msg(work_book_sight(s->book, "path",
	                              &(struct work_typed){.text[WORK_SIGHT] = kind,
	                                                   .text[WORK_STATION] = station,
	                                                   .text[WORK_READING] = reading,
	                                                   .text[WORK_DISTANCE] = distance},
	                              &out, &s->why),
	              "%s", s->why.text);
	return out;
}

START_TEST(test_booked_with_its_warnings)
{
	struct shelf s;
	struct work_booked out;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "STONE", "12.5", NULL, NULL, &s.why));
	shelf_begin(&s, "path", LEVEL_LOOP);
	out = book_one(&s, "BS", "STONE", "1.5", "60");
	ck_assert_uint_eq(out.warned.set, 0);
	out = book_one(&s, "FS", "TP1", "1.4", "95");
	ck_assert_uint_eq(out.warned.set, 1u << LEVEL_WARN_SIGHT | 1u << LEVEL_WARN_IMBALANCE);
	ck_assert_int_eq(out.setup, 1);
	ck_assert_int_eq(out.seal, WORK_NO_SEAL);
	out = book_one(&s, "BS", "TP1", "1.2", "20");
	ck_assert_uint_eq(out.warned.set, 0);
	ck_assert_int_eq(out.setup, 2);
	/* rod reading: 0.5 mm + 0.010 mm/m over 20 m (common practice, no source) */
	ck_assert_double_eq_tol(out.reading_u, 0.0007, 1e-12);
	shelf_take(&s, s.run.info.id);
	ck_assert_str_eq(s.run.note[0].overridden, "");
	ck_assert_str_eq(s.run.note[1].overridden, "long sight; imbalance");
	shelf_close(&s);
}
END_TEST

static struct work_booked book_with(struct shelf *s, const char *kind, const char *station,
                                    const char *reading, const char *distance, const char *again)
{
	struct work_booked out;
	ck_assert_msg(work_book_sight(s->book, "path",
	                              &(struct work_typed){.text[WORK_SIGHT] = kind,
	                                                   .text[WORK_STATION] = station,
	                                                   .text[WORK_READING] = reading,
	                                                   .text[WORK_DISTANCE] = distance,
	                                                   .text[WORK_AGAIN] = again,
	                                                   .text[WORK_INSTRUMENT] = "L1",
	                                                   .text[WORK_ROD] = "long"},
	                              &out, &s->why),
	              "%s", s->why.text);
	return out;
}

/* A known tilt of 0.2 mm/m reads 2 mm too high over 10 m and 4 mm over 20 m, and a rod whose zero
 * is 5 mm off reads all too high alike: the standings rise by 100 mm and by 98 mm + 4 mm - 2 mm.
 * Limit 3 mm (common practice, no source): without tilt or rod of the last sight they would differ
 * by more. */
START_TEST(test_standings_without_the_tilt)
{
	struct shelf s;
	struct work_booked out;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(
	    s.book,
	    &(struct book_instrument){
	        .name = "L1", .tolerance = "0.3 mm/m", .tilt = "+0.2 mm/m", .tilt_u = "0.01 mm/m"},
	    &s.why));
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "long", .zero = "5 mm"}, &s.why));
	shelf_begin(&s, "path", LEVEL_LOOP);
	book_with(&s, "BS", "A", "1.500", "20", NULL);
	book_with(&s, "FS", "B", "1.400", "20", NULL);
	book_with(&s, "BS", "A", "1.602", "10", "again");
	out = book_with(&s, "FS", "B", "1.504", "20", NULL);
	ck_assert_uint_eq(out.warned.set, 0);
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused_is_not_booked)
{
	struct shelf s;
	struct work_booked out;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "path", LEVEL_LOOP);
	ck_assert(!work_book_sight(s.book, "path",
	                           &(struct work_typed){.text[WORK_SIGHT] = "BS",
	                                                .text[WORK_STATION] = "A",
	                                                .text[WORK_READING] = "1.5",
	                                                .text[WORK_INSTRUMENT] = "L9"},
	                           &out, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_INPUT);
	ck_assert(!work_book_sight(s.book, "road",
	                           &(struct work_typed){.text[WORK_SIGHT] = "BS",
	                                                .text[WORK_STATION] = "A",
	                                                .text[WORK_READING] = "1.5"},
	                           &out, &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.run.count, 0);
	shelf_close(&s);
}
END_TEST

static void assert_drop(struct shelf *s, const char *name, enum work_drop expected)
{
	struct work_run run;
	ck_assert_msg(work_run_load(s->book, name, NULL, &run, &s->why), "%s", s->why.text);
	ck_assert_msg(work_drop_of(&run) == expected, "%s", name);
	work_run_free(&run);
}

START_TEST(test_why_no_drop)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "path", LEVEL_LOOP);
	assert_drop(&s, "path", WORK_NO_CROSSING);
	shelf_begin(&s, "lake", LEVEL_CROSSING);
	assert_drop(&s, "lake", WORK_NOT_COMPLETE);
	ck_assert(shelf_sight(&s, LEVEL_BS, "EAST", "1.5", "5", ""));
	assert_drop(&s, "lake", WORK_NOT_COMPLETE);
	ck_assert(shelf_sight(&s, LEVEL_FS, "WEST", "1.6", "800", ""));
	assert_drop(&s, "lake", WORK_NO_ANSWER);
	ck_assert(book_mark_set(s.book, "EAST", "10", "0.001", NULL, &s.why));
	ck_assert(book_mark_set(s.book, "WEST", "10", "0.001", NULL, &s.why));
	assert_drop(&s, "lake", WORK_ANSWERED);
	shelf_close(&s);
}
END_TEST

/* 2026-05-04 is 7 days after 2026-04-27; 2024-03-01 is two days after 2024-02-28, a leap year; and
 * 2100, which is none, has 365 days. */
START_TEST(test_days)
{
	ck_assert_int_eq(level_day_number("2026-05-04T09:30") - level_day_number("2026-04-27"), 7);
	ck_assert_int_eq(level_day_number("2024-03-01") - level_day_number("2024-02-28"), 2);
	ck_assert_int_eq(level_day_number("2101-01-01") - level_day_number("2100-01-01"), 365);
	ck_assert_int_eq(level_day_number("2000-12-31") - level_day_number("2000-01-01"), 365);
}
END_TEST

static enum work_test tested(struct shelf *s)
{
	struct book_settings settings;
	struct work_tested out;
	struct book_terms terms;
	ck_assert(book_settings(s->book, &settings, &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(book_run_terms(s->book, &s->run, &terms, &s->why));
	ck_assert(work_tested(s->book, &s->run, &terms, &settings.tolerance, &out, &s->why));
	if (out.state != WORK_TESTED)
		ck_assert_str_eq(out.instrument, "L1");
	return out.state;
}

static void pegs(struct shelf *s, const char *standings)
{
	struct book_pegtest test = {.instrument = "L1"};
	struct level_peg_result result;
	snprintf(test.standings, sizeof test.standings, "%s", standings);
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
}

/* Pegs 60 m apart, A 0.250 above B. From 5 m off A a tilt of 0.2 mm/m reads B 10 mm higher. */
START_TEST(test_tested_in_time)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s.why));
	shelf_begin(&s, "path", LEVEL_LOOP);
	ck_assert_int_eq(tested(&s), WORK_TESTED);
	ck_assert(shelf_sight(&s, LEVEL_BS, "STONE", "1.5", "60", "L1"));
	ck_assert_int_eq(tested(&s), WORK_NO_TEST);
	pegs(&s, "30,1.500,30,1.250; 5,1.500,55,1.260");
	ck_assert_int_eq(tested(&s), WORK_TEST_FAILED);
	pegs(&s, "30,1.500,30,1.250; 5,1.500,55,1.250");
	ck_assert_int_eq(tested(&s), WORK_TESTED);
	shelf_close(&s);
}
END_TEST

static bool tested_of_day(struct shelf *s)
{
	struct work_run run;
	bool of_day;
	ck_assert_msg(work_run_load(s->book, "path", NULL, &run, &s->why), "%s", s->why.text);
	of_day = run.tested.of_day;
	work_run_free(&run);
	return of_day;
}

/* A level whose sights are all struck was not used: that it has no test says nothing. */
START_TEST(test_struck_is_not_used)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s.why));
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L2", .tolerance = "0.1 mm/m"}, &s.why));
	pegs(&s, "30,1.500,30,1.250; 5,1.500,55,1.250");
	shelf_begin(&s, "path", LEVEL_LOOP);
	ck_assert(!tested_of_day(&s));
	ck_assert(shelf_sight(&s, LEVEL_BS, "STONE", "1.5", "60", "L2"));
	ck_assert(!tested_of_day(&s));
	ck_assert(shelf_strike(&s, 0));
	ck_assert(!tested_of_day(&s));
	ck_assert(shelf_sight(&s, LEVEL_BS, "STONE", "1.5", "60", "L1"));
	ck_assert(tested_of_day(&s));
	ck_assert_int_eq(tested(&s), WORK_TESTED);
	shelf_close(&s);
}
END_TEST

/* A whole book may bring a test whose time nobody wrote down: nothing says that it was in time. */
START_TEST(test_tested_who_knows_when)
{
	static const char text[] =
	    "book,3\n"
	    "columns,instrument,id,name,tolerance,time\nrow,instrument,1,L1,0.1 mm/m,\n"
	    "columns,pegtest,id,instrument,unit,standings,tilt,tilt_u,time\n"
	    "row,pegtest,1,L1,m,\"30,1.5,30,1.25; 5,1.5,55,1.25\",0 mm/m,0.01 mm/m,\n";
	struct shelf s;
	struct work_taken counts;
	shelf_open(&s, LEVEL_M);
	ck_assert_msg(shelf_import(&s, text, &counts), "%s", s.why.text);
	shelf_begin(&s, "path", LEVEL_LOOP);
	ck_assert(shelf_sight(&s, LEVEL_BS, "STONE", "1.5", "60", "L1"));
	ck_assert_int_eq(tested(&s), WORK_NO_TEST);
	shelf_close(&s);
}
END_TEST

static const char *today;

static void clock_of_day(char out[BOOK_TIME_BYTES])
{
	snprintf(out, BOOK_TIME_BYTES, "%sT08:00:00+02:00", today);
}

/* Third order asks for a test a day (common practice, no source), construction for none. */
START_TEST(test_grows_old)
{
	static const struct {
		const char *day, *set;
		enum work_test expected;
	} table[] = {{"2026-05-04", "third-order", WORK_TESTED},
	             {"2026-05-05", "third-order", WORK_TESTED},
	             {"2026-05-06", "third-order", WORK_TEST_OLD},
	             {"2026-05-12", "construction", WORK_TESTED},
	             {"2026-05-03", "third-order", WORK_NO_TEST}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct shelf s;
		shelf_open(&s, LEVEL_M);
		book_close(s.book);
		s.book = book_open(s.path, clock_of_day, &s.why);
		ck_assert_ptr_nonnull(s.book);
		today = "2026-05-04";
		ck_assert(book_set(s.book, "tolerance", table[i].set, &s.why));
		ck_assert(book_instrument_set(
		    s.book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"},
		    &s.why));
		pegs(&s, "30,1.500,30,1.250; 5,1.500,55,1.250");
		today = table[i].day;
		shelf_begin(&s, "path", LEVEL_LOOP);
		ck_assert(shelf_sight(&s, LEVEL_BS, "STONE", "1.5", "60", "L1"));
		ck_assert_msg(tested(&s) == table[i].expected, "%s, %s", table[i].day,
		              table[i].set);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("work", test_fault_names_the_text, test_texts_make_a_sight,
	                 test_longest_texts, test_booked_with_its_warnings,
	                 test_standings_without_the_tilt, test_refused_is_not_booked,
	                 test_why_no_drop, test_days, test_tested_in_time, test_struck_is_not_used,
	                 test_tested_who_knows_when, test_grows_old);
}
