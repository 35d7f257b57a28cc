/* Places along a line, and what stands above or below a design grade there. Worked by hand. */
#include "rodbook/level/grade.h"

#include "sights.h"
#include "suite.h"

START_TEST(test_along)
{
	static const struct {
		const char *text;
		enum level_unit unit;
		level_nm along;
	} good[] = {
	    {"87.5", LEVEL_M, MM(87500)},
	    {"0+050", LEVEL_M, MM(50000)},
	    {"1+250.25", LEVEL_M, MM(1250250)},
	    {"0+00", LEVEL_M, 0},
	    {"12+50", LEVEL_M, MM(1250000)},
	    {"12+50.5", LEVEL_FT, 1250 * LEVEL_NM_PER_FT + LEVEL_NM_PER_FT / 2},
	    {"12+50", LEVEL_IN, 1250 * LEVEL_NM_PER_FT},
	    {"30 m", LEVEL_FT, MM(30000)},
	    /* 100 km and 10 miles, the one as far as it goes, the other 528 times 100 ft */
	    {"100+000", LEVEL_M, METRES(100000)},
	    {"1000+00", LEVEL_M, METRES(100000)},
	    {"528+00", LEVEL_FT, 52800 * LEVEL_NM_PER_FT},
	};
	static const char *const bad[] = {
	    "",       "+50",           "1+5",         "1+2+3",    "1+5000",
	    "-3",     "a+050",         "1+05m",       "1.5+050",  "1 +050",
	    "200 km", "999999999+000", "100+000.003", "0100+388", "1000+01"};
	level_nm along;
	struct fault why;
	for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
		ck_assert_msg(level_parse_along(good[i].text, good[i].unit, &along, NULL), "%s",
		              good[i].text);
		ck_assert_int_eq(along, good[i].along);
	}
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ck_assert_msg(!level_parse_along(bad[i], LEVEL_M, &along, &why), "%s", bad[i]);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
}
END_TEST

/* In a book of another unit a place stays where it was: 12+50 ft is 1250 ft, 381 m. */
START_TEST(test_carried)
{
	static const struct {
		const char *text;
		enum level_unit unit, here;
		const char *carried;
	} table[] = {
	    {"30", LEVEL_M, LEVEL_FT, "30 m"},       {"0+050", LEVEL_M, LEVEL_FTIN, "50 m"},
	    {"12+50", LEVEL_FT, LEVEL_M, "1250 ft"}, {"30", LEVEL_FT, LEVEL_IN, "30"},
	    {"30", LEVEL_M, LEVEL_M, "30"},          {"0+050", LEVEL_M, LEVEL_M, "0+050"},
	    {"30 m", LEVEL_M, LEVEL_FT, "30 m"},     {"", LEVEL_M, LEVEL_FT, ""},
	    {"87.5", LEVEL_FTIN, LEVEL_M, "87.5 ft"}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		char text[64];
		ck_assert_str_eq(level_carry_along(text, sizeof text, table[i].text, table[i].unit,
		                                   table[i].here),
		                 table[i].carried);
	}
}
END_TEST

/* A ditch of -0.5 % from 12.345 at 0+020: at 0+050 it lies at 12.345 - 0.150 = 12.195. */
START_TEST(test_grade)
{
	static const char *const same[] = {"12.345; 0+020; -0.5 %", "12.345;20;-5 mm/m",
	                                   "12345 mm ; 20 m ; -1:200", "12.345;0+020;-0.005"};
	struct level_grade grade, again;
	char kept[LEVEL_GRADE_BYTES];
	for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
		ck_assert_msg(level_parse_grade(same[i], LEVEL_M, &grade, kept, NULL), "%s",
		              same[i]);
		ck_assert_int_eq(level_grade_at(&grade, MM(50000)), MM(12195));
		ck_assert_int_eq(level_grade_at(&grade, MM(20000)), MM(12345));
		/* and upstream of where it was given */
		ck_assert_int_eq(level_grade_at(&grade, 0), MM(12445));
		/* as it is kept it means the same in a book of any unit */
		ck_assert(level_parse_grade(kept, LEVEL_IN, &again, NULL, NULL));
		ck_assert_int_eq(level_grade_at(&again, MM(50000)), MM(12195));
	}
	ck_assert(level_parse_grade("-3.5", LEVEL_FT, &grade, NULL, NULL));
	ck_assert_int_eq(level_grade_at(&grade, MM(99000)), -7 * LEVEL_NM_PER_FT / 2);
}
END_TEST

START_TEST(test_refused)
{
	static const char *const bad[] = {"",           ";",          "a",          "1; b",
	                                  "1; 0; c",    "1;0;0;0",    "1; 0; 150%", "1; 0; 1:0",
	                                  "1; 0; --1%", "1; 0; 1..2", "1; 0; %",    "1; -5; 0",
	                                  "1; 0; nan",  "1; 0; 1e"};
	struct level_grade grade;
	struct fault why;
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ck_assert_msg(!level_parse_grade(bad[i], LEVEL_M, &grade, NULL, &why), "%s",
		              bad[i]);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
}
END_TEST

/* A grade is kept so that it can be read again, however flat: 1:20000 falls 5 cm in a kilometer,
 * and a kilometer of 1:20000000 falls 0.05 mm. Texts with an exponent, as earlier programs kept
 * them, are read too. */
START_TEST(test_flat)
{
	static const struct {
		const char *text, *kept;
		level_nm at_1_km;
	} table[] = {
	    {"12.3; 0; 1:20000", "12.3 m; 0 m; 0.00005", MM(12350)},
	    {"12.3; 0; -1:20000", "12.3 m; 0 m; -0.00005", MM(12250)},
	    {"12.3; 0; -0.00005 mm/m", "12.3 m; 0 m; -0.00000005", MM(12300) - 50000},
	    {"12.3; 0; 5e-05", "12.3 m; 0 m; 0.00005", MM(12350)},
	    {"12.3; 0; 1:3", "12.3 m; 0 m; 0.333333333333333", 0},
	    {"12.3; 0; 1:99999999999999999999999999999999", "12.3 m; 0 m; 0", MM(12300)},
	};
	struct level_grade grade, again;
	char kept[LEVEL_GRADE_BYTES], twice[LEVEL_GRADE_BYTES];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		ck_assert_msg(level_parse_grade(table[i].text, LEVEL_M, &grade, kept, NULL), "%s",
		              table[i].text);
		ck_assert_str_eq(kept, table[i].kept);
		ck_assert_msg(level_parse_grade(kept, LEVEL_M, &again, twice, NULL), "%s", kept);
		ck_assert_str_eq(twice, kept);
		if (table[i].at_1_km)
			ck_assert_int_eq(level_grade_at(&again, MM(1000000)), table[i].at_1_km);
	}
	ck_assert(!level_parse_grade("12.3; 0; 5e", LEVEL_M, &grade, NULL, NULL));
	ck_assert(!level_parse_grade("12.3; 0; e-5", LEVEL_M, &grade, NULL, NULL));
	ck_assert(!level_parse_grade("12.3; 0; 5e-05e-1", LEVEL_M, &grade, NULL, NULL));
}
END_TEST

int main(void)
{
	return RUN_TESTS("grade", test_flat, test_carried, test_along, test_grade, test_refused);
}
