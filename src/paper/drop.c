/* What the drop of a crossing says, on paper. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/drop.h"
#include "paper/drop_entries.h"
#include "paper/lines.h"
#include "paper/quantities.h"

const char drop_checks[] =
    "What could be wrong, and what tells: a peg test (tilt); a longer sight (tilt\n"
    "and reading against the drop, never refraction); another shore (water and\n"
    "marks, never tilt or refraction); another day or hour (air); stilled water\n"
    "read on both shores at once (waves, wind set-up); reading again (slips).\n";

bool paper_no_drop(const struct paper_run *run, char *text, size_t size)
{
	const struct level_closing *c = &run->closing;
	text[0] = '\0';
	if (run->book.run.kind != LEVEL_CROSSING)
		snprintf(text, size, "%.160s is %s %s: only a crossing of level water shows a drop",
		         run->book.info.name, run->book.run.kind == LEVEL_OPEN ? "an" : "a",
		         level_run_kind_name(run->book.run.kind));
	else if (c->water_missing)
		snprintf(text, size,
		         "water was read at one end only: read it at the other one (0 "
		         "where the rod stands on the water itself)");
	else if (!c->has_misclosure)
		paper_verdict(&run->book.run, c, &run->settings.style, text, size);
	else if (!c->has_length)
		snprintf(text, size, "%d distance%s not known: the drop hangs on them",
		         c->unknown_distances, c->unknown_distances == 1 ? " is" : "s are");
	else if (c->flow_undeclared)
		snprintf(text, size,
		         "flowing water is not level: declare its slope (0.1 mm/m is "
		         "common), or sight back from the other shore");
	else if (c->finding.turn == 0)
		snprintf(text, size,
		         "equal sights: curvature, refraction and tilt cancel, so there "
		         "is nothing to see");
	return *text != '\0';
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
		plan->far_method = far->method;
		plan->near_method = near->method;
		plan->terms.instrument[0] = terms->instrument[far->instrument];
		return;
	}
}

static void csv_drop(FILE *out, const struct paper_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	const struct level_radius *radius = &c->finding.radius;
	quantity_header(out);
	quantity_meters(out, "observed_drop", true, c->observed, style);
	quantity_meters(out, "predicted_drop", true, c->predicted, style);
	quantity_meters(out, "allowance_bound", true, c->allowance.total_bound, style);
	quantity_meters(out, "allowance_u95", true, c->allowance.total_u95, style);
	quantity_text(out, "decides", run->terms.terms.decides == LEVEL_BY_BOUND ? "bound" : "u95");
	quantity_meters(out, "margin", true, c->margin, style);
	quantity_text(out, "answer", level_answer_code(c->finding.answer));
	lines_allowance_csv(out, &c->allowance, &run->terms.terms, style);
	quantity_real(out, "radius_low", radius->low > 0, radius->low, "m");
	quantity_real(out, "radius", radius->middle > 0, radius->middle, "m");
	quantity_real(out, "radius_high", radius->high > 0, radius->high, "m");
	quantity_real(out, "k_needed", true, c->finding.k_needed, "");
	quantity_real(out, "k", true, run->terms.terms.k, "");
	quantity_text(out, "sealed", run->terms.sealed_time);
	quantity_count(out, "amendments", (int64_t)run->terms.amendments);
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

void drop_waters(FILE *out, const struct paper_run *run)
{
	const struct level_line *line = level_page_line(&run->page);
	const size_t ends[] = {line->start_row, line->end_row};
	struct level_style finer = lines_finer(&run->settings.style);
	char mean[LEVEL_LENGTH_BYTES], sd[LEVEL_LENGTH_BYTES], sdm[LEVEL_LENGTH_BYTES];
	bool few = false;
	if (run->closing.end_assumed)
		fprintf(out,
		        "no water was read at the ends: that both stand on one level surface is "
		        "taken, not measured\n");
	if (!run->closing.by_water)
		return;
	for (int i = 0; i < 2; i++) {
		const struct level_sight *s = &run->book.run.sight[ends[i]];
		level_format_length(mean, s->water, &finer, false);
		fprintf(out, "water at %-15.15s %12s   %d reading%s", s->station, mean,
		        s->water_count, s->water_count == 1 ? ", which has no spread" : "s");
		if (s->water_count > 1)
			fprintf(
			    out, ", sd %s, of mean %s",
			    level_format_length(sd, level_from_meters(s->water_sd), &finer, false),
			    level_format_length(
			        sdm, level_from_meters(s->water_sd / sqrt((double)s->water_count)),
			        &finer, false));
		few = few || s->water_count < 10;
		fputc('\n', out);
	}
	if (few)
		fprintf(out,
		        "few readings of the water are weak evidence: ten, over minutes, are asked "
		        "for\n");
}

void drop_shortest(FILE *out, const struct paper_run *run)
{
	struct level_plan plan;
	struct level_planned planned;
	char text[LEVEL_LENGTH_BYTES];
	plan_of_run(&run->book.run, &run->terms.terms, &plan);
	if (plan.distance <= 0)
		return;
	/* What its own ends leave open, a longer sight from them would too. */
	plan.terms.water = run->closing.allowance.bound[LEVEL_LINE_WATER] +
	                   run->closing.allowance.bound[LEVEL_LINE_KNOWN];
	planned = level_plan_of(&plan);
	if (isinf(planned.shortest))
		fprintf(out, "no sight could: the air alone may do as much; know k better\n");
	else if (planned.shortest > plan.distance)
		fprintf(out, "the shortest sight that could is %s%s\n",
		        level_format_length(text, level_from_meters(planned.shortest),
		                            &run->settings.style, false),
		        level_unit_after(run->settings.style.unit));
}

/* Whether every instrument that tells in the drop was tested. */
static bool tested(const struct level_terms *terms, const struct level_drop_sums *sums)
{
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0 && !level_test_counts(&terms->instrument[i]))
			return false;
	return true;
}

void drop_instruments(const struct paper_run *run, char *text, size_t size)
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

static void put_drop(FILE *out, const struct paper_run *run)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	enum level_allowance_line largest =
	    level_largest_line(&c->allowance, run->terms.terms.decides);
	char text[BOOK_VALUE_BYTES + 80], radius[40], low[LEVEL_LENGTH_BYTES],
	    high[LEVEL_LENGTH_BYTES];
	struct level_style finer = lines_finer(style);

	fprintf(out, "run %s, %s, in %s\n", run->book.info.name,
	        level_run_kind_name(run->book.run.kind), level_unit_words(style->unit));
	drop_waters(out, run);
	level_format_length(low, level_from_meters(c->observed - c->allowance.decides), &finer,
	                    false);
	level_format_length(high, level_from_meters(c->observed + c->allowance.decides), &finer,
	                    false);
	snprintf(text, sizeof text, "from %s to %s%s", low, high,
	         c->finding.turn < 0 ? "; the long sight is the BS, which turns the signs" : "");
	lines_length(out, "observed drop", c->observed, style, false, text);
	lines_radius(radius, sizeof radius, run->terms.terms.radius);
	paper_k(&run->terms.terms, &run->terms.figures, text, sizeof text);
	lines_length(out, "predicted drop", c->predicted, style, false, text);
	drop_instruments(run, text, sizeof text);
	lines_allowance(out, &c->allowance, &run->terms.terms, text, style);
	if (!tested(&run->terms.terms, sums))
		fprintf(out, "the tolerance of a level is a word, not a measurement: a peg test "
		             "tells\n");
	lines_length(out, "margin", c->margin, style, true, "observed drop less allowance");
	drop_radius(out, &c->finding);
	fprintf(out, "%s: %s\n", level_answer_code(c->finding.answer),
	        level_answer_sentence(c->finding.answer));
	if (c->finding.answer == LEVEL_NOT_SEPARATED)
		drop_shortest(out, run);
	fprintf(out, "largest line: %s: %s\n", level_allowance_name(largest),
	        paper_remedy(largest));
}

bool paper_drop(FILE *out, struct book *book, const struct paper_run *run, bool csv,
                struct fault *why)
{
	char text[600];
	struct book_seal *seals;
	size_t count;
	bool known = true;
	if (paper_no_drop(run, text, sizeof text))
		return fault_say(why, FAULT_INPUT, "%s", text);
	if (!book_seals(book, run->book.info.id, &seals, &count, why))
		return false;
	if (csv) {
		csv_drop(out, run);
	} else {
		put_drop(out, run);
		drop_seals(out, run, seals, count);
		paper_closings(out, run);
		known = drop_entries(out, book, run, count ? seals[0].time : "", why);
		fputs(drop_checks, out);
	}
	free(seals);
	return known;
}

/* A k worked out from the drop itself is a result: taking it for the prediction would make any drop
 * agree. */
#define OWN_K 0.005

bool paper_amend(struct book *book, const struct paper_run *run, const char *name,
                 const char *value, const char *reason, struct fault *why)
{
	const struct level_closing *c = &run->closing;
	char *end;
	double k = strtod(value, &end);
	if (strcmp(name, "k") == 0 && c->has_observed && c->finding.turn != 0 && end != value &&
	    fabs(k - c->finding.k_needed) < OWN_K)
		return fault_say(why, FAULT_INPUT,
		                 "that is the k which this crossing's own drop asks for: it is a "
		                 "result, and cannot be its prediction");
	return book_amend(book, &run->book, name, value, reason, why);
}
