/* What a crossing says: its sources as lines, and the one test. */
#include <math.h>

#include "rodbook/level/drop/finding.h"

static double squared(double value)
{
	return value * value;
}

const char *level_allowance_name(enum level_allowance_line line)
{
	static const char *const names[] = {"instrument", "reading", "refraction", "declared",
	                                    "water",      "known",   "drift",      "distance"};
	return names[line];
}

double level_size_at_95(const struct level_allowance *allowance, double bound, double u)
{
	double factor = allowance->u_total > 0 ? allowance->total_u95 / allowance->u_total : 2;
	return fmin(factor * u, bound);
}

double level_line_size(const struct level_allowance *allowance, enum level_allowance_line line,
                       enum level_decides decides)
{
	double bound = allowance->bound[line];
	return decides == LEVEL_BY_ALL ? bound
	                               : level_size_at_95(allowance, bound, allowance->u[line]);
}

void level_lines_by_size(const struct level_allowance *allowance, enum level_decides decides,
                         enum level_allowance_line out[LEVEL_ALLOWANCE_LINES])
{
	for (int line = 0; line < LEVEL_ALLOWANCE_LINES; line++) {
		int at = line;
		for (; at > 0 &&
		       level_line_size(allowance, out[at - 1], decides) <
		           level_line_size(allowance, (enum level_allowance_line)line, decides);
		     at--)
			out[at] = out[at - 1];
		out[at] = (enum level_allowance_line)line;
	}
}

double level_air_alone(const struct level_allowance *allowance, enum level_decides decides)
{
	return level_line_size(allowance, LEVEL_LINE_REFRACTION, decides);
}

enum level_allowance_line level_largest_line(const struct level_allowance *allowance,
                                             enum level_decides decides)
{
	enum level_allowance_line lines[LEVEL_ALLOWANCE_LINES] = {0};
	level_lines_by_size(allowance, decides, lines);
	return lines[0];
}

double level_air_u(const struct level_air_effect *air, const struct level_terms *terms)
{
	if (!terms->air_declared)
		return fmax(fabs(air->common), air->own);
	return sqrt(terms->air_common * squared(air->common) +
	            (1 - terms->air_common) * squared(air->own));
}

/* Sources into lines (u as squares for now) and into the case. */
static void add_sources(const struct level_drop_sums *sums, const struct level_terms *terms,
                        const struct level_ends *ends, struct level_case *c,
                        struct level_allowance *out)
{
	static const struct level_identity nobody;
	struct level_source source[LEVEL_SOURCES_MOST];
	size_t count = level_sources(sums, terms, ends, &nobody, source);
	for (size_t i = 0; i < count; i++) {
		out->bound[source[i].line] += fabs(source[i].bound);
		out->u[source[i].line] += squared(source[i].u);
		c->bound += fabs(source[i].bound);
		c->variance += squared(source[i].u);
		level_sampled_add(&c->sampled, &source[i].sampled, 1);
	}
}

static void fill_totals(const struct level_case *c, struct level_allowance *out)
{
	int side = level_case_side(c, 0);
	out->bound[LEVEL_LINE_REFRACTION] = c->air_bound[side];
	out->u[LEVEL_LINE_REFRACTION] = squared(c->air_u[side]);
	for (size_t i = 0; i < c->lengths; i++) {
		double u = c->length[i].a * c->length[i].u;
		out->bound[LEVEL_LINE_DISTANCE] += 2 * fabs(u);
		out->u[LEVEL_LINE_DISTANCE] += squared(u);
	}
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		out->total_bound += out->bound[i];
		out->u_total += out->u[i];
		out->u[i] = sqrt(out->u[i]);
	}
	out->u_total = sqrt(out->u_total);
	out->coverage = level_case_coverage(c, &out->freedom);
	out->total_u95 = level_case_u95(c, 0);
	out->decides = c->decides == LEVEL_BY_ALL ? out->total_bound : out->total_u95;
}

struct level_weighing level_weigh(const struct level_drop_sums *sums,
                                  const struct level_terms *terms, const struct level_ends *ends,
                                  const struct level_length *lengths, size_t count,
                                  const double *observed)
{
	struct level_air_effect air = level_air_effect(sums);
	struct level_case c = {.span = level_drop_span(sums, terms),
	                       .prediction = 1 / terms->radius,
	                       .lengths = count,
	                       .length = lengths,
	                       .decides = terms->decides};
	struct level_weighing out = {.flat = level_drop_flat(sums, terms),
	                             .predicted = level_drop_predicted(sums, terms)};
	double s = level_drop_s(sums), dk[2] = {terms->dk_low, terms->dk_high};
	out.separation = fabs(c.span) / (2 * terms->radius);
	for (int side = 0; side < 2; side++) {
		c.air_u[side] = dk[side] / 2 * level_air_u(&air, terms);
		c.air_bound[side] = dk[side] * air.most;
	}
	/* While planning more drop is what is looked for. */
	c.shown = observed ? *observed - out.flat : c.span;
	add_sources(sums, terms, ends, &c, &out.allowance);
	fill_totals(&c, &out.allowance);
	if (!observed)
		return out;
	out.shown = c.shown;
	out.finding = level_judge(&c);
	if (terms->no_k)
		out.finding.none = LEVEL_NO_K;
	/* P at k less D, over what a unit of k makes of it. */
	if (s != 0)
		out.finding.k_needed =
		    terms->k + (out.predicted - *observed) * 2 * LEVEL_MEAN_RADIUS / s;
	return out;
}
