/* Warnings about a sight in words, with what to do. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/report/report.h"

static void add(char *words, size_t size, const char *text)
{
	size_t used = strlen(words);
	if (used)
		strncat(words, words[used - 1] == '?' ? " " : "; ", size - used - 1);
	strncat(words, text, size - strlen(words) - 1);
}

/* What to do about one warning. */
static void put_words(const struct report_warned *about, enum level_warning warning, char *text,
                      size_t size)
{
	const struct level_warned *w = about->warned;
	const struct level_style *style = &about->settings->style;
	const struct level_tolerance *set = &about->settings->tolerance;
	const struct level_sight *sight = about->sight;
	struct level_style finer = *style;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], c[LEVEL_LENGTH_BYTES];
	if (finer.decimals < 6)
		finer.decimals++;
	switch (warning) {
	case LEVEL_WARN_HALF:
		snprintf(text, size, "half intervals differ by %s: read the wires again",
		         level_format_length(a, w->half, style, false));
		break;
	case LEVEL_WARN_SIGHT:
		snprintf(text, size, "a sight of %s: %s allows %s",
		         level_format_distance(a, w->distance, style, false), set->title,
		         level_format_distance(b, level_from_meters(set->sight), style, false));
		break;
	case LEVEL_WARN_IMBALANCE:
		snprintf(text, size, "BS over %s, FS over %s: %s allows a difference of %s",
		         level_format_distance(a, w->other, style, false),
		         level_format_distance(b, w->distance, style, false), set->title,
		         level_format_distance(c, level_from_meters(set->setup_imbalance), style,
		                               false));
		break;
	case LEVEL_WARN_CLEARANCE:
		snprintf(text, size, "the line runs %s above the ground at the rod: %s asks for %s",
		         level_format_length(a, sight->reading, style, false), set->title,
		         level_format_length(b, level_from_meters(set->clearance), style, false));
		break;
	case LEVEL_WARN_INTERVAL:
		snprintf(text, size, "the wires make %s, %s is typed: which is wrong?",
		         level_format_distance(a, w->interval, style, false),
		         level_format_distance(b, w->distance, style, false));
		break;
	case LEVEL_WARN_NAME:
		if (w->setup == about->setup)
			snprintf(text, size,
			         "%.40s was read in this setup already: is it the same?",
			         sight->station);
		else
			snprintf(text, size,
			         "%.40s was a mark of setup %d already: is it the same?",
			         sight->station, w->setup);
		break;
	case LEVEL_WARN_SPREAD:
		snprintf(
		    text, size,
		    "the readings scatter by %s, one by %s by %s: read on, or put an x before "
		    "one that is struck",
		    level_format_length(a, level_from_meters(sight->set_sd), &finer, false),
		    level_method_name(sight->method),
		    level_format_length(b, level_from_meters(about->reading_u), &finer, false));
		break;
	case LEVEL_WARN_STANDINGS:
		snprintf(text, size, "the rises of the standings differ by %s, %s is allowed",
		         level_format_length(a, w->standings, style, false),
		         level_format_length(b, level_from_meters(set->standings), style, false));
		break;
	case LEVEL_WARN_STATION:
		report_compared(about->compared, sight->station, style, text, size);
		break;
	case LEVEL_WARN_TIME_BACK:
		snprintf(text, size, "observed before the sight before it: which time is wrong?");
		break;
	case LEVEL_WARN_TIME_AHEAD:
		snprintf(text, size,
		         "observed later than now: which is wrong, the time or the clock?");
		break;
	case LEVEL_WARN_BELOW:
		snprintf(text, size, "%s is below zero: does %.40s stand above the line of sight?",
		         level_format_length(a, sight->reading, style, false), sight->station);
		break;
	case LEVEL_WARN_CURVATURE:
		snprintf(
		    text, size,
		    "water bent %s by a radius of %.3g km cannot be: look at the readings, the "
		    "known marks, the distances (the longest is %s) and their units",
		    w->radius < 0 ? "upward" : "down", fabs(w->radius) / 1000,
		    level_format_distance_unit(a, w->farthest, style));
		break;
	case LEVEL_WARN_NEAR:
		snprintf(text, size, "a sight of %s: is that a reading?",
		         level_format_distance_unit(a, sight->distance, style));
		break;
	case LEVEL_WARN_ALIKE:
		snprintf(text, size, "%.40s looks like %.40s: is it the same?", sight->station,
		         w->alike);
		break;
	case LEVEL_WARN_DECIMALS:
		snprintf(text, size, "the readings before have %d decimals: is this one whole?",
		         w->decimals);
		break;
	case LEVEL_WARN_DRY:
		snprintf(text, size,
		         "no water was read at %.40s, but at %.40s, where no sight stands: which "
		         "name is wrong?",
		         sight->station, w->dry);
		break;
	case LEVEL_WARN_TAPE:
		snprintf(text, size, "a tape read over %s: was it a target?",
		         level_format_distance_unit(a, sight->distance, style));
		break;
	case LEVEL_WARN_NUMBER:
		snprintf(text, size, "a station named %.40s? A distance goes into Distance",
		         sight->station);
		break;
	case LEVEL_WARN_SEALS:
		snprintf(text, size,
		         "this sight seals the allowance, and neither water nor air is booked yet");
		break;
	case LEVEL_WARNINGS:
		break;
	}
}

void report_warnings(const struct report_warned *about, char *words, size_t size)
{
	words[0] = '\0';
	for (int i = 0; i < LEVEL_WARNINGS; i++) {
		char text[300] = "";
		if (!(about->warned->set & 1u << i))
			continue;
		put_words(about, (enum level_warning)i, text, sizeof text);
		add(words, size, text);
	}
}

void report_water_doubt(const struct work_water_doubt *doubt, const char *typed,
                        const char *station, const struct level_style *style, char *text,
                        size_t size)
{
	char far[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	if (!doubt->doubted)
		return;
	level_format_length(far, doubt->off < 0 ? -doubt->off : doubt->off, style, false);
	snprintf(text, size, "%.40s is %s from the mean of %s at %.60s", typed, far,
	         doubt->in_set ? "the rest of its set" : "those", station);
	if (*doubt->other)
		snprintf(text + strlen(text), size - strlen(text), "; it fits those at %.60s",
		         doubt->other);
}
