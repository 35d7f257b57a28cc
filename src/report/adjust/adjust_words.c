/* What runs, nets and epochs say alike: standard deviations of unit weight, weights, names. */
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

/* The length of the unit in km: 1 for a km, MILE_KM for a mile. 1 for a setup. */
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

bool adjust_read_sd(struct book *book, const char *text, double *sigma, struct fault *why)
{
	struct book_settings settings;
	level_nm length;
	*sigma = 0;
	if (!text)
		return true;
	if (!book_settings(book, &settings, why) ||
	    !level_parse_length(text, settings.style.unit, &length, why))
		return false;
	if (level_is_bare(text))
		return fault_say(why, FAULT_INPUT,
		                 "a standard deviation needs its unit, as in 3 mm, not %.40s",
		                 text);
	*sigma = level_to_meters(length);
	return (*sigma > 0 && *sigma <= 10) ||
	       fault_say(why, FAULT_INPUT,
	                 "a standard deviation is above 0 and up to 10 m, not %.60s", text);
}

void adjust_weights(FILE *out, enum level_by by, const char *no_distance)
{
	if (by == LEVEL_BY_DISTANCE)
		fputs("weights 1/length\n", out);
	else if (*no_distance)
		fprintf(out, "weights 1/setups: not all distances are known, as in run %s\n",
		        no_distance);
	else
		fputs("weights 1/setups\n", out);
}

void adjust_corrections(FILE *out, size_t corrected, size_t lines)
{
	if (corrected == lines)
		fputs("height differences corrected: curvature, refraction and tested tilts taken "
		      "off\n",
		      out);
	else
		fprintf(out,
		        "height differences corrected where all distances are known: %zu of %zu\n",
		        corrected, lines);
}

void adjust_names(FILE *out, const char *what, char (*names)[LEVEL_NAME_BYTES], size_t count)
{
	if (count == 0)
		return;
	fputs(what, out);
	for (size_t i = 0; i < count && i < ADJUST_NAMED_MOST; i++)
		fprintf(out, "%s %s", i ? "," : "", names[i]);
	if (count > ADJUST_NAMED_MOST)
		fprintf(out, " and %zu more", count - ADJUST_NAMED_MOST);
	fputc('\n', out);
}
