/* The sums over the sights of a run, written out in meters, and how another run than a crossing
 * closes. */
#include <math.h>
#include <string.h>

#include "report/lines.h"
#include "report/statement/stated.h"

static void put_part(FILE *out, size_t number, const struct level_part *p)
{
	fprintf(out, "%4zu %+d %13.9f %14.9f", number, p->sign, p->reading, p->distance);
	if (p->distance > 0)
		fprintf(out, " %13.9f %13.9f", p->curvature, p->refraction);
	else
		fprintf(out, "     not known");
	if (p->weight < 1)
		fprintf(out, "  w 1/%.0f", 1 / p->weight);
	fputc('\n', out);
	if (p->rod_error != 0)
		fprintf(out, "      the rod reads too high there by e = %.9f\n", p->rod_error);
}

static void put_terms(FILE *out, const struct work_run *run)
{
	const struct level_terms *terms = &run->terms.terms;
	char k[BOOK_VALUE_BYTES];
	report_k(terms, run->terms.k_source, k, sizeof k);
	fprintf(out, "  R = %.12g m, R0 = %.12g m\n  %s\n", terms->radius, LEVEL_MEAN_RADIUS, k);
	fprintf(out, "  c = d^2 / (sqrt(R^2 + d^2) + R), r = k d^2 / 2R0\n");
}

/* sum w s d by instrument, and what tested tilts make of it. */
static void put_tilts(FILE *out, const struct work_run *run)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	for (int i = 0; i < run->book.instruments; i++) {
		const struct level_terms *terms = &run->terms.terms;
		bool counts = level_test_counts(terms, i);
		double tilt = run->book.run.kind == LEVEL_CROSSING ? level_light_tilt(terms, i)
		                                                   : terms->instrument[i].tilt;
		const char *name = run->book.instrument[i];
		if (sums->s_d[i] == 0 && !counts)
			continue;
		fprintf(out, "  sum w s d, %s = %.9f\n", *name ? name : "level without a name",
		        sums->s_d[i]);
		if (counts)
			fprintf(out, "      its tilt g = %.12g: sum w s g d = %.9f\n", tilt,
			        tilt * sums->s_d[i]);
		if (counts && run->book.run.kind == LEVEL_CROSSING && level_pegs_g(terms, i) != 0)
			fprintf(
			    out,
			    "      its pegs: curvature would add %.6f m/2R to a tilt; it is left "
			    "in g, and taken off S\n",
			    level_pegs_g(terms, i));
	}
}

void stated_sums(FILE *out, const struct stated *stated)
{
	const struct work_run *run = stated->run;
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	const struct level_closing *c = &run->closing;
	size_t number = 0;
	fprintf(out, "the sums over completed setups, worked in m (s = +1 for a BS, -1 for an FS; "
	             "w = 1, or 1/n in a setup that stands n times; g the tilt of the level that "
	             "counts, e what the rod reads too high by):\n");
	put_terms(out, run);
	fprintf(out, "%4s %2s %13s %14s %13s %13s\n", "no.", "s", "b", "d", "c", "r");
	for (size_t i = 0; i < run->book.run.count; i++) {
		number += level_counted(&run->book.run.sight[i]);
		if (stated->part[i].sign != 0)
			put_part(out, number, &stated->part[i]);
	}
	fprintf(out, "  sum w s b = sum BS - sum FS = %.9f\n",
	        level_to_meters(c->sum_bs - c->sum_fs));
	if (c->offsets)
		fprintf(
		    out, "  sum of %d %s = %+.9f, in no sum with s; sum u^2 of them = %.12g m^2\n",
		    c->offsets, c->offsets == 1 ? "offset" : "offsets",
		    level_to_meters(c->sum_offsets), level_page_sums(&run->page)->offset_variance);
	if (!c->has_length)
		return;
	put_tilts(out, run);
	if (sums->rods != 0)
		fprintf(out, "  sum w s e = %.9f\n", sums->rods);
	fprintf(out, "  S = -sum w s d^2 = %.6f m^2\n", 0 - sums->s_d2);
	if (run->book.run.kind == LEVEL_CROSSING)
		fprintf(out, "  P = -sum w s (c - r) - sum pegs x L/2R = %.9f\n", c->predicted);
	else
		fprintf(out, "  P = -sum w s (c - r) = %.9f\n", sums->drop);
}

/* The rule by which the allowable follows. */
static void put_rule(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_tolerance *set = c->set;
	const struct level_allowed_by by =
	    level_allowed_by(c, run->book.run.kind, run->settings.setup_figure);
	if (by.per_km > 0)
		fprintf(out, "  allowable = %.6g mm x sqrt(K) = %.9f m, K = %.9f km%s\n",
		        by.per_km * 1000, level_to_meters(c->allowable), by.length / 1000,
		        c->is_double ? ", the shorter way" : "");
	else if (by.per_setup > 0)
		fprintf(out, "  allowable = %.6g mm x sqrt(n) = %.9f m, n = %d setups%s\n",
		        by.per_setup * 1000, level_to_meters(c->allowable), c->setups,
		        by.cap > 0 ? ", never over the set's cap" : "");
	if (by.cap > 0)
		fprintf(out, "      cap %.9g m\n", by.cap);
	fprintf(out, "  by %s: %s\n", set->title, *set->source ? set->source : "no source given");
}

void stated_closing(FILE *out, const struct stated *stated)
{
	const struct work_run *run = stated->run;
	const struct level_closing *c = &run->closing;
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	fprintf(out, "how it closes, in m:\n");
	if (c->has_end)
		fprintf(out, "  page check = (sum BS - sum FS%s) - (end - start) = %.9f: %s\n",
		        c->offsets ? " + sum of offsets" : "", level_to_meters(c->page_check),
		        c->page_holds ? "holds" : "does not hold");
	if (c->has_misclosure && run->book.run.kind != LEVEL_OPEN) {
		bool crossing = run->book.run.kind == LEVEL_CROSSING;
		fprintf(out, "  misclosure = end - known end = %.9f - %.9f = %+.9f\n",
		        level_to_meters(c->end), level_to_meters(c->known_end),
		        level_to_meters(c->misclosure));
		if (c->has_corrected)
			fprintf(out,
			        "  corrected = misclosure + P - sum w s (g d + e) = %+.9f + %.9f - "
			        "%.9f = %+.9f\n",
			        level_to_meters(c->misclosure), c->predicted,
			        crossing ? level_known_light_error(sums, &run->terms.terms)
			                 : level_known_error(sums, &run->terms.terms),
			        level_to_meters(c->corrected));
	}
	if (run->book.run.kind != LEVEL_CROSSING && run->book.run.kind != LEVEL_OPEN &&
	    c->has_allowable)
		put_rule(out, run);
	lines_closure(out, run);
}
