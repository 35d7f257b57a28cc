/* What the drop of a crossing says, with every number that it follows from, in meters. */
#include <math.h>
#include <string.h>

#include "paper/drop.h"
#include "paper/stated.h"
#include "rodbook/quantile.h"

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
	double t = level_coverage(a->freedom);
	fprintf(out, "  at 95 %%: u = root of the sum of u^2 = %.9f;\n", a->u_total);
	if (isinf(a->freedom))
		fputs("      no spread of readings counts, so t = 2;\n", out);
	else
		fprintf(out,
		        "      f = u^4 / sum of v^4/f over the spreads of readings = %.9g, so t = "
		        "%.9f, Student's and at least 2;\n",
		        a->freedom, t);
	fprintf(
	    out,
	    "      U = %.9f, the greater of t u = %.9f and the largest t v of one spread, never "
	    "above B\n",
	    a->total_u95, t * a->u_total);
}

static void put_allowance(FILE *out, const struct paper_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_allowance *a = &c->allowance;
	char text[300];
	fprintf(out, "the allowance, line by line, in m:\n");
	put_line(out, a, LEVEL_LINE_INSTRUMENT,
	         "sum over instruments of tolerance x |sum w s d|, u of each / sqrt 3 and in "
	         "quadrature; where a test counts 2 u(g) and u(g) in its place");
	put_line(out, a, LEVEL_LINE_READING,
	         "sum over sights of w x 2 u, u in quadrature, by method a + b d; a set whose "
	         "spread says more has t v and v");
	snprintf(text, sizeof text,
	         "dk = %.9g: sum of w dk d^2/2R0, u of a setup dk/2 x |sum w s d^2|/2R0, in "
	         "quadrature; a share %.3g of the variance is common to all setups",
	         run->terms.terms.dk, run->terms.terms.air_common);
	put_line(out, a, LEVEL_LINE_REFRACTION, text);
	put_line(out, a, LEVEL_LINE_DECLARED, "as declared, each / sqrt 3 and in quadrature");
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (run->terms.terms.declared[i].bound > 0)
			fprintf(out, "      %s %.9f\n",
			        *run->terms.terms.declared[i].name
			            ? run->terms.terms.declared[i].name
			            : "declared",
			        run->terms.terms.declared[i].bound);
	snprintf(
	    text, sizeof text,
	    "the greater of water %.9f and its floor %.9f, / sqrt 3; + slope x length where it "
	    "flows; + t v of each end, v in quadrature",
	    run->terms.terms.water, run->terms.terms.water_floor);
	put_line(out, a, LEVEL_LINE_WATER, c->ends.water ? text : "it ends where it began: none");
	put_means(out, c);
	put_line(out, a, LEVEL_LINE_KNOWN,
	         "2 (u start + u end), in quadrature; 0 where both are one mark or one surface");
	fprintf(out, "  all at once: B = sum of the bounds = %.9f\n", a->total_bound);
	put_u95(out, a);
	fprintf(out, "  the %s decides: %.9f\n",
	        run->terms.terms.decides == LEVEL_BY_BOUND ? "bound" : "total at 95 %", a->decides);
}

void stated_drop(FILE *out, const struct stated *stated)
{
	const struct paper_run *run = stated->run;
	const struct level_closing *c = &run->closing;
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	double turned = c->observed * c->finding.turn;
	drop_waters(out, run);
	fprintf(out,
	        "  D = sum w s (g d + e) - misclosure = %.9f - (%+.9f) = %+.9f\n"
	        "  P = %+.9f, S = %+.6f m^2, so the drop is turned by %+.0f\n",
	        level_known_error(sums, &run->terms.terms), level_to_meters(c->misclosure),
	        c->observed, c->predicted, 0 - sums->s_d2, c->finding.turn);
	put_allowance(out, run);
	fprintf(out,
	        "  margin = D turned - allowance = %+.9f - %.9f = %+.9f\n"
	        "  D turned less P turned = %+.9f\n",
	        turned, c->allowance.decides, c->margin, turned - c->predicted * c->finding.turn);
	fprintf(out, "  1/R = 2D/S + k/R0, with D - allowance and D + allowance likewise:\n");
	drop_radius(out, &c->finding);
	fprintf(out, "%s: %s\n", level_answer_code(c->finding.answer),
	        level_answer_sentence(c->finding.answer));
	if (c->finding.answer == LEVEL_NOT_SEPARATED)
		drop_shortest(out, run);
}
