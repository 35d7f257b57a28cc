/* Refraction from the air. */
#include "rodbook/air.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/drop.h"
#include "rodbook/length.h"

#define CELSIUS_ZERO 273.15
/* No air bends light by more, and no dk says anything beyond. */
#define K_MOST 20

bool level_air_check(const struct level_air *air, struct fault *why)
{
	double k, u;
	if (!(air->pressure >= 300 && air->pressure <= 1100))
		return fault_say(why, FAULT_INPUT,
		                 "air pressure is from 300 to 1100 hPa, at the place itself, not "
		                 "reduced to the sea");
	for (int i = 0; i < 2; i++) {
		if (!(air->celsius[i] >= -90 && air->celsius[i] <= 60))
			return fault_say(why, FAULT_INPUT,
			                 "an air temperature is from -90 to 60 degrees C");
		if (!(fabs(air->height[i]) <= 1000))
			return fault_say(why, FAULT_INPUT,
			                 "a thermometer hangs within 1000 m of the sight");
	}
	if (air->height[0] == air->height[1])
		return fault_say(
		    why, FAULT_INPUT,
		    "two thermometers at one height tell no gradient: hang one higher");
	if (!(air->thermometer_u > 0 && air->thermometer_u <= 10))
		return fault_say(why, FAULT_INPUT,
		                 "the uncertainty of a thermometer is above 0 and up to 10 K");
	level_air_k(air, &k, &u);
	if (!(fabs(k) <= K_MOST && level_air_dk(u) <= K_MOST))
		return fault_say(
		    why, FAULT_INPUT,
		    "that would be a k of %.0f +- %.0f: read the thermometers again, and "
		    "hang them farther apart",
		    k, level_air_dk(u));
	return true;
}

void level_air_k(const struct level_air *air, double *k, double *u)
{
	double mean = (air->celsius[0] + air->celsius[1]) / 2 + CELSIUS_ZERO;
	double apart = air->height[1] - air->height[0];
	double gradient = (air->celsius[1] - air->celsius[0]) / apart;
	*k = level_k_from_air(air->pressure, mean, gradient);
	/* k rises by this much per K/m. */
	double slope =
	    level_k_from_air(air->pressure, mean, 1) - level_k_from_air(air->pressure, mean, 0);
	*u = slope * sqrt(2.0) * air->thermometer_u / fabs(apart);
}

double level_air_dk(double u)
{
	return fmax(2 * u, LEVEL_DK_LEAST);
}

/* A plain number up to `end`, which may be any character that no number holds. */
static bool take_number(const char **at, char end, double *value)
{
	char *stop;
	size_t size;
	*at += strspn(*at, " ");
	size = strspn(*at, "+-.0123456789");
	if (size == 0)
		return false;
	*value = strtod(*at, &stop);
	if (stop != *at + size)
		return false;
	stop += strspn(stop, " ");
	if (*stop != end)
		return false;
	*at = stop + 1;
	return true;
}

/* A length up to a comma, or to the end. */
static bool take_height(const char **at, bool last, double *value)
{
	char text[32];
	level_nm length;
	size_t size = strcspn(*at, ",");
	if (size >= sizeof text || ((*at)[size] == '\0') != last)
		return false;
	memcpy(text, *at, size);
	text[size] = '\0';
	*at += size + 1;
	if (!level_parse_length(text, LEVEL_M, &length, NULL))
		return false;
	*value = level_to_meters(length);
	return true;
}

bool level_air_parse(const char *text, struct level_air *air, struct fault *why)
{
	const char *at = text;
	*air = (struct level_air){.thermometer_u = LEVEL_THERMOMETER_U};
	if (!take_number(&at, ',', &air->pressure) || !take_number(&at, '@', &air->celsius[0]) ||
	    !take_height(&at, false, &air->height[0]) || !take_number(&at, '@', &air->celsius[1]) ||
	    !take_height(&at, true, &air->height[1]))
		return fault_say(why, FAULT_INPUT,
		                 "\"%.60s\" is no air: write pressure in hPa, then two "
		                 "temperatures in degrees C with their heights, as in "
		                 "1013,15.2@1 m,14.8@4 m",
		                 text);
	return level_air_check(air, why);
}
