/* Limits of small rules: each on both sides. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "closed.h"
#include "rodbook/level/air.h"
#include "rodbook/level/along.h"
#include "rodbook/level/doubles.h"
#include "rodbook/level/limit.h"
#include "rodbook/level/offset.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/ready.h"
#include "rodbook/level/spread.h"

START_TEST(test_names)
{
	enum level_distance_way way = LEVEL_DISTANCE_WAYS;
	enum level_kind kind = LEVEL_FS;
	enum level_method method = LEVEL_TAPE;
	enum level_run_kind run = LEVEL_OPEN;
	for (int i = 0; i < LEVEL_DISTANCE_WAYS; i++) {
		ck_assert(level_distance_way_find(
		    level_distance_way_name((enum level_distance_way)i), &way));
		ck_assert_int_eq(way, i);
	}
	ck_assert(!level_distance_way_find("steps", &way));
	for (int i = 0; i < LEVEL_KINDS; i++) {
		ck_assert(level_kind_find(level_kind_name((enum level_kind)i), &kind));
		ck_assert_int_eq(kind, i);
	}
	ck_assert(level_kind_find("fs", &kind) && kind == LEVEL_FS);
	ck_assert(!level_kind_find("TP", &kind) && kind == LEVEL_FS);
	for (int i = 0; i < LEVEL_ANY_METHODS; i++) {
		const char *name = level_method_name((enum level_method)i);
		ck_assert(level_any_method_find(name, &method));
		ck_assert_int_eq(method, i);
		ck_assert_int_eq(level_method_find(name, &method), i < LEVEL_METHODS);
		ck_assert_int_eq(level_method_suits(LEVEL_BS, (enum level_method)i),
		                 i < LEVEL_METHODS);
	}
	ck_assert(level_method_suits(LEVEL_OFF, LEVEL_TAPE));
	ck_assert(level_method_suits(LEVEL_OFF, LEVEL_RULER));
	ck_assert(level_method_suits(LEVEL_OFF, LEVEL_TUBE));
	ck_assert(!level_method_suits(LEVEL_OFF, LEVEL_ROD));
	ck_assert(!level_method_suits(LEVEL_OFF, LEVEL_TARGET));
	for (int i = 0; i < 4; i++) {
		ck_assert(level_run_kind_find(level_run_kind_name((enum level_run_kind)i), &run));
		ck_assert_int_eq(run, i);
	}
	ck_assert(!level_run_kind_find("ring", &run));
}
END_TEST

/* The first and the last character of Unicode, and what lies beyond; blanks around a name. */
START_TEST(test_texts)
{
	struct fault why = {0};
	/* U+10FFFF is nothing that is seen, but a character; U+110000 is none */
	ck_assert(!level_check_text("\xf4\x8f\xbf\xbf", 9, "remark", &why));
	ck_assert_ptr_nonnull(strstr(why.text, "U+10FFFF"));
	ck_assert(!level_check_text("\xf4\x90\x80\x80", 9, "remark", &why));
	ck_assert_ptr_nonnull(strstr(why.text, "is not UTF-8 text"));
	ck_assert(!level_check_text("\xed\xa0\x80", 9, "remark", &why));
	ck_assert(!level_check_text("\xed\xbf\xbf", 9, "remark", &why));
	ck_assert(!level_check_text("\xed\x9f\xbb", 9, "remark", &why));
	ck_assert_ptr_nonnull(strstr(why.text, "U+D7FB"));
	ck_assert(!level_check_text("\xc1\xbf", 9, "remark", &why));
	ck_assert(level_check_text("123456789", 9, "remark", &why));
	ck_assert(!level_check_text("1234567890", 9, "remark", &why));
	ck_assert(level_check_name("A B", "station", &why));
	ck_assert(!level_check_name("A ", "station", &why));
	ck_assert(!level_check_name(" A", "station", &why));
	ck_assert(!level_check_name("  ", "station", &why));
	ck_assert(!level_check_name("", "station", &why));
	/* what is proposed is a name that such a sight has */
	ck_assert(!level_check_station("", LEVEL_FS, &why));
	ck_assert_str_eq(why.text, "the station has no name: write one, such as TP1");
	ck_assert(!level_check_station("  ", LEVEL_IS, &why));
	ck_assert_str_eq(why.text, "the station has no name: write one, such as 0+20 or DITCH");
	ck_assert(!level_check_station("A ", LEVEL_IS, &why));
	ck_assert(level_check_station("0+20", LEVEL_IS, &why));
}
END_TEST

START_TEST(test_distances_in_threes)
{
	static const struct {
		const char *typed, *plain;
	} table[] = {
	    {"1,860 ft", "1860 ft"},
	    {"1,860,000 ft", "1860000 ft"},
	    {"-1,860 ft", "-1860 ft"},
	    {"1,860.5 ft", "1860.5 ft"},
	    {"1,86 ft", "1,86 ft"},
	    {"0,860 ft", "0,860 ft"},
	    {"1234,567 ft", "1234,567 ft"},
	    {",860 ft", ",860 ft"},
	    {"1,8600 ft", "1,8600 ft"},
	    {"1,860", "1,860"},
	    {"123,456 ft", "123456 ft"},
	    {"1,860,00 ft", "1,860,00 ft"},
	    {"12 ft", "12 ft"},
	};
	char buf[40];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_str_eq(level_plain_distance(buf, sizeof buf, table[i].typed),
		                 table[i].plain);
	/* bare, it may be less than two as well, and gets no unit */
	ck_assert_str_eq(level_carry_text(buf, sizeof buf, "1,860", LEVEL_FT, LEVEL_M), "1,860");
	ck_assert_str_eq(level_carry_text(buf, sizeof buf, "1,86", LEVEL_FT, LEVEL_M), "1,86 ft");
}
END_TEST

START_TEST(test_parts_of_texts)
{
	char value[40], height[40];
	level_nm ends[2], along;
	struct level_limited limited;
	ck_assert(level_split_at("  59 C  @  3 ft ", value, height, sizeof value));
	ck_assert_str_eq(value, "59 C");
	ck_assert_str_eq(height, "3 ft");
	ck_assert(!level_split_at("59 C", value, height, sizeof value));
	ck_assert(!level_split_at("  @3", value, height, sizeof value));
	ck_assert(!level_split_at("3@ ", value, height, sizeof value));
	ck_assert(level_split_at("123@4", value, height, 4));
	ck_assert(!level_split_at("1234@5", value, height, 4));
	ck_assert(level_parse_ends("1.5;1.25", LEVEL_M, ends, NULL));
	ck_assert_int_eq(ends[1], MM(1250));
	ck_assert(level_parse_along("000000001+00", LEVEL_M, &along, NULL));
	ck_assert_int_eq(along, METRES(100));
	ck_assert(!level_parse_along("0000000001+00", LEVEL_M, &along, NULL));
	ck_assert(level_parse_along("1+050.5", LEVEL_M, &along, NULL));
	ck_assert_int_eq(along, MM(1050500));
	ck_assert(!level_parse_along("1+050.", LEVEL_M, &along, NULL));
	ck_assert(!level_parse_along("1.5+050", LEVEL_M, &along, NULL));
	ck_assert(!level_parse_along("1+5", LEVEL_M, &along, NULL));
	ck_assert(level_parse_along("100+000", LEVEL_M, &along, NULL));
	ck_assert(!level_parse_along("100+000.1", LEVEL_M, &along, NULL));
	ck_assert(!level_parse_along("101+000", LEVEL_M, &along, NULL));
	ck_assert(level_split_limit("1.5 +- 3 millimet", &limited, NULL));
	ck_assert_str_eq(limited.limit, "3 millimet");
	ck_assert(!limited.declared);
	ck_assert(level_split_limit("1.5 declared", &limited, NULL));
	ck_assert_str_eq(limited.reading, "1.5");
	ck_assert(limited.declared);
	ck_assert(level_split_limit("undeclared", &limited, NULL));
	ck_assert_str_eq(limited.reading, "undeclared");
	ck_assert(level_split_limit("declared", &limited, NULL));
	ck_assert(limited.declared);
	ck_assert_str_eq(limited.reading, "");
	/* the unit goes along where the reading has one, and the limit none */
	ck_assert(level_split_limit("1432 mm +- 2", &limited, NULL));
	ck_assert_str_eq(limited.limit, "2 mm");
	ck_assert(level_split_limit("1432 mm +- 2 cm", &limited, NULL));
	ck_assert_str_eq(limited.limit, "2 cm");
}
END_TEST

/* The first sight of a run may be a turning point too. */
START_TEST(test_next_turning_point)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "TP7", MM(1500), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES];
	level_suggest(&run, 1, &kind, station);
	ck_assert_str_eq(station, "TP8");
}
END_TEST

/* One set of pegs has no spread. */
START_TEST(test_one_set)
{
	const struct level_standing at[2] = {{METRES(30), MM(1500), METRES(30), MM(1250)},
	                                     {METRES(5), MM(1500), METRES(55), MM(1250)}};
	struct level_terms terms = usual_terms();
	struct level_peg_way way = {.method = LEVEL_ROD, .k = 0.13, .dk = 1};
	struct level_peg_result got;
	ck_assert(level_peg_test(at, 2, &terms, &way, &got, NULL));
	ck_assert_double_eq(got.spread, 0);
	ck_assert_int_eq(got.sets, 1);
	ck_assert(!got.by_spread);
}
END_TEST

static bool reaches(int near, level_nm far)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(near)),
	                               sight(LEVEL_FS, "B", MM(1500), far)};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_shores got;
	ck_assert(level_shores(&run, METRES(100), &got));
	return got.first || got.second;
}

/* 100 m long, and more than 10 m longer than the other (common practice, no source). */
START_TEST(test_shores)
{
	ck_assert(reaches(10, METRES(100)));
	ck_assert(!reaches(10, METRES(100) - 1));
	ck_assert(!reaches(90, METRES(100)));
	ck_assert(reaches(90, METRES(100) + 1));
}
END_TEST

/* Of a double run whose middle section does not hold, the rows there and back; and what is not
 * known of a run is not corrected, though its first setup could be. */
START_TEST(test_failing_rows)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(40)), METRES(10), 0),
	    sight(LEVEL_FS, "B", MM(1400), METRES(40)),
	    sight(LEVEL_BS, "B", MM(1500), METRES(40)),
	    sight(LEVEL_FS, "C", MM(1400), METRES(40)),
	    sight(LEVEL_BS, "C", MM(1400), METRES(40)),
	    sight(LEVEL_FS, "B", MM(1510), METRES(40)),
	    sight(LEVEL_BS, "B", MM(1410), METRES(40)),
	    sight(LEVEL_FS, "A", MM(1500), METRES(40))};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_closing got = closed(&run, "third-order", 0);
	ck_assert_int_eq(got.failing, 2);
	/* the one that was whole first */
	ck_assert_str_eq(got.failing_from, "B");
	ck_assert_str_eq(got.failing_mark, "C");
	ck_assert_int_eq(got.failing_by, -MM(10));
	ck_assert_int_eq(got.failing_length, METRES(80));
	ck_assert_int_eq(got.failing_allowable, 3394113);
	ck_assert_uint_eq(got.failing_rows[0][0], 1);
	ck_assert_uint_eq(got.failing_rows[0][1], 3);
	ck_assert_uint_eq(got.failing_rows[1][0], 3);
	ck_assert_uint_eq(got.failing_rows[1][1], 5);
	ck_assert_int_eq(got.closes, LEVEL_NO);
}
END_TEST

START_TEST(test_spread_as_booked)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(10)), METRES(10), 0),
	    sight(LEVEL_FS, "T", MM(1500), METRES(200)), sight(LEVEL_BS, "T", MM(1500), 0),
	    known(sight(LEVEL_FS, "B", MM(1500), 0), METRES(10), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	struct level_closing closing;
	struct level_spread out;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert(page.row[1].has_corrected);
	closing = level_close(&run, &page, &terms, level_tolerance_find("construction", NULL), 0);
	ck_assert(level_spread(&run, &page, &closing, NULL, &out, NULL));
	ck_assert(!out.corrected);
	ck_assert_int_eq(out.row[1].from, METRES(10));
	level_spread_free(&out);
	level_page_free(&page);
}
END_TEST

/* Four alike add up to just twice their root of squares; five to more. */
START_TEST(test_leaning)
{
	struct level_divergences d = {0};
	for (int i = 0; i < 4; i++)
		level_divergence_add(&d, -1.0 / 256, 0.5);
	ck_assert(!level_divergences_lean(&d));
	level_divergence_add(&d, -1.0 / 256, 0.5);
	ck_assert(level_divergences_lean(&d));
}
END_TEST

int main(void)
{
	return RUN_TESTS("level_edges", test_names, test_texts, test_distances_in_threes,
	                 test_parts_of_texts, test_next_turning_point, test_one_set, test_shores,
	                 test_failing_rows, test_spread_as_booked, test_leaning);
}
