/* Misclosures spread where marks hang off the line, and what is known of each mark then. */
#include "rodbook/level/spread.h"

#include <math.h>
#include <string.h>

#include "closed.h"
#include "rodbook/level/sections.h"

static struct level_page page;
static struct level_terms terms;

static struct level_spread spread(const struct level_run *run)
{
	struct level_spread out;
	struct level_closing closing;
	struct fault why = {0};
	terms = usual_terms();
	ck_assert(level_reduce(run, 0, &terms, &page));
	closing = level_close(run, &page, &terms, level_tolerance_find("construction", NULL), 0);
	ck_assert_msg(level_spread(run, &page, &closing, NULL, &out, &why), "%s", why.text);
	return out;
}

static void end(struct level_spread *s)
{
	level_spread_free(s);
	ck_assert_ptr_null(s->row);
	ck_assert_uint_eq(s->count, 0);
	level_page_free(&page);
}

/* A to B misses by 6 mm over two setups; a third one behind B has no FS yet. */
static struct level_sight *link_and_more(void)
{
	static struct level_sight sights[8];
	struct level_sight fresh[] = {known(sight(LEVEL_BS, "A", MM(1500), 0), METRES(100), MM(2)),
	                              sight(LEVEL_IS, "P", MM(1200), 0),
	                              sight(LEVEL_FS, "T", MM(1000), 0),
	                              sight(LEVEL_BS, "T", MM(1500), 0),
	                              known(sight(LEVEL_FS, "B", MM(1000), 0), MM(100994), MM(3)),
	                              known(sight(LEVEL_BS, "B", MM(1500), 0), MM(100994), MM(3)),
	                              sight(LEVEL_IS, "Q", MM(1400), 0),
	                              as(sight(LEVEL_IS, "R", MM(1400), 0), LEVEL_STRUCK)};
	memcpy(sights, fresh, sizeof fresh);
	return sights;
}

START_TEST(test_behind_the_end)
{
	struct level_run run = {.kind = LEVEL_LINK, .count = 8, .sight = link_and_more()};
	struct level_spread s = spread(&run);
	ck_assert_uint_eq(s.count, 8);
	/* -3 mm a setup; P hangs off the first one, Q off the end, where all 6 mm are given up */
	ck_assert_int_eq(s.row[1].correction, -MM(3));
	ck_assert_int_eq(s.row[1].from, MM(100300));
	ck_assert_int_eq(s.row[1].adjusted, MM(100297));
	ck_assert_double_eq(s.row[1].p, 0.5);
	ck_assert_uint_eq(s.row[1].begins, 0);
	ck_assert_uint_eq(s.row[1].ends, 4);
	ck_assert(s.row[6].has && !s.row[6].fixed && !s.row[6].has_share && !s.row[6].uncorrected);
	/* 101.000 + 1.5 - 1.4 - 0.006 */
	ck_assert_int_eq(s.row[6].from, MM(101100));
	ck_assert_int_eq(s.row[6].correction, -MM(6));
	ck_assert_int_eq(s.row[6].adjusted, MM(101094));
	ck_assert_uint_eq(s.row[6].begins, SIZE_MAX);
	ck_assert_uint_eq(s.row[6].ends, SIZE_MAX);
	ck_assert(!s.row[5].has && !s.row[7].has);
	/* of fixed marks their own; of what hangs off the end nothing is known */
	ck_assert_double_eq(level_spread_u(&run, &page, &terms, &s, 0), 0.002);
	ck_assert_double_eq(level_spread_u(&run, &page, &terms, &s, 4), 0.003);
	ck_assert(isnan(level_spread_u(&run, &page, &terms, &s, 6)));
	ck_assert(isnan(level_spread_u(&run, &page, &terms, &s, 5)));
	ck_assert_double_gt(level_spread_u(&run, &page, &terms, &s, 2), 0);
	end(&s);
}
END_TEST

/* An IS on a known mark keeps that elevation, unless it is set aside or the start is not known. */
START_TEST(test_known_aside_the_line)
{
	struct level_run run = {.kind = LEVEL_LINK, .count = 5, .sight = link_and_more()};
	struct level_spread s;
	run.sight[1] = known(run.sight[1], MM(100305), MM(4));
	s = spread(&run);
	ck_assert(s.row[1].fixed);
	ck_assert_int_eq(s.row[1].correction, MM(5));
	ck_assert_int_eq(s.row[1].adjusted, MM(100305));
	ck_assert_double_eq(level_spread_u(&run, &page, &terms, &s, 1), 0.004);
	end(&s);
	run.sight[1].aside = true;
	s = spread(&run);
	ck_assert(!s.row[1].fixed);
	ck_assert_int_eq(s.row[1].correction, -MM(3));
	end(&s);
	/* a loop on a mark that is not known: nothing is held, whatever stands beside the line */
	run.kind = LEVEL_LOOP;
	run.sight[1].aside = false;
	run.sight[0].has_known = run.sight[4].has_known = false;
	strcpy(run.sight[4].station, "A");
	run.sight[4].reading = MM(2006);
	s = spread(&run);
	ck_assert(s.start_assumed && !s.row[1].fixed);
	/* +0.500 and -0.506: misses by -6 mm */
	ck_assert_int_eq(s.row[1].correction, MM(3));
	/* what u a mark had that is known no more is nothing */
	ck_assert_double_eq(level_spread_u(&run, &page, &terms, &s, 0), 0);
	/* set aside, it is none that anything hangs on */
	run.sight[0].has_known = run.sight[0].aside = true;
	ck_assert_double_eq(level_spread_u(&run, &page, &terms, &s, 0), 0);
	end(&s);
}
END_TEST

/* The line comes by its start again on the way: there it has the start's elevation. */
START_TEST(test_start_met_again)
{
	struct level_sight sights[] = {known(sight(LEVEL_BS, "A", MM(1500), 0), METRES(100), 0),
	                               sight(LEVEL_FS, "T", MM(1000), 0),
	                               sight(LEVEL_BS, "T", MM(1000), 0),
	                               sight(LEVEL_FS, "A", MM(1504), 0),
	                               sight(LEVEL_BS, "A", MM(1500), 0),
	                               known(sight(LEVEL_FS, "B", MM(1000), 0), MM(100502), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_spread s = spread(&run);
	ck_assert_int_eq(s.sections, 2);
	ck_assert(s.row[3].fixed);
	/* back at 99.996: 4 mm are given there, 2 of them at T; then -4 + 500 against 502 */
	ck_assert_int_eq(s.row[1].correction, MM(2));
	ck_assert_int_eq(s.row[3].correction, MM(4));
	ck_assert_int_eq(s.row[3].adjusted, METRES(100));
	ck_assert_int_eq(s.row[5].correction, MM(6));
	ck_assert_uint_eq(s.row[5].begins, 3);
	end(&s);
}
END_TEST

/* Offsets alone: the mark that stays has it all, and nothing is shared out. */
START_TEST(test_offsets_alone)
{
	struct level_sight sights[] = {known(sight(LEVEL_BS, "A", MM(1500), 0), METRES(100), 0),
	                               known(sight(LEVEL_FS, "B", MM(1000), 0), MM(100500), 0),
	                               sight(LEVEL_OFF, "C", METRES(2), 0),
	                               known(sight(LEVEL_OFF, "D", METRES(1), 0), MM(103501), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_spread s;
	sights[2].method = sights[3].method = LEVEL_TAPE;
	s = spread(&run);
	ck_assert_int_eq(s.row[2].correction, 0);
	ck_assert_double_eq(s.row[2].p, 0);
	ck_assert_double_eq(s.row[2].share, 0);
	ck_assert_int_eq(s.row[3].correction, MM(1));
	ck_assert_double_eq(s.row[3].p, 1);
	ck_assert(s.row[3].fixed && s.row[3].has_share);
	end(&s);
}
END_TEST

static struct level_double doubled(struct level_sight *sights, size_t count, bool twice)
{
	struct level_run run = {.kind = LEVEL_LOOP, .count = count, .sight = sights};
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct level_double out;
	terms = usual_terms();
	strcpy(run.turn, "B");
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert_int_eq(level_double_before(&run, &page, &terms, &rule, SIZE_MAX, &out), twice);
	level_page_free(&page);
	return out;
}

/* Out by setups, home by offsets, and the other way round: the way with setups counts. */
START_TEST(test_one_way_by_offsets)
{
	struct level_sight out[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(40)), METRES(100), 0),
	    sight(LEVEL_FS, "B", MM(1000), METRES(40)), sight(LEVEL_OFF, "A", -MM(498), 0)};
	struct level_double got;
	out[2].method = LEVEL_TAPE;
	got = doubled(out, 3, true);
	ck_assert_int_eq(got.setups, 1);
	ck_assert_int_eq(got.length, METRES(80));
	ck_assert_int_eq(got.forward, MM(500));
	ck_assert_int_eq(got.backward, -MM(498));
	ck_assert_int_eq(got.divergence, MM(2));
	ck_assert_int_eq(got.mean, MM(499));
	/* 12 mm sqrt 0.08 */
	ck_assert(got.has_allowable && got.has_length && !got.provisional);
	ck_assert_int_eq(got.allowable, 3394113);
	ck_assert_int_eq(got.holds, LEVEL_YES);
	/* without distances by setups, 10 mm (common practice, no source) */
	out[0].distance = 0;
	got = doubled(out, 3, true);
	ck_assert(!got.has_length && got.provisional);
	ck_assert_int_eq(got.allowable, MM(10));
}
END_TEST

/* Known marks between offsets alone: twice their uncertainty, 2 sqrt(0.25 + 0.25) = 1.414214 mm by
 * ruler (u 0.5 mm: common practice, no source). */
START_TEST(test_section_by_offsets)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(40)), METRES(100), 0),
	    known(sight(LEVEL_FS, "B", MM(1000), METRES(40)), MM(100500), 0),
	    sight(LEVEL_OFF, "C", MM(200), 0),
	    known(sight(LEVEL_OFF, "D", MM(200), 0), MM(100898), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct level_section got;
	sights[2].method = sights[3].method = LEVEL_RULER;
	run.kind = LEVEL_LINK;
	terms = usual_terms();
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert(level_section_before(&run, &page, &terms, &rule, SIZE_MAX, &got));
	ck_assert_str_eq(got.from, "B");
	ck_assert_str_eq(got.to, "D");
	ck_assert_int_eq(got.setups, 0);
	ck_assert_int_eq(got.difference, MM(2));
	ck_assert(got.has_allowable && !got.provisional);
	ck_assert_int_eq(got.allowable, 1414214);
	ck_assert_int_eq(got.holds, LEVEL_NO);
	level_page_free(&page);
}
END_TEST

/* From B up to C and down again, all of it by ruler; then down by a setup, whose length counts. */
START_TEST(test_both_ways_by_offsets)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(40)), METRES(100), 0),
	    sight(LEVEL_FS, "B", MM(1000), METRES(40)),
	    sight(LEVEL_OFF, "C", MM(200), 0),
	    sight(LEVEL_OFF, "B", -MM(199), 0),
	    sight(LEVEL_BS, "B", MM(1000), METRES(30)),
	    sight(LEVEL_FS, "A", MM(1500), METRES(30))};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	const struct level_rule rule = {level_tolerance_find("third-order", NULL), 0};
	struct level_double got;
	sights[2].method = sights[3].method = LEVEL_RULER;
	terms = usual_terms();
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert(level_double_before(&run, &page, &terms, &rule, SIZE_MAX, &got));
	ck_assert_str_eq(got.from, "A");
	ck_assert_int_eq(got.length, METRES(60));
	ck_assert(level_double_before(&run, &page, &terms, &rule, got.back_row, &got));
	ck_assert_str_eq(got.from, "B");
	ck_assert_str_eq(got.to, "C");
	ck_assert_int_eq(got.setups, 0);
	ck_assert_int_eq(got.length, 0);
	ck_assert_int_eq(got.divergence, MM(1));
	ck_assert(got.has_allowable && !got.provisional);
	ck_assert_int_eq(got.allowable, 1414214);
	ck_assert_int_eq(got.holds, LEVEL_YES);
	ck_assert(!level_double_before(&run, &page, &terms, &rule, got.back_row, &got));
	level_page_free(&page);
	/* down by a setup of 2 x 25 m instead */
	run.count = 7;
	{
		struct level_sight more[] = {sights[0],
		                             sights[1],
		                             sights[2],
		                             sight(LEVEL_BS, "C", MM(1000), METRES(25)),
		                             sight(LEVEL_FS, "B", MM(1199), METRES(25)),
		                             sights[4],
		                             sights[5]};
		run.sight = more;
		ck_assert(level_reduce(&run, 0, &terms, &page));
		ck_assert(level_double_before(&run, &page, &terms, &rule, SIZE_MAX, &got));
		ck_assert(level_double_before(&run, &page, &terms, &rule, got.back_row, &got));
		ck_assert_str_eq(got.to, "C");
		ck_assert_int_eq(got.setups, 1);
		ck_assert_int_eq(got.length, METRES(50));
		/* 12 mm sqrt 0.05 */
		ck_assert_int_eq(got.allowable, 2683282);
		level_page_free(&page);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("hanging", test_behind_the_end, test_known_aside_the_line,
	                 test_start_met_again, test_offsets_alone, test_one_way_by_offsets,
	                 test_section_by_offsets, test_both_ways_by_offsets);
}
