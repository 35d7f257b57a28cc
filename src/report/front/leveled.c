/* The first page of a loop, a link or an open run. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/front/front.h"
#include "report/lines.h"
#include "rodbook/work/weak.h"

static void put_question(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	if (!c->has_end)
		snprintf(out->question, sizeof out->question, "Nothing is leveled%s.",
		         run->book.info.closed ? "" : " yet");
	else if (run->book.run.kind == LEVEL_LOOP)
		snprintf(out->question, sizeof out->question,
		         "Does the line from %s come back to it, and how high are the points on "
		         "the way?",
		         c->start_station);
	else if (run->book.run.kind == LEVEL_LINK)
		snprintf(out->question, sizeof out->question,
		         "Does the line from %s to %s find them as they were given, and how "
		         "high are the points on the way?",
		         c->start_station, c->end_station);
	else
		snprintf(out->question, sizeof out->question,
		         "How high are the points from %s to %s?", c->start_station,
		         c->end_station);
}

static void put_answer(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	char verdict[500];
	report_verdict(run, verdict, sizeof verdict);
	snprintf(out->answer, sizeof out->answer, "%s%s.",
	         !c->has_misclosure || c->closes == LEVEL_UNKNOWN ? "Not checked: "
	         : c->closes == LEVEL_YES                         ? "Yes, it "
	                                                          : "No, it ",
	         verdict);
	if (!c->has_misclosure || !c->has_allowable)
		return;
	out->scale = (struct front_scale){true,
	                                  0,
	                                  NAN,
	                                  level_to_meters(c->judged),
	                                  -level_to_meters(c->allowable),
	                                  level_to_meters(c->allowable)};
}

static void put_closing(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	char text[LEVEL_LENGTH_BYTES];
	if (c->has_misclosure)
		front_add_length(out, "misclosure", level_to_meters(c->judged), true,
		                 c->judged_corrected ? "found less given; corrected for curvature "
		                                       "and air"
		                                     : "found less given");
	if (c->has_allowable && run->book.run.kind != LEVEL_OPEN)
		front_add_length(out, "allowable", level_to_meters(c->allowable), false,
		                 c->set ? c->set->title : "");
	snprintf(text, sizeof text, "%d", c->setups);
	front_add(out, "setups", text, "");
	if (c->has_length) {
		struct level_style style = level_distance_style(&run->settings.style);
		style.decimals = 0;
		level_format_length(text, c->length, &style, false);
		strcat(text, level_unit_after(style.unit));
		front_add(out, "length", text, "of all sights");
	}
	if (c->failing) {
		char note[FRONT_NOTE_BYTES];
		report_failing(c->failing_from ? c->failing_from : "", c->failing_mark,
		               c->failing_by, c->failing_allowable, &run->settings.style, note,
		               sizeof note);
		front_add(out, "DOES NOT HOLD", "", note);
	}
}

/* As booked, in the order of the page: what carries the line, and what stands beside it. */
static void put_points(const struct work_run *run, struct front *out)
{
	size_t left = 0;
	char more[80];
	if (run->closing.has_end)
		front_add_length(
		    out, run->closing.start_station, level_to_meters(run->closing.start), false,
		    run->closing.start_assumed ? "its elevation is not known: taken as 0"
		                               : "as given");
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		const struct level_row *row = &run->page.row[i];
		if (!level_counted(sight) || !row->has_elevation ||
		    (sight->kind != LEVEL_IS && !level_carries(&run->book.run, &run->page, i)))
			continue;
		if (out->rows < FRONT_ROWS - 1)
			front_add_length(out, sight->station, level_to_meters(row->elevation),
			                 false, "");
		else
			left++;
	}
	snprintf(more, sizeof more, "%zu more", left);
	if (left)
		front_add(out, more, "", "in the workings");
}

static void put_doubts(const struct work_run *run, struct front *out)
{
	static const struct {
		const char *what, *tells;
	} words[WORK_WEAK_POINTS] = {
	    [WORK_WEAK_LINE] = {"the line has a gap", "mending it, before all else"},
	    [WORK_WEAK_UNCLOSED] = {"it closes on nothing: no slip would show",
	                            "leveling back, or on to a known mark"},
	    [WORK_WEAK_SETUPS] = {"distances are missing: judged by setups alone",
	                          "stepping the distances"},
	    [WORK_WEAK_LEVEL] = {"BS and FS were not equally far: a tilt of 0.1 mm/m makes",
	                         "a peg test, or equal sights"},
	    [WORK_WEAK_UNTESTED] = {NULL, "a peg test"}, /* run->tested says what */
	    [WORK_WEAK_START] = {"one known mark: a wrong elevation of it shows nowhere",
	                         "leveling on to a second mark"},
	    [WORK_WEAK_ROD] = {"the rod is taken as true: its error shows in no loop",
	                       "holding the rod against a steel tape"},
	    [WORK_WEAK_PAIRS] = {"two slips that cancel, or a point taken for another",
	                         "leveling it again, by other points"},
	};
	const struct work_weak weak = work_weak_of(run);
	for (size_t i = 0; i < weak.count; i++) {
		enum work_weak_point point = weak.point[i];
		char tilt[LEVEL_LENGTH_BYTES] = "", tested[REPORT_TESTED_BYTES];
		if (point == WORK_WEAK_LEVEL)
			front_length(tilt, out, level_to_meters(weak.tilt), true);
		front_doubt(out,
		            words[point].what
		                ? words[point].what
		                : report_tested(tested, &run->tested, run->closing.set),
		            tilt, words[point].tells);
	}
}

void front_leveled(const struct work_run *run, struct front *out)
{
	put_question(run, out);
	put_answer(run, out);
	put_closing(run, out);
	put_points(run, out);
	put_doubts(run, out);
}
