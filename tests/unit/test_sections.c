/* Known marks on the way, and runs out and back: section and loop rules of FGCC, Standards and
 * Specifications for Geodetic Control Networks, 1984, sec. 3.5 (recalled); third order 12 mm by the
 * root of kilometers. */
#include "rodbook/level/sections.h"

#include <string.h>

#include "closed.h"
#include "rodbook/level/doubles.h"
#include "rodbook/level/ready.h"

#define BS(station, mm, m) sight(LEVEL_BS, station, MM(mm), METRES(m))
#define FS(station, mm, m) sight(LEVEL_FS, station, MM(mm), METRES(m))
#define AT(on, elevation) known(on, METRES(elevation), 0)

/* Sections in the order of the run. */
static size_t sections(const struct level_run *run, struct level_section out[9])
{
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct level_section back[9];
	size_t count = 0;
	ck_assert(level_reduce(run, 0, &terms, &page));
	for (size_t at = SIZE_MAX;
	     level_section_before(run, &page, &terms, &rule, at, &back[count]);
	     at = back[count++].from_row)
		ck_assert_uint_lt(count, 8);
	for (size_t i = 0; i < count; i++)
		out[i] = back[count - 1 - i];
	level_page_free(&page);
	return count;
}

static size_t doubles(const struct level_run *run, struct level_double out[9])
{
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	size_t count = 0;
	ck_assert(level_reduce(run, 0, &terms, &page));
	for (size_t at = SIZE_MAX; level_double_before(run, &page, &terms, &rule, at, &out[count]);
	     at = out[count++].back_row)
		ck_assert_uint_lt(count, 8);
	level_page_free(&page);
	return count;
}

/* It closes to the millimeter, and finds a mark on the way a meter from where it should be. */
START_TEST(test_mark_on_the_way)
{
	struct level_sight sights[] = {AT(BS("BM1", 3000, 40), 100), AT(FS("BM2", 1000, 40), 103),
	                               AT(BS("BM2", 1000, 40), 103), AT(FS("BM1", 3000, 40), 100)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_section got[9];
	struct level_closing c = closed(&run, "third-order", 0);
	ck_assert_uint_eq(sections(&run, got), 2);
	ck_assert_str_eq(got[0].from, "BM1");
	ck_assert_str_eq(got[0].to, "BM2");
	ck_assert_int_eq(got[0].found, METRES(102));
	ck_assert_int_eq(got[0].given, METRES(103));
	ck_assert_int_eq(got[0].difference, -METRES(1));
	/* 12 mm sqrt 0.08 */
	ck_assert_int_eq(got[0].allowable, 3394113);
	ck_assert_int_eq(got[0].holds, LEVEL_NO);
	ck_assert_int_eq(got[1].difference, METRES(1));
	ck_assert_int_eq(c.judged, 0);
	ck_assert_int_eq(c.closes, LEVEL_NO);
	ck_assert_int_eq(c.failing, 2);
	/* no graded set is kept by a run that a mark on its way contradicts */
	ck_assert_ptr_null(c.kept);
	ck_assert_str_eq(c.failing_mark, "BM2");
	ck_assert_int_eq(c.failing_by, -METRES(1));
	sights[1].aside = sights[2].aside = true;
	c = closed(&run, "third-order", 0);
	ck_assert_uint_eq(sections(&run, got), 0);
	ck_assert_int_eq(c.closes, LEVEL_YES);
}
END_TEST

/* 12 mm sqrt 0.16 = 4.8 mm: a miss in one section is none of the next, which begins on the given
 * elevation again. */
START_TEST(test_each_section_alone)
{
	struct level_sight sights[] = {AT(BS("A", 1500, 40), 10), FS("TP1", 1500, 40),
	                               BS("TP1", 1500, 40),       AT(FS("M", 1505, 40), 10),
	                               AT(BS("M", 1500, 40), 10), FS("TP2", 1500, 40),
	                               BS("TP2", 1500, 40),       AT(FS("B", 1496, 40), 10)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_section got[9];
	struct level_closing c = closed(&run, "third-order", 0);
	ck_assert_uint_eq(sections(&run, got), 2);
	ck_assert_int_eq(got[0].setups, 2);
	ck_assert_int_eq(got[0].length, METRES(160));
	ck_assert_int_eq(got[0].difference, -MM(5));
	ck_assert_int_eq(got[0].allowable, 4800000);
	ck_assert_int_eq(got[0].holds, LEVEL_NO);
	ck_assert_int_eq(got[1].difference, MM(4));
	ck_assert_int_eq(got[1].holds, LEVEL_YES);
	/* -1 mm over 320 m would do */
	ck_assert_int_eq(c.judged, -MM(1));
	ck_assert_int_eq(c.closes, LEVEL_NO);
	ck_assert_int_eq(c.failing, 1);
	ck_assert_str_eq(c.failing_mark, "M");
	ck_assert_int_eq(c.failing_length, METRES(160));
	/* an open run is held to its marks too, but not to its end */
	run.kind = LEVEL_OPEN;
	ck_assert_uint_eq(sections(&run, got), 1);
	ck_assert_str_eq(got[0].to, "M");
	ck_assert_int_eq(closed(&run, "third-order", 0).failing, 1);
}
END_TEST

/* Without distances 10 mm by the root of setups, common practice, no source. */
START_TEST(test_section_by_setups)
{
	struct level_sight sights[] = {AT(BS("A", 1500, 0), 10), AT(FS("M", 1510, 0), 10),
	                               AT(BS("M", 1500, 0), 10), AT(FS("B", 1511, 0), 10)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_section got[9];
	ck_assert_uint_eq(sections(&run, got), 2);
	ck_assert(got[0].provisional && !got[0].has_length);
	ck_assert_int_eq(got[0].allowable, MM(10));
	ck_assert_int_eq(got[0].holds, LEVEL_YES);
	ck_assert_int_eq(got[1].holds, LEVEL_NO);
}
END_TEST

/* A mark that is read in two standings is one mark, by their mean. */
START_TEST(test_standings)
{
	struct level_sight sights[] = {AT(BS("A", 1500, 40), 10), AT(FS("M", 1502, 40), 10),
	                               AT(BS("A", 1600, 40), 10), AT(FS("M", 1600, 40), 10),
	                               AT(BS("M", 1500, 40), 10), AT(FS("B", 1500, 40), 10)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_section got[9];
	sights[2].again = true;
	ck_assert_uint_eq(sections(&run, got), 2);
	ck_assert_int_eq(got[0].difference, -MM(1));
	ck_assert_int_eq(got[0].setups, 1);
	ck_assert_str_eq(got[1].from, "M");
	ck_assert_str_eq(got[1].to, "B");
}
END_TEST

/* 1 km out and back that misses by 15 mm: within 12 mm sqrt 2 = 17 mm of a loop, not within 12 mm.
 */
START_TEST(test_there_and_back)
{
	struct level_sight sights[] = {AT(BS("A", 1500, 500), 10), FS("P", 1500, 500),
	                               BS("P", 1500, 500), AT(FS("A", 1515, 500), 10)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_double got[9];
	struct level_closing c = closed(&run, "third-order", 0);
	ck_assert(!c.is_double);
	ck_assert_int_eq(c.closes, LEVEL_YES);
	ck_assert_uint_eq(doubles(&run, got), 0);
	strcpy(run.turn, "P");
	c = closed(&run, "third-order", 0);
	ck_assert(c.is_double);
	ck_assert_int_eq(c.one_way, METRES(1000));
	ck_assert_int_eq(c.allowable, MM(12));
	ck_assert_int_eq(c.closes, LEVEL_NO);
	ck_assert_uint_eq(doubles(&run, got), 1);
	ck_assert_str_eq(got[0].from, "A");
	ck_assert_str_eq(got[0].to, "P");
	ck_assert_int_eq(got[0].divergence, -MM(15));
	ck_assert_int_eq(got[0].holds, LEVEL_NO);
	strcpy(run.turn, "Q");
	ck_assert(!closed(&run, "third-order", 0).is_double);
}
END_TEST

/* Curvature and refraction are taken off either way: (1 - 0.13)(d^2 - d^2)/2R, 1.639 mm forward and
 * 3.277 mm backward, of which both ways have more FS than BS. */
START_TEST(test_unequal_sights)
{
	struct level_sight sights[] = {AT(BS("A", 1500, 10), 10),
	                               sight(LEVEL_FS, "P", MM(1500), 155242000000),
	                               BS("P", 1500, 20), AT(FS("A", 1500, 220), 10)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_double got[9];
	strcpy(run.turn, "P");
	ck_assert_uint_eq(doubles(&run, got), 1);
	ck_assert(got[0].corrected);
	ck_assert_int_le(llabs(got[0].forward - 1638700), 100);
	ck_assert_int_le(llabs(got[0].backward - 3277400), 100);
	ck_assert_int_le(llabs(got[0].divergence - 4916100), 200);
}
END_TEST

/* A - B - C - B - A is a double run without being told; passing turning points are no marks. */
START_TEST(test_marks_met_again)
{
	struct level_sight sights[] = {AT(BS("A", 1500, 250), 10), FS("B", 1000, 250),
	                               BS("B", 1500, 250),         FS("C", 1200, 250),
	                               BS("C", 1200, 250),         FS("B", 1504, 250),
	                               BS("B", 1000, 125),         FS("TP1", 1000, 125),
	                               BS("TP1", 1000, 125),       AT(FS("A", 1498, 125), 10)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_double got[9];
	struct level_closing c = closed(&run, "third-order", 0);
	ck_assert(c.is_double);
	ck_assert_int_eq(c.one_way, METRES(1000));
	ck_assert_int_eq(c.allowable, MM(12));
	ck_assert_uint_eq(doubles(&run, got), 2);
	ck_assert_str_eq(got[0].from, "A");
	ck_assert_str_eq(got[0].to, "B");
	ck_assert_int_eq(got[0].forward, MM(500));
	ck_assert_int_eq(got[0].backward, -MM(498));
	ck_assert_int_eq(got[0].divergence, MM(2));
	ck_assert_int_eq(got[0].mean, MM(499));
	/* 12 mm sqrt 0.5 */
	ck_assert_int_eq(got[0].allowable, 8485281);
	ck_assert_str_eq(got[1].to, "C");
	ck_assert_int_eq(got[1].divergence, -MM(4));
	ck_assert_int_eq(c.judged, -MM(2));
	ck_assert_int_eq(c.closes, LEVEL_YES);
	/* One section may diverge although the whole holds. */
	sights[5].reading += MM(6);
	sights[9].reading -= MM(6);
	c = closed(&run, "third-order", 0);
	ck_assert_int_eq(c.judged, -MM(2));
	ck_assert_int_eq(c.closes, LEVEL_NO);
	ck_assert_str_eq(c.failing_from, "B");
	ck_assert_str_eq(c.failing_mark, "C");
	ck_assert_int_eq(c.failing_by, -MM(10));
	/* over other marks on the way back it is a loop */
	strcpy(sights[5].station, "D");
	strcpy(sights[6].station, "D");
	ck_assert(!closed(&run, "third-order", 0).is_double);
}
END_TEST

/* Worked by hand: 2 and -4 mm over 0.5 km each make 8 + 32 = 40 mm^2/km, so sqrt(40/4) and
 * sqrt(40/2)/2 mm. */
START_TEST(test_divergences)
{
	struct level_divergences d = {0};
	ck_assert_double_eq(level_sd_double(&d), 0);
	level_divergence_add(&d, 0.002, 0.5);
	ck_assert(!level_divergences_lean(&d));
	level_divergence_add(&d, -0.004, 0.5);
	ck_assert_double_eq_tol(level_sd_single(&d), 0.00316227766, 1e-11);
	ck_assert_double_eq_tol(level_sd_double(&d), 0.00223606798, 1e-11);
	/* 2 sqrt(4 + 16) = 8.9 mm */
	ck_assert(!level_divergences_lean(&d));
	for (int i = 0; i < 5; i++)
		level_divergence_add(&d, 0.004, 0.5);
	/* 18 mm over 2 sqrt 100 = 20 mm do not; 22 mm over 2 sqrt 116 = 21.5 mm do */
	ck_assert(!level_divergences_lean(&d));
	level_divergence_add(&d, 0.004, 0.5);
	ck_assert(level_divergences_lean(&d));
}
END_TEST

/* A double run without distances that misses between its marks: no length is known of it. The parts
 * diverge by 20 and -20 mm, over 10 mm by the root of setups (common practice, no source). */
START_TEST(test_double_without_length)
{
	struct level_sight sights[] = {
	    AT(BS("A", 1500, 0), 10), FS("B", 1000, 0), BS("B", 1500, 0), FS("C", 1200, 0),
	    BS("C", 1200, 0),         FS("B", 1520, 0), BS("B", 1000, 0), AT(FS("A", 1480, 0), 10)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_closing c = closed(&run, "third-order", 0);
	ck_assert(c.is_double);
	ck_assert_int_ge(c.failing, 1);
	ck_assert_int_eq(c.failing_length, 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("sections", test_double_without_length, test_mark_on_the_way,
	                 test_each_section_alone, test_section_by_setups, test_standings,
	                 test_there_and_back, test_unequal_sights, test_marks_met_again,
	                 test_divergences);
}
