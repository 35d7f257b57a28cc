/* Declared allowances and tilts as they are typed. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/level/drop/drop.h"
#include "suite.h"

static void check_declared(const char *text, enum level_unit bare,
                           const struct level_declared *want, size_t count)
{
	struct level_declared got[LEVEL_DECLARED_MOST];
	struct fault why = {0};
	memset(got, 0x55, sizeof got);
	ck_assert_msg(level_parse_declared(text, bare, got, &why), "\"%s\": %s", text, why.text);
	for (size_t i = 0; i < LEVEL_DECLARED_MOST; i++) {
		ck_assert_str_eq(got[i].name, i < count ? want[i].name : "");
		ck_assert_msg(fabs(got[i].bound - (i < count ? want[i].bound : 0)) < 1e-15,
		              "\"%s\": %.12g", text, got[i].bound);
		ck_assert_double_eq_tol(got[i].slope, i < count ? want[i].slope : 0, 1e-15);
	}
}

#define CHECK(text, bare, ...)                                                                     \
	check_declared(text, bare, (const struct level_declared[]){__VA_ARGS__},                   \
	               sizeof((const struct level_declared[]){__VA_ARGS__}) /                      \
	                   sizeof(struct level_declared))

START_TEST(test_one)
{
	CHECK("2 mm", LEVEL_M, {"", 0.002, 0});
	CHECK("0.002", LEVEL_M, {"", 0.002, 0});
	CHECK("0.01", LEVEL_FT, {"", 0.003048, 0});
	CHECK("0.12", LEVEL_IN, {"", 0.003048, 0});
	CHECK("1/8", LEVEL_IN, {"", 0.003175, 0});
	CHECK("1/8 in", LEVEL_M, {"", 0.003175, 0});
	CHECK(" 2 mm ", LEVEL_IN, {"", 0.002, 0});
	CHECK("0", LEVEL_FT, {"", 0, 0});
	CHECK("0 mm", LEVEL_FT, {"", 0, 0});
	CHECK("plumbing=2 mm", LEVEL_FT, {"plumbing", 0.002, 0});
	CHECK("plumbing= 2 mm", LEVEL_FT, {"plumbing", 0.002, 0});
}
END_TEST

/* Slopes by name, of which each meter of sight takes so much. */
START_TEST(test_named_slopes)
{
	CHECK("compensator=0.01 mm/m", LEVEL_M, {"compensator", 0, 0.00001});
	CHECK("compensator= 0.01 mm/m", LEVEL_M, {"compensator", 0, 0.00001});
	CHECK("bend=0.2 mm in 100 m; marks=2 mm", LEVEL_FT, {"bend", 0, 0.000002},
	      {"marks", 0.002, 0});
}
END_TEST

START_TEST(test_several)
{
	CHECK("plumbing=1 mm; marks=2 mm", LEVEL_M, {"plumbing", 0.001, 0}, {"marks", 0.002, 0});
	CHECK("1 mm;2 mm", LEVEL_M, {"", 0.001, 0}, {"", 0.002, 0});
	CHECK(" rod_zero = 1/16 in ;3 mm; PIN2 =0.01 ft", LEVEL_M, {"rod_zero", 0.0015875, 0},
	      {"", 0.003, 0}, {"PIN2", 0.003048, 0});
	CHECK("a=1 mm; b=1 mm; c=1 mm; d=1 mm; e=1 mm; f=1 mm", LEVEL_M, {"a", 0.001, 0},
	      {"b", 0.001, 0}, {"c", 0.001, 0}, {"d", 0.001, 0}, {"e", 0.001, 0}, {"f", 0.001, 0});
	CHECK("abcdefghijklmnopqrstuvw=1 mm", LEVEL_M, {"abcdefghijklmnopqrstuvw", 0.001, 0});
	/* 0 is 0 in every unit */
	CHECK("a=0; b=1 mm", LEVEL_FT, {"a", 0, 0}, {"b", 0.001, 0});
}
END_TEST

/* As long as a length may be written, and one blank more. */
START_TEST(test_long)
{
	struct level_declared out[LEVEL_DECLARED_MOST];
	char text[65];
	snprintf(text, sizeof text, "%63s", "2 mm");
	ck_assert(level_parse_declared(text, LEVEL_M, out, NULL));
	snprintf(text, sizeof text, "%64s", "2 mm");
	ck_assert(!level_parse_declared(text, LEVEL_M, out, NULL));
}
END_TEST

START_TEST(test_refused)
{
	static const struct {
		const char *text, *said;
	} table[] = {
	    {"", "declares no allowance"},
	    {" ", "declares no allowance"},
	    {";", "declares no allowance"},
	    {"2 mm;", "declares no allowance"},
	    {";2 mm", "declares no allowance"},
	    {"1 mm;;2 mm", "declares no allowance"},
	    {"-2 mm", "declares no allowance"},
	    {"two", "declares no allowance"},
	    {"=2 mm", "declares no allowance"},
	    {" =2 mm", "declares no allowance"},
	    {"a=", "declares no allowance"},
	    {"a=-1 mm", "declares no allowance"},
	    {"a=b=1 mm", "declares no allowance"},
	    {"two words=1 mm", "declares no allowance"},
	    {"m\xc3\xa4rks=1 mm", "declares no allowance"},
	    {"a-b=1 mm", "declares no allowance"},
	    {"abcdefghijklmnopqrstuvwx=1 mm", "declares no allowance"}, /* 24 letters */
	    /* a bare number in a list would change with the book's unit */
	    {"a=0.002", "declares no allowance"},
	    {"1 mm; 0.002", "declares no allowance"},
	    {"0.002; 1 mm", "declares no allowance"},
	    /* seven */
	    {"1 mm;1 mm;1 mm;1 mm;1 mm;1 mm;1 mm", "declares no allowance"},
	    /* names of the allowance's own lines and totals */
	    {"instrument=1 mm", "declares no allowance"},
	    {"reading=1 mm", "declares no allowance"},
	    {"refraction=1 mm", "declares no allowance"},
	    {"declared=1 mm", "declares no allowance"},
	    {"water=1 mm", "declares no allowance"},
	    {"known=1 mm", "declares no allowance"},
	    {"bound=1 mm", "declares no allowance"},
	    {"u95=1 mm", "declares no allowance"},
	    {"a=1 mm; a=2 mm", "a is declared twice"},
	    {"a=1 mm; b=1 mm; a =2 mm", "a is declared twice"},
	};
	struct level_declared got[LEVEL_DECLARED_MOST];
	char endless[4000];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct fault why = {0};
		ck_assert_msg(!level_parse_declared(table[i].text, LEVEL_M, got, &why),
		              "\"%s\" accepted", table[i].text);
		ck_assert_msg(strstr(why.text, table[i].said) != NULL, "\"%s\": %s", table[i].text,
		              why.text);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
		ck_assert(!level_parse_declared(table[i].text, LEVEL_M, got, NULL));
	}
	memset(endless, 'a', sizeof endless - 1);
	endless[sizeof endless - 1] = '\0';
	ck_assert(!level_parse_declared(endless, LEVEL_M, got, NULL));
	endless[2000] = '=';
	ck_assert(!level_parse_declared(endless, LEVEL_M, got, NULL));
}
END_TEST

START_TEST(test_tilt)
{
	static const struct {
		const char *text;
		double tilt;
	} table[] = {
	    {"0", 0},
	    {"+0", 0},
	    {"-0", 0},
	    /* nothing is nothing in any unit */
	    {"0.0", 0},
	    {"0.0 mm/m", 0},
	    {"-0 mm/m", 0},
	    {"+0.00 mm / m", 0},
	    {"0 in in 300 ft", 0},
	    {"0.000 ft per 100 ft", 0},
	    {"0 arcsec", 0},
	    {"0.02 mm/m", 0.00002},
	    {"+0.02 mm/m", 0.00002},
	    {"-0.02 mm/m", -0.00002},
	    {"-1/16 in in 300 ft", -1.0 / 57600},
	    {"-0.003 ft per 100 ft", -0.00003},
	    {"-10 mm/m", -0.01},
	    /* 1 arc second = 4.848 136 811 microradians (SI brochure, 9th edition, table 8) */
	    {"-5 arcsec", -24.240684055e-6},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		double tilt = 9;
		struct fault why = {0};
		ck_assert_msg(level_parse_tilt(table[i].text, &tilt, &why), "\"%s\": %s",
		              table[i].text, why.text);
		ck_assert_msg(fabs(tilt - table[i].tilt) <= 1e-9 * fabs(table[i].tilt),
		              "\"%s\": %.12g", table[i].text, tilt);
	}
}
END_TEST

/* One sign is enough. */
START_TEST(test_tilt_of_two_signs)
{
	static const char *const texts[] = {"++0.02 mm/m", "-+0.02 mm/m",  "--0.02 mm/m",
	                                    "+-0.02 mm/m", "- +0.02 mm/m", "+ 0.02 -mm/m"};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		double tilt;
		struct fault why = {0};
		ck_assert_msg(!level_parse_tilt(texts[i], &tilt, &why), "\"%s\" accepted: %g",
		              texts[i], tilt);
		ck_assert_msg(strstr(why.text, "is no instrument tolerance") != NULL, "%s",
		              why.text);
	}
}
END_TEST

START_TEST(test_tilt_refused)
{
	static const char *const texts[] = {
	    "",          "-",           "+",         "--0.02 mm/m", "- ",    "0.02", "-0.02",
	    "10.1 mm/m", "-11 mm/m",    "2 mm/km",   "00 x",        "-5",    "nan",  "up",
	    "0 mm",      "0 mm in 0 m", "0.0 mm/km", "--0",         "0 mm/s"};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		double tilt = 9;
		struct fault why = {0};
		ck_assert_msg(!level_parse_tilt(texts[i], &tilt, &why), "\"%s\" accepted: %g",
		              texts[i], tilt);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
		ck_assert(why.text[0] != '\0');
		ck_assert(!level_parse_tilt(texts[i], &tilt, NULL));
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("declared", test_one, test_long, test_named_slopes, test_several,
	                 test_refused, test_tilt, test_tilt_of_two_signs, test_tilt_refused);
}
