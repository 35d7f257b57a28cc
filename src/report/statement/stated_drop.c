/* What the drop of a crossing says, with every number that it follows from, in meters. */
#include <math.h>
#include <string.h>

#include "report/drop/drop.h"
#include "report/statement/stated.h"

static void put_line(FILE *out, const struct level_allowance *a, enum level_allowance_line line,
                     const char *rule)
{
	fprintf(out, "  %-12s bound %.9f  u %.9f\n      %s\n", level_allowance_name(line),
	        a->bound[line], a->u[line], rule);
}

/* The readings of the water at either end, as they enter. */
static void put_means(FILE *out, const struct level_closing *c)
{
	static const char *const ends[] = {"start", "end"};
	for (int i = 0; i < 2; i++) {
		const struct level_mean_u *mean = &c->ends.mean[i];
		if (mean->u == 0)
			continue;
		fprintf(out, "      water at the %s: v = %.9f, t v = %.9f; ", ends[i], mean->u,
		        mean->bound);
		if (isinf(mean->freedom))
			fputs("by the method of reading, t = 2\n", out);
		else
			fprintf(out, "by the spread of the readings, f = %.0f\n", mean->freedom);
	}
}

/* The total at 95 %, and how it comes about. */
static void put_u95(FILE *out, const struct level_allowance *a)
{
	fprintf(out, "  at 95 %%: u = root of the sum of u^2 = %.9f;\n", a->u_total);
	if (isinf(a->freedom))
		fputs("      no spread of readings counts, so t = 2;\n", out);
	else
		fprintf(out,
		        "      f = u^4 / sum of v^4/f over the spreads = %.9g, so t = %.9f, "
		        "Student's, at least 2, and 2 above 60;\n",
		        a->freedom, a->coverage);
	fprintf(
	    out,
	    "      U = %.9f, the greater of t u = %.9f and the largest t v of one spread, never "
	    "above B\n",
	    a->total_u95, a->coverage * a->u_total);
}

static void put_declared(FILE *out, const struct level_terms *terms)
{
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++) {
		const struct level_declared *declared = &terms->declared[i];
		const char *name = *declared->name ? declared->name : "declared";
		if (declared->bound > 0)
			fprintf(out, "      %s %.9f\n", name, declared->bound);
		if (declared->slope > 0)
			fprintf(out, "      %s %.9g x |L|\n", name, declared->slope);
	}
}

static void put_refraction(FILE *out, const struct work_run *run)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	const struct level_terms *terms = &run->terms.terms;
	const struct level_closing *c = &run->closing;
	struct level_air_effect air = level_air_effect(sums);
	char text[400];
	double dk = c->shown * c->finding.turn >= 0 ? terms->dk_low : terms->dk_high;
	snprintf(text, sizeof text,
	         "dk = %.9g, the side that explains C: dk sum w d^2/2R0; u = dk/2 x the greater "
	         "of |S|/2R0 = %.9f (one air) and root of sum w d^4, over 2R0 = %.9f (each sight "
	         "its own)",
	         dk, fabs(air.common), air.own);
	if (terms->air_declared)
		snprintf(
		    text, sizeof text,
		    "dk = %.9g: dk sum w d^2/2R0; u = dk/2 x root of q (S/2R0)^2 + (1 - q) sum "
		    "w d^4/(2R0)^2, q = %.3g declared",
		    dk, terms->air_common);
	put_line(out, &c->allowance, LEVEL_LINE_REFRACTION, text);
}

static void put_lengths(FILE *out, const struct work_run *run)
{
	static const struct level_identity nobody;
	struct level_length lengths[LEVEL_LENGTHS_MOST];
	size_t count =
	    level_run_lengths(&run->book.run, &run->page, &run->terms.terms, &nobody, lengths);
	char plan[BOOK_VALUE_BYTES];
	bool planned = book_figure(&run->terms.figures, "distance_by", plan);
	put_line(out, &run->closing.allowance, LEVEL_LINE_DISTANCE,
	         "sum over lengths of 2 |a| u(d), a = sum w s (g - k d/R0); in quadrature");
	for (size_t i = 0; i < count; i++)
		fprintf(out,
		        "      %.9f by %s%s%s: u(d) = %.9f, a = %+.12g, b = sum w s d = %+.9f\n",
		        lengths[i].distance,
		        lengths[i].way == LEVEL_STEPPED ? "step or a way not said"
		                                        : level_distance_way_name(lengths[i].way),
		        lengths[i].way == LEVEL_STEPPED && planned ? ", in the plan by " : "",
		        lengths[i].way == LEVEL_STEPPED ? plan : "", lengths[i].u, lengths[i].a,
		        lengths[i].b);
}

static void put_allowance(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_terms *terms = &run->terms.terms;
	const struct level_allowance *a = &c->allowance;
	char text[300];
	fprintf(out, "the allowance on a flat surface, line by line, in m:\n");
	put_line(out, a, LEVEL_LINE_INSTRUMENT,
	         "sum over instruments of tolerance x |L|, u of each / sqrt 3 and in quadrature; "
	         "where a test counts t u(g) |L| and u(g) |L| in its place");
	snprintf(text, sizeof text, "2 u |L| and u |L| of each instrument, u = %.9g", terms->drift);
	put_line(out, a, LEVEL_LINE_DRIFT, text);
	put_line(
	    out, a, LEVEL_LINE_READING,
	    c->offsets
	        ? "sum over sights of w x 2 u, u in quadrature, by method a + b d; a set whose "
	          "spread says more has t v and v; offsets their own, a limit whole and / "
	          "sqrt 3"
	        : "sum over sights of w x 2 u, u in quadrature, by method a + b d; a set whose "
	          "spread says more has t v and v");
	put_refraction(out, run);
	put_line(out, a, LEVEL_LINE_DECLARED, "as declared, each / sqrt 3 and in quadrature");
	put_declared(out, terms);
	snprintf(text, sizeof text,
	         "t v of each end; the floor %.9f of each; declared %.9f; slope x length where it "
	         "flows; set up by wind; all but v / sqrt 3, in quadrature",
	         terms->water_floor, terms->water);
	put_line(out, a, LEVEL_LINE_WATER, c->ends.water ? text : "no water enters");
	put_means(out, c);
	put_line(out, a, LEVEL_LINE_KNOWN,
	         "2 (u start + u end), in quadrature; 0 where both are one mark or one surface");
	put_lengths(out, run);
	fprintf(out, "  if all add up: B = sum of the bounds = %.9f\n", a->total_bound);
	put_u95(out, a);
	fprintf(out, "  the total %s decides: %.9f\n",
	        terms->decides == LEVEL_BY_ALL ? "if all add up" : "at 95 %", a->decides);
}

static void put_interval(FILE *out, const struct work_run *run)
{
	const struct level_finding *f = &run->closing.finding;
	fprintf(out,
	        "  1/R is every K with |C - K S'/2| within the allowance at K, for which the air's "
	        "side goes by the sign of C - K S'/2 (turned), and a by a + K b:\n"
	        "      from %.9g to %.9g, middle 2C/S' = %.9g 1/m; the prediction is %.9g\n",
	        f->low, f->high, f->middle, 1 / run->terms.terms.radius);
}

void stated_drop(FILE *out, const struct stated *stated)
{
	const struct work_run *run = stated->run;
	const struct level_closing *c = &run->closing;
	const struct level_terms *terms = &run->terms.terms;
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	char text[300];
	drop_waters(out, run);
	if (c->has_observed)
		fprintf(out,
		        "  D = sum w s (g d + e) - misclosure = %.9f - (%+.9f) = %+.9f\n"
		        "  F = -k S/2R0 = %+.9f, what a flat surface would show in this air\n"
		        "  C = D - F = %+.9f, the curvature shown\n",
		        level_known_light_error(sums, terms), level_to_meters(c->misclosure),
		        c->observed, c->flat, c->shown);
	if (work_drop_of(run) != WORK_ANSWERED) {
		report_no_answer(c, text, sizeof text);
		fprintf(out, "no answer: %s\n", text);
		return;
	}
	fprintf(out, "  P = %+.9f; S' = S - sum pegs x L = %.6f m^2, so C is turned by %+.0f\n",
	        c->predicted, level_drop_span(sums, terms), c->finding.turn);
	put_allowance(out, run);
	fprintf(out, "  margin = C turned - allowance = %+.9f - %.9f = %+.9f\n",
	        c->shown * c->finding.turn, c->allowance.decides, c->margin);
	put_interval(out, run);
	drop_radius(out, &c->finding);
	fprintf(out, "%s: %s%s\n", level_answer_code(c->finding.answer),
	        level_answer_sentence(c->finding.answer), level_answer_reserve(&c->finding));
	drop_rule(out, run);
	if (c->finding.answer == LEVEL_NOT_SEPARATED)
		drop_shortest(out, run);
}
