/* What the drop of a crossing says, on paper. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/drop/drop.h"
#include "report/drop/drop_entries.h"
#include "report/lines.h"
#include "report/page/sections.h"
#include "report/quantities.h"
#include "rodbook/level/drop/old_rule.h"
#include "rodbook/work/water.h"
#include "text/wrap.h"

const char drop_checks[] =
    "What could be wrong, and what tells: a peg test (tilt); longer sights (tilt\n"
    "and reading against the drop, never refraction); another shore (water and\n"
    "marks, never tilt or refraction); another day or hour, a higher line, water\n"
    "warmer than the air (refraction); stilled water read on both shores at once\n"
    "(waves, wind set-up); reading again (slips).\n";

bool report_no_drop(const struct work_run *run, char *text, size_t size)
{
	text[0] = '\0';
	switch (work_drop_of(run)) {
	case WORK_NO_CROSSING:
		snprintf(text, size, "%.160s is %s %s: only a crossing of level water shows a drop",
		         run->book.info.name, run->book.run.kind == LEVEL_OPEN ? "an" : "a",
		         run->book.run.kind == LEVEL_OPEN
		             ? "open run"
		             : level_run_kind_name(run->book.run.kind));
		break;
	case WORK_NOT_COMPLETE:
		report_verdict(run, text, size);
		break;
	case WORK_NO_ANSWER:
	case WORK_ANSWERED:
		break;
	}
	return *text != '\0';
}

void report_no_answer(const struct level_closing *c, char *text, size_t size)
{
	text[0] = '\0';
	switch (c->finding.none) {
	case LEVEL_NO_WATER:
		snprintf(text, size, "%s",
		         c->water_missing ? "water was read at one end only: read it at the other "
		                            "(0 on the water itself)"
		                          : "no water was read at the ends: read it at both");
		break;
	case LEVEL_NO_SLOPE:
		snprintf(text, size,
		         "flowing water is not level: declare its slope (often 0.1 mm/m), or sight "
		         "back");
		break;
	case LEVEL_NO_K:
		snprintf(text, size, "nothing says how light bends here: measure the air");
		break;
	case LEVEL_NO_DISTANCE:
		if (c->unknown_distances)
			snprintf(text, size, "%d distance%s not known: the drop hangs on them",
			         c->unknown_distances, c->unknown_distances == 1 ? " is" : "s are");
		else
			snprintf(text, size,
			         "the distances are known too badly to say anything of 1/R: "
			         "measure them");
		break;
	case LEVEL_NO_SPAN:
		snprintf(
		    text, size,
		    "equal sights: curvature, air and tilt cancel, so there is nothing to see");
		break;
	case LEVEL_NO_LOOK:
		snprintf(text, size, "hidden until its figures are sealed: F11, s; rodbook seal");
		break;
	case LEVEL_NO_ACCORD:
		snprintf(text, size, "the crossings disagree: they give no joint answer");
		break;
	case LEVEL_ANSWERED:
		break;
	}
}

/* The first setup with unequal sights, as a plan with these terms. */
static void plan_of_run(const struct level_run *run, const struct level_terms *terms,
                        struct level_plan *plan)
{
	const struct level_sight *bs = NULL;
	*plan = (struct level_plan){.terms = *terms};
	for (size_t i = 0; i < run->count; i++) {
		const struct level_sight *sight = &run->sight[i], *far = sight, *near;
		if (!level_counted(sight))
			continue;
		if (sight->kind == LEVEL_BS)
			bs = sight;
		if (sight->kind != LEVEL_FS || !bs || bs->distance == sight->distance)
			continue;
		near = bs;
		if (bs->distance > sight->distance) {
			far = bs;
			near = sight;
		}
		plan->distance = level_to_meters(far->distance);
		plan->near = level_to_meters(near->distance);
		plan->distance_by = far->distance_by;
		plan->far_method = far->method;
		plan->near_method = near->method;
		plan->terms.instrument[0] = terms->instrument[far->instrument];
		return;
	}
}

static void csv_drop(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	const struct level_terms *terms = &run->terms.terms;
	const struct level_k k = {terms->k, terms->dk_low, terms->dk_high};
	bool answered = work_drop_of(run) == WORK_ANSWERED;
	quantity_header(out);
	quantity_meters(out, "observed_drop", c->has_observed, c->observed, style);
	quantity_meters(out, "predicted_drop", c->has_drop, c->predicted, style);
	quantity_meters(out, "allowance_bound", answered, c->allowance.total_bound, style);
	quantity_meters(out, "allowance_u95", answered, c->allowance.total_u95, style);
	quantity_text(out, "decides", terms->decides == LEVEL_BY_ALL ? "all" : "u95");
	quantity_meters(out, "margin", answered, c->margin, style);
	drop_answer_csv(out, "answer", &c->finding);
	if (c->has_drop)
		lines_allowance_csv(out, &c->allowance, terms,
		                    level_drop_reach(&level_page_sums(&run->page)->drop), style);
	drop_interval_csv(out, "", &c->finding);
	quantity_real(out, "k_needed", answered, c->finding.k_needed, "");
	lines_k_csv(out, &k, run->terms.k_source);
	quantity_meters(out, "flat_drop", c->has_drop, c->flat, style);
	quantity_meters(out, "curvature_shown", c->has_observed, c->shown, style);
	quantity_text(out, "sealed", run->terms.sealed_time);
	quantity_count(out, "amendments", (int64_t)run->terms.amendments);
	if (run->terms.sealed)
		quantity_text(out, "air_since_seal", run->airs.since_seal ? "yes" : "no");
	if (run->terms.old_rule && answered)
		quantity_text(out, "answer_before", level_answer_code(drop_before(run)));
	quantity_meters(out, "allowance_prediction", answered, c->finding.allowed, style);
	quantity_meters(out, "air_flat", answered, level_air_alone(&c->allowance, terms->decides),
	                style);
	quantity_meters(out, "air_prediction", answered, c->finding.air, style);
}

enum level_drop_answer drop_before(const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	return level_answer_before(&level_page_sums(&run->page)->drop, &run->terms.terms, &c->ends,
	                           c->observed);
}

void drop_radius(FILE *out, const struct level_finding *finding)
{
	char low[40], middle[40], high[40];
	lines_radius(low, sizeof low, finding->radius.low);
	lines_radius(middle, sizeof middle, finding->radius.middle);
	lines_radius(high, sizeof high, finding->radius.high);
	if (finding->radius.low <= 0)
		fprintf(out,
		        "radius that would fit     none: the surface would have to curve the other "
		        "way\n");
	else
		fprintf(out, "radius that would fit     from %s, middle %s, %s%s\n", low, middle,
		        isinf(finding->radius.high) ? "" : "to ", high);
	fprintf(out,
	        "k that would meet it      %.3f   a result of this sight, never its prediction\n",
	        finding->k_needed);
}

void drop_waters(FILE *out, const struct work_run *run)
{
	const struct level_line *line = level_page_line(&run->page);
	const size_t ends[] = {line->start_row, line->end_row};
	struct level_style finer = lines_finer(&run->settings.style);
	char mean[LEVEL_LENGTH_BYTES], sd[LEVEL_LENGTH_BYTES], sdm[LEVEL_LENGTH_BYTES], apart[200];
	if (run->closing.end_assumed)
		fprintf(out,
		        "no water was read at the ends: that both stand on one level surface is "
		        "taken, not measured\n");
	if (!run->closing.by_water)
		return;
	for (int i = 0; i < 2; i++) {
		const struct level_sight *s = &run->book.run.sight[ends[i]];
		level_format_length(mean, s->water, &finer, false);
		fputs("water at ", out);
		wrap_put(out, s->station, 15);
		if (s->surface && s->water_count == 1 && s->water == 0) {
			fprintf(out, " %12s   the station is its surface\n", mean);
			continue;
		}
		fprintf(out, " %12s   %d reading%s", mean, s->water_count,
		        s->water_count == 1 ? ", which has no spread" : "s");
		if (s->water_count > 1)
			fprintf(
			    out, ", sd %s, of mean %s",
			    level_format_length(sd, level_from_meters(s->water_sd), &finer, false),
			    level_format_length(
			        sdm, level_from_meters(s->water_sd / sqrt((double)s->water_count)),
			        &finer, false));
		fputc('\n', out);
	}
	if (*report_times(&run->times, REPORT_TIMES_WATER, apart, sizeof apart))
		fprintf(out, "%s\n", apart);
	if (work_few_waters(&run->book.run, &run->page, &run->closing, 0) ||
	    work_few_waters(&run->book.run, &run->page, &run->closing, 1))
		fprintf(out,
		        "few readings of the water are weak evidence: ten, over minutes, are asked "
		        "for\n");
}

void drop_shortest(FILE *out, const struct work_run *run)
{
	struct level_plan plan;
	struct level_planned planned;
	const struct level_style *style = &run->settings.style;
	char text[LEVEL_LENGTH_BYTES];
	plan_of_run(&run->book.run, &run->terms.terms, &plan);
	if (plan.distance <= 0)
		return;
	/* What its own ends leave open, a longer sight from them would too. */
	plan.has_ends = true;
	plan.ends = run->closing.ends;
	planned = level_plan_of(&plan);
	if (isinf(planned.shortest))
		fprintf(out, "no sight would separate them on half of such days: what the air "
		             "alone may do is as large as the curvature; know k better\n");
	else if (planned.shortest > plan.distance)
		fprintf(out,
		        "the shortest sight that could separate them, in half of all cases, is "
		        "%s%s\n",
		        lines_whole_up(text, planned.shortest, style),
		        level_unit_after(style->distance));
}

/* Of the instruments that tell in the drop: what the tolerance of one is worth, by its test or
 * none. */
static void put_untested(FILE *out, const struct level_terms *terms,
                         const struct level_drop_sums *sums)
{
	bool word = false, coarse = false;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++) {
		word = word || (sums->s_d[i] != 0 && !terms->instrument[i].tested);
		coarse = coarse || (sums->s_d[i] != 0 && terms->instrument[i].tested &&
		                    !level_test_counts(terms, i));
	}
	if (word)
		fprintf(out, "the tolerance of a level is a word, not a measurement: a peg test "
		             "tells\n");
	if (coarse)
		fprintf(out,
		        "the peg test is coarser than the tolerance: more sets, or pegs farther "
		        "apart\n");
}

void drop_instruments(const struct work_run *run, char *text, size_t size)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	text[0] = '\0';
	for (int i = 0; i < run->book.instruments; i++) {
		size_t used = strlen(text);
		if (sums->s_d[i] == 0)
			continue;
		if (used)
			used += (size_t)snprintf(text + used, size - used, "; ");
		lines_instrument(&run->terms.terms, &run->terms.figures, run->book.instrument[i], i,
		                 text + used, size - used);
	}
}

/* Side by side: what a flat and what a round surface would show in this air, and what was seen. */
void drop_three(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	char radius[40], text[160];
	const char *words = report_air_words(run->terms.terms.k, run->terms.terms.radius);
	lines_radius(radius, sizeof radius, run->terms.terms.radius);
	lines_length(out, "flat would show", c->flat, style, false, "in this air");
	snprintf(text, sizeof text, "the prediction: in this air, R %s", radius);
	lines_length(out, "round would show", c->predicted, style, false, text);
	if (c->has_observed) {
		lines_length(out, "observed drop", c->observed, style, false,
		             c->finding.turn < 0 ? "the long sight is the BS, which turns the signs"
		                                 : "");
		lines_length(out, "curvature shown", c->shown, style, false,
		             "observed less what flat would show");
	}
	report_k(&run->terms.terms, run->terms.k_source, text, sizeof text);
	fprintf(out, "%s\n", text);
	if (run->airs.since_seal)
		fprintf(out, "%s\n", REPORT_AIR_SINCE);
	if (*report_times(&run->times, REPORT_TIMES_AIR, text, sizeof text))
		fprintf(out, "%s\n", text);
	if (*words)
		fprintf(out, "%s\n", words);
}

static void put_answer(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	enum level_allowance_line largest =
	    level_largest_line(&c->allowance, run->terms.terms.decides);
	const struct work_done done = work_done(&run->book.run, run->terms.k_source, &run->tested);
	lines_length(out, "margin", c->margin, &run->settings.style, true,
	             "curvature shown less allowance");
	drop_radius(out, &c->finding);
	fprintf(out, "%s: %s%s\n", level_answer_code(c->finding.answer),
	        level_answer_sentence(c->finding.answer), level_answer_reserve(&c->finding));
	drop_rule(out, run);
	if (c->finding.answer == LEVEL_NOT_SEPARATED)
		drop_shortest(out, run);
	fprintf(out, "largest line: %s: %s\n", level_allowance_name(largest),
	        report_remedy(largest, &done));
}

void drop_rule(FILE *out, const struct work_run *run)
{
	if (run->terms.old_rule)
		fprintf(out,
		        "this crossing was sealed when a drop was held against zero, not against "
		        "what flat shows in the same air: by that rule it was %s\n",
		        level_answer_code(drop_before(run)));
}

static void put_drop(FILE *out, const struct work_run *run)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	const struct level_closing *c = &run->closing;
	char text[BOOK_VALUE_BYTES + 80], late[REPORT_TESTED_BYTES];

	fprintf(out, "run %s, %s, in %s\n", run->book.info.name,
	        level_run_kind_name(run->book.run.kind),
	        level_unit_words(run->settings.style.unit));
	lines_heads(out, run);
	drop_waters(out, run);
	if (c->has_drop)
		drop_three(out, run);
	if (work_drop_of(run) != WORK_ANSWERED) {
		report_no_answer(c, text, sizeof text);
		fprintf(out, "no answer: %s\n", text);
		return;
	}
	drop_instruments(run, text, sizeof text);
	lines_allowance(out, &c->allowance, &run->terms.terms, level_drop_reach(sums), text,
	                &run->settings.style);
	put_untested(out, &run->terms.terms, sums);
	if (*report_late_test(late, &run->tested))
		fprintf(out, "%s\n", late);
	put_answer(out, run);
}

bool report_drop(FILE *out, struct book *book, const struct work_run *run, bool csv,
                 struct fault *why)
{
	char text[600];
	struct book_seal *seals;
	size_t count;
	bool known = true;
	if (report_no_drop(run, text, sizeof text))
		return fault_say(why, FAULT_INPUT, "%s", text);
	if (!book_seals(book, run->book.info.id, &seals, &count, why))
		return false;
	if (csv) {
		csv_drop(out, run);
	} else {
		put_drop(out, run);
		drop_seals(out, run, seals, count);
		sections_marks(out, run);
		report_closings(out, run);
		known = drop_entries(out, book, run, count ? seals[0].time : "", why);
		fputs(drop_checks, out);
	}
	free(seals);
	return known;
}
