#include "report/page/banks.h"

#include <math.h>

#include "report/lines.h"
#include "report/quantities.h"
#include "rodbook/level/reciprocal.h"

/* The pair that the setup of a BS makes with the one before it. */
static bool pair_at(const struct work_run *run, size_t at, struct level_reciprocal_pair *out)
{
	const struct level_sight *sight = &run->book.run.sight[at];
	return level_counted(sight) && sight->kind == LEVEL_BS &&
	       level_reciprocal_in(&run->book.run, &run->page, at, &run->terms.terms, out) &&
	       out->first < at;
}

static void put_pair(FILE *out, const struct work_run *run, size_t at,
                     const struct level_reciprocal_pair *pair)
{
	const struct level_style *style = &run->settings.style;
	struct level_style finer = lines_finer(style);
	const struct level_reciprocal *got = &pair->got;
	char rise[LEVEL_LENGTH_BYTES], u[LEVEL_LENGTH_BYTES], off[LEVEL_LENGTH_BYTES];
	fprintf(out,
	        "reciprocal, setups %d and %d: rise from %s to %s %s%s, u %s by the readings\n",
	        run->page.row[pair->first].setup, run->page.row[at].setup, pair->a, pair->b,
	        level_format_length(rise, got->rise, &finer, true), level_unit_after(style->unit),
	        report_meters(u, got->u_rise, style, false));
	fprintf(out, "  curvature, air and tilt make each far sight read %s too %s%s",
	        level_format_length(off, got->combined < 0 ? -got->combined : got->combined, &finer,
	                            false),
	        got->combined < 0 ? "low" : "high", got->has_k ? "" : "\n");
	if (got->has_k)
		fprintf(out, "; k %.3f, u %.3f, by these sights\n", got->k, got->u_k);
}

void banks_lines(FILE *out, const struct work_run *run)
{
	struct level_reciprocal_pair pair;
	for (size_t i = 0; i < run->book.run.count; i++)
		if (pair_at(run, i, &pair))
			put_pair(out, run, i, &pair);
}

void banks_csv(FILE *out, const struct work_run *run)
{
	const struct level_style *style = &run->settings.style;
	struct level_reciprocal_pair pair;
	char name[80];
	for (size_t i = 0; i < run->book.run.count; i++) {
		int used;
		if (!pair_at(run, i, &pair))
			continue;
		used = snprintf(name, sizeof name, "reciprocal_%d_%d_",
		                run->page.row[pair.first].setup, run->page.row[i].setup);
		snprintf(name + used, sizeof name - (size_t)used, "rise");
		quantity_length(out, name, true, pair.got.rise, style);
		snprintf(name + used, sizeof name - (size_t)used, "u_rise");
		quantity_meters(out, name, true, pair.got.u_rise, style);
		snprintf(name + used, sizeof name - (size_t)used, "far_too_high");
		quantity_length(out, name, true, pair.got.combined, style);
		snprintf(name + used, sizeof name - (size_t)used, "k");
		quantity_real(out, name, pair.got.has_k, pair.got.k, "");
		snprintf(name + used, sizeof name - (size_t)used, "u_k");
		quantity_real(out, name, pair.got.has_k, pair.got.u_k, "");
	}
}
