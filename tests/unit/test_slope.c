/* Instrument tolerances as makers write them. */
#include "rodbook/level/drop/drop.h"

#include <math.h>
#include <string.h>

#include "suite.h"

START_TEST(test_read)
{
	static const struct {
		const char *text;
		double slope;
	} table[] = {
	    /* a builder's level (common practice, no source): 1/16 in in 3 600 in */
	    {"1/16 in in 300 ft", 1.0 / 57600},
	    {"1/16\" in 300'", 1.0 / 57600},
	    {"1/16 in/300 ft", 1.0 / 57600},
	    {"0.0625 in in 300 ft", 1.0 / 57600},
	    {"1/8 in in 200 ft", 1.0 / 19200},
	    {"0.1 mm/m", 0.0001},
	    {"0.1mm/m", 0.0001},
	    {"0.1 mm / m", 0.0001},
	    {"0.05 mm/m", 0.00005}, /* FGCC 1984, sec. 3.5 (recalled): the orders above the third */
	    {"2 mm in 30 m", 1.0 / 15000},
	    {"3 mm/50 m", 0.00006},
	    /* USGS Techniques and Methods 3-A19, Kenney, 2010 */
	    {"0.003 ft in 100 ft", 0.00003},
	    {"0.003 ft/100 ft", 0.00003},
	    {"0.001 ft/ft", 0.001},
	    {"10 mm/m", 0.01},
	    {"2 mm in 100 ft", 0.002 / 30.48},
	    /* 1 arc second = 4.848 136 811 microradians (SI brochure, 9th edition, table 8) */
	    {"5 arcsec", 24.240684055e-6},
	    {"5arcsec", 24.240684055e-6},
	    {"0.3 arcsec", 1.454441043e-6},
	    {"20.6265 arcsec", 100.0001e-6},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		double slope = -1;
		struct fault why = {0};
		ck_assert_msg(level_parse_slope(table[i].text, &slope, &why), "\"%s\": %s",
		              table[i].text, why.text);
		ck_assert_msg(fabs(slope - table[i].slope) < 1e-6 * table[i].slope,
		              "\"%s\": %.12g, not %.12g", table[i].text, slope, table[i].slope);
	}
}
END_TEST

/* 1/16 in in 300 ft over 2 550 ft is 8.5 sixteenths, 0.53 in (common practice, no source). */
START_TEST(test_builders_level)
{
	double slope = 0, inch = 0.0254;
	ck_assert(level_parse_slope("1/16 in in 300 ft", &slope, NULL));
	ck_assert_double_eq_tol(slope * 2550 * 12, 8.5 / 16, 1e-12);
	ck_assert_double_eq_tol(slope * 777.24 / inch, 0.53, 0.005);
}
END_TEST

static void check_refused(const char *const *texts, size_t count, const char *said)
{
	for (size_t i = 0; i < count; i++) {
		struct fault why = {0};
		double slope = -1;
		ck_assert_msg(!level_parse_slope(texts[i], &slope, &why), "\"%s\" accepted: %g",
		              texts[i], slope);
		ck_assert_msg(strstr(why.text, said) != NULL, "\"%s\": %s", texts[i], why.text);
		ck_assert_int_eq(why.kind, FAULT_INPUT);
		ck_assert_double_eq(slope, -1);
		ck_assert(!level_parse_slope(texts[i], &slope, NULL));
	}
}

START_TEST(test_refused)
{
	static const char *const junk[] = {
	    " ",
	    "0.0001",
	    "1/16",
	    "1/16 in",
	    "1/16 in in",
	    "in 300 ft",
	    " in 300 ft",
	    "/",
	    "mm/m",
	    "0.1 mm/",
	    "/m",
	    "0.1/m",
	    "1 in 300",
	    "0.1 mm/s",
	    "0.1 mm/-3 m",
	    "2 mm in 0 m",
	    "2 mm in m m",
	    "5",
	    "arcsec",
	    "5 arc",
	    "-5 arcsec",
	    "5.5.5 arcsec",
	    "1e1 arcsec",
	    "nan arcsec",
	    "5 arcsec x",
	    "2 mm in 30 m x",
	    "1/3 in in 300 ft",
	    "1 in in 300",   /* 300 of what? */
	    "648005 arcsec", /* half a circle and 5 seconds */
	};
	static const char *const cannot_be[] = {"0 mm/m",        "0 arcsec",   "10.000001 mm/m",
	                                        "-0.1 mm/m",     "1 m/m",      "1 in in 1 ft",
	                                        "1 ft in 30 ft", "2063 arcsec"};
	char endless[4000];
	const char *const long_text = endless;
	check_refused(junk, sizeof junk / sizeof *junk, "is no instrument tolerance");
	{
		const char *const none = "";
		check_refused(&none, 1, "the tolerance is missing");
	}
	check_refused(cannot_be, sizeof cannot_be / sizeof *cannot_be, "cannot be");
	memset(endless, '9', sizeof endless - 1);
	endless[sizeof endless - 1] = '\0';
	check_refused(&long_text, 1, "is no instrument tolerance");
	memcpy(endless + 3000, " mm/m", 5);
	check_refused(&long_text, 1, "is no instrument tolerance");
}
END_TEST

int main(void)
{
	return RUN_TESTS("slope", test_read, test_builders_level, test_refused);
}
