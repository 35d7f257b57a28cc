/* Instrument tolerances as makers write them. */
#include "rodbook/drop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool refuse(const char *text, struct fault *why)
{
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

bool level_parse_slope(const char *text, double *slope, struct fault *why)
{
	const char *last_slash = strrchr(text, '/');
	const char *in_in = strstr(text, " in in ");
	const char *per = strstr(text, " per ");
	const char *word = in_in ? in_in + 3 : strstr(text, " in ");
	double value;
	bool read = parse_arcsec(text, &value);
	if (strstr(text, "mm/km") || strstr(text, "mm per km"))
		return fault_say(
		    why, FAULT_INPUT,
		    "mm per km of double run is a random figure, not a tilt: write how far "
		    "the line may tilt, as in 0.1 mm/m or 1/16 in in 300 ft");
	if (!read && per)
		read = parse_ratio(text, per, 5, &value);
	if (!read && word)
		read = parse_ratio(text, word, 4, &value);
	if (!read && last_slash)
		read = parse_ratio(text, last_slash, 1, &value);
	if (!read)
		return refuse(text, why);
	if (!(value > 0 && value <= 0.01))
		return fault_say(
		    why, FAULT_INPUT,
		    "an instrument tolerance of \"%.60s\" cannot be: it is above 0 and at "
		    "most 10 mm/m",
		    text);
	*slope = value;
	return true;
}
