/* The first page of a crossing. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/front/front.h"
#include "report/lines.h"

static const char *answer_in_plain_words(enum level_drop_answer answer)
{
	static const char *const words[] = {
	    [LEVEL_SHOWN_COMPATIBLE] =
	        "A drop is seen that a flat surface would not show in this air, beyond the "
	        "allowance for errors. A round surface would show it.",
	    [LEVEL_SHOWN_INCOMPATIBLE] =
	        "A drop is seen that a flat surface would not show in this air, beyond the "
	        "allowance for errors. But the round surface would not show this "
	        "drop either: look for an error before anything else.",
	    [LEVEL_NOT_SEPARATED] =
	        "This sight does not decide: the errors may be so large that a flat and a round "
	        "surface could both have shown what was seen.",
	    [LEVEL_NONE_SHOWN] =
	        "No more drop is seen than a flat surface would show in this air. The round "
	        "surface would show more, beyond the allowance for errors: look for "
	        "an error before anything else.",
	    [LEVEL_OPPOSITE] =
	        "The far mark stands higher than even a flat surface would show it, beyond the "
	        "allowance for errors: look for an error before anything else.",
	};
	return words[answer];
}

/* Distance of the longest sight that counts, m; 0 where none has one. */
static double reach(const struct work_run *run)
{
	level_nm longest = 0;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		if (level_counted(sight) && sight->distance > longest)
			longest = sight->distance;
	}
	return level_to_meters(longest);
}

/* The station of the longest sight that is not on the start; the start where there is none. */
static const char *far_station(const struct work_run *run)
{
	const struct level_sight *far = NULL;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		if (level_counted(sight) &&
		    strcmp(sight->station, run->closing.start_station) != 0 &&
		    (!far || sight->distance > far->distance))
			far = sight;
	}
	return far ? far->station : run->closing.start_station;
}

/* Drops are signed for a long sight that is the FS; one that is the BS turns them, so that a drop
 * is one on this page. */
static double turn_of(const struct level_closing *c)
{
	return c->predicted < c->flat ? -1 : 1;
}

/* A drop whose curvature is a share of the predicted one. */
static double drop_at(const struct level_closing *c, double inverse_radius, double radius)
{
	return turn_of(c) * (c->flat + inverse_radius * radius * (c->predicted - c->flat));
}

static void put_question(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	struct level_style style = level_distance_style(&run->settings.style);
	char distance[LEVEL_LENGTH_BYTES], radius[40], way[2 * LEVEL_STATION_BYTES + 24] = "";
	if (reach(run) <= 0) {
		snprintf(out->question, sizeof out->question,
		         "No sight with a distance is booked%s.",
		         run->book.info.closed ? "" : " yet");
		return;
	}
	style.decimals = 0;
	level_format_length(distance, level_from_meters(reach(run)), &style, false);
	lines_radius(radius, sizeof radius, run->terms.terms.radius);
	if (c->back)
		snprintf(way, sizeof way, " from %s to %s and back", c->start_station,
		         far_station(run));
	else if (c->has_end)
		snprintf(way, sizeof way, " from %s to %s", c->start_station, c->end_station);
	snprintf(out->question, sizeof out->question,
	         "%s %s%s%s%s show a drop, the far mark below the level line, and more of it than "
	         "level, air and reading could fake? Round here means a radius of %s.",
	         c->setups > 1 ? "Do the sights of" : "Does the sight of",
	         c->setups > 1 ? "up to " : "", distance, level_unit_after(style.unit), way,
	         radius);
}

/* What is said of a narrow answer, behind a blank; else "". */
static const char *narrowness(const struct level_finding *finding)
{
	if (finding->narrow && finding->narrow_prediction)
		return " But narrowly: the allowance holds in 19 of 20 such sights; one that holds "
		       "in 99 of 100 would rule out neither flat nor round.";
	if (finding->narrow_prediction)
		return " But narrowly: the allowance holds in 19 of 20 such sights; one that holds "
		       "in 99 of 100 would not rule round out.";
	if (finding->narrow)
		return " But narrowly: the allowance holds in 19 of 20 such sights; one that holds "
		       "in 99 of 100 would not rule flat out.";
	return "";
}

static void put_answer(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	const struct front_scale *s = &out->scale;
	char seen[LEVEL_LENGTH_BYTES], low[LEVEL_LENGTH_BYTES], high[LEVEL_LENGTH_BYTES],
	    flat[LEVEL_LENGTH_BYTES], round[LEVEL_LENGTH_BYTES];
	snprintf(out->answer, sizeof out->answer,
	         "%s%s Seen: %s, with the errors from %s to %s. Flat would show %s, round %s. In "
	         "short: %s.",
	         answer_in_plain_words(c->finding.answer), narrowness(&c->finding),
	         front_length(seen, out, s->seen, false), front_length(low, out, s->low, false),
	         front_length(high, out, s->high, false), front_length(flat, out, s->flat, false),
	         front_length(round, out, s->round, false), level_answer_code(c->finding.answer));
}

double front_peg_part(const struct work_run *run)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	return (-sums->s_d2 - level_drop_span(sums, &run->terms.terms)) /
	       (2 * run->terms.terms.radius) * turn_of(&run->closing);
}

static void put_rows(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	const struct level_finding *f = &c->finding;
	struct level_style style = level_distance_style(&run->settings.style);
	bool all = run->terms.terms.decides == LEVEL_BY_ALL;
	char text[LEVEL_LENGTH_BYTES], low[40], high[40], k[200];
	double pegs;
	style.decimals = 0;
	level_format_length(text, level_from_meters(reach(run)), &style, false);
	strcat(text, level_unit_after(style.unit));
	front_add(out, "distance", text,
	          c->setups > 1 ? "of the longest sight" : "of the far sight");
	snprintf(text, sizeof text, "%.3f", run->terms.terms.k);
	snprintf(k, sizeof k, "from %.3f to %.3f, %s", run->terms.terms.k - run->terms.terms.dk_low,
	         run->terms.terms.k + run->terms.terms.dk_high,
	         report_k_source(run->terms.k_source));
	front_add(out, "k, how light bends", text, k);
	snprintf(k, sizeof k, "over all %d setups, their drops summed", c->setups);
	front_add_length(out, "drop seen", out->scale.seen, false,
	                 c->setups > 1 ? k
	                 : c->by_water
	                     ? "level and rod corrected, above the water at both ends"
	                     : "level and rod corrected, by the heights given at both ends");
	front_add_length(out, "flat would show", out->scale.flat, false,
	                 "by the air alone, which bends the light");
	pegs = front_peg_part(run);
	snprintf(k, sizeof k, "by curvature and air%s%s%s", fabs(pegs) > 0 ? ", less " : "",
	         fabs(pegs) > 0 ? front_length(text, out, pegs, false) : "",
	         fabs(pegs) > 0 ? " that the peg test took with the tilt" : "");
	front_add_length(out, "round would show", out->scale.round, false, k);
	front_add_length(out, "allowance", c->allowance.decides, false,
	                 all ? "if all errors add up"
	                     : "towards flat, at 95 %: 19 of 20 such sights should err by less");
	front_add_length(
	    out, "margin", c->margin, true,
	    "drop seen less flat, less allowance, before rounding; above 0 flat is ruled "
	    "out");
	lines_radius(text, sizeof text, f->radius.middle);
	lines_radius(low, sizeof low, f->radius.low);
	lines_radius(high, sizeof high, f->radius.high);
	if (f->radius.low <= 0)
		front_add(out, "radius that fits", "none", "the surface would curve the other way");
	else {
		snprintf(k, sizeof k, "from %s%s%s, with the errors", low,
		         isinf(f->radius.high) ? ", " : " to ", high);
		front_add(out, "radius that fits", text, k);
	}
}

/* The lines of the allowance in words for somebody who has read no manual. */
static const char *line_in_plain_words(enum level_allowance_line line)
{
	static const char *const words[] = {
	    [LEVEL_LINE_INSTRUMENT] = "the level's line of sight is tilted",
	    [LEVEL_LINE_READING] = "rod or target is read too high or too low",
	    [LEVEL_LINE_REFRACTION] = "the air bends the light otherwise",
	    [LEVEL_LINE_DECLARED] = "errors declared beforehand, as of plumbing",
	    [LEVEL_LINE_WATER] = "the water is read wrongly, or is not level",
	    [LEVEL_LINE_KNOWN] = "the marks stand otherwise than given",
	    [LEVEL_LINE_DRIFT] = "the tilt has changed since its test",
	    [LEVEL_LINE_DISTANCE] = "the distances are wrong",
	};
	return words[line];
}

static void put_slip(struct front *out)
{
	front_doubt(out, "a slip, or another point was sighted", "",
	            "reading again, another day, another observer; no allowance covers it");
}

static void put_doubts(const struct work_run *run, struct front *out)
{
	const struct level_allowance *a = &run->closing.allowance;
	enum level_decides decides = run->terms.terms.decides;
	enum level_allowance_line lines[LEVEL_ALLOWANCE_LINES];
	const struct work_done done = work_done(&run->book.run, run->terms.k_source, &run->tested);
	char late[REPORT_TESTED_BYTES];
	level_lines_by_size(a, decides, lines);
	/* What neither surface explains is likely no finding at all. */
	if (!level_prediction_fits(run->closing.finding.answer))
		put_slip(out);
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		double size = level_line_size(a, lines[i], decides);
		char text[LEVEL_LENGTH_BYTES];
		if (size > 0)
			front_doubt(out, line_in_plain_words(lines[i]),
			            front_length(text, out, size, false),
			            report_remedy(lines[i], &done));
	}
	if (*report_late_test(late, &run->tested))
		front_doubt(out, late, "", "the same sight again, the test booked before the seal");
	if (run->airs.since_seal)
		front_doubt(out, REPORT_AIR_SINCE, "", REPORT_AIR_SINCE_TELLS);
	if (run->airs.wind_unsaid)
		front_doubt(out, REPORT_WIND_UNSAID, "", REPORT_SAY_WIND);
	if (level_prediction_fits(run->closing.finding.answer))
		put_slip(out);
	snprintf(out->sum, sizeof out->sum,
	         decides == LEVEL_BY_ALL
	             ? "Each size is what it makes of the drop. The allowance is their sum."
	             : "Each size is what it makes of the drop, at 95 %%, at most its own "
	               "limit. The allowance is the root of the sum of their squares, each as it "
	               "was before it was held to its limit.");
}

void front_crossing(const struct work_run *run, struct front *out)
{
	const struct level_closing *c = &run->closing;
	char reason[480];
	put_question(run, out);
	if (work_drop_of(run) != WORK_ANSWERED) {
		if (!report_no_drop(run, reason, sizeof reason))
			report_no_answer(c, reason, sizeof reason);
		snprintf(out->answer, sizeof out->answer, "There is no answer%s: %s.",
		         run->book.info.closed ? "" : " yet", reason);
		return;
	}
	out->scale = (struct front_scale){true,
	                                  turn_of(c) * c->flat,
	                                  turn_of(c) * c->predicted,
	                                  turn_of(c) * c->observed,
	                                  drop_at(c, c->finding.low, run->terms.terms.radius),
	                                  drop_at(c, c->finding.high, run->terms.terms.radius)};
	put_answer(run, out);
	put_rows(run, out);
	put_doubts(run, out);
}
