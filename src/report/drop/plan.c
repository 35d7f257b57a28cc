/* A plan on paper. */
#include <math.h>
#include <string.h>

#include "report/drop/drawings.h"
#include "report/lines.h"
#include "report/quantities.h"

/* Up to here LEVEL_CLEARANCE_ANSWER is advised, m. */
#define ANSWER_NEAR 800.0

static double reach_of(const struct level_plan *plan)
{
	return plan->distance - plan->near;
}

static void csv_plan(FILE *out, const struct report_plan *p, const struct level_planned *r)
{
	const struct level_style *style = &p->style;
	const struct level_style own = level_distance_style(style);
	const struct level_plan *plan = &p->plan;
	bool has_k = r->bar != LEVEL_PLAN_NO_K;
	quantity_meters(out, "distance", true, plan->distance, &own);
	quantity_meters(out, "radius", true, plan->terms.radius, style);
	if (has_k)
		lines_k_csv(out, &r->k, r->k_source);
	quantity_meters(out, "curvature", true, r->curvature, style);
	quantity_meters(out, "refraction", has_k, r->refraction, style);
	quantity_meters(out, "visible_drop", has_k, r->visible_drop, style);
	quantity_meters(out, "predicted_drop", has_k, r->predicted, style);
	quantity_meters(out, "allowance_bound", has_k, r->allowance.total_bound, style);
	quantity_meters(out, "allowance_u95", has_k, r->allowance.total_u95, style);
	lines_allowance_csv(out, &r->allowance, &plan->terms, reach_of(plan), style);
	quantity_meters(out, "margin_bound", has_k, r->margin_bound, style);
	quantity_meters(out, "margin_u95", has_k, r->margin_u95, style);
	quantity_meters(out, "shortest_distance", isfinite(r->shortest), r->shortest, &own);
	quantity_meters(out, "hidden", plan->has_hi && has_k, r->hidden, style);
	quantity_meters(out, "clearance", plan->has_hi && has_k, r->clearance, style);
	quantity_meters(out, "flat_drop", has_k, r->flat, style);
	quantity_meters(out, "separation", true, r->separation, style);
	quantity_real(out, "chance", r->has_chance, r->chance, "");
	quantity_meters(out, "distance_sure", isfinite(r->sure), r->sure, &own);
	quantity_meters(out, "crosshair_flat", plan->has_hi && has_k, r->crosshair_flat, style);
	quantity_meters(out, "crosshair_round", plan->has_hi && has_k, r->crosshair_round, style);
	quantity_text(out, "cannot_tell", level_plan_bar_code(r->bar));
	if (!has_k)
		quantity_text(out, "no_answer", level_no_answer_code(LEVEL_NO_K));
	lines_found_csv(out, &r->air);
}

static void shortest_text(const struct report_plan *p, double shortest, char *text, size_t size)
{
	char length[LEVEL_LENGTH_BYTES];
	snprintf(text, size, "%s",
	         isinf(shortest) ? "none" : lines_whole_up(length, shortest, &p->style));
}

/* Air that was read and cannot say what it does, for it hangs on where the line runs. */
static bool lacks_height(const struct level_plan *plan)
{
	return plan->by_air && !plan->has_hi && (!isnan(plan->air.low) || !isnan(plan->air.at));
}

/* Why the sight cannot tell whatever its margin. */
static void bar_text(const struct report_plan *p, const struct level_planned *r, char *text,
                     size_t size)
{
	char at[LEVEL_LENGTH_BYTES], top[LEVEL_LENGTH_BYTES];
	const char *unit = level_unit_after(p->style.unit);
	/* Another height or pole is of no use then. */
	const char *none = isinf(r->shortest)
	                       ? "; in this air no sight tells on half of such days: know k better"
	                       : "";
	switch (r->bar) {
	case LEVEL_PLAN_HIDDEN:
		snprintf(
		    text, size,
		    "this sight cannot tell: the line comes down to the water at %s; raise "
		    "it, or sight over less%s",
		    level_format_distance_unit(at, level_from_meters(r->clearance_at), &p->style),
		    none);
		break;
	case LEVEL_PLAN_ABOVE:
		level_format_length(at,
		                    level_from_meters(fmax(r->crosshair_flat, r->crosshair_round)),
		                    &p->style, false);
		level_format_length(top, level_from_meters(p->plan.pole), &p->style, false);
		snprintf(text, size,
		         "this sight cannot tell: the cross-hair may meet the far pole at %s%s "
		         "above the water, over its top at %s%s; take a longer pole or a lower "
		         "line%s",
		         at, unit, top, unit, none);
		break;
	case LEVEL_PLAN_NO_K:
		snprintf(text, size,
		         "over land below 3 m nothing is known of the air without measuring it: "
		         "hang two thermometers");
		break;
	case LEVEL_PLAN_FLOWS:
		snprintf(text, size,
		         "this sight cannot tell: flowing water is not level; declare its slope "
		         "(often 0.1 mm/m), or sight back");
		break;
	case LEVEL_PLAN_FREE:
		break;
	}
}

void report_plan_verdict(const struct report_plan *p, const struct level_planned *r, char *text,
                         size_t size)
{
	bool by_all = p->plan.terms.decides == LEVEL_BY_ALL;
	double margin = by_all ? r->margin_bound : r->margin_u95;
	char length[LEVEL_LENGTH_BYTES], pole[LEVEL_LENGTH_BYTES], above[120], from[200];
	enum level_allowance_line largest =
	    level_largest_line(&r->allowance, p->plan.terms.decides);
	const struct work_done done = {.air = r->k_source,
	                               .target = p->plan.far_method == LEVEL_TARGET};
	const char *const but[] = {
	    [LEVEL_PLAN_FREE] = "",
	    [LEVEL_PLAN_HIDDEN] = ", but not from this height: the line would come too low",
	    [LEVEL_PLAN_ABOVE] = above,
	    [LEVEL_PLAN_NO_K] = "",
	    [LEVEL_PLAN_FLOWS] = "",
	};
	snprintf(above, sizeof above,
	         ", but its cross-hair would stand above the top of the far pole, %s%s",
	         level_format_length(pole, level_from_meters(p->plan.pole), &p->style, false),
	         level_unit_after(p->style.unit));
	if (r->bar)
		bar_text(p, r, text, size);
	else if (margin > 0 && r->has_chance)
		snprintf(text, size,
		         "this sight would tell flat from round on %s%.0f of 100 such days",
		         r->chance > 0.99 ? "more than " : "", 100 * fmin(r->chance, 0.99));
	else if (margin > 0)
		snprintf(text, size,
		         "this sight could tell flat from round, if the air is as the default "
		         "says; measure the air to know the chance");
	else if (isinf(r->shortest) && r->has_chance)
		snprintf(text, size,
		         "this sight would tell flat from round on %.0f of 100 such days, and no "
		         "longer one on half of them: what the air alone may do is as large as the "
		         "curvature; know k better",
		         100 * r->chance);
	else if (isinf(r->shortest))
		snprintf(
		    text, size,
		    "no sight can tell, however long: what the air alone may do is as large as "
		    "the curvature; know k better");
	else {
		strcat(lines_whole_up(length, r->shortest, &p->style),
		       level_unit_after(p->style.distance));
		/* As where it is longer: no word may turn where the margin is 0. */
		if (r->has_chance)
			snprintf(from, sizeof from,
			         "this sight would tell flat from round on %.0f of 100 such days, "
			         "one of "
			         "%s on half of them",
			         100 * r->chance, length);
		else
			snprintf(from, sizeof from, "this sight cannot tell; a sight of %s could",
			         length);
		snprintf(text, size, "%s%s. Largest line: %s: %s", from, but[r->shortest_bar],
		         level_allowance_name(largest), report_remedy(largest, &done));
	}
}

static void put_look(FILE *out, const struct report_plan *p, const struct level_planned *r)
{
	char note[200], at[LEVEL_LENGTH_BYTES];
	level_format_distance(at, level_from_meters(r->clearance_at), &p->style, false);
	snprintf(note, sizeof note, "lowest at %s, %s", at,
	         r->clearance < LEVEL_CLEARANCE_LEAST   ? "TOO LOW: raise the line"
	         : r->clearance < LEVEL_CLEARANCE_WATER ? "over water 2 m or more is advised"
	         : r->clearance < LEVEL_CLEARANCE_ANSWER && p->plan.distance <= ANSWER_NEAR
	             ? "under 800 m 4 m or more is advised"
	             : "on a flat or a round surface");
	lines_length(out, "clearance", r->clearance, &p->style, false, note);
	lines_length(out, "cross-hair, level line", p->plan.hi, &p->style, false,
	             "on the far pole, above the water");
	lines_length(out, "cross-hair, flat", r->crosshair_flat, &p->style, false,
	             "the same, on a flat surface in this air");
	lines_length(out, "cross-hair, round", r->crosshair_round, &p->style, false,
	             "the same, on the round one");
	if (isinf(r->horizon)) {
		fprintf(out, "%-24s %12s\n", "horizon", "none");
	} else {
		level_format_distance(at, level_from_meters(r->horizon), &p->style, false);
		fprintf(out, "%-24s %12s\n", "horizon", at);
	}
	lines_length(out, "hidden", r->hidden, &p->style, false,
	             "of what stands at the distance, by the water");
	if (!p->plan.has_target)
		return;
	level_format_distance(at, level_from_meters(r->target_clearance_at), &p->style, false);
	snprintf(note, sizeof note, "of the light to the target, at %s%s", at,
	         r->target_clearance < 0 ? ": THE WATER HIDES IT" : "");
	lines_length(out, "clearance to target", r->target_clearance, &p->style, false, note);
}

static void put_shortest(FILE *out, const struct report_plan *p, const struct level_planned *r)
{
	char text[LEVEL_LENGTH_BYTES + 30];
	shortest_text(p, r->shortest_u95, text, sizeof text);
	fprintf(out, "%-24s %12s   half tell, with the allowance at 95 %%\n",
	        "shortest sight that tells", text);
	shortest_text(p, r->shortest_bound, text, sizeof text);
	fprintf(out, "%-24s %12s   half tell, if all errors add up\n", "", text);
	shortest_text(p, r->sure, text, sizeof text);
	fprintf(out, "%-24s %12s   95 of 100 tell\n", "", text);
}

static void put_plan(FILE *out, const struct report_plan *p, const struct level_planned *r)
{
	const struct level_style *style = &p->style;
	const struct level_terms *terms = &p->plan.terms;
	char text[BOOK_VALUE_BYTES + 80], radius[40];
	char distance[LEVEL_LENGTH_BYTES], verdict[400];
	const char *words = report_air_words(r->k.k, terms->radius);
	struct level_terms with_k = *terms;
	char level[BOOK_VALUE_BYTES];

	fprintf(out, "a sight of %s\n",
	        level_format_distance_unit(distance, level_from_meters(p->plan.distance), style));
	lines_radius(radius, sizeof radius, terms->radius);
	report_plan_verdict(p, r, verdict, sizeof verdict);
	if (r->bar == LEVEL_PLAN_NO_K) {
		fprintf(out, "R %s\n%s\n", radius, verdict);
		return;
	}
	with_k.k = r->k.k;
	with_k.dk_low = r->k.low;
	with_k.dk_high = r->k.high;
	report_k(&with_k, r->k_source, text, sizeof text);
	fprintf(out, "R %s; %s\n", radius, text);
	if (lacks_height(&p->plan))
		fprintf(out, "what was read of the air gives no k without the height of the line "
		             "(--hi)\n");
	lines_found(out, &r->air);
	if (*words)
		fprintf(out, "%s\n", words);
	lines_length(out, "curvature", r->curvature, style, false, "");
	lines_length(out, "refraction", r->refraction, style, false, "");
	lines_length(out, "flat would show", r->flat, style, false, "in this air");
	lines_length(out, "round would show", r->predicted, style, false, "the prediction");
	lines_length(out, "flat to round", r->separation, style, false, "what is to be told apart");
	book_figure(&p->figures, "level", level);
	lines_instrument(terms, &p->figures, level, 0, text, sizeof text);
	lines_allowance(out, &r->allowance, terms, reach_of(&p->plan), text, style);
	lines_length(out, "margin, at 95 %", r->margin_u95, style, true, "");
	lines_length(out, "margin, if all add up", r->margin_bound, style, true, "");
	if (r->has_chance)
		fprintf(out, "%-24s %12.2f   that this sight tells flat from round\n", "chance",
		        r->chance);
	put_shortest(out, p, r);
	if (p->plan.has_hi)
		put_look(out, p, r);
	fprintf(out, "%s\n", verdict);
}

void report_plan(FILE *out, const struct report_plan *plan, bool csv)
{
	struct level_planned planned = level_plan_of(&plan->plan);
	if (csv) {
		quantity_header(out);
		csv_plan(out, plan, &planned);
	} else {
		put_plan(out, plan, &planned);
	}
}

static void put_row(FILE *out, const struct report_plan *p, const struct level_planned *r)
{
	struct level_style finer = lines_finer(&p->style);
	const struct level_style own = level_distance_style(&p->style);
	const double columns[] = {r->separation, r->allowance.total_bound, r->margin_bound,
	                          r->allowance.total_u95, r->margin_u95};
	char text[LEVEL_LENGTH_BYTES];
	fprintf(out, "%12s",
	        level_format_length(text, level_from_meters(p->plan.distance), &own, false));
	for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
		fprintf(out, " %12s",
		        level_format_length(text, level_from_meters(columns[i]), &finer,
		                            i == 2 || i == 4));
	fputc('\n', out);
}

static void put_drawing(FILE *out, const struct report_plan *plan, double from, double to)
{
	enum { COLUMNS = 78, ROWS = 22 };
	char grid[ROWS * (COLUMNS + 1)];
	drawing_plan(plan, from, to, COLUMNS, ROWS, grid);
	fputc('\n', out);
	for (int row = 0; row < ROWS; row++)
		fprintf(out, "%s\n", grid + row * (COLUMNS + 1));
}

void report_plan_table(FILE *out, const struct report_plan *plan, double from, double to,
                       double step, bool csv)
{
	struct report_plan at = *plan;
	char title[LEVEL_LENGTH_BYTES];
	if (csv)
		quantity_header(out);
	else
		fprintf(out, "%12s %12s %13s %12s %12s %12s\n",
		        level_distance_title(title, "distance", &plan->style), "flat to round",
		        "if all add up", "margin", "at 95 %", "margin");
	for (int i = 0; i < REPORT_TABLE_MOST; i++) {
		struct level_planned planned;
		at.plan.distance = from + i * step;
		/* The last step may miss the end by a rounding. */
		if (at.plan.distance > to + step * 1e-9)
			break;
		planned = level_plan_of(&at.plan);
		if (csv)
			csv_plan(out, &at, &planned);
		else
			put_row(out, &at, &planned);
	}
	if (!csv)
		put_drawing(out, plan, from, to);
}
