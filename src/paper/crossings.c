#include "paper/crossings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define KEYS_MOST (LEVEL_COMBINE_MOST * LEVEL_SOURCES_MOST)

/* What is shared goes by name: the same name is the same error. */
struct keys {
	char (*key)[2 * LEVEL_STATION_BYTES + 40];
	int count;
};

static int key_id(struct keys *keys, const char *kind, const char *what, const char *day)
{
	char key[sizeof *keys->key];
	snprintf(key, sizeof key, "%s\t%s\t%s", kind, what, day);
	for (int i = 0; i < keys->count; i++)
		if (strcmp(keys->key[i], key) == 0)
			return i + 1;
	strcpy(keys->key[keys->count++], key);
	return keys->count;
}

static void add_source(struct level_crossing *c, int id, double u, double bound)
{
	if (u != 0 || bound != 0)
		c->source[c->sources++] = (struct level_source){.id = id, .u = u, .bound = bound};
}

/* What spreads of readings gave: a crossing's own, of which nothing is shared. */
static void add_sampled(struct level_crossing *c, int id, double u, double bound,
                        const struct level_sampled *sampled)
{
	if (u != 0 || bound != 0)
		c->source[c->sources++] = (struct level_source){id, u, bound, *sampled};
}

static int instrument_of(struct crossings *out, const char *name)
{
	for (int i = 0; i < out->instruments; i++)
		if (strcmp(out->instrument[i], name) == 0)
			return i;
	if (out->instruments == LEVEL_INSTRUMENTS)
		return -1;
	strcpy(out->instrument[out->instruments], name);
	return out->instruments++;
}

/* A tilt upward makes far readings too large, and the drop too small by tilt x sum s d. */
static bool add_tilts(struct crossings *out, struct keys *keys, const struct paper_run *run,
                      struct level_crossing *c, struct fault *why)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	for (int i = 0; i < run->book.instruments; i++) {
		const struct level_instrument *with = &run->terms.terms.instrument[i];
		int index, id;
		bool tested = level_test_counts(with);
		if (sums->s_d[i] == 0)
			continue;
		index = instrument_of(out, run->book.instrument[i]);
		if (index < 0)
			return fault_say(why, FAULT_INPUT,
			                 "crossings with more than %d instruments are not combined",
			                 LEVEL_INSTRUMENTS);
		id = key_id(keys, "tilt", run->book.instrument[i], "");
		c->s_d[index] = sums->s_d[i];
		c->tilt_source[index] = id;
		add_source(c, id, -sums->s_d[i] * (tested ? with->u : with->tolerance / sqrt(3.0)),
		           -sums->s_d[i] * (tested ? 2 * with->u : with->tolerance));
	}
	return true;
}

/* Errors of the two marks turn their sign with the direction. */
static void add_marks(struct keys *keys, const struct paper_run *run, const char *day,
                      struct level_crossing *c)
{
	const struct level_line *line = level_page_line(&run->page);
	const struct level_sight *start = &run->book.run.sight[line->start_row];
	const struct level_sight *end = &run->book.run.sight[line->end_row];
	const struct level_closing *closing = &run->closing;
	const struct level_terms *terms = &run->terms.terms;
	bool forward = strcmp(start->station, end->station) <= 0;
	double turn = forward ? 1 : -1, water = fmax(terms->water, terms->water_floor), flow = 0;
	char pair[2 * LEVEL_STATION_BYTES + 2];

	snprintf(pair, sizeof pair, "%s\n%s", forward ? start->station : end->station,
	         forward ? end->station : start->station);
	add_source(c, key_id(keys, "declared", pair, ""),
	           turn * closing->allowance.u[LEVEL_LINE_DECLARED],
	           turn * closing->allowance.bound[LEVEL_LINE_DECLARED]);
	if (closing->ends.water) {
		if (terms->flow > 0)
			flow = terms->flow * level_page_sums(&run->page)->drop.length;
		add_source(c, key_id(keys, "water", pair, day),
		           turn * sqrt((water * water + flow * flow) / 3), turn * (water + flow));
	}
	if (closing->ends.known_bound > 0) {
		double u_start = level_to_meters(start->known_u),
		       u_end = level_to_meters(end->known_u);
		add_source(c, key_id(keys, "mark", start->station, ""), -u_start, -2 * u_start);
		add_source(c, key_id(keys, "mark", end->station, ""), u_end, 2 * u_end);
	}
}

/* What a reader must know of how its figures came about. */
static const char *seal_words(const struct book_terms *terms)
{
	if (!terms->sealed)
		return "not sealed";
	if (terms->late)
		return terms->amendments ? "late, amended" : "late";
	return terms->amendments ? "amended" : "";
}

/* The drop of these ends as it is, and its sources. */
static bool make_ready(struct crossings *out, struct keys *keys, const struct paper_run *run,
                       struct level_crossing *c, struct crossing_row *row, struct fault *why)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	const struct level_closing *closing = &run->closing;
	const struct level_line *line = level_page_line(&run->page);
	const char *time = run->book.note[line->start_row].time;
	double turn = closing->finding.turn;

	*row = (struct crossing_row){.reach = sqrt(fabs(sums->s_d2)),
	                             .turn = turn,
	                             .observed = closing->observed,
	                             .predicted = closing->predicted,
	                             .allowance = closing->allowance.decides,
	                             .answer = closing->finding.answer,
	                             .state = paper_state(&run->book.info),
	                             .seal = seal_words(&run->terms)};
	strcpy(row->run, run->book.info.name);
	snprintf(row->day, sizeof row->day, "%.10s", *time ? time : run->book.info.time);
	*c = (struct level_crossing){.observed = closing->observed,
	                             .predicted = closing->predicted,
	                             .s_d2 = sums->s_d2,
	                             .k = run->terms.terms.k,
	                             .radius = run->terms.terms.radius};
	if (!add_tilts(out, keys, run, c, why))
		return false;
	add_sampled(c, key_id(keys, "reading", row->run, ""), sqrt(sums->reading_variance),
	            sums->reading_bound, &sums->sampled);
	/* One day's air is taken as one: what it does to a drop, it does to all of that day. */
	add_source(c, key_id(keys, "air", "", row->day),
	           -run->terms.terms.dk / 2 * sums->s_d2 / (2 * LEVEL_MEAN_RADIUS),
	           turn * sums->refraction_bound);
	add_marks(keys, run, row->day, c);
	for (int i = 0; i < 2; i++) {
		const struct level_mean_u *mean = &closing->ends.mean[i];
		struct level_sampled sampled = level_sampled_of(mean);
		add_sampled(c, key_id(keys, i ? "water at end" : "water at start", row->run, ""),
		            mean->u, mean->bound, &sampled);
	}
	if (run->terms.terms.decides == LEVEL_BY_BOUND)
		out->decides = LEVEL_BY_BOUND;
	return true;
}

static bool take(struct book *book, const char *name, bool asked_for, struct crossings *out,
                 struct keys *keys, struct fault *why)
{
	struct paper_run run;
	char text[480];
	bool ok = true;
	if (!paper_load(book, name, NULL, &run, why))
		return false;
	if (paper_no_drop(&run, text, sizeof text)) {
		if (asked_for)
			ok = fault_say(why, FAULT_INPUT, "%.100s: %s", name, text);
	} else if (out->count == LEVEL_COMBINE_MOST) {
		ok = fault_say(why, FAULT_INPUT, "at most %d crossings are combined",
		               LEVEL_COMBINE_MOST);
	} else {
		ok = make_ready(out, keys, &run, &out->ready[out->count], &out->row[out->count],
		                why);
		out->count++;
	}
	paper_free(&run);
	return ok;
}

static bool take_all(struct book *book, struct crossings *out, struct keys *keys, struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!book_runs(book, &runs, &count, why))
		return false;
	for (size_t i = 0; ok && i < count; i++)
		if (runs[i].kind == LEVEL_CROSSING)
			ok = take(book, runs[i].name, false, out, keys, why);
	free(runs);
	return ok;
}

bool crossings_load(struct book *book, const char *const *names, size_t count,
                    struct crossings *out, struct fault *why)
{
	struct keys keys = {0};
	struct book_settings settings;
	bool ok = true;
	*out = (struct crossings){.decides = LEVEL_BY_U95};
	if (!book_settings(book, &settings, why))
		return false;
	out->style = settings.style;
	keys.key = calloc(KEYS_MOST, sizeof *keys.key);
	out->ready = calloc(LEVEL_COMBINE_MOST, sizeof *out->ready);
	out->row = calloc(LEVEL_COMBINE_MOST, sizeof *out->row);
	if (!keys.key || !out->ready || !out->row) {
		free(keys.key);
		return fault_say(why, FAULT_FILE, "out of memory");
	}
	for (size_t i = 0; ok && i < count; i++) {
		for (size_t j = 0; j < i; j++)
			if (strcmp(names[i], names[j]) == 0)
				ok = fault_say(why, FAULT_INPUT, "%.160s is named twice", names[i]);
		ok = ok && take(book, names[i], true, out, &keys, why);
	}
	if (count == 0)
		ok = take_all(book, out, &keys, why);
	free(keys.key);
	return ok;
}

void crossings_free(struct crossings *crossings)
{
	free(crossings->ready);
	free(crossings->row);
}
