#include "work/crossing/crossings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Names that may be shared, each a number: a crossing has this many at most. */
#define NAMES_MOST (LEVEL_COMBINE_MOST * (LEVEL_INSTRUMENTS + LEVEL_DECLARED_MOST + 5))

struct names {
	char (*name)[2 * LEVEL_STATION_BYTES + 40];
	int count;
};

/* The number of a name, from 1 on; what is shared goes by name. */
static int number_of(struct names *names, const char *kind, const char *what, const char *more)
{
	char name[sizeof *names->name];
	snprintf(name, sizeof name, "%s\t%s\t%s", kind, what, more);
	for (int i = 0; i < names->count; i++)
		if (strcmp(names->name[i], name) == 0)
			return i + 1;
	strcpy(names->name[names->count++], name);
	return names->count;
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

/* The instruments of a run among all, and the state of adjustment of each: with another tilt found
 * it is another one. */
static bool take_instruments(struct crossings *out, struct names *names, const struct work_run *run,
                             struct level_identity *identity, int index[LEVEL_INSTRUMENTS],
                             struct fault *why)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	for (int i = 0; i < run->book.instruments; i++) {
		char figure[LEVEL_NAME_BYTES + 20], tilt[BOOK_VALUE_BYTES] = "";
		if (sums->s_d[i] == 0)
			continue;
		index[i] = instrument_of(out, run->book.instrument[i]);
		if (index[i] < 0)
			return fault_say(why, FAULT_INPUT,
			                 "crossings with more than %d instruments are not combined",
			                 LEVEL_INSTRUMENTS);
		snprintf(figure, sizeof figure, "tilt %s", run->book.instrument[i]);
		if (level_test_counts(&run->terms.terms, i))
			book_figure(&run->terms.figures, figure, tilt);
		tilt[60] = '\0';
		identity->state[i] = number_of(names, "level", run->book.instrument[i], tilt);
	}
	return true;
}

static void take_marks(struct names *names, const struct work_run *run, const char *day,
                       struct level_identity *identity)
{
	const struct level_line *line = level_page_line(&run->page);
	const char *start = run->book.run.sight[line->start_row].station;
	const char *end = run->book.run.sight[line->end_row].station;
	const struct level_terms *terms = &run->terms.terms;
	identity->back = strcmp(start, end) > 0;
	identity->pair =
	    number_of(names, "pair", identity->back ? end : start, identity->back ? start : end);
	identity->start = number_of(names, "station", start, "");
	identity->end = number_of(names, "station", end, "");
	identity->day = number_of(names, "day", day, "");
	identity->run = number_of(names, "run", run->book.info.name, "");
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		identity->declared[i] = number_of(names, "declared", terms->declared[i].name, "");
}

static bool make_ready(struct crossings *out, struct names *names, const struct work_run *run,
                       struct level_crossing *c, struct crossing_row *row, struct fault *why)
{
	const struct level_drop_sums *sums = &level_page_sums(&run->page)->drop;
	const struct level_closing *closing = &run->closing;
	const struct level_line *line = level_page_line(&run->page);
	const struct level_terms *terms = &run->terms.terms;
	const char *time = run->book.note[line->start_row].time;
	struct level_identity identity = {0};
	int index[LEVEL_INSTRUMENTS] = {0};

	*row = (struct crossing_row){.reach = sqrt(fabs(sums->s_d2)),
	                             .turn = closing->finding.turn,
	                             .observed = closing->observed,
	                             .predicted = closing->predicted,
	                             .flat = closing->flat,
	                             .allowance = closing->allowance.decides,
	                             .k = {terms->k, terms->dk_low, terms->dk_high},
	                             .k_source = run->terms.k_source,
	                             .radius = terms->radius,
	                             .answer = closing->finding.answer,
	                             .closed = run->book.info.closed,
	                             .reopened = run->book.info.reopened,
	                             .sealed = run->terms.sealed,
	                             .late = run->terms.late,
	                             .amended = run->terms.amendments > 0};
	strcpy(row->run, run->book.info.name);
	snprintf(row->day, sizeof row->day, "%.10s", *time ? time : run->book.info.time);
	take_marks(names, run, row->day, &identity);
	if (!take_instruments(out, names, run, &identity, index, why))
		return false;
	level_crossing_of(sums, terms, &closing->ends, &identity, index, closing->observed, c);
	c->lengths = level_run_lengths(&run->book.run, &run->page, terms, &identity, c->length);
	if (terms->decides == LEVEL_BY_ALL)
		out->decides = LEVEL_BY_ALL;
	return true;
}

/* The run is the list's from then on. */
static void leave_out(struct crossings *out, const char *name, struct work_run *run,
                      const struct fault *unread)
{
	struct crossing_left *left = &out->left[out->left_count];
	if (out->left_count == LEVEL_COMBINE_MOST) {
		work_run_free(run);
		free(run);
		return;
	}
	out->left_count++;
	snprintf(left->name, sizeof left->name, "%s", name);
	left->run = run;
	left->unread = *unread;
}

static bool add(struct crossings *out, struct names *names, struct work_run *run, struct fault *why)
{
	size_t at = out->count;
	if (at == LEVEL_COMBINE_MOST)
		return fault_say(why, FAULT_INPUT, "at most %d crossings are combined",
		                 LEVEL_COMBINE_MOST);
	out->count++;
	return make_ready(out, names, run, &out->ready[at], &out->row[at], why);
}

static bool take(struct book *book, const struct book_run_info *info, bool asked_for,
                 struct crossings *out, struct names *names, struct fault *why)
{
	struct work_run *run = calloc(1, sizeof *run);
	struct fault unread = {0};
	bool ok;
	if (!run)
		return fault_memory(why);
	if (!work_run_load_listed(book, info, run, &unread) &&
	    (asked_for || unread.kind != FAULT_SPOILED)) {
		free(run);
		return fault_say(why, unread.kind, "%s", unread.text);
	}
	if (unread.kind || work_drop_of(run) != WORK_ANSWERED) {
		leave_out(out, info->name, run, &unread);
		return true;
	}
	ok = add(out, names, run, why);
	work_run_free(run);
	free(run);
	return ok;
}

static bool take_all(struct book *book, struct crossings *out, struct names *names,
                     struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!book_runs(book, &runs, &count, why))
		return false;
	for (size_t i = 0; ok && i < count; i++)
		if (runs[i].kind == LEVEL_CROSSING)
			ok = take(book, &runs[i], false, out, names, why);
	free(runs);
	return ok;
}

bool crossings_load(struct book *book, const char *const *names, size_t count,
                    struct crossings *out, struct fault *why)
{
	struct names shared = {0};
	struct book_settings settings;
	struct book_run_info info;
	bool ok = true;
	*out = (struct crossings){.decides = LEVEL_BY_U95};
	if (!book_settings(book, &settings, why))
		return false;
	out->style = settings.style;
	shared.name = calloc(NAMES_MOST, sizeof *shared.name);
	out->ready = calloc(LEVEL_COMBINE_MOST, sizeof *out->ready);
	out->row = calloc(LEVEL_COMBINE_MOST, sizeof *out->row);
	out->left = calloc(LEVEL_COMBINE_MOST, sizeof *out->left);
	if (!shared.name || !out->ready || !out->row || !out->left) {
		free(shared.name);
		return fault_memory(why);
	}
	for (size_t i = 0; ok && i < count; i++) {
		for (size_t j = 0; j < i; j++)
			if (strcmp(names[i], names[j]) == 0)
				ok = fault_say(why, FAULT_INPUT, "%.160s is named twice", names[i]);
		ok = ok && book_run_find(book, names[i], &info, why) &&
		     take(book, &info, true, out, &shared, why);
	}
	if (count == 0)
		ok = take_all(book, out, &shared, why);
	free(shared.name);
	return ok;
}

void crossings_free(struct crossings *crossings)
{
	for (size_t i = 0; i < crossings->left_count; i++) {
		work_run_free(crossings->left[i].run);
		free(crossings->left[i].run);
	}
	free(crossings->ready);
	free(crossings->row);
	free(crossings->left);
}
