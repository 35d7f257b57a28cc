/* How a standard deviation of unit weight is said of a run and of a net. */
#include <math.h>
#include <string.h>

#include "report/adjust/adjust.h"

/* The international mile, exactly. */
#define MILE_KM 1.609344

/* What the weights go by in this unit: of a km or a mile, or of a setup. */
static const char *of_what(enum level_by by, const struct level_style *style)
{
	return by != LEVEL_BY_DISTANCE ? "setup" : style->unit == LEVEL_M ? "km" : "mile";
}

/* As many km as that is; 1 of a setup. */
static double many(enum level_by by, const struct level_style *style)
{
	return by == LEVEL_BY_DISTANCE && style->unit != LEVEL_M ? MILE_KM : 1;
}

static void say(char text[ADJUST_WORDS_BYTES], double sd, const char *of,
                const struct level_style *style)
{
	char length[LEVEL_LENGTH_BYTES];
	if (adjust_shows(sd))
		snprintf(text, ADJUST_WORDS_BYTES, "%s%s per root of a %s",
		         level_format_length(length, level_from_meters(sd), style, false),
		         level_unit_after(style->unit), of);
	else
		snprintf(text, ADJUST_WORDS_BYTES, "beyond all lengths per root of a %s", of);
}

const char *adjust_sd(char text[ADJUST_WORDS_BYTES], double sd, enum level_by by,
                      const struct level_style *style)
{
	say(text, sd * sqrt(many(by, style)), of_what(by, style), style);
	return text;
}

const char *adjust_sd_stated(char text[ADJUST_WORDS_BYTES], double sd, enum level_by by,
                             const struct level_style *style)
{
	char of_km[ADJUST_WORDS_BYTES];
	size_t used = strlen(adjust_sd(text, sd, by, style));
	if (many(by, style) > 1) {
		say(of_km, sd, "km", style);
		snprintf(text + used, ADJUST_WORDS_BYTES - used, " (%s)", of_km);
	}
	return text;
}

const char *adjust_variance(char text[ADJUST_WORDS_BYTES], double variance, enum level_by by,
                            const struct level_style *style)
{
	static const struct {
		const char *name;
		level_nm size;
	} units[] = {[LEVEL_M] = {"m", LEVEL_NM_PER_M},
	             [LEVEL_FT] = {"ft", LEVEL_NM_PER_FT},
	             [LEVEL_FTIN] = {"ft", LEVEL_NM_PER_FT},
	             [LEVEL_IN] = {"in", LEVEL_NM_PER_IN}};
	double unit = level_to_meters(units[style->unit].size);
	snprintf(text, ADJUST_WORDS_BYTES, "%.4g %s^2/%s",
	         variance * many(by, style) / (unit * unit), units[style->unit].name,
	         of_what(by, style));
	return text;
}
