/* How a run closes, for people and as CSV. */
#include "report/lines.h"
#include "report/page/banks.h"
#include "report/page/sections.h"
#include "report/quantities.h"

#include <stdlib.h>
#include <string.h>

#include "rodbook/level/sections.h"

static void put_line(FILE *out, const char *name, const char *text, const char *note)
{
	fprintf(out, "%-22s %12s%s%s\n", name, text, *note ? "  " : "", note);
}

static void line(FILE *out, const char *name, bool has, level_nm value,
                 const struct level_style *style, bool plus, const char *note)
{
	char text[LEVEL_LENGTH_BYTES] = "not known";
	if (has)
		level_format_length(text, value, style, plus);
	put_line(out, name, text, note);
}

static void distance_line(FILE *out, const char *name, bool has, level_nm value,
                          const struct level_style *style, bool plus, const char *note)
{
	char text[LEVEL_LENGTH_BYTES] = "not known";
	if (has)
		level_format_distance(text, value, style, plus);
	put_line(out, name, text, note);
}

const char *report_closes(const struct level_run *run, const struct level_closing *c)
{
	if (run->kind == LEVEL_OPEN || (!c->has_misclosure && !c->failing))
		return "no";
	return c->closes == LEVEL_YES && c->provisional ? "provisional"
	                                                : quantity_answer(c->closes);
}

const char *report_state(const struct book_run_info *run)
{
	return run->closed ? "closed" : run->reopened ? "reopened" : "open";
}

void report_closings(FILE *out, const struct work_run *run)
{
	for (size_t i = 0; i < run->closing_count; i++) {
		const struct book_closing *closing = &run->closings[i];
		fprintf(out, "%s %s%s%s\n", closing->closed ? "closed" : "reopened", closing->time,
		        *closing->why ? ": " : "", closing->why);
	}
}

static void drop_lines(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	const char *by = run->terms.terms.decides == LEVEL_BY_ALL ? "if all add up" : "at 95 %";
	struct level_style finer = run->settings.style;
	if (finer.decimals < 6)
		finer.decimals++;
	if (c->has_observed)
		line(out, "flat would show", true, level_from_meters(c->flat), &finer, false,
		     "in this air");
	if (c->has_observed)
		line(out, "drop observed", true, level_from_meters(c->observed), &finer, false, "");
	line(out, "drop predicted", c->has_drop, level_from_meters(c->predicted), &finer, false,
	     "curvature less refraction, over unequal sights");
	line(out, "allowance", c->has_drop, level_from_meters(c->allowance.decides), &finer, false,
	     by);
	line(out, "margin", !c->finding.none, level_from_meters(c->margin), &finer, true,
	     c->has_observed ? "curvature shown less allowance"
	                     : "predicted less flat, less allowance");
}

/* The strictest set whose figures are met in sight lengths and imbalances too, and what broke the
 * next. */
static void kept_line(FILE *out, const struct level_closing *c, const struct level_style *style)
{
	char figure[LEVEL_LENGTH_BYTES];
	fprintf(out, "%-22s %12s", "limits known fit", c->kept ? c->kept->title : "none");
	if (c->next)
		fprintf(out, "  %s is broken by %s %s", c->next->title, level_limit_name(c->broken),
		        report_limit_figure(figure, c->broken, c->broken_by, style));
	fputc('\n', out);
}

/* Where the quantities of a closing are stated: as lines for people, or as rows of CSV. */
struct stating {
	FILE *out;
	bool csv;
	const struct level_style *style;
};

/* One length, stated for both. */
struct length {
	const char *row, *line;
	bool has;
	level_nm value;
	bool plus;
	const char *note;
	bool only_csv;  /* people are told otherwise where there is none */
	bool only_text; /* only a run that has it has the row */
	bool distance;
};

static void state(const struct stating *to, const struct length *l)
{
	const struct level_style own = level_distance_style(to->style);
	const char *note = l->note ? l->note : "";
	if (to->csv && l->only_text)
		return;
	if (to->csv)
		quantity_length(to->out, l->row, l->has, l->value, l->distance ? &own : to->style);
	else if (!l->only_csv && l->distance)
		distance_line(to->out, l->line, l->has, l->value, to->style, l->plus, note);
	else if (!l->only_csv)
		line(to->out, l->line, l->has, l->value, to->style, l->plus, note);
}

static void state_setups(const struct stating *to, const struct work_run *run)
{
	int setups = run->closing.setups, standings = level_page_standings(&run->page);
	if (to->csv) {
		quantity_count(to->out, "setups", setups);
		return;
	}
	fprintf(to->out, "%-22s %12d", "setups", setups);
	if (standings > setups)
		fprintf(to->out, "  in %d standings, by which rows are numbered", standings);
	fputc('\n', to->out);
}

static void state_line(const struct stating *to, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	char unknown[60];
	report_unknown_distances(c, unknown, sizeof unknown);
	state(to, &(struct length){"sum_bs", "sum BS", true, .value = c->sum_bs});
	state(to, &(struct length){"sum_fs", "sum FS", true, .value = c->sum_fs});
	if (c->offsets)
		state(to, &(struct length){"sum_offsets", "sum of offsets", true, c->sum_offsets,
		                           .plus = true});
	state(to, &(struct length){"page_check", "page check", c->has_end, c->page_check,
	                           .note = !c->setups      ? ""
	                                   : c->page_holds ? "holds: the sums give end - start"
	                                                   : "does not hold"});
	state_setups(to, run);
	state(to, &(struct length){"length", "length", c->has_length, c->length, .distance = true,
	                           .note = c->unknown_distances ? unknown : ""});
	state(to, &(struct length){"imbalance", "imbalance BS - FS", c->has_length, c->imbalance,
	                           .plus = true, .distance = true});
	state(to, &(struct length){"one_way", "one way", c->is_double, c->one_way,
	                           .note = "the shorter way of a double run", .distance = true,
	                           .only_csv = !c->is_double, .only_text = !c->is_double});
	state(to, &(struct length){"start", "start", c->start_station != NULL, c->start,
	                           .note = c->start_station, .only_csv = !c->start_station});
	if (!to->csv && c->start_assumed)
		fprintf(to->out, "%36s  its elevation is not known: taken as 0\n", "");
	state(to, &(struct length){"end", "end", c->has_end, c->end, .note = c->end_station,
	                           .only_csv = !c->has_end});
}

/* Beside the class that the misclosure keeps: that another one is asked. */
static const char *class_note(const struct level_closing *c, char note[120])
{
	note[0] = '\0';
	if (c->provisional)
		return "a class goes by the length of the run";
	if (c->has_allowable && strcmp(c->grade, "none") != 0 &&
	    strcmp(c->grade, c->set->title) != 0)
		snprintf(note, 120, "asked is %.100s", c->set->title);
	return note;
}

static void state_closing(const struct stating *to, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	bool closed = c->has_misclosure && run->book.run.kind != LEVEL_OPEN;
	/* A crossing is weighed by its drop. */
	bool crossing = run->book.run.kind == LEVEL_CROSSING;
	struct level_style finer = report_judged_style(c, to->style);
	const struct stating judged = {to->out, to->csv, to->csv ? to->style : &finer};
	char unknown[60], note[120];
	report_unknown_distances(c, unknown, sizeof unknown);
	state(to,
	      &(struct length){
	          "known_end", c->by_water ? "end by the water" : "known end", closed, c->known_end,
	          .note = c->end_assumed ? "taken on the same level surface as the start" : "",
	          .only_csv = !closed});
	state(&judged, &(struct length){"misclosure", "misclosure", closed, c->misclosure, true,
	                                "as booked", .only_csv = !closed});
	state(&judged,
	      &(struct length){"misclosure_corrected", "misclosure corrected",
	                       closed && c->has_corrected, c->corrected, true,
	                       !c->has_corrected   ? c->unknown_distances ? unknown : ""
	                       : c->tilt_taken_off ? "curvature, refraction and tilt taken off"
	                                           : "curvature and refraction taken off",
	                       .only_csv = !closed});
	state(&judged,
	      &(struct length){"allowable", "allowable", closed && c->has_allowable, c->allowable,
	                       .note = c->provisional ? "by setups, provisional" : c->set->title,
	                       .only_csv = !closed || crossing});
	if (to->csv)
		quantity_text(to->out, "class", closed ? c->grade : "none");
	else if (closed && !crossing)
		put_line(to->out, "misclosure within", c->provisional ? "no class" : c->grade,
		         class_note(c, note));
	if (to->csv)
		quantity_text(to->out, "closes", report_closes(&run->book.run, c));
}

void lines_closure(FILE *out, const struct work_run *run)
{
	char tested[REPORT_TESTED_BYTES], verdict[400];
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	const struct stating to = {out, false, style};
	state_line(&to, run);
	state_closing(&to, run);
	sections_lines(out, run);
	if (c->kept || c->next)
		kept_line(out, c, style);
	sections_limits(out, run, false);
	if (c->has_drop && level_shows_drop(&run->book.run, &run->page, run->settings.long_sight))
		drop_lines(out, run);
	banks_lines(out, run);
	if (run->tested.state != WORK_TESTED)
		fprintf(out, "%s\n", report_tested(tested, &run->tested, run->closing.set));
	if (work_two_rods(run) && c->setups % 2)
		fprintf(out,
		        "two rods over an odd number of setups: the difference of their zeros does "
		        "not cancel\n");
	report_verdict(run, verdict, sizeof verdict);
	fprintf(out, "%s\n", verdict);
	report_closings(out, run);
}

void report_closure(FILE *out, const struct work_run *run, bool csv)
{
	const struct stating to = {out, true, &run->settings.style};
	if (csv) {
		quantity_header(out);
		state_line(&to, run);
		state_closing(&to, run);
		sections_csv(out, run);
		sections_limits(out, run, true);
		banks_csv(out, run);
		return;
	}
	fprintf(out, "run %s, %s, in %s\n", run->book.info.name,
	        level_run_kind_name(run->book.run.kind),
	        level_unit_words(run->settings.style.unit));
	lines_heads(out, run);
	lines_closure(out, run);
}
