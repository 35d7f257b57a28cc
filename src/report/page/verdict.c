/* Whether a run closes, in one sentence. */
#include <stdlib.h>
#include <string.h>

#include "report/lines.h"
#include "report/page/sections.h"

static void explain_missing(const struct level_run *run, const struct level_closing *c, char *text,
                            size_t size)
{
	if (!c->setups)
		snprintf(text, size, "no setup is complete yet: nothing closes");
	else if (!c->page_holds)
		snprintf(text, size,
		         "the line is broken: a BS does not stand where the FS before it stood");
	else if (run->kind == LEVEL_LOOP)
		snprintf(text, size, "not closed: the loop stands on %s, not back on %s",
		         c->end_station, c->start_station);
	else if (c->water_missing)
		snprintf(text, size, "not closed: water was read at one end only");
	else if (c->start_assumed)
		snprintf(text, size, "not closed: the elevation of %s, the start, is not known",
		         c->start_station);
	else
		snprintf(text, size, "not closed: the elevation of %s is not known",
		         c->end_station);
}

void report_unknown_distances(const struct level_closing *c, char *text, size_t size)
{
	snprintf(text, size, "%d %s not known", c->unknown_distances,
	         c->unknown_distances == 1 ? "distance is" : "distances are");
}

/* Where distances are missing the number of setups judges: a set by setups lacks its figure. */
static void explain_no_allowable(const struct level_closing *c, char *text, size_t size)
{
	snprintf(text, size, "%s needs its figure: set setups, or choose another set",
	         c->set->title);
}

struct level_style report_judged_style(const struct level_closing *c,
                                       const struct level_style *style)
{
	return c->has_allowable ? lines_telling(c->judged, c->allowable, style) : *style;
}

const char *report_limit_figure(char buf[LEVEL_LENGTH_BYTES], enum level_limit limit,
                                level_nm figure, const struct level_style *style)
{
	return (level_limit_is_distance(limit) ? level_format_distance
	                                       : level_format_length)(buf, figure, style, false);
}

static void judged_texts(const struct level_closing *c, const struct level_style *style,
                         char missed[LEVEL_LENGTH_BYTES], char allowable[LEVEL_LENGTH_BYTES])
{
	struct level_style finer = report_judged_style(c, style);
	level_format_length(missed, c->judged, &finer, true);
	level_format_length(allowable, c->allowable, &finer, false);
}

static bool is_gross(const struct level_closing *c)
{
	return llabs(c->judged) / LEVEL_GROSS > c->allowable;
}

/* Distances are missing: the number of setups is all there is to judge by. */
static void by_setups(const struct level_closing *c, const struct level_style *style, char *text,
                      size_t size)
{
	char missed[LEVEL_LENGTH_BYTES], allowable[LEVEL_LENGTH_BYTES], missing[60],
	    one[LEVEL_LENGTH_BYTES];
	struct level_style finer = report_judged_style(c, style);
	report_unknown_distances(c, missing, sizeof missing);
	judged_texts(c, style, missed, allowable);
	level_format_length(one, level_from_meters(level_by_setups(1)), &finer, false);
	if (c->closes == LEVEL_YES)
		snprintf(text, size,
		         "closes by setups, provisional: misclosure %s, %s x root of the setups "
		         "allows %s%s; %s",
		         missed, one, allowable, level_unit_after(style->unit), missing);
	else
		snprintf(text, size,
		         "does not close: misclosure %s, where %s x root of the setups allows "
		         "%s%s: %s; %s",
		         missed, one, allowable, level_unit_after(style->unit),
		         is_gross(c) ? "a gross error, not many small ones" : "look for the slip",
		         missing);
}

/* A crossing is weighed by its drop. */
static void crossing_verdict(const struct level_closing *c, const struct level_style *style,
                             const char *missed, char *text, size_t size)
{
	struct level_style finer = *style;
	char observed[LEVEL_LENGTH_BYTES], flat[LEVEL_LENGTH_BYTES], allowance[LEVEL_LENGTH_BYTES],
	    none[200];
	if (c->finding.none) {
		report_no_answer(c, none, sizeof none);
		snprintf(text, size, "a crossing: misclosure %s%s; no answer: %s", missed,
		         level_unit_after(style->unit), none);
		return;
	}
	if (finer.decimals < 6)
		finer.decimals++;
	level_format_length(observed, level_from_meters(c->observed), &finer, false);
	level_format_length(flat, level_from_meters(c->flat), &finer, false);
	level_format_length(allowance, level_from_meters(c->allowance.decides), &finer, false);
	snprintf(text, size,
	         "a crossing: observed drop %s%s, flat would show %s, allowance %s: %s%s", observed,
	         level_unit_after(style->unit), flat, allowance,
	         level_answer_sentence(c->finding.answer), level_answer_reserve(&c->finding));
}

/* What was taken off the judged misclosure, where that shows. */
static const char *taken_off(const struct level_closing *c, const struct level_style *style,
                             const char *judged)
{
	struct level_style finer = report_judged_style(c, style);
	char booked[LEVEL_LENGTH_BYTES];
	level_format_length(booked, c->misclosure, &finer, true);
	if (!c->judged_corrected || strcmp(booked, judged) == 0)
		return "";
	return c->tilt_taken_off ? " less curvature, refraction and tilt"
	                         : " less curvature and refraction";
}

void lines_verdict(const struct level_run *run, const struct level_closing *c,
                   const struct level_style *style, char *text, size_t size)
{
	char missed[LEVEL_LENGTH_BYTES], allowable[LEVEL_LENGTH_BYTES];
	if (run->kind == LEVEL_OPEN && !(c->setups && !c->page_holds)) {
		snprintf(text, size, "an open run: it closes on nothing, so no check exists");
		return;
	}
	if (c->finding.none == LEVEL_NO_LOOK && c->setups) {
		size_t used = (size_t)snprintf(text, size, "a crossing: ");
		report_no_answer(c, text + used, size - used);
		return;
	}
	if (!c->has_misclosure) {
		explain_missing(run, c, text, size);
		return;
	}
	level_format_length(missed, c->judged, style, true);
	if (run->kind == LEVEL_CROSSING) {
		crossing_verdict(c, style, missed, text, size);
		return;
	}
	if (c->failing) {
		snprintf(text, size, "does not close: ");
		report_failing(c->failing_from ? c->failing_from : "", c->failing_mark,
		               c->failing_by, c->failing_allowable, style, text + strlen(text),
		               size - strlen(text));
		return;
	}
	if (!c->has_allowable) {
		snprintf(text, size, "misclosure %s%s, not judged: ", missed,
		         level_unit_after(style->unit));
		explain_no_allowable(c, text + strlen(text), size - strlen(text));
		return;
	}
	if (c->provisional) {
		by_setups(c, style, text, size);
		return;
	}
	judged_texts(c, style, missed, allowable);
	snprintf(text, size, "%s: misclosure %s%s, allowable %s%s (%s)",
	         c->closes == LEVEL_YES ? "closes" : "does not close", missed,
	         taken_off(c, style, missed), allowable, level_unit_after(style->unit),
	         c->set->title);
}

void report_verdict(const struct work_run *run, char *text, size_t size)
{
	/* A run without a setup is closed only to set it aside, for a reason. */
	if (run->book.info.closed && !run->closing.setups)
		snprintf(text, size, "set aside without a setup: nothing closes");
	else
		lines_verdict(&run->book.run, &run->closing, &run->settings.style, text, size);
}
