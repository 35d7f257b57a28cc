/* Parts of a closing that stand alone: double runs, a book's own graded set, what is hidden; marks
 * aside the line; reciprocal setups at their limits. */
#include "rodbook/level/sections.h"

#include <math.h>
#include <string.h>

#include "closed.h"
#include "rodbook/level/parts.h"
#include "rodbook/level/reciprocal.h"

/* A to T and back, so long each way. */
static struct level_closing there_and_back(int out, int back)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(out)), METRES(10), 0),
	    sight(LEVEL_FS, "T", MM(1500), METRES(out)),
	    sight(LEVEL_BS, "T", MM(1500), METRES(back)),
	    sight(LEVEL_FS, "A", MM(1500), METRES(back))};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	strcpy(run.turn, "T");
	return closed(&run, "third-order", 0);
}

START_TEST(test_shorter_way)
{
	struct level_closing got = there_and_back(40, 50);
	ck_assert(got.is_double);
	ck_assert_int_eq(got.length, METRES(180));
	ck_assert_int_eq(got.one_way, METRES(80));
	/* 12 mm sqrt 0.08 */
	ck_assert_int_eq(got.allowable, 3394113);
	ck_assert_int_eq(there_and_back(50, 40).one_way, METRES(80));
	ck_assert_int_eq(there_and_back(45, 45).one_way, METRES(90));
}
END_TEST

/* Misses by 2 mm over 0.2 km. A graded set of the book that is called as one of the program's is
 * that one; one that goes by setups alone is none to grade by. */
START_TEST(test_own_graded)
{
	struct level_sight sights[] = {known(sight(LEVEL_BS, "A", MM(1500), METRES(50)), 0, 0),
	                               sight(LEVEL_FS, "B", MM(1500), METRES(50)),
	                               sight(LEVEL_BS, "B", MM(1500), METRES(50)),
	                               known(sight(LEVEL_FS, "C", MM(1500), METRES(50)), MM(2), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_tolerance own;
	struct level_closing got;
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert(level_parse_tolerance("third-order", "graded=yes; section=5 mm", &own, NULL));
	got = level_close(&run, &page, &with, &own, 0);
	ck_assert_str_eq(got.kept->name, "second-order-1");
	ck_assert(level_parse_tolerance("dam", "graded=yes; setups=9 mm", &own, NULL));
	got = level_close(&run, &page, &with, &own, 0);
	ck_assert_str_eq(got.kept->name, "second-order-1");
	ck_assert_str_eq(got.next->name, "first-order-2");
	/* as strict as one of the program's, 6 mm, it stands before it */
	ck_assert(level_parse_tolerance("dam", "graded=yes; section=6 mm", &own, NULL));
	got = level_close(&run, &page, &with, &own, 0);
	ck_assert_str_eq(got.kept->name, "dam");
	level_page_free(&page);
}
END_TEST

/* A crossing whose water nobody read has a drop that is not to be seen. */
START_TEST(test_hidden)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "B", MM(1545), METRES(800))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got = closed(&run, "construction", 0);
	ck_assert(got.has_observed && !level_drop_is_seen(&got));
	sights[0].water_count = sights[1].water_count = 5;
	got = closed(&run, "construction", 0);
	ck_assert(level_drop_is_seen(&got));
	ck_assert(got.has_misclosure && got.observed < 0.1 && got.misclosure == -MM(45));
	level_hide_drop(&got);
	ck_assert(!level_drop_is_seen(&got));
	ck_assert(!got.has_misclosure && !got.has_corrected && !got.has_observed);
	ck_assert_int_eq(got.misclosure, 0);
	ck_assert_int_eq(got.corrected, 0);
	ck_assert_int_eq(got.judged, 0);
	ck_assert_double_eq(got.observed, 0);
	ck_assert_double_eq(got.shown, 0);
	ck_assert_double_eq(got.margin, got.separation - got.allowance.decides);
	ck_assert_int_eq(got.finding.none, LEVEL_NO_LOOK);
	ck_assert_double_eq(got.finding.turn, 1);
	ck_assert_double_eq(got.finding.middle, 0);
	run.kind = LEVEL_OPEN;
	got = closed(&run, "construction", 0);
	ck_assert(!level_drop_is_seen(&got));
}
END_TEST

/* An IS on a known mark, 10 m and 200 m from the instrument: h(200) - h(10) = 2 731 125 - 6 828 nm
 * is taken off; 12 mm sqrt 0.21 is allowed. */
START_TEST(test_mark_aside)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(10)), METRES(10), 0),
	    known(sight(LEVEL_IS, "M", MM(1500), METRES(200)), METRES(10), 0),
	    sight(LEVEL_FS, "B", MM(1500), METRES(10))};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_section got;
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert(level_section_aside(&run, &page, &with, &rule, 1, &got));
	ck_assert_str_eq(got.from, "A");
	ck_assert_str_eq(got.to, "M");
	ck_assert_uint_eq(got.from_row, 0);
	ck_assert_uint_eq(got.to_row, 1);
	ck_assert_int_eq(got.setups, 1);
	ck_assert(got.has_length && got.corrected && !got.provisional);
	ck_assert_int_eq(got.length, METRES(210));
	ck_assert_int_eq(got.given, METRES(10));
	ck_assert_int_le(llabs(got.difference - (2731125 - 6828)), 1);
	ck_assert_int_eq(got.allowable, 5499091);
	ck_assert_int_eq(got.holds, LEVEL_YES);
	/* neither a BS, nor an FS, nor a mark that is set aside or not known */
	ck_assert(!level_section_aside(&run, &page, &with, &rule, 0, &got));
	ck_assert(!level_section_aside(&run, &page, &with, &rule, 2, &got));
	sights[1].aside = true;
	ck_assert(!level_section_aside(&run, &page, &with, &rule, 1, &got));
	sights[1].aside = false;
	run.kind = LEVEL_CROSSING;
	ck_assert(!level_section_aside(&run, &page, &with, &rule, 1, &got));
	run.kind = LEVEL_OPEN;
	/* without one of the distances: by setups, as it stands */
	for (int i = 0; i < 2; i++) {
		level_nm distance = sights[i].distance;
		sights[i].distance = 0;
		ck_assert(level_reduce(&run, 0, &with, &page));
		ck_assert(level_section_aside(&run, &page, &with, &rule, 1, &got));
		ck_assert(!got.has_length && !got.corrected && got.provisional);
		ck_assert_int_eq(got.difference, 0);
		ck_assert_int_eq(got.allowable, MM(10));
		sights[i].distance = distance;
	}
	sights[0].has_known = false;
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert(!level_section_aside(&run, &page, &with, &rule, 1, &got));
	level_page_free(&page);
}
END_TEST

/* A known mark on the line, corrected alike: h(200) - h(10) again. */
START_TEST(test_section_corrected)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(10)), METRES(10), 0),
	    known(sight(LEVEL_FS, "M", MM(1500), METRES(200)), METRES(10), 0),
	    sight(LEVEL_BS, "M", MM(1500), METRES(10)), sight(LEVEL_FS, "B", MM(1500), METRES(10))};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_section got;
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert(level_section_before(&run, &page, &with, &rule, SIZE_MAX, &got));
	ck_assert(got.corrected);
	ck_assert_int_le(llabs(got.difference - (2731125 - 6828)), 1);
	level_page_free(&page);
}
END_TEST

/* Tilts of both banks. One level: (100 - 5 + 120 - 10)/2 = 102.5 m; four levels: each its own half
 * distance. (10 000 - 25 + 14 400 - 100)/4R0 is what a unit of k does. */
START_TEST(test_tilts_of_banks)
{
	struct level_bank a = {MM(1500), MM(1600), {.distance = 5}, {.distance = 100}};
	struct level_bank b = {MM(1500), MM(1600), {.distance = 10}, {.distance = 120}};
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS};
	struct level_reciprocal got;
	double bend = 24275 / (4 * LEVEL_MEAN_RADIUS);
	for (int i = 0; i < 4; i++)
		terms.instrument[i] = (struct level_instrument){
		    .tolerance = 0.0001, .tested = true, .tilt = 0.00001 * i, .u = 0.00001};
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert(got.has_k && !got.two_levels);
	ck_assert_double_eq_tol(got.bend, bend, 1e-15);
	ck_assert_double_eq_tol(got.lever, 102.5, 1e-12);
	ck_assert_double_eq_tol(got.u_k, 0.001025 / bend, 1e-9);
	a.far_sight.instrument = 1;
	b.near_sight.instrument = 2;
	b.far_sight.instrument = 3;
	ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
	ck_assert(got.has_k && got.two_levels);
	/* 2.5, 50, 5, 60 */
	ck_assert_double_eq_tol(got.u_k, 0.00001 * sqrt(6.25 + 2500 + 25 + 3600) / bend, 1e-9);
	/* one of the four untested */
	for (int i = 0; i < 4; i++) {
		terms.instrument[i].tested = false;
		ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
		ck_assert(!got.has_k);
		terms.instrument[i].tested = true;
	}
	/* two levels: in one bank, in the other, or one in each */
	a.far_sight.instrument = b.near_sight.instrument = b.far_sight.instrument = 0;
	for (int i = 0; i < 3; i++) {
		a.far_sight.instrument = i == 0;
		b.far_sight.instrument = i == 1 || i == 2;
		b.near_sight.instrument = i == 2;
		ck_assert(level_reciprocal(&a, &b, &terms, &got, NULL));
		ck_assert(got.two_levels);
	}
}
END_TEST

/* A sight across is at least twice the near one. */
START_TEST(test_longer)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), METRES(10)), sight(LEVEL_FS, "B", MM(1600), METRES(20)),
	    sight(LEVEL_BS, "B", MM(1500), METRES(10)), sight(LEVEL_FS, "A", MM(1600), METRES(20))};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_reciprocal_pair got;
	ck_assert(level_reduce(&run, 0, &with, &page));
	for (size_t at = 0; at < 4; at++) {
		ck_assert(level_reciprocal_in(&run, &page, at, &with, &got));
		ck_assert_uint_eq(got.first, 0);
		ck_assert_uint_eq(got.last, 3);
		ck_assert_str_eq(got.a, "A");
		ck_assert_str_eq(got.b, "B");
	}
	for (int i = 0; i < 4; i++) {
		level_nm distance = sights[i].distance;
		sights[i].distance += i % 2 ? -1 : 1;
		ck_assert(level_reduce(&run, 0, &with, &page));
		ck_assert(!level_reciprocal_in(&run, &page, 0, &with, &got));
		sights[i].distance = 0;
		ck_assert(level_reduce(&run, 0, &with, &page));
		ck_assert(!level_reciprocal_in(&run, &page, 0, &with, &got));
		sights[i].distance = distance;
	}
	level_page_free(&page);
}
END_TEST

/* Only a crossing has declared lines, and nothing behind the run is touched. */
START_TEST(test_parts)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), METRES(10)), sight(LEVEL_FS, "B", MM(1600), METRES(20)),
	    sight(LEVEL_BS, "A", MM(1500), METRES(10)), sight(LEVEL_FS, "B", MM(1600), METRES(20))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_part part[12];
	sights[2].again = true;
	sights[1].declared = true;
	with.declared[0].bound = 0.001;
	with.instrument[0] = (struct level_instrument){0.0001, true, 0.00002, 0.00001, 0, 60};
	ck_assert(level_reduce(&run, 0, &with, &page));
	for (int i = 4; i < 12; i++)
		part[i] = (struct level_part){.setup = 1, .weight = 77};
	level_parts(&run, &page, &with, part);
	for (int i = 0; i < 4; i++) {
		ck_assert_int_eq(part[i].setup, 1);
		ck_assert_double_eq(part[i].weight, 0.5);
		ck_assert_int_eq(part[i].sign, i % 2 ? -1 : 1);
		/* 60/2R0 = 4.7088e-6 of curvature is left in */
		ck_assert_double_eq_tol(part[i].tilt, 0.0000247088, 1e-10);
	}
	for (int i = 4; i < 12; i++)
		ck_assert_double_eq(part[i].weight, 77);
	ck_assert_double_eq_tol(part[0].mean.u, 0.0006, 1e-12);
	/* by its declared line on a crossing, and else by its rod: 0.5 mm + 0.01 mm/m over 20 m */
	ck_assert_double_eq(part[1].mean.u, 0);
	run.kind = LEVEL_LOOP;
	level_parts(&run, &page, &with, part);
	ck_assert_double_eq_tol(part[1].mean.u, 0.0007, 1e-12);
	ck_assert_double_eq_tol(part[0].tilt, 0.00002, 1e-15);
	level_page_free(&page);
}
END_TEST

int main(void)
{
	return RUN_TESTS("closed_parts", test_shorter_way, test_own_graded, test_hidden,
	                 test_mark_aside, test_section_corrected, test_tilts_of_banks, test_longer,
	                 test_parts);
}
