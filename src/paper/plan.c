/* A plan on paper. */
#include <math.h>
#include <string.h>

#include "paper/drawings.h"
#include "paper/lines.h"
#include "paper/quantities.h"

static void csv_plan(FILE *out, const struct paper_plan *p, const struct level_planned *r)
{
	const struct level_style *style = &p->style;
	const struct level_plan *plan = &p->plan;
	quantity_meters(out, "distance", true, plan->distance, style);
	quantity_meters(out, "radius", true, plan->terms.radius, style);
	quantity_real(out, "k", true, plan->terms.k, "");
	quantity_real(out, "dk", true, plan->terms.dk, "");
	quantity_meters(out, "curvature", true, r->curvature, style);
	quantity_meters(out, "refraction", true, r->refraction, style);
	quantity_meters(out, "visible_drop", true, r->visible_drop, style);
	quantity_meters(out, "predicted_drop", true, r->predicted, style);
	quantity_meters(out, "allowance_bound", true, r->allowance.total_bound, style);
	quantity_meters(out, "allowance_u95", true, r->allowance.total_u95, style);
	lines_allowance_csv(out, &r->allowance, &plan->terms, style);
	quantity_meters(out, "margin_bound", true, r->margin_bound, style);
	quantity_meters(out, "margin_u95", true, r->margin_u95, style);
	quantity_meters(out, "shortest_distance", isfinite(r->shortest), r->shortest, style);
	quantity_meters(out, "hidden", plan->has_hi, r->hidden, style);
	quantity_meters(out, "clearance", plan->has_hi, r->clearance, style);
}

static void shortest_text(const struct paper_plan *p, double shortest, char *text, size_t size)
{
	char length[LEVEL_LENGTH_BYTES];
	if (isinf(shortest)) {
		snprintf(text, size, "no sight, however long");
		return;
	}
	level_format_length(length, level_from_meters(shortest), &p->style, false);
	snprintf(text, size, "%s", length);
}

void paper_plan_verdict(const struct paper_plan *p, const struct level_planned *r, char *text,
                        size_t size)
{
	bool by_bound = p->plan.terms.decides == LEVEL_BY_BOUND;
	double margin = by_bound ? r->margin_bound : r->margin_u95;
	char length[LEVEL_LENGTH_BYTES];
	enum level_allowance_line largest =
	    level_largest_line(&r->allowance, p->plan.terms.decides);
	if (r->predicted <= 0)
		snprintf(
		    text, size,
		    "with a k this large light bends as much as the surface or more: there is no "
		    "horizon, and no drop to see");
	else if (margin > 0)
		snprintf(text, size,
		         "this sight could tell: at this k the drop beats all that could fake "
		         "it");
	else if (isinf(r->shortest))
		snprintf(
		    text, size,
		    "no sight can tell, however long: what the air alone may do is as large as "
		    "the drop; know k better");
	else
		snprintf(
		    text, size, "this sight cannot tell; one of %s%s could. Largest line: %s: %s",
		    level_format_length(length, level_from_meters(r->shortest), &p->style, false),
		    level_unit_after(p->style.unit), level_allowance_name(largest),
		    paper_remedy(largest));
}

static void put_look(FILE *out, const struct paper_plan *p, const struct level_planned *r)
{
	char note[200], at[LEVEL_LENGTH_BYTES];
	level_format_length(at, level_from_meters(r->clearance_at), &p->style, false);
	snprintf(note, sizeof note, "lowest at %s, %s", at,
	         r->clearance < LEVEL_CLEARANCE_LEAST   ? "TOO LOW: raise the line"
	         : r->clearance < LEVEL_CLEARANCE_WATER ? "over water 1.5 m or more is advised"
	                                                : "with tilt and air at their worst");
	lines_length(out, "clearance", r->clearance, &p->style, false, note);
	if (isinf(r->horizon)) {
		fprintf(out, "%-24s %12s\n", "horizon", "none");
	} else {
		level_format_length(at, level_from_meters(r->horizon), &p->style, false);
		fprintf(out, "%-24s %12s\n", "horizon", at);
	}
	lines_length(out, "hidden", r->hidden, &p->style, false,
	             "of what stands at the distance, by the water");
	if (!p->plan.has_target)
		return;
	level_format_length(at, level_from_meters(r->target_clearance_at), &p->style, false);
	snprintf(note, sizeof note, "of the light to the target, at %s%s", at,
	         r->target_clearance < 0 ? ": THE WATER HIDES IT" : "");
	lines_length(out, "clearance to target", r->target_clearance, &p->style, false, note);
}

static void put_plan(FILE *out, const struct paper_plan *p, const struct level_planned *r)
{
	const struct level_style *style = &p->style;
	char text[BOOK_VALUE_BYTES + 80], radius[40];
	char distance[LEVEL_LENGTH_BYTES], verdict[400];

	fprintf(out, "a sight of %s %s\n",
	        level_format_length(distance, level_from_meters(p->plan.distance), style, false),
	        level_unit_words(style->unit));
	lines_radius(radius, sizeof radius, p->plan.terms.radius);
	paper_k(&p->plan.terms, &p->figures, text, sizeof text);
	fprintf(out, "R %s; %s\n", radius, text);
	if (book_figure(&p->figures, "k_air", text))
		fprintf(out, "%s\n", text);
	lines_length(out, "curvature", r->curvature, style, false, "");
	lines_length(out, "refraction", r->refraction, style, false, "");
	lines_length(out, "visible drop", r->visible_drop, style, false,
	             "how far the cross-hair stands above level");
	lines_instrument(&p->plan.terms, &p->figures, "", 0, text, sizeof text);
	lines_allowance(out, &r->allowance, &p->plan.terms, text, style);
	lines_length(out, "margin, all at once", r->margin_bound, style, true, "");
	lines_length(out, "margin, at 95 %", r->margin_u95, style, true, "");
	shortest_text(p, r->shortest_bound, text, sizeof text);
	fprintf(out, "%-24s %12s   all at once\n", "shortest sight that tells", text);
	shortest_text(p, r->shortest_u95, text, sizeof text);
	fprintf(out, "%-24s %12s   at 95 %%\n", "", text);
	if (p->plan.has_hi)
		put_look(out, p, r);
	paper_plan_verdict(p, r, verdict, sizeof verdict);
	fprintf(out, "%s\n", verdict);
}

void paper_plan(FILE *out, const struct paper_plan *plan, bool csv)
{
	struct level_planned planned = level_plan_of(&plan->plan);
	if (csv) {
		quantity_header(out);
		csv_plan(out, plan, &planned);
	} else {
		put_plan(out, plan, &planned);
	}
}

static void put_row(FILE *out, const struct paper_plan *p, const struct level_planned *r)
{
	struct level_style finer = lines_finer(&p->style);
	const double columns[] = {r->visible_drop, r->allowance.total_bound, r->margin_bound,
	                          r->allowance.total_u95, r->margin_u95};
	char text[LEVEL_LENGTH_BYTES];
	fprintf(out, "%12s",
	        level_format_length(text, level_from_meters(p->plan.distance), &p->style, false));
	for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
		fprintf(out, " %12s",
		        level_format_length(text, level_from_meters(columns[i]), &finer,
		                            i == 2 || i == 4));
	fputc('\n', out);
}

static void put_drawing(FILE *out, const struct paper_plan *plan, double from, double to)
{
	enum { COLUMNS = 78, ROWS = 22 };
	char grid[ROWS * (COLUMNS + 1)];
	drawing_plan(plan, from, to, COLUMNS, ROWS, grid);
	fputc('\n', out);
	for (int row = 0; row < ROWS; row++)
		fprintf(out, "%s\n", grid + row * (COLUMNS + 1));
}

void paper_plan_table(FILE *out, const struct paper_plan *plan, double from, double to, double step,
                      bool csv)
{
	struct paper_plan at = *plan;
	if (csv)
		quantity_header(out);
	else
		fprintf(out, "%12s %12s %12s %12s %12s %12s\n", "distance", "visible drop",
		        "all at once", "margin", "at 95 %", "margin");
	for (int i = 0; i < PAPER_TABLE_MOST; i++) {
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
