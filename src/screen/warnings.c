/* Warnings about the draft while they can still be cured. */
#include <string.h>

#include "rodbook/level/warnings.h"
#include "screen/editor.h"

static void add(char *words, size_t size, const char *text)
{
	if (*words)
		strncat(words, "; ", size - strlen(words) - 1);
	strncat(words, text, size - strlen(words) - 1);
}

/* Standard uncertainty of one reading by this sight's method, m. */
static double reading_u(const struct editor *ed, const struct level_sight *sight)
{
	struct level_reach reach = {.distance = level_to_meters(sight->distance),
	                            .method = sight->method};
	return level_reading_u(&ed->terms.terms, &reach).u;
}

/* What to do about one warning. */
static void put_words(const struct editor *ed, const struct level_warned *w,
                      enum level_warning warning, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	const struct level_tolerance *set = &ed->settings.tolerance;
	const struct level_sight *sight = &ed->work.sight[ed->at];
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
		         level_format_length(a, w->distance, style, false), set->title,
		         level_format_length(b, level_from_meters(set->sight), style, false));
		break;
	case LEVEL_WARN_IMBALANCE:
		snprintf(
		    text, size, "BS over %s, FS over %s: %s allows a difference of %s",
		    level_format_length(a, w->other, style, false),
		    level_format_length(b, w->distance, style, false), set->title,
		    level_format_length(c, level_from_meters(set->setup_imbalance), style, false));
		break;
	case LEVEL_WARN_CLEARANCE:
		snprintf(text, size, "the line runs %s above the ground at the rod: %s asks for %s",
		         level_format_length(a, sight->reading, style, false), set->title,
		         level_format_length(b, level_from_meters(set->clearance), style, false));
		break;
	case LEVEL_WARN_INTERVAL:
		snprintf(text, size, "the wires make %s, %s is typed: which is wrong?",
		         level_format_length(a, w->interval, style, false),
		         level_format_length(b, w->distance, style, false));
		break;
	case LEVEL_WARN_NAME:
		if (w->setup == ed->page.row[ed->at].setup)
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
		    level_format_length(b, level_from_meters(reading_u(ed, sight)), &finer, false));
		break;
	case LEVEL_WARN_STANDINGS:
		snprintf(text, size, "the rises of the standings differ by %s, %s is allowed",
		         level_format_length(a, w->standings, style, false),
		         level_format_length(b, level_from_meters(set->standings), style, false));
		break;
	case LEVEL_WARNINGS:
		break;
	}
}

void editor_warnings(const struct editor *ed, char *words, size_t size,
                     char brief[LEVEL_REMARK_BYTES])
{
	const struct level_sight *sight = &ed->work.sight[ed->at];
	struct level_warned warned;
	level_nm stadia = 0;
	words[0] = brief[0] = '\0';
	if (sight->state != LEVEL_DRAFT)
		return;
	if (sight->wires)
		stadia =
		    level_wire_distance(sight->upper, sight->lower, ed->settings.stadia_multiplier,
		                        ed->settings.stadia_constant);
	warned = level_warn(&ed->work, &ed->page, ed->at, &ed->settings.tolerance, stadia,
	                    reading_u(ed, sight));
	for (int i = 0; i < LEVEL_WARNINGS; i++) {
		char text[300] = "";
		if (!(warned.set & 1u << i))
			continue;
		put_words(ed, &warned, (enum level_warning)i, text, sizeof text);
		add(words, size, text);
		add(brief, LEVEL_REMARK_CHARS, level_warning_name((enum level_warning)i));
	}
}
