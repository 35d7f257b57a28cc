/* What would make a line of the allowance smaller, and that it is not named where it is done. Which
 * remedy helps which line: common practice, no source. */
#include "rodbook/work/remedy.h"
#include "unit/books.h"
#include "unit/suite.h"

START_TEST(test_by_line)
{
	static const struct {
		enum level_allowance_line line;
		struct work_done done;
		enum work_remedy remedy;
	} table[] = {
	    {LEVEL_LINE_INSTRUMENT, {.test_of_day = true}, WORK_PEGS_IN_SETS},
	    {LEVEL_LINE_INSTRUMENT, {.in_sets = true}, WORK_MORE_SETS},
	    {LEVEL_LINE_READING, {.target = false}, WORK_SIGHT_A_TARGET},
	    {LEVEL_LINE_READING, {.target = true}, WORK_READ_MORE},
	    {LEVEL_LINE_REFRACTION, {.air = LEVEL_K_DEFAULT}, WORK_MEASURE_AIR},
	    {LEVEL_LINE_REFRACTION, {.air = LEVEL_K_THERMOMETERS}, WORK_WATER_TOO},
	    {LEVEL_LINE_REFRACTION, {.air = LEVEL_K_WATER}, WORK_ANOTHER_HOUR},
	    {LEVEL_LINE_DECLARED, {.target = true}, WORK_TRANSFER_AGAIN},
	    {LEVEL_LINE_WATER, {.target = true}, WORK_STILL_WATER},
	    {LEVEL_LINE_KNOWN, {.target = true}, WORK_LEVEL_MARKS},
	    {LEVEL_LINE_DRIFT, {.test_of_day = false}, WORK_TEST_THAT_DAY},
	    {LEVEL_LINE_DRIFT, {.test_of_day = true}, WORK_TEST_AFTER},
	    {LEVEL_LINE_DISTANCE, {.target = true}, WORK_MEASURE_DISTANCES},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_int_eq(work_remedy(table[i].line, &table[i].done), table[i].remedy);
}
END_TEST

/* The longest sight that counts says whether a target was used. */
START_TEST(test_done)
{
	struct level_sight sight[] = {
	    {.kind = LEVEL_BS, .method = LEVEL_ROD, .distance = 20 * LEVEL_NM_PER_M},
	    {.kind = LEVEL_FS, .method = LEVEL_TARGET, .distance = 900 * LEVEL_NM_PER_M},
	    {.kind = LEVEL_IS, .method = LEVEL_ROD, .distance = 901 * LEVEL_NM_PER_M}};
	struct level_run run = {.count = 2, .sight = sight};
	struct work_tested tested = {.of_day = true};
	struct work_done done = work_done(&run, LEVEL_K_WATER, &tested);
	ck_assert(done.target);
	ck_assert(done.test_of_day);
	ck_assert_int_eq(done.air, LEVEL_K_WATER);
	run.count = 3;
	tested.of_day = false;
	done = work_done(&run, LEVEL_K_DEFAULT, &tested);
	ck_assert(!done.target);
	ck_assert(!done.test_of_day);
	sight[2].state = LEVEL_STRUCK;
	ck_assert(work_done(&run, LEVEL_K_DEFAULT, &tested).target);
}
END_TEST

/* A test on the day of the first sight; the day before; a second level without one. */
START_TEST(test_of_day)
{
	struct shelf s;
	struct book_settings settings;
	struct work_tested out;
	struct book_terms terms = {0}; /* a loop is not sealed */
	shelf_open(&s, LEVEL_M);
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s.why));
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L2", .tolerance = "0.1 mm/m"}, &s.why));
	struct book_pegtest test = {.instrument = "L1",
	                            .standings = "30,1.500,30,1.250; 5,1.500,55,1.250"};
	struct level_peg_result result;
	ck_assert(book_pegtest_add(s.book, &test, &result, &s.why));
	shelf_begin(&s, "path", LEVEL_LOOP);
	ck_assert(shelf_sight(&s, LEVEL_BS, "STONE", "1.5", "60", "L1"));
	shelf_take(&s, s.run.info.id);
	ck_assert(work_tested(s.book, &s.run, &terms, &settings.tolerance, &out, &s.why));
	ck_assert_int_eq(out.state, WORK_TESTED);
	ck_assert_int_eq(out.days, 0);
	ck_assert(out.of_day);
	/* one set, then a test of two, then one of three */
	ck_assert(!out.in_sets);
	strcpy(test.standings, "30,1.500,30,1.250; 5,1.500,55,1.250; 30,1.500,30,1.250; "
	                       "5,1.500,55,1.251");
	ck_assert(book_pegtest_add(s.book, &test, &result, &s.why));
	ck_assert(work_tested(s.book, &s.run, &terms, &settings.tolerance, &out, &s.why));
	ck_assert(!out.in_sets);
	strcat(test.standings, "; 30,1.500,30,1.250; 5,1.500,55,1.251");
	ck_assert(book_pegtest_add(s.book, &test, &result, &s.why));
	ck_assert(work_tested(s.book, &s.run, &terms, &settings.tolerance, &out, &s.why));
	ck_assert(out.in_sets);
	shelf_take(&s, s.run.info.id);
	ck_assert_msg(shelf_sight(&s, LEVEL_FS, "TP1", "1.5", "60", "L2"), "%s", s.why.text);
	shelf_take(&s, s.run.info.id);
	ck_assert(work_tested(s.book, &s.run, &terms, &settings.tolerance, &out, &s.why));
	ck_assert(!out.of_day && !out.in_sets);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("remedy", test_by_line, test_done, test_of_day);
}
