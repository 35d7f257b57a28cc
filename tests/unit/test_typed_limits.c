/* What is typed, at the limits of how long and how large it may be. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/level/air.h"
#include "rodbook/level/along.h"
#include "rodbook/level/grade.h"
#include "rodbook/level/offset.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/reciprocal.h"
#include "rodbook/level/scale.h"
#include "rodbook/level/set.h"
#include "rodbook/level/tolerance.h"
#include "sights.h"
#include "suite.h"

/* A text of so many characters, blanks before what it says. */
static const char *wide(int size, const char *text)
{
	static char out[400];
	snprintf(out, sizeof out, "%*s", size, text);
	return out;
}

static const char *behind(int size, const char *text, const char *rest)
{
	static char out[400];
	snprintf(out, sizeof out, "%*s%s", size, text, rest);
	return out;
}

START_TEST(test_slopes)
{
	double slope;
	ck_assert(level_parse_slope(behind(63, "0.1 mm", "/m"), &slope, NULL));
	ck_assert_double_eq_tol(slope, 0.0001, 1e-12);
	ck_assert(!level_parse_slope(behind(64, "0.1 mm", "/m"), &slope, NULL));
	/* 0.3048 mm/ft is 1 mm/m; 10 mm/m is the most */
	ck_assert(level_parse_slope("0.3048 mm/ft", &slope, NULL));
	ck_assert_double_eq_tol(slope, 0.001, 1e-12);
	ck_assert(level_parse_slope("10 mm/m", &slope, NULL));
	ck_assert(!level_parse_slope("10.001 mm/m", &slope, NULL));
	ck_assert(!level_parse_slope("0 mm/m", &slope, NULL));
	ck_assert(!level_parse_slope("1 mm/0 m", &slope, NULL));
	ck_assert(!level_parse_slope("1 mm per km", &slope, NULL));
	ck_assert(!level_parse_slope("1 mm/km", &slope, NULL));
	/* tan 2000" */
	ck_assert(level_parse_slope("2000 arcsec", &slope, NULL));
	ck_assert_double_eq_tol(slope, 0.00969658, 1e-8);
	ck_assert(!level_parse_slope("100000 arcsec", &slope, NULL));
	ck_assert(!level_parse_slope("arcsec", &slope, NULL));
	ck_assert(level_parse_tilt("-0", &slope, NULL));
	ck_assert_double_eq(slope, 0);
	ck_assert(!level_parse_tilt("1", &slope, NULL));
}
END_TEST

START_TEST(test_sets)
{
	struct level_set set;
	struct fault why = {0};
	char text[400] = "", carried[200] = "as it was";
	ck_assert(level_parse_set(wide(63, "1.5"), LEVEL_M, &set, NULL));
	ck_assert(level_parse_set(behind(1, "1.5", ";1.6"), LEVEL_M, &set, NULL));
	ck_assert_int_eq(set.count, 2);
	/* blanks are no part of a reading; a reading of 63 digits is none, one of 64 has no room */
	ck_assert(!level_parse_set("1234567890123456789012345678901234567890"
	                           "12345678901234567890123;1",
	                           LEVEL_M, &set, &why));
	ck_assert_ptr_null(strstr(why.text, "too long"));
	ck_assert(!level_parse_set("1234567890123456789012345678901234567890"
	                           "123456789012345678901234;1",
	                           LEVEL_M, &set, &why));
	ck_assert_ptr_nonnull(strstr(why.text, "too long"));
	ck_assert_str_eq(level_carry_set(carried, sizeof carried,
	                                 "1234567890123456789012345678901234567890"
	                                 "123456789012345678901234;1",
	                                 LEVEL_M, LEVEL_FT),
	                 "");
	ck_assert_str_eq(
	    level_carry_set(carried, sizeof carried, "1.5; x1.6;1.7 m;", LEVEL_M, LEVEL_FT),
	    "1.5 m; x1.6 m; 1.7 m; ");
	ck_assert_str_eq(level_carry_set(carried, sizeof carried, "1.5", LEVEL_M, LEVEL_FT),
	                 "1.5 m");
	/* struck ones count among the most there may be */
	for (int i = 0; i < LEVEL_SET_MOST; i++)
		strcat(text, i == 0 ? "1" : i % 2 ? ";x1" : ";1");
	ck_assert(level_parse_set(text, LEVEL_M, &set, NULL));
	ck_assert_int_eq(set.count + set.struck, LEVEL_SET_MOST);
	strcat(text, ";1");
	ck_assert(!level_parse_set(text, LEVEL_M, &set, &why));
	/* of two alike the first is the farthest; one alone has none */
	ck_assert(level_parse_set("1.5;1.6;1.4", LEVEL_M, &set, NULL));
	ck_assert_int_eq(set.farthest, 1);
	ck_assert_int_eq(set.off_by, MM(100));
	ck_assert(level_parse_set("1.5;x1.6", LEVEL_M, &set, NULL));
	ck_assert_int_eq(set.farthest, -1);
	ck_assert_int_eq(set.struck, 1);
	ck_assert_double_eq(set.sd, 0);
	ck_assert(!level_parse_set("x1.5", LEVEL_M, &set, NULL));
	ck_assert(!level_parse_set("", LEVEL_M, &set, NULL));
	ck_assert(!level_parse_set(";", LEVEL_M, &set, NULL));
}
END_TEST

START_TEST(test_ends_banks_standings)
{
	level_nm ends[2];
	struct level_bank bank;
	struct level_standing standing;
	struct level_style meters = level_style_default(LEVEL_M);
	ck_assert(level_parse_ends(behind(63, "1.5", "; 1.25"), LEVEL_M, ends, NULL));
	ck_assert_int_eq(ends[0], MM(1500));
	ck_assert_int_eq(ends[1], MM(1250));
	ck_assert(!level_parse_ends(behind(64, "1.5", "; 1.25"), LEVEL_M, ends, NULL));
	ck_assert(!level_parse_ends("1.5; 1.25; 1", LEVEL_M, ends, NULL));
	ck_assert(!level_parse_ends("1.5", LEVEL_M, ends, NULL));
	ck_assert(!level_parse_ends("1.5; x", LEVEL_M, ends, NULL));
	ck_assert(!level_parse_ends("x; 1.5", LEVEL_M, ends, NULL));
	ck_assert(level_parse_bank(behind(63, "1.5", ",1.25"), LEVEL_M, true, &bank, NULL));
	ck_assert_int_eq(bank.near, MM(1500));
	ck_assert_int_eq(bank.far, MM(1250));
	ck_assert(level_parse_bank("1.5,1.25", LEVEL_M, false, &bank, NULL));
	ck_assert_int_eq(bank.near, MM(1250));
	ck_assert_int_eq(bank.far, MM(1500));
	ck_assert(!level_parse_bank(behind(64, "1.5", ",1.25"), LEVEL_M, true, &bank, NULL));
	ck_assert(!level_parse_bank("1.5,1.25,1", LEVEL_M, true, &bank, NULL));
	ck_assert(level_parse_standing(behind(63, "30", ",1.5,31,1.25"), &meters, &standing, NULL));
	ck_assert_int_eq(standing.distance_a, METRES(30));
	ck_assert_int_eq(standing.reading_a, MM(1500));
	ck_assert_int_eq(standing.distance_b, METRES(31));
	ck_assert_int_eq(standing.reading_b, MM(1250));
	ck_assert(
	    !level_parse_standing(behind(64, "30", ",1.5,31,1.25"), &meters, &standing, NULL));
	ck_assert(!level_parse_standing("30,1.5,31", &meters, &standing, NULL));
	ck_assert(!level_parse_standing("30,1.5,31,1.25,1", &meters, &standing, NULL));
}
END_TEST

/* Readings of 0, distances of 100 km, and 1 m between the standings. */
START_TEST(test_peg_test)
{
	struct level_standing at[2] = {{METRES(30), MM(1500), METRES(30), MM(1250)},
	                               {METRES(5), MM(1500), METRES(55), MM(1250)}};
	struct level_terms terms = usual_terms();
	struct level_peg_way way = {.method = LEVEL_ROD, .k = 0.13, .dk = 1};
	struct level_peg_result got;
	struct fault why = {0};
	ck_assert(level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].reading_a = at[0].reading_b = 0;
	ck_assert(level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].reading_a = -1;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].reading_a = 0;
	at[0].reading_b = -1;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].reading_b = 0;
	at[0].distance_a = LEVEL_DISTANCE_LIMIT;
	ck_assert(level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].distance_a++;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].distance_a = METRES(30);
	at[0].distance_b = LEVEL_DISTANCE_LIMIT;
	ck_assert(level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].distance_b++;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].distance_b = 0;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	at[0].distance_b = METRES(30);
	at[0].distance_a = 0;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	/* 30 - 30 against 31 - 30 */
	at[0].distance_a = METRES(30);
	at[1] = (struct level_standing){METRES(31), MM(1500), METRES(30), MM(1250)};
	ck_assert(level_peg_test(at, 2, &terms, &way, &got, &why));
	at[1].distance_a--;
	ck_assert(!level_peg_test(at, 2, &terms, &way, &got, &why));
	ck_assert(!level_peg_test(at, 0, &terms, &way, &got, &why));
	ck_assert(!level_peg_test(at, 1, &terms, &way, &got, &why));
}
END_TEST

/* Banks: readings of 0 and 100 m, 100 km across, a near sight of 0 and one as long as the other. */
START_TEST(test_banks)
{
	const struct level_bank sound = {MM(1500), MM(1600), {.distance = 5}, {.distance = 100}};
	struct level_terms terms = usual_terms();
	struct level_reciprocal got;
	for (int second = 0; second < 2; second++) {
		struct level_bank bank[2] = {sound, sound}, *b = &bank[second];
#define ACCEPTED() level_reciprocal(&bank[0], &bank[1], &terms, &got, NULL)
		ck_assert(ACCEPTED());
		b->near = b->far = 0;
		ck_assert(ACCEPTED());
		b->near = -1;
		ck_assert(!ACCEPTED());
		b->near = 0;
		b->far = -1;
		ck_assert(!ACCEPTED());
		b->near = b->far = METRES(100);
		ck_assert(ACCEPTED());
		b->near++;
		ck_assert(!ACCEPTED());
		b->near--;
		b->far++;
		ck_assert(!ACCEPTED());
		*b = sound;
		b->far_sight.distance = 100000;
		ck_assert(ACCEPTED());
		b->far_sight.distance = 100001;
		ck_assert(!ACCEPTED());
		b->far_sight.distance = 0;
		ck_assert(!ACCEPTED());
		b->far_sight.distance = 100;
		b->near_sight.distance = 0;
		ck_assert(ACCEPTED());
		b->far_sight.distance = 0.5;
		ck_assert(ACCEPTED());
		b->far_sight.distance = 100;
		b->near_sight.distance = -1;
		ck_assert(!ACCEPTED());
		b->near_sight.distance = 99.99;
		ck_assert(ACCEPTED());
		b->near_sight.distance = 100;
		ck_assert(!ACCEPTED());
	}
}
END_TEST

START_TEST(test_grades)
{
	static const struct {
		const char *text, *kept;
	} table[] = {
	    {"12.345; 0+000; -0.5 %", "12.345 m; 0 m; -0.005"},
	    {"12; 50; 1:200", "12 m; 50 m; 0.005"},
	    {"12; 50; -5   mm/m", "12 m; 50 m; -0.005"},
	    {"12; 50; 5mm/m", "12 m; 50 m; 0.005"},
	    {"12; 50; 1", "12 m; 50 m; 1"},
	    {"12; 50; -1", "12 m; 50 m; -1"},
	    {"12; 50; +.5", "12 m; 50 m; 0.5"},
	    {"12; 50; 5e-05", "12 m; 50 m; 0.00005"},
	    {"12; 50; 5e+0", NULL},
	    {"12; 50; -1e-40", "12 m; 50 m; 0"},
	    {"12; 50; 0", "12 m; 50 m; 0"},
	    {"100 km", "100000 m; 0 m; 0"},
	    {"-100 km", "-100000 m; 0 m; 0"},
	    {"100.001 km", NULL},
	    {"12; 50; 1.0001", NULL},
	    {"12; 50; 1:0", NULL},
	    {"12; 50; 1:-2", NULL},
	    {"12; 50; x:2", NULL},
	    {"12; 50; 1:x", NULL},
	    {"12; 50; %", NULL},
	    {"12; 50; x %", NULL},
	    {"12; 50; x mm/m", NULL},
	    {"12; 50; mm/m", NULL},
	    {"12; 50; 5e", NULL},
	    {"12; 50; 5e-", NULL},
	    {"12; 50; .", NULL},
	    {"12; 50; 0.5; 1", NULL},
	    {"", NULL},
	};
	char kept[LEVEL_GRADE_BYTES];
	struct level_grade grade;
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		bool ok = level_parse_grade(table[i].text, LEVEL_M, &grade, kept, NULL);
		ck_assert_msg(ok == (table[i].kept != NULL), "%s", table[i].text);
		if (ok)
			ck_assert_str_eq(kept, table[i].kept);
	}
	/* 39 characters of a number are read, 40 are not */
	ck_assert(level_parse_grade("12;50;0.0000000000000000000000000000000000005", LEVEL_M,
	                            &grade, kept, NULL));
	ck_assert(!level_parse_grade("12;50;0.00000000000000000000000000000000000005", LEVEL_M,
	                             &grade, kept, NULL));
}
END_TEST

START_TEST(test_scaled)
{
	struct level_scaling got;
	int64_t px;
	level_nm mark;
	ck_assert(level_parse_px("1000000", &px, NULL));
	ck_assert_int_eq(px, INT64_C(1000000000000));
	ck_assert(!level_parse_px("1000000.000001", &px, NULL));
	ck_assert(!level_parse_px("1000001", &px, NULL));
	ck_assert(level_parse_px("-.5", &px, NULL));
	ck_assert_int_eq(px, -500000);
	ck_assert(level_parse_px("+12.345678 ", &px, NULL));
	ck_assert_int_eq(px, 12345678);
	ck_assert(!level_parse_px("12.3456789", &px, NULL));
	ck_assert(!level_parse_px(".", &px, NULL));
	ck_assert(level_parse_placed(behind(63, "0.5", "@1204"), LEVEL_M, &mark, &px, NULL));
	ck_assert(!level_parse_placed(behind(64, "0.5", "@1204"), LEVEL_M, &mark, &px, NULL));
	ck_assert(!level_parse_placed("0.5", LEVEL_M, &mark, &px, NULL));
	ck_assert(level_parse_scaling(behind(79, "0.5@1204", "; 1@2310; hair 1650"), LEVEL_M, &got,
	                              NULL));
	ck_assert(!level_parse_scaling(behind(80, "0.5@1204", "; 1@2310; hair 1650"), LEVEL_M, &got,
	                               NULL));
	ck_assert(level_parse_scaling("0.5@1204;1@2310;hair 1650", LEVEL_M, &got, NULL));
	ck_assert_int_eq(got.u_px, LEVEL_PX_U);
	ck_assert(!level_parse_scaling("0.5@1204;1@2310", LEVEL_M, &got, NULL));
	ck_assert(!level_parse_scaling("0.5@1204;1@2310;hair 1650;u 2;", LEVEL_M, &got, NULL));
	ck_assert(!level_parse_scaling("0.5@1204;1@2310;hair1650", LEVEL_M, &got, NULL));
	ck_assert(!level_parse_scaling("0.5@1204;1@2310;u 1650", LEVEL_M, &got, NULL));
}
END_TEST

/* A small buffer keeps what was typed. */
START_TEST(test_carried_scaling)
{
	char big[200], small[30];
	const char *text = "0.5@1204; 1@2310; hair 1650", *with = "0.5 m@1204; 1 m@2310; hair 1650";
	ck_assert_str_eq(level_carry_scaling(big, sizeof big, text, LEVEL_M, LEVEL_FT), with);
	ck_assert_str_eq(level_carry_scaling(big, sizeof big, text, LEVEL_M, LEVEL_M), text);
	ck_assert_str_eq(level_carry_scaling(small, sizeof small, text, LEVEL_M, LEVEL_FT), text);
	ck_assert_str_eq(level_carry_scaling(big, strlen(with) + 1, text, LEVEL_M, LEVEL_FT), with);
	ck_assert_str_eq(level_carry_scaling(big, strlen(with), text, LEVEL_M, LEVEL_FT), text);
}
END_TEST

START_TEST(test_tolerances)
{
	static const struct {
		const char *figures;
		bool sound;
	} table[] = {
	    {"section=1 mm; setups=1 mm", false},
	    {"loop=1 mm; setups=1 mm", false},
	    {"setups=1 mm; cap=9 mm", true},
	    {"section=1 mm; setups=0", true},
	    {"days=10000", true},
	    {"days=10000.5", false},
	    {"days=-1", false},
	    {"days=", false},
	    {"days=1x", false},
	    {"days=0.5", true},
	    {"graded=no", true},
	    {"graded=maybe", false},
	    {"section=0", true},
	    {" section=1 mm ; ", true},
	    {"section=1 mm;;loop=1 mm", false},
	    {"sight", false},
	};
	struct level_tolerance got;
	char text[260];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_msg(level_parse_tolerance("town", table[i].figures, &got, NULL) ==
		                  table[i].sound,
		              "%s", table[i].figures);
	ck_assert(level_parse_tolerance("town", "loop=3 mm", &got, NULL));
	ck_assert_double_eq(got.per_km[0], 0);
	ck_assert_double_eq(got.per_km[1], 0.003);
	ck_assert(
	    level_parse_tolerance("town", "section=2 mm; loop=3 mm; standings=4 mm", &got, NULL));
	ck_assert_double_eq(got.per_km[0], 0.002);
	ck_assert_double_eq(got.per_km[1], 0.003);
	ck_assert_double_eq(got.standings, 0.004);
	/* 199 characters of one figure, and 200 */
	snprintf(text, sizeof text, "sight=%193s", "9 m");
	ck_assert(level_parse_tolerance("town", text, &got, NULL));
	snprintf(text, sizeof text, "sight=%194s", "9 m");
	ck_assert(!level_parse_tolerance("town", text, &got, NULL));
}
END_TEST

/* h of 12 mm per root of setups, at most 20 mm; nothing for no setups; 0 km is no length. */
START_TEST(test_allowable)
{
	struct level_tolerance set = {.per_setup = 0.012, .cap = 0.020};
	double got = 0;
	ck_assert(level_allowable(&set, LEVEL_LINK, false, 0, 1, 0, &got));
	ck_assert_double_eq_tol(got, 0.012, 1e-12);
	ck_assert(level_allowable(&set, LEVEL_LINK, false, 0, 4, 0, &got));
	ck_assert_double_eq_tol(got, 0.020, 1e-12);
	ck_assert(!level_allowable(&set, LEVEL_LINK, false, 0, 0, 0, &got));
	set = (struct level_tolerance){.per_km = {0.012, 0.006}};
	ck_assert(level_allowable(&set, LEVEL_LINK, true, 4, 1, 0, &got));
	ck_assert_double_eq_tol(got, 0.024, 1e-12);
	ck_assert(level_allowable(&set, LEVEL_LOOP, true, 4, 1, 0, &got));
	ck_assert_double_eq_tol(got, 0.012, 1e-12);
	ck_assert(!level_allowable(&set, LEVEL_LINK, true, 0, 1, 0.005, &got));
	ck_assert(!level_allowable(&set, LEVEL_LINK, false, 4, 1, 0.005, &got));
	set = (struct level_tolerance){0};
	ck_assert(level_allowable(&set, LEVEL_LINK, false, 0, 4, 0.005, &got));
	ck_assert_double_eq_tol(got, 0.010, 1e-12);
	ck_assert(!level_allowable(&set, LEVEL_LINK, false, 0, 4, 0, &got));
}
END_TEST

int main(void)
{
	return RUN_TESTS("typed_limits", test_slopes, test_sets, test_ends_banks_standings,
	                 test_peg_test, test_banks, test_grades, test_scaled, test_carried_scaling,
	                 test_tolerances, test_allowable);
}
