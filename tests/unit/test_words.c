/* The small words of the computing room: names and units, there and back. */
#include "rodbook/level/air.h"
#include "rodbook/level/scale.h"
#include "rodbook/level/spread.h"

#include <string.h>

#include "suite.h"

START_TEST(test_units_in_words)
{
	static const struct {
		enum level_unit unit, distance;
		const char *words, *length;
	} table[] = {
	    /* 30.48 m are 100 ft exactly */
	    {LEVEL_M, LEVEL_M, "m", "30.480 m"},
	    {LEVEL_M, LEVEL_FT, "m, distances in ft", "100.00 ft"},
	    {LEVEL_FT, LEVEL_FT, "ft", "100.00 ft"},
	    {LEVEL_FT, LEVEL_M, "ft, distances in m", "30.480 m"},
	    {LEVEL_FTIN, LEVEL_FT, "feet and inches, distances in ft", "100.00 ft"},
	    {LEVEL_IN, LEVEL_FT, "inches, distances in ft", "100.00 ft"},
	    {LEVEL_IN, LEVEL_IN, "inches", "1200 in"},
	};
	char buf[LEVEL_LENGTH_BYTES];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_style style = level_style_default(table[i].unit);
		style.distance = table[i].distance;
		ck_assert_str_eq(level_style_words(buf, &style), table[i].words);
		ck_assert_str_eq(level_format_distance_unit(buf, 30480000000, &style),
		                 table[i].length);
	}
}
END_TEST

/* A station called 12 may be one; 1.432, 3/8 and 1,860 were meant for another field. */
START_TEST(test_names_like_readings)
{
	static const char *const readings[] = {"1.432", "-0.5", "3/8", "1,860", "57 3/8", "-.5"};
	static const char *const names[] = {"12", "TP1",     "1.432 m", "A.1",   ".",
	                                    "/",  "12+50.5", "0+050.0", "-2-.5", ""};
	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++)
		ck_assert_msg(level_is_like_reading(readings[i]), "%s", readings[i]);
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		ck_assert_msg(!level_is_like_reading(names[i]), "%s", names[i]);
}
END_TEST

START_TEST(test_ways_to_spread)
{
	enum level_by by = LEVEL_BY_SETUPS;
	ck_assert(level_by_find("distance", &by));
	ck_assert_int_eq(by, LEVEL_BY_DISTANCE);
	ck_assert_str_eq(level_by_name(by), "distance");
	ck_assert(level_by_find("setups", &by));
	ck_assert_int_eq(by, LEVEL_BY_SETUPS);
	ck_assert_str_eq(level_by_name(by), "setups");
	ck_assert(!level_by_find("setup", &by) && !level_by_find("", &by));
	ck_assert_int_eq(by, LEVEL_BY_SETUPS);
}
END_TEST

START_TEST(test_limits)
{
	static const char *const names[] = {
	    [LEVEL_LIMIT_NONE] = "nothing",
	    [LEVEL_LIMIT_MISCLOSURE] = "misclosure",
	    [LEVEL_LIMIT_SIGHT] = "sight",
	    [LEVEL_LIMIT_SETUP_IMBALANCE] = "setup imbalance",
	    [LEVEL_LIMIT_IMBALANCE] = "imbalance",
	    [LEVEL_LIMIT_HALF] = "half intervals",
	    [LEVEL_LIMIT_STANDINGS] = "standings",
	};
	for (int i = LEVEL_LIMIT_NONE; i <= LEVEL_LIMIT_STANDINGS; i++) {
		ck_assert_str_eq(level_limit_name((enum level_limit)i), names[i]);
		ck_assert_int_eq(level_limit_is_distance((enum level_limit)i),
		                 i == LEVEL_LIMIT_SIGHT || i == LEVEL_LIMIT_SETUP_IMBALANCE ||
		                     i == LEVEL_LIMIT_IMBALANCE);
	}
}
END_TEST

START_TEST(test_scaled_text)
{
	char buf[LEVEL_SCALED_BYTES];
	ck_assert_str_eq(level_scaled_text(buf, 1432000001, LEVEL_M), "1.432000001");
	ck_assert_str_eq(level_scaled_text(buf, 1432000001, LEVEL_FT), "1.432000001 m");
	ck_assert_str_eq(level_scaled_text(buf, -500000000, LEVEL_IN), "-0.500 m");
}
END_TEST

/* What a quantity is carried over by: its unit behind the number, and one of lengths behind the
 * height, where they are bare. */
START_TEST(test_carried_air)
{
	static const struct {
		const char *text;
		int bare;
		enum level_unit unit;
		const char *carried;
	} table[] = {
	    {"59@3", 1, LEVEL_FT, "59 F@3 ft"}, {"59@3", 0, LEVEL_FT, "59@3 ft"},
	    {"59@3", 1, LEVEL_M, "59 F@3 m"},   {"15 C@1 m", 1, LEVEL_FT, "15 C@1 m"},
	    {"59", 1, LEVEL_FT, "59 F"},        {"59 @", 1, LEVEL_FT, "59 @"},
	};
	char buf[80];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_str_eq(level_carry_quantity_at(buf, sizeof buf, table[i].text,
		                                         LEVEL_TEMPERATURE, table[i].bare,
		                                         table[i].unit),
		                 table[i].carried);
}
END_TEST

/* 59 F are 15 C; blanks around are no part of the unit, and what is too long is none. */
START_TEST(test_unit_behind_a_number)
{
	static const char *const refused[] = {"59 fahrenheit", "59 degrees", "+-59", "5.9.1", "F"};
	struct fault why = {0};
	double value = 0;
	ck_assert(level_parse_quantity("  59 F  ", LEVEL_TEMPERATURE, 0, &value, &why));
	ck_assert_double_eq_tol(value, 15, 1e-12);
	ck_assert(level_parse_quantity("59  ", LEVEL_TEMPERATURE, 1, &value, &why));
	ck_assert_double_eq_tol(value, 15, 1e-12);
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
		why = (struct fault){0};
		ck_assert_msg(!level_parse_quantity(refused[i], LEVEL_TEMPERATURE, 0, &value, &why),
		              "%s", refused[i]);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("words", test_units_in_words, test_names_like_readings,
	                 test_ways_to_spread, test_limits, test_scaled_text, test_carried_air,
	                 test_unit_behind_a_number);
}
