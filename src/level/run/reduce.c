/* The page, row by row: from the running sums of the row before, never by subtracting. */
#include "rodbook/level/page.h"
#include "level/run/met.h"
#include "level/wide.h"
#include "rodbook/level/offset.h"

#include <stdlib.h>
#include <string.h>

static const struct level_line fresh_line = {.start_row = SIZE_MAX,
                                             .bs_row = SIZE_MAX,
                                             .end_row = SIZE_MAX,
                                             .first_row = SIZE_MAX,
                                             .broken_row = SIZE_MAX,
                                             .known_row = SIZE_MAX,
                                             .known_before = SIZE_MAX,
                                             .named_row = SIZE_MAX,
                                             .named_before = SIZE_MAX,
                                             .turn_row = SIZE_MAX,
                                             .mirror_row = SIZE_MAX};
static const struct level_sums fresh_sums;
static const struct level_extent fresh_extent;

const struct level_sums *level_page_sums(const struct level_page *page)
{
	return page->count ? &page->row[page->count - 1].sums : &fresh_sums;
}

const struct level_line *level_page_line(const struct level_page *page)
{
	return page->count ? &page->row[page->count - 1].line : &fresh_line;
}

int level_page_standings(const struct level_page *page)
{
	const struct level_line *line = level_page_line(page);
	return line->setups_begun - (line->bs_row != SIZE_MAX);
}

const struct level_extent *level_page_extent(const struct level_page *page)
{
	return page->count ? &page->row[page->count - 1].extent : &fresh_extent;
}

void level_page_free(struct level_page *page)
{
	free(page->row);
	*page = (struct level_page){0};
}

static bool make_room(struct level_page *page, size_t count)
{
	size_t room = page->room ? page->room : 64;
	struct level_row *row;
	if (count <= page->room)
		return true;
	while (room < count)
		room *= 2;
	row = realloc(page->row, room * sizeof *row);
	if (!row)
		return false;
	page->row = row;
	page->room = room;
	return true;
}

static level_nm larger(level_nm most, level_nm value)
{
	level_nm size = value < 0 ? -value : value;
	return size > most ? size : most;
}

/* The next rise or fall of the open setup. */
static void step_to(struct level_row *row, level_nm reading)
{
	row->step = row->line.previous - reading;
	row->has_step = true;
	row->line.previous = reading;
	if (row->step > 0)
		row->line.setup_rises += row->step;
	else
		row->line.setup_falls -= row->step;
}

/* Whether a BS opens a further standing of the setup that was completed last. */
static bool repeats(const struct level_run *run, const struct level_line *line,
                    const struct level_sight *sight)
{
	return sight->again && line->standings > 0 && line->bs_row == SIZE_MAX &&
	       strcmp(run->sight[line->first_row].station, sight->station) == 0;
}

static void find_elevation(const struct level_run *run, const struct level_page *page, size_t i,
                           struct level_row *row)
{
	const struct level_sight *sight = &run->sight[i];
	struct level_line *line = &row->line;
	bool first = line->start_row == SIZE_MAX;
	bool joins = !first && line->bs_row == SIZE_MAX && line->end_row != SIZE_MAX &&
	             strcmp(run->sight[line->end_row].station, sight->station) == 0;

	if (repeats(run, line, sight)) {
		row->has_elevation = page->row[line->first_row].has_elevation;
		row->elevation = page->row[line->first_row].elevation;
		return;
	}
	line->first_row = i;
	line->standings = 0;
	line->differ = 0;
	if (first)
		line->start_row = i;
	else if (!joins && line->broken_row == SIZE_MAX)
		line->broken_row = i;
	if (joins) {
		row->has_elevation = line->has_end;
		row->elevation = line->end;
	} else {
		row->has_elevation = first || sight->has_known;
		row->elevation = sight->has_known ? sight->known : 0;
	}
}

static void open_setup(const struct level_run *run, const struct level_page *page, size_t i,
                       struct level_row *row)
{
	const struct level_sight *sight = &run->sight[i];
	struct level_line *line = &row->line;

	find_elevation(run, page, i, row);
	row->setup = ++line->setups_begun;
	row->has_hi = row->has_elevation;
	row->hi = row->elevation + sight->reading;
	line->bs_row = i;
	line->has_hi = row->has_hi;
	line->hi = row->hi;
	line->previous = sight->reading;
	line->setup_rises = line->setup_falls = 0;
	if (line->start_row == i)
		line_meets(run, page, i, false, line);
}

/* The sums before the setup that is open or complete. */
static const struct level_sums *sums_before(const struct level_page *page,
                                            const struct level_line *line)
{
	return line->first_row ? &page->row[line->first_row - 1].sums : &fresh_sums;
}

static void add_extremes(struct level_sums *sums, const struct level_sight *bs,
                         const struct level_sight *fs)
{
	sums->longest = larger(larger(sums->longest, bs->distance), fs->distance);
	if (bs->distance && fs->distance)
		sums->setup_imbalance = larger(sums->setup_imbalance, bs->distance - fs->distance);
}

static void add_drop(struct level_drop_sums *sums, enum level_run_kind kind,
                     const struct level_terms *terms, const struct level_sight *bs,
                     const struct level_sight *fs)
{
	struct level_reach near = level_reach_of(bs), far = level_reach_of(fs);
	/* Only a drop has declared lines. */
	near.declared = near.declared && kind == LEVEL_CROSSING;
	far.declared = far.declared && kind == LEVEL_CROSSING;
	level_drop_add(sums, terms, &near, &far);
}

/* What the standings of one setup add up to. */
struct standings {
	int count;
	level_nm bs, rise, rises, bs_length, fs_length, least, most;
	int unknown_distances;
	struct level_drop_sums drop;
};

static void add_standing(struct standings *s, enum level_run_kind kind,
                         const struct level_terms *terms, const struct level_sight *bs,
                         const struct level_sight *fs, level_nm rises)
{
	level_nm rise = bs->reading - fs->reading, compared = rise;
	/* A standing near one mark and one midway see the same rise only without h and tilt. */
	if (bs->distance && fs->distance)
		compared +=
		    level_from_meters(level_too_high(fs, terms) - level_too_high(bs, terms));
	s->least = s->count && s->least < compared ? s->least : compared;
	s->most = s->count && s->most > compared ? s->most : compared;
	s->count++;
	s->bs += bs->reading;
	s->rise += rise;
	s->rises += rises;
	s->bs_length += bs->distance;
	s->fs_length += fs->distance;
	s->unknown_distances += !bs->distance + !fs->distance;
	add_drop(&s->drop, kind, terms, bs, fs);
}

/* The sums anew from before the setup, with the means of its standings, the one that ends at row i
 * among them; and the elevation of its end by the mean rise. */
static void take_mean(const struct level_run *run, const struct level_page *page, size_t i,
                      const struct level_terms *terms, struct level_row *row)
{
	struct level_sums *sums = &row->sums, so_far = *sums;
	struct standings s = {0};
	size_t bs = row->line.first_row;
	level_nm rise, rises, mean_bs;
	for (size_t at = row->line.first_row; at <= i; at = level_counted_from(run, at + 1)) {
		const struct level_line *line = at == i ? &row->line : &page->row[at].line;
		if (run->sight[at].kind == LEVEL_BS)
			bs = at;
		else if (run->sight[at].kind == LEVEL_FS)
			add_standing(&s, run->kind, terms, &run->sight[bs], &run->sight[at],
			             line->setup_rises);
	}
	*sums = *sums_before(page, &row->line);
	sums->longest = so_far.longest;
	sums->setup_imbalance = so_far.setup_imbalance;
	sums->half = so_far.half;
	row->line.differ = s.most - s.least;
	sums->standings = larger(so_far.standings, row->line.differ);
	rise = level_round_ratio(s.rise, s.count);
	rises = level_round_ratio(s.rises, s.count);
	mean_bs = level_round_ratio(s.bs, s.count);
	sums->bs += mean_bs;
	sums->fs += mean_bs - rise;
	sums->rises += rises;
	sums->falls += rises - rise;
	sums->bs_length += level_round_ratio(s.bs_length, s.count);
	sums->fs_length += level_round_ratio(s.fs_length, s.count);
	sums->unknown_distances += s.unknown_distances;
	sums->setups++;
	level_drop_add_mean(&sums->drop, &s.drop, s.count);
	row->elevation = page->row[row->line.first_row].elevation + rise;
}

static void close_setup(const struct level_run *run, const struct level_page *page, size_t i,
                        const struct level_terms *terms, struct level_row *row)
{
	const struct level_sight *bs = &run->sight[row->line.bs_row], *fs = &run->sight[i];
	struct level_sums *sums = &row->sums;

	add_extremes(sums, bs, fs);
	if (++row->line.standings > 1) {
		if (strcmp(run->sight[row->line.end_row].station, fs->station) != 0 &&
		    row->line.broken_row == SIZE_MAX)
			row->line.broken_row = i;
		take_mean(run, page, i, terms, row);
	} else {
		sums->bs += bs->reading;
		sums->fs += fs->reading;
		sums->rises += row->line.setup_rises;
		sums->falls += row->line.setup_falls;
		sums->bs_length += bs->distance;
		sums->fs_length += fs->distance;
		sums->unknown_distances += !bs->distance + !fs->distance;
		sums->setups++;
		add_drop(&sums->drop, run->kind, terms, bs, fs);
	}
	row->line.end_row = i;
	row->line.has_end = row->has_elevation;
	row->line.end = row->elevation;
	row->line.bs_row = SIZE_MAX;
	line_meets(run, page, i, row->line.standings > 1, &row->line);
}

/* From the mark where the line stands, whatever it stands on by. */
static void carry_offset(const struct level_run *run, const struct level_page *page, size_t i,
                         const struct level_terms *terms, struct level_row *row)
{
	const struct level_sight *sight = &run->sight[i];
	struct level_line *line = &row->line;
	struct level_reach reach = level_reach_of(sight);
	struct level_mean_u mean;
	/* Only a drop has declared lines. */
	reach.declared = reach.declared && run->kind == LEVEL_CROSSING;
	mean = level_reading_u(terms, &reach);
	if (line->end_row == SIZE_MAX || line->bs_row != SIZE_MAX) {
		if (line->broken_row == SIZE_MAX)
			line->broken_row = i;
		return;
	}
	row->has_elevation = line->has_end;
	row->elevation = line->end + sight->reading;
	row->sums.offsets += sight->reading;
	row->sums.offset_count++;
	row->sums.offset_variance += mean.u * mean.u;
	level_drop_add_mean_u(&row->sums.drop, &mean);
	line->first_row = line->end_row = i;
	line->standings = 0;
	line->differ = 0;
	line->end = row->elevation;
	line_meets(run, page, i, false, line);
}

/* Elevation with that taken off every sight that led to it; only where all distances are known and
 * the line is whole. */
static void correct(const struct level_run *run, const struct level_page *page, size_t i,
                    const struct level_terms *terms, struct level_row *row)
{
	const struct level_sight *sight = &run->sight[i];
	/* What hangs on the BS mark does not hang on the standings before it. */
	const struct level_sums *led =
	    level_carries_on(sight->kind) ? &row->sums : sums_before(page, &row->line);
	double raised = led->drop.drop - level_known_error(&led->drop, terms);

	if (!row->has_elevation || led->unknown_distances || row->line.broken_row != SIZE_MAX)
		return;
	if (sight->kind == LEVEL_IS) {
		const struct level_sight *bs = &run->sight[row->line.bs_row];
		if (!bs->distance || !sight->distance)
			return;
		raised += level_too_high(sight, terms) - level_too_high(bs, terms);
	}
	row->has_corrected = true;
	row->corrected = row->elevation + level_from_meters(raised);
}

static void reduce_row(const struct level_run *run, const struct level_page *page, size_t i,
                       const struct level_terms *terms, struct level_row *row)
{
	const struct level_sight *sight = &run->sight[i];

	if (!level_counted(sight))
		return;
	if (sight->wires)
		row->sums.half = larger(row->sums.half, level_half_difference(sight));
	if (sight->kind == LEVEL_BS) {
		open_setup(run, page, i, row);
	} else if (sight->kind == LEVEL_OFF) {
		carry_offset(run, page, i, terms, row);
	} else {
		if (row->line.bs_row == SIZE_MAX)
			return;
		row->setup = row->line.setups_begun;
		row->has_elevation = row->line.has_hi;
		row->elevation = row->line.hi - sight->reading;
		step_to(row, sight->reading);
		if (sight->kind == LEVEL_FS)
			close_setup(run, page, i, terms, row);
	}
	correct(run, page, i, terms, row);
}

bool level_carries(const struct level_run *run, const struct level_page *page, size_t i)
{
	size_t next;
	if (!level_counted(&run->sight[i]) || page->row[i].line.end_row != i)
		return false;
	next = level_counted_from(run, i + 1);
	while (next < run->count && run->sight[next].kind != LEVEL_FS)
		next = level_counted_from(run, next + 1);
	return next == run->count || page->row[next].line.first_row != page->row[i].line.first_row;
}

static void extend(struct level_extent *extent, const struct level_sight *sight,
                   const struct level_row *row)
{
	if (sight->state == LEVEL_BLANK)
		return;
	extent->reading = larger(extent->reading, sight->reading);
	extent->below = extent->below || sight->reading < 0;
	extent->distance = larger(extent->distance, sight->distance);
	extent->wires = extent->wires || sight->wires;
	extent->intermediate = extent->intermediate || sight->kind == LEVEL_IS;
	if (row->has_elevation) {
		extent->height = larger(extent->height, row->elevation);
		extent->negative = extent->negative || row->elevation < 0;
	}
	if (row->has_hi) {
		extent->height = larger(extent->height, row->hi);
		extent->negative = extent->negative || row->hi < 0;
	}
}

bool level_reduce(const struct level_run *run, size_t from_row, const struct level_terms *terms,
                  struct level_page *page)
{
	if (!make_room(page, run->count))
		return false;
	if (from_row > page->count)
		from_row = page->count;
	for (size_t i = from_row; i < run->count; i++) {
		struct level_row *row = &page->row[i];
		*row = (struct level_row){.line = i ? page->row[i - 1].line : fresh_line,
		                          .sums = i ? page->row[i - 1].sums : fresh_sums,
		                          .extent = i ? page->row[i - 1].extent : fresh_extent};
		reduce_row(run, page, i, terms, row);
		extend(&row->extent, &run->sight[i], row);
	}
	page->count = run->count;
	return true;
}
