/* The numbers of a statement, so that a calculator gets from the readings to the answer. */
#include <math.h>
#include <string.h>

#include "report/front/front.h"
#include "report/drop/drop.h"
#include "report/quantities.h"
#include "report/statement/stated.h"

/* A quantity of sight, or instrument, number n. */
static void put(FILE *out, const char *what, size_t n, const char *name, double value,
                const char *unit)
{
	char text[60];
	snprintf(text, sizeof text, "%s_%zu_%s", what, n, name);
	quantity_real(out, text, true, value, unit);
}

static void put_text(FILE *out, const char *what, size_t n, const char *name, const char *value)
{
	char text[60];
	snprintf(text, sizeof text, "%s_%zu_%s", what, n, name);
	quantity_text(out, text, value);
}

static void put_sights(FILE *out, const struct stated *stated)
{
	const struct level_run *run = &stated->run->book.run;
	size_t n = 0;
	for (size_t i = 0; i < run->count; i++) {
		const struct level_part *p = &stated->part[i];
		if (!level_counted(&run->sight[i]))
			continue;
		n++;
		put_text(out, "sight", n, "station", run->sight[i].station);
		put(out, "sight", n, "setup", p->setup, "");
		put(out, "sight", n, "s", p->sign, "");
		put(out, "sight", n, "w", p->weight, "");
		put(out, "sight", n, run->sight[i].kind == LEVEL_OFF ? "offset" : "b", p->reading,
		    "m");
		if (p->distance > 0) {
			put(out, "sight", n, "d", p->distance, "m");
			put(out, "sight", n, "c", p->curvature, "m");
			put(out, "sight", n, "r", p->refraction, "m");
		}
		put(out, "sight", n, "e", p->rod_error, "m");
		put(out, "sight", n, "u", p->mean.u, "m");
		put(out, "sight", n, "bound", p->mean.bound, "m");
		put(out, "sight", n, "freedom", isinf(p->mean.freedom) ? 0 : p->mean.freedom, "");
		if (run->sight[i].kind != LEVEL_OFF)
			put(out, "sight", n, "instrument", run->sight[i].instrument, "");
	}
}

static void put_instruments(FILE *out, const struct work_run *run)
{
	for (int i = 0; i < run->book.instruments; i++) {
		const struct level_instrument *with = &run->terms.terms.instrument[i];
		bool counts = level_test_counts(&run->terms.terms, i);
		bool crossing = run->book.run.kind == LEVEL_CROSSING;
		put_text(out, "instrument", (size_t)i, "name", run->book.instrument[i]);
		put(out, "instrument", (size_t)i, "tolerance", with->tolerance, "m/m");
		put(out, "instrument", (size_t)i, "test_counts", counts, "");
		put(out, "instrument", (size_t)i, "g",
		    crossing ? level_light_tilt(&run->terms.terms, i)
		    : counts ? with->tilt
		             : 0,
		    "m/m");
		put(out, "instrument", (size_t)i, "u", counts ? with->u : 0, "m/m");
		put(out, "instrument", (size_t)i, "sets", counts ? with->sets : 0, "");
		put(out, "instrument", (size_t)i, "pegs",
		    crossing ? level_pegs_g(&run->terms.terms, i) : 0, "m");
	}
}

static void put_terms(FILE *out, const struct work_run *run)
{
	const struct level_terms *t = &run->terms.terms;
	size_t n = 0;
	quantity_real(out, "R", true, t->radius, "m");
	quantity_real(out, "R0", true, LEVEL_MEAN_RADIUS, "m");
	quantity_real(out, "k", true, t->k, "");
	quantity_real(out, "dk_low", true, t->dk_low, "");
	quantity_real(out, "dk_high", true, t->dk_high, "");
	quantity_real(out, "air_common", t->air_declared, t->air_common, "");
	quantity_real(out, "drift", true, t->drift, "m/m");
	quantity_real(out, "depth", true, t->depth, "m");
	quantity_real(out, "wind", true, t->wind, "m/s");
	quantity_real(out, "water", true, t->water, "m");
	quantity_real(out, "water_floor", true, t->water_floor, "m");
	quantity_real(out, "flow", true, t->flow, "m/m");
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (t->declared[i].bound > 0 || t->declared[i].slope > 0) {
			put(out, "declared", ++n, "bound", t->declared[i].bound, "m");
			put(out, "declared", n, "slope", t->declared[i].slope, "m/m");
		}
	quantity_text(out, "decides", t->decides == LEVEL_BY_ALL ? "all" : "u95");
}

static void put_closing(FILE *out, const struct stated *stated)
{
	const struct work_run *run = stated->run;
	const struct level_closing *c = &run->closing;
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	quantity_real(out, "start", c->setups > 0, level_to_meters(c->start), "m");
	quantity_real(out, "end", c->has_end, level_to_meters(c->end), "m");
	quantity_real(out, "known_end", c->has_known_end, level_to_meters(c->known_end), "m");
	quantity_real(out, "misclosure", c->has_misclosure, level_to_meters(c->misclosure), "m");
	quantity_real(out, "corrected", c->has_corrected, level_to_meters(c->corrected), "m");
	quantity_real(out, "length", c->has_length, level_to_meters(c->length), "m");
	quantity_count(out, "setups", c->setups);
	quantity_real(out, "allowable", c->has_allowable, level_to_meters(c->allowable), "m");
	quantity_real(out, "S", c->has_length, 0 - sums->s_d2, "m^2");
	quantity_real(out, "P", c->has_drop, c->predicted, "m");
	quantity_real(out, "D", c->has_observed, c->observed, "m");
	quantity_real(out, "S_prime", c->has_length && run->book.run.kind == LEVEL_CROSSING,
	              level_drop_span(sums, &run->terms.terms), "m^2");
	quantity_real(out, "F", c->has_drop, c->flat, "m");
	quantity_real(out, "C", c->has_observed, c->shown, "m");
}

/* Writes the figures that the allowable is computed from. Writes nothing if the run has none. */
static void put_rule(FILE *out, const struct work_run *run)
{
	const struct level_allowed_by by =
	    level_allowed_by(&run->closing, run->book.run.kind, run->settings.setup_figure);
	if (by.per_km <= 0 && by.per_setup <= 0)
		return;
	quantity_real(out, "allowable_per_km", by.per_km > 0, by.per_km, "m");
	quantity_real(out, "allowable_length", by.per_km > 0, by.length, "m");
	quantity_real(out, "allowable_per_setup", by.per_setup > 0, by.per_setup, "m");
	quantity_real(out, "allowable_cap", by.cap > 0, by.cap, "m");
}

static void put_ends(FILE *out, const struct level_closing *c)
{
	static const char *const ends[] = {"start", "end"};
	char text[40];
	quantity_count(out, "water_counts", c->ends.water);
	for (int i = 0; i < 2; i++) {
		snprintf(text, sizeof text, "water_%s_v", ends[i]);
		quantity_real(out, text, true, c->ends.mean[i].u, "m");
		snprintf(text, sizeof text, "water_%s_bound", ends[i]);
		quantity_real(out, text, true, c->ends.mean[i].bound, "m");
		snprintf(text, sizeof text, "water_%s_freedom", ends[i]);
		quantity_real(out, text, true,
		              isinf(c->ends.mean[i].freedom) ? 0 : c->ends.mean[i].freedom, "");
	}
	for (int i = 0; i < 2; i++) {
		snprintf(text, sizeof text, "known_%s_u", ends[i]);
		quantity_real(out, text, true, c->ends.known_u[i], "m");
	}
}

static void put_lengths(FILE *out, const struct work_run *run)
{
	static const struct level_identity nobody;
	struct level_length lengths[LEVEL_LENGTHS_MOST];
	size_t count =
	    level_run_lengths(&run->book.run, &run->page, &run->terms.terms, &nobody, lengths);
	for (size_t i = 0; i < count; i++) {
		put(out, "length", i + 1, "d", lengths[i].distance, "m");
		put(out, "length", i + 1, "u", lengths[i].u, "m");
		put(out, "length", i + 1, "a", lengths[i].a, "");
		put(out, "length", i + 1, "b", lengths[i].b, "m");
	}
}

static void put_allowance(FILE *out, const struct level_closing *c)
{
	char text[40];
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		const char *name = level_allowance_name((enum level_allowance_line)i);
		snprintf(text, sizeof text, "bound_%s", name);
		quantity_real(out, text, true, c->allowance.bound[i], "m");
		snprintf(text, sizeof text, "u_%s", name);
		quantity_real(out, text, true, c->allowance.u[i], "m");
	}
	quantity_real(out, "u", true, c->allowance.u_total, "m");
	quantity_real(out, "freedom", true, isinf(c->allowance.freedom) ? 0 : c->allowance.freedom,
	              "");
	quantity_real(out, "B", true, c->allowance.total_bound, "m");
	quantity_real(out, "U", true, c->allowance.total_u95, "m");
	quantity_real(out, "margin", true, c->margin, "m");
}

void stated_csv(FILE *out, const struct stated *stated, const struct book_verified *verified)
{
	const struct work_run *run = stated->run;
	quantity_header(out);
	quantity_text(out, "run", run->book.info.name);
	quantity_text(out, "kind", level_run_kind_name(run->book.run.kind));
	quantity_count(out, "journal", verified->last);
	quantity_text(out, "digest", verified->digest);
	put_terms(out, run);
	put_instruments(out, run);
	put_sights(out, stated);
	put_closing(out, stated);
	if (run->closing.has_drop) {
		put_ends(out, &run->closing);
		put_allowance(out, &run->closing);
	}
	put_rule(out, run);
	if (!run->closing.has_drop)
		return;
	if (run->book.run.kind != LEVEL_CROSSING)
		return;
	put_lengths(out, run);
	drop_answer_csv(out, "answer", &run->closing.finding);
	drop_interval_csv(out, "", &run->closing.finding);
	front_csv(out, run);
}
