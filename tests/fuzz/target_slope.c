/* Slopes, tilts, sigmas, declared limits, temperatures and winds: what is read is a number in its
 * range, the same with its sign turned, with its unit written behind it, and written anew. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/level/air.h"
#include "rodbook/level/drop/drop.h"
#include "rodbook/level/fieldtest.h"
#include "rodbook/level/pegtest.h"
#include "rodbook/level/reciprocal.h"

static const char *const seeds[] = {"1/16 in in 300 ft",
                                    "0.1 mm/m",
                                    "2 mm in 30 m",
                                    "0.003 ft per 100 ft",
                                    "5 arcsec",
                                    "-0.05 mm/m",
                                    "0",
                                    "a=1 mm; compensator=0.01 mm/m",
                                    "2 mm",
                                    "0.7 mm/km",
                                    "0.7 mm per km",
                                    "59.4 F",
                                    "29.92 inHg",
                                    "12 mph",
                                    "6 kn",
                                    "11 km/h",
                                    "59 F@3 ft",
                                    "1013 hPa,15.2 C@1 m,14.8 C@6 m",
                                    "15 m, 1.432, 45 m, 1.398",
                                    "1.432,1.398",
                                    "+0.02 mm/m",
                                    NULL};
static const char *const dictionary[] = {
    " mm/m", " in ", " per ", "/",    " arcsec", " ft",        " m",    " mm", " in", " C",
    " F",    " hPa", " inHg", " mph", " kn",     " km/h",      " m/s",  "@",   ",",   "; ",
    "=",     "a=",   "-",     "+",    " in in ", " mm per km", "mm/km", NULL};

static bool check_slope(const char *text)
{
	double slope = 0, tilt = 0, back = 0, turned = 0;
	char other[FUZZ_INPUT_MOST + 2], written[60];
	bool is_slope = level_parse_slope(text, &slope, NULL);
	bool is_tilt = level_parse_tilt(text, &tilt, NULL);
	if (is_slope)
		FUZZ_LAW(slope > 0 && slope <= 0.01, "\"%s\" is a slope of %g", text, slope);
	if (is_slope && *text != '+' && *text != '-')
		FUZZ_LAW(is_tilt && tilt == slope, "\"%s\" is a slope of %g and a tilt of %g", text,
		         slope, tilt);
	if (!is_tilt)
		return is_slope;
	FUZZ_LAW(fabs(tilt) <= 0.01, "\"%s\" is a tilt of %g", text, tilt);
	if (*text == '-')
		snprintf(other, sizeof other, "%s", text + 1);
	else
		snprintf(other, sizeof other, "-%s", text + (*text == '+'));
	/* A second sign, as in 2 mm in +2 m, is refused behind a first one only. */
	if (strpbrk(text + 1, "+-"))
		return true;
	FUZZ_LAW(level_parse_tilt(other, &turned, NULL) && turned == -tilt,
	         "\"%s\" is a tilt of %g, \"%s\" one of %g", text, tilt, other, turned);
	/* As a peg test writes the tilt that it found. */
	snprintf(written, sizeof written, "%+.6f mm/m", tilt * 1000);
	FUZZ_LAW(level_parse_tilt(written, &back, NULL) && fabs(back - tilt) <= 5.1e-10,
	         "a tilt of %g is written \"%s\"", tilt, written);
	return true;
}

static bool check_quantity(const char *text, unsigned options)
{
	enum level_quantity quantity = (enum level_quantity)(options % LEVEL_QUANTITIES);
	int bare = (int)(options >> 2 & 3);
	double value, back = 0;
	char carried[FUZZ_INPUT_MOST + 16];
	if (!level_quantity_unit(quantity, bare))
		bare = 0;
	if (!level_parse_quantity(text, quantity, bare, &value, NULL))
		return false;
	FUZZ_LAW(isfinite(value), "\"%s\" is a quantity of %g", text, value);
	level_carry_quantity(carried, sizeof carried, text, quantity, bare);
	FUZZ_LAW(level_parse_quantity(carried, quantity, 0, &back, NULL) && back == value,
	         "\"%s\" is %.17g, carried as \"%s\" it is %.17g", text, value, carried, back);
	return true;
}

static bool check_air(const char *text, unsigned options)
{
	struct level_air_units units = {
	    {(int)(options & 1), (int)(options >> 1 & 1), (int)(options >> 2 & 3)}};
	struct level_air_reading air = level_air_nothing();
	if (!level_air_parse(text, &units, (enum level_unit)(options >> 4 & 3), &air, NULL))
		return false;
	FUZZ_LAW(isfinite(air.pressure) && isfinite(air.low) && isfinite(air.high) &&
	             air.low_height > 0 && air.high_height > air.low_height,
	         "\"%s\" is taken for air", text);
	return true;
}

static bool check_declared(const char *text, enum level_unit unit)
{
	struct level_declared declared[LEVEL_DECLARED_MOST], back[LEVEL_DECLARED_MOST];
	char written[2000] = "";
	size_t used = 0;
	memset(declared, 0, sizeof declared);
	if (!level_parse_declared(text, unit, declared, NULL))
		return false;
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++) {
		const struct level_declared *d = &declared[i];
		FUZZ_LAW(d->bound >= 0 && d->slope >= 0 && (d->bound == 0 || d->slope == 0) &&
		             isfinite(d->bound) && isfinite(d->slope),
		         "\"%s\" declares %g and %g", text, d->bound, d->slope);
		if (d->bound == 0 && d->slope == 0)
			continue;
		used += (size_t)snprintf(
		    written + used, sizeof written - used, "%s%s%s%.*f %s", used ? "; " : "",
		    d->name, *d->name ? "=" : "", d->slope > 0 ? 6 : 9,
		    d->slope > 0 ? d->slope * 1000 : d->bound, d->slope > 0 ? "mm/m" : "m");
	}
	if (used == 0 || strstr(written, " 0.000000") || strstr(written, "=0.000000"))
		return true;
	memset(back, 0, sizeof back);
	if (!FUZZ_LAW(level_parse_declared(written, LEVEL_FT, back, NULL),
	              "\"%s\" declares what is written \"%s\", which cannot be read", text,
	              written))
		return true;
	for (int i = 0, j = 0; i < LEVEL_DECLARED_MOST; i++) {
		if (declared[i].bound == 0 && declared[i].slope == 0)
			continue;
		FUZZ_LAW(strcmp(declared[i].name, back[j].name) == 0 &&
		             fabs(declared[i].bound - back[j].bound) <=
		                 1e-9 + 1e-15 * declared[i].bound &&
		             fabs(declared[i].slope - back[j].slope) <= 1e-9,
		         "\"%s\" declares what is written \"%s\"", text, written);
		j++;
	}
	return true;
}

static bool check_others(const char *text, enum level_unit unit)
{
	double sigma = 0;
	struct level_standing standing;
	struct level_bank bank;
	const struct level_style style = level_style_default(unit);
	bool any = level_parse_sigma(text, unit, &sigma, NULL);
	if (any)
		FUZZ_LAW(sigma > 0 && sigma <= 0.1, "\"%s\" is a sigma of %g", text, sigma);
	any |= level_parse_standing(text, &style, &standing, NULL);
	any |= level_parse_bank(text, unit, true, &bank, NULL);
	return any;
}

static bool one(const char *text, unsigned options)
{
	enum level_unit unit = (enum level_unit)(options >> 8 & 3);
	bool any = check_slope(text);
	any |= check_quantity(text, options);
	any |= check_air(text, options);
	any |= check_declared(text, unit);
	return check_others(text, unit) || any;
}

const struct fuzz_target fuzz_target = {
    .name = "slope",
    .words = "slopes, tilts, declared limits, sigmas, air and standings, read and written again",
    .seeds = seeds,
    .dictionary = dictionary,
    .tries = 40000,
    .one = one,
};
