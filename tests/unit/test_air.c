/* The air as it is typed. */
#include "rodbook/level/air.h"

#include <math.h>
#include <string.h>

#include "suite.h"

#define T LEVEL_TEMPERATURE
#define P LEVEL_PRESSURE
#define W LEVEL_SPEED

/* 59 F = 15 C and -40 F = -40 C by definition; 1 inHg = 33.86389 hPa, 1 mph = 0.44704 m/s, 1 kn =
 * 1852 m/h (NIST SP 811, appendix B, recalled). */
START_TEST(test_units)
{
	static const struct {
		const char *text;
		enum level_quantity quantity;
		int bare;
		double value;
	} table[] = {
	    {"15", T, 0, 15},
	    {"59", T, 1, 15},
	    {"59 F", T, 0, 15},
	    {"59F", T, 0, 15},
	    {"-40 f", T, 0, -40},
	    {"15 C", T, 1, 15},
	    {"+2.5 C", T, 0, 2.5},
	    {"1013", P, 0, 1013},
	    {"1013.25 hPa", P, 1, 1013.25},
	    {"29.92", P, 1, 1013.2076},
	    {"29.92 inHg", P, 0, 1013.2076},
	    {"3", W, 0, 3},
	    {"10 mph", W, 0, 4.4704},
	    {"10 kn", W, 0, 5.144444},
	    {"36 km/h", W, 0, 10},
	    {" 36 ", W, 3, 10},
	    {"3 m/s", W, 1, 3},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		double value;
		struct fault why = {0};
		ck_assert_msg(level_parse_quantity(table[i].text, table[i].quantity, table[i].bare,
		                                   &value, &why),
		              "%s: %s", table[i].text, why.text);
		ck_assert_double_eq_tol(value, table[i].value, 1e-4);
	}
}
END_TEST

START_TEST(test_wrong_units)
{
	static const struct {
		const char *text;
		enum level_quantity quantity;
	} table[] = {
	    {"", T},         {"15 K", T},   {"warm", T},    {"15 hPa", T}, {"1013 mb", P},
	    {"760 mmHg", P}, {"1013 C", P}, {"3 knots", W}, {"3 ft/s", W}, {"light", W},
	    {"1e3", P},      {"--3", W},    {"nan", T},     {"1.2.3", W},  {"0x10", W},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		double value;
		struct fault why = {0};
		ck_assert_msg(
		    !level_parse_quantity(table[i].text, table[i].quantity, 0, &value, &why),
		    "\"%s\" accepted", table[i].text);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
	}
}
END_TEST

/* A bare number gets its unit where that is not the first, so that its meaning stays. */
START_TEST(test_carry)
{
	char out[60];
	ck_assert_str_eq(level_carry_quantity(out, sizeof out, "59", T, 1), "59 F");
	ck_assert_str_eq(level_carry_quantity(out, sizeof out, "15", T, 0), "15");
	ck_assert_str_eq(level_carry_quantity(out, sizeof out, "15 C", T, 1), "15 C");
	ck_assert_str_eq(level_carry_quantity_at(out, sizeof out, "59@3", T, 1, LEVEL_FT),
	                 "59 F@3 ft");
	ck_assert_str_eq(level_carry_quantity_at(out, sizeof out, "3@2 m", W, 3, LEVEL_FT),
	                 "3 km/h@2 m");
}
END_TEST

START_TEST(test_read)
{
	static const struct level_air_units metric = {{0, 0, 0}}, other = {{1, 1, 1}};
	static const struct {
		const char *text;
		const struct level_air_units *units;
		enum level_unit bare;
		double pressure, low, low_height, high, high_height;
	} table[] = {
	    {"1013,15.2@1 m,14.8@4 m", &metric, LEVEL_M, 1013, 15.2, 1, 14.8, 4},
	    {"1013.25,15.2@1,14.8@4", &metric, LEVEL_M, 1013.25, 15.2, 1, 14.8, 4},
	    {" 1013 , 15.2 @ 1 m , 14.8 @ 4 m ", &metric, LEVEL_M, 1013, 15.2, 1, 14.8, 4},
	    {"1013,15.2 at 1 m,14.8 C at 4 m", &metric, LEVEL_M, 1013, 15.2, 1, 14.8, 4},
	    {"1013 hPa,15.2 C@100 cm,14.8 C@400 cm", &other, LEVEL_M, 1013, 15.2, 1, 14.8, 4},
	    {"29.92,59@5 ft,57.2@20", &other, LEVEL_FT, 1013.2076, 15, 1.524, 14, 6.096},
	    {"300,-90@0.1 m,-90@1000 m", &metric, LEVEL_M, 300, -90, 0.1, -90, 1000},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_air_reading got = level_air_nothing();
		struct fault why = {0};
		ck_assert_msg(
		    level_air_parse(table[i].text, table[i].units, table[i].bare, &got, &why),
		    "\"%s\": %s", table[i].text, why.text);
		ck_assert_double_eq_tol(got.pressure, table[i].pressure, 1e-3);
		ck_assert_double_eq_tol(got.low, table[i].low, 1e-9);
		ck_assert_double_eq_tol(got.low_height, table[i].low_height, 1e-12);
		ck_assert_double_eq_tol(got.high, table[i].high, 1e-9);
		ck_assert_double_eq_tol(got.high_height, table[i].high_height, 1e-12);
		ck_assert(isnan(got.water) && isnan(got.wind));
	}
}
END_TEST

/* Without a pressure it is that of the standard atmosphere, 1013.25 hPa (ISO 2533). */
START_TEST(test_no_pressure)
{
	static const struct level_air_units metric, other = {.of = {[LEVEL_TEMPERATURE] = 1}};
	static const char whole[] = "1006 hPa,9 C@0.8 m,8.9 C@2.8 m";
	struct level_air_reading got = level_air_nothing();
	char text[100];
	ck_assert(level_air_parse("9.0@0.8, 8.9@2.8", &metric, LEVEL_M, &got, NULL));
	ck_assert_double_eq(got.pressure, 1013.25);
	ck_assert_double_eq(got.low, 9.0);
	ck_assert_double_eq(got.low_height, 0.8);
	ck_assert_double_eq(got.high, 8.9);
	ck_assert_double_eq(got.high_height, 2.8);
	ck_assert_str_eq(level_air_carry(text, sizeof text, "9.0@0.8, 8.9@2.8", &metric, LEVEL_M),
	                 "1013.25 hPa,9 C@0.8 m,8.9 C@2.8 m");
	ck_assert_str_eq(level_air_carry(text, sizeof text, "59@1,50@6", &other, LEVEL_M),
	                 "1013.25 hPa,15 C@1 m,10 C@6 m");
	ck_assert_str_eq(level_air_carry(text, sizeof text, whole, &metric, LEVEL_M), whole);
	ck_assert_str_eq(level_air_carry(text, sizeof text, "9.0@0.8", &metric, LEVEL_M),
	                 "9.0@0.8");
}
END_TEST

static void check_refused(const char *text, const char *said)
{
	static const struct level_air_units metric;
	struct level_air_reading got = level_air_nothing();
	struct fault why = {0};
	ck_assert_msg(!level_air_parse(text, &metric, LEVEL_M, &got, &why), "\"%s\" accepted",
	              text);
	ck_assert_msg(strstr(why.text, said) != NULL, "\"%s\": %s", text, why.text);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert(!level_air_parse(text, &metric, LEVEL_M, &got, NULL));
}

START_TEST(test_no_air)
{
	static const char *const texts[] = {"",
	                                    ",",
	                                    "1013",
	                                    "1013,15.2@1 m",
	                                    "1013,15.2@1 m,",
	                                    "1013,15.2@1 m,14.8",
	                                    "1013,15.2@1 m,14.8@",
	                                    "1013,15.2@1 m,14.8@4 m,",
	                                    "1013,15.2@1 m,14.8@4 m,14@9 m",
	                                    "1013 15.2@1 m,14.8@4 m",
	                                    "1013,15.2 1 m,14.8@4 m",
	                                    "1013,15,2@1 m,14.8@4 m",
	                                    "1013,15.2@1 m,14.8@4 m x",
	                                    "1013,15.2@one,14.8@4 m",
	                                    "1e3,15.2@1 m,14.8@4 m",
	                                    "nan,15.2@1 m,14.8@4 m",
	                                    "1013,inf@1 m,14.8@4 m",
	                                    "1013,1-5@1 m,14.8@4 m",
	                                    "1013,15.2.1@1 m,14.8@4 m",
	                                    "1013,-@1 m,14.8@4 m",
	                                    "@@,,"};
	char endless[4000];
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		check_refused(texts[i], "is no air");
	memset(endless, '9', sizeof endless - 1);
	endless[sizeof endless - 1] = '\0';
	check_refused(endless, "is no air");
}
END_TEST

START_TEST(test_air_that_cannot_be)
{
	static const struct {
		const char *text, *said;
	} table[] = {
	    {"299.9,15.2@1 m,14.8@4 m", "pressure"},
	    {"1100.1,15.2@1 m,14.8@4 m", "pressure"},
	    {"29.92,15.2@1 m,14.8@4 m", "pressure"}, /* inches of mercury, without their unit */
	    {"760,60.1@1 m,14.8@4 m", "temperature"},
	    {"1013,15@1 m,288.15@4 m", "temperature"}, /* kelvin */
	    {"1013,15@1000.1 m,15@1001 m", "1000 m"},
	    {"1013,15@-1 m,15@4 m", "above 0"},
	    {"1013,15@0 m,15@4 m", "above 0"},
	    {"1013,15@1 m,14@1 m", "one height"},
	    {"1013,15@4 m,14@1 m", "named first"},
	    /* k passes 20 at 3.22 K/m: at the middle height sqrt 2 m that is 3.2 K and more */
	    {"1013.25,13@1 m,17@2 m", "read them again"},
	    {"1013.25,17@1 m,13@2 m", "read them again"},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		check_refused(table[i].text, table[i].said);
}
END_TEST

int main(void)
{
	return RUN_TESTS("air", test_units, test_wrong_units, test_carry, test_read,
	                 test_no_pressure, test_no_air, test_air_that_cannot_be);
}
