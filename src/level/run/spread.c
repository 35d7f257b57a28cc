/* One run: its misclosure spread over its setups. */
#include "rodbook/level/spread.h"
#include "level/wide.h"
#include "rodbook/level/determination.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const by_names[] = {"distance", "setups"};

const char *level_by_name(enum level_by by)
{
	return by_names[by];
}

bool level_by_find(const char *name, enum level_by *by)
{
	for (int i = 0; i < 2; i++)
		if (strcmp(name, by_names[i]) == 0) {
			*by = (enum level_by)i;
			return true;
		}
	return false;
}

void level_spread_free(struct level_spread *spread)
{
	free(spread->row);
	*spread = (struct level_spread){0};
}

static bool can_spread(const struct level_run *run, const struct level_closing *closing,
                       const enum level_by *by, struct fault *why)
{
	if (run->kind == LEVEL_OPEN)
		return fault_say(why, FAULT_INPUT,
		                 "an open run closes on nothing: it has no misclosure to spread");
	if (run->kind == LEVEL_CROSSING)
		return fault_say(why, FAULT_INPUT,
		                 "the misclosure of a crossing is its observed drop: that is not "
		                 "spread");
	if (closing->setups && !closing->page_holds)
		return fault_say(why, FAULT_INPUT,
		                 "the page check does not hold: mend the line first");
	if (closing->failing)
		return fault_say(why, FAULT_INPUT,
		                 "%.160s does not hold: a miss is not spread; level it again, or "
		                 "set the mark aside",
		                 closing->failing_mark);
	if (!closing->has_misclosure)
		return fault_say(why, FAULT_INPUT,
		                 "it does not end on a known mark: there is nothing to spread");
	if (by && *by == LEVEL_BY_DISTANCE && !closing->has_length)
		return fault_say(why, FAULT_INPUT,
		                 "distances not known: %d; add them, or spread by setups",
		                 closing->unknown_distances);
	return true;
}

/* How far the line has come after a row: length in nm, or setups. */
static int64_t way(const struct level_spread *s, const struct level_row *row)
{
	return s->by == LEVEL_BY_SETUPS ? row->sums.setups
	                                : row->sums.bs_length + row->sums.fs_length;
}

/* What an elevation of the line begins from. */
static level_nm begin(const struct level_spread *s, const struct level_row *row)
{
	return s->corrected && row->has_corrected ? row->corrected : row->elevation;
}

/* An FS or an offset, or the start, whose elevation stays, and which. */
static bool held(const struct level_run *run, const struct level_line *line,
                 const struct level_spread *s, const struct level_closing *closing, size_t i,
                 level_nm *elevation)
{
	const struct level_sight *sight = &run->sight[i];
	if (i == line->end_row)
		*elevation = closing->known_end;
	else if (strcmp(sight->station, run->sight[line->start_row].station) == 0)
		*elevation = closing->start;
	else if (sight->has_known && !sight->aside && !s->start_assumed)
		*elevation = sight->known;
	else
		return false;
	return true;
}

/* Rows (from, to] between two marks that stay. */
struct section {
	size_t from, to;
	int64_t way_from, way_whole;
	level_nm correction_from, correction_to;
};

static void spread_fs(struct level_spread *s, const struct level_page *page, size_t i,
                      const struct section *of)
{
	struct level_spread_row *row = &s->row[i];
	int64_t gone = way(s, &page->row[i]) - of->way_from;
	double unit = s->by == LEVEL_BY_SETUPS ? 1 : 1e12;
	row->has = row->has_share = true;
	row->fixed = i == of->to;
	row->from = begin(s, &page->row[i]);
	row->begins = of->from;
	row->ends = of->to;
	/* Offsets alone have nothing to spread over: the mark that stays has it all. */
	row->p = row->fixed ? 1 : 0;
	row->correction = row->fixed ? of->correction_to : of->correction_from;
	if (of->way_whole) {
		row->p = (double)gone / (double)of->way_whole;
		row->correction =
		    of->correction_from +
		    level_round_ratio((level_wide)(of->correction_to - of->correction_from) * gone,
		                      of->way_whole);
	}
	row->adjusted = row->from + row->correction;
	if (!of->way_whole)
		return;
	row->share = (double)gone / unit * ((double)(of->way_whole - gone) / (double)of->way_whole);
}

/* The IS of a setup: from its BS, as it stands on the line, with the correction of its FS. */
static void spread_is(const struct level_run *run, const struct level_page *page,
                      struct level_spread *s, size_t i, const struct level_spread_row *fs)
{
	level_nm correction = fs->correction;
	const struct level_row *row = &page->row[i];
	struct level_spread_row *out = &s->row[i];
	if (!row->has_elevation)
		return;
	out->has = true;
	out->from = begin(s, row);
	out->correction = correction;
	out->p = fs->p;
	out->begins = fs->begins;
	out->ends = fs->ends;
	if (s->corrected && !row->has_corrected) {
		const struct level_row *bs = &page->row[row->line.bs_row];
		out->uncorrected = true;
		out->from = row->elevation + begin(s, bs) - bs->elevation;
	}
	if (run->sight[i].has_known && !run->sight[i].aside && !s->start_assumed) {
		out->fixed = true;
		out->correction = run->sight[i].known - out->from;
	}
	out->adjusted = out->from + out->correction;
}

static void spread_section(const struct level_run *run, const struct level_page *page,
                           struct level_spread *s, const struct section *of)
{
	size_t setup = of->from + 1; /* first row of the setup */
	for (size_t i = setup; i <= of->to; i++) {
		if (!level_carries(run, page, i))
			continue;
		spread_fs(s, page, i, of);
		for (; setup < i; setup++)
			if (level_counted(&run->sight[setup]) && run->sight[setup].kind == LEVEL_IS)
				spread_is(run, page, s, setup, &s->row[i]);
		setup = i + 1;
	}
	s->sections++;
}

static void spread_all(const struct level_run *run, const struct level_page *page,
                       const struct level_closing *closing, struct level_spread *s)
{
	const struct level_line *line = level_page_line(page);
	struct section at = {.from = line->start_row};
	struct level_spread_row hanging = {.begins = SIZE_MAX, .ends = SIZE_MAX};
	struct level_spread_row *start = &s->row[line->start_row];
	*start = (struct level_spread_row){.has = true,
	                                   .has_share = true,
	                                   .fixed = true,
	                                   .begins = line->start_row,
	                                   .ends = line->start_row,
	                                   .from = closing->start,
	                                   .adjusted = closing->start};
	for (size_t i = line->start_row + 1; i <= line->end_row; i++) {
		level_nm elevation;
		if (!level_carries(run, page, i) || !held(run, line, s, closing, i, &elevation))
			continue;
		at.to = i;
		at.way_whole = way(s, &page->row[i]) - at.way_from;
		at.correction_to = elevation - begin(s, &page->row[i]);
		spread_section(run, page, s, &at);
		at = (struct section){.from = i,
		                      .way_from = at.way_from + at.way_whole,
		                      .correction_from = at.correction_to};
	}
	/* A setup that still lacks its FS hangs off the end mark. */
	hanging.correction = at.correction_from;
	for (size_t i = line->end_row + 1; i < run->count; i++)
		if (level_counted(&run->sight[i]) && run->sight[i].kind == LEVEL_IS)
			spread_is(run, page, s, i, &hanging);
}

bool level_spread(const struct level_run *run, const struct level_page *page,
                  const struct level_closing *closing, const enum level_by *by,
                  struct level_spread *out, struct fault *why)
{
	*out = (struct level_spread){0};
	if (!can_spread(run, closing, by, why))
		return false;
	out->row = calloc(page->count, sizeof *out->row);
	if (!out->row)
		return fault_memory(why);
	out->count = page->count;
	out->by = by ? *by : closing->has_length ? LEVEL_BY_DISTANCE : LEVEL_BY_SETUPS;
	out->fallback = !by && !closing->has_length;
	out->corrected = closing->judged_corrected;
	out->start_assumed = closing->start_assumed;
	out->misclosure = closing->judged;
	spread_all(run, page, closing, out);
	return true;
}

static double known_u(const struct level_sight *sight)
{
	return sight->has_known && !sight->aside ? level_to_meters(sight->known_u) : 0;
}

/* What a path adds to the line up to the start of its section. */
static struct level_path after(const struct level_path *path, const struct level_sums *line)
{
	struct level_path out = *path;
	out.sums.s_d2 -= line->drop.s_d2;
	out.sums.d4 -= line->drop.d4;
	out.sums.reading_variance -= line->drop.reading_variance;
	out.setups_unknown -= level_setups_unknown(line);
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		out.sums.s_d[i] -= line->drop.s_d[i];
	return out;
}

double level_spread_u(const struct level_run *run, const struct level_page *page,
                      const struct level_terms *terms, const struct level_spread *spread,
                      size_t row)
{
	const struct level_spread_row *at = &spread->row[row];
	const struct level_sight *begins, *ends;
	struct level_determination to = {0}, whole;
	struct level_spread_at spread_at;
	if (!at->has)
		return (double)NAN;
	if (at->fixed)
		return known_u(&run->sight[row]);
	if (at->begins == SIZE_MAX)
		return (double)NAN;
	begins = &run->sight[at->begins];
	ends = &run->sight[at->ends];
	if (!level_determine(run, page, terms, row, &to) ||
	    !level_determine(run, page, terms, at->ends, &whole))
		return (double)NAN;
	spread_at =
	    (struct level_spread_at){.p = at->p,
	                             .to = after(&to.path, &page->row[at->begins].sums),
	                             .whole = after(&whole.path, &page->row[at->begins].sums),
	                             .start_u = known_u(begins),
	                             .end_u = known_u(ends),
	                             .one_mark = strcmp(begins->station, ends->station) == 0};
	return sqrt(level_spread_variance(&spread_at, terms));
}
