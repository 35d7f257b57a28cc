/* Instrument tolerances as makers write them, and tilts found. */
#include "rodbook/level/drop/drop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool refuse(const char *text, struct fault *why)
{
	if (!*text)
		return fault_say(
		    why, FAULT_INPUT,
		    "the tolerance is missing: as the maker gives it, 0.1 mm/m or 1/16 in "
		    "in 300 ft");
	return fault_say(why, FAULT_INPUT,
	                 "\"%.60s\" is no instrument tolerance: write 1/16 in in 300 ft, 0.1 mm/m, "
	                 "0.003 ft per 100 ft or 5 arcsec",
	                 text);
}

/* "<number> arcsec": plain digits and one point. */
static bool parse_arcsec(const char *text, double *slope)
{
	char *end;
	size_t digits = strspn(text, "0123456789.");
	double seconds = digits ? strtod(text, &end) : 0;
	if (!digits || end != text + digits || strcmp(end + strspn(end, " "), "arcsec") != 0)
		return false;
	/* Far beyond any level, where tan() would wrap. */
	if (seconds > 100000)
		return false;
	*slope = tan(seconds / 3600 * acos(-1.0) / 180);
	return true;
}

/* Splits at the separator into rise and reach, each with its own unit. */
static bool parse_ratio(const char *text, const char *separator, size_t size, double *slope)
{
	char rise_text[64];
	level_nm rise, reach;
	size_t before = (size_t)(separator - text);
	if (before >= sizeof rise_text)
		return false;
	memcpy(rise_text, text, before);
	rise_text[before] = '\0';
	separator += size;
	separator += strspn(separator, " ");
	/* "0.1 mm/m": a unit alone means one of it. */
	if (strcmp(separator, "m") == 0)
		reach = LEVEL_NM_PER_M;
	else if (strcmp(separator, "ft") == 0)
		reach = LEVEL_NM_PER_FT;
	else if (level_is_bare(separator) || !level_parse_length(separator, LEVEL_M, &reach, NULL))
		return false;
	/* Without their units the two would be a guess. */
	if (level_is_bare(rise_text) || !level_parse_length(rise_text, LEVEL_M, &rise, NULL) ||
	    reach <= 0)
		return false;
	*slope = (double)rise / (double)reach;
	return true;
}

/* Any slope that is written well, of whatever size. */
static bool read_slope(const char *text, double *slope, struct fault *why)
{
	const char *last_slash = strrchr(text, '/');
	const char *in_in = strstr(text, " in in ");
	const char *per = strstr(text, " per ");
	const char *word = in_in ? in_in + 3 : strstr(text, " in ");
	bool read = parse_arcsec(text, slope);
	if (strstr(text, "mm/km") || strstr(text, "mm per km"))
		return fault_say(
		    why, FAULT_INPUT,
		    "mm per km of double run is a random figure, not a tilt: write how far "
		    "the line may tilt, as in 0.1 mm/m or 1/16 in in 300 ft");
	if (!read && per)
		read = parse_ratio(text, per, 5, slope);
	if (!read && word)
		read = parse_ratio(text, word, 4, slope);
	if (!read && last_slash)
		read = parse_ratio(text, last_slash, 1, slope);
	return read || refuse(text, why);
}

bool level_parse_slope(const char *text, double *slope, struct fault *why)
{
	double value = 0;
	if (!read_slope(text, &value, why))
		return false;
	if (!(value > 0 && value <= 0.01))
		return fault_say(
		    why, FAULT_INPUT,
		    "an instrument tolerance of \"%.60s\" cannot be: it is above 0 and at "
		    "most 10 mm/m",
		    text);
	*slope = value;
	return true;
}

/* Nothing is nothing in any unit, and needs none. */
static bool is_nothing(const char *text)
{
	level_nm length;
	double slope = 0;
	if (level_is_bare(text))
		return level_parse_length(text, LEVEL_M, &length, NULL) && length == 0;
	return read_slope(text, &slope, NULL) && !(slope < 0 || slope > 0);
}

bool level_parse_tilt(const char *text, double *tilt, struct fault *why)
{
	bool negative = *text == '-';
	const char *size = text + (*text == '-' || *text == '+');
	/* With a second sign it is refused as a whole. */
	bool two_signs = strpbrk(size, "+-") != NULL;
	*tilt = 0;
	if (!two_signs && is_nothing(size))
		return true;
	if (!level_parse_slope(two_signs ? text : size, tilt, why))
		return false;
	if (negative)
		*tilt = -*tilt;
	return true;
}
