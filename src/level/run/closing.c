/* How a run closes, by what rule, and what its long sights should show. */
#include "rodbook/level/sections.h"

#include <math.h>
#include <string.h>

static level_nm magnitude(level_nm value)
{
	return value < 0 ? -value : value;
}

static void find_known_end(const struct level_run *run, const struct level_line *line,
                           struct level_closing *out)
{
	const struct level_sight *start = &run->sight[line->start_row];
	const struct level_sight *end = &run->sight[line->end_row];

	if (strcmp(start->station, end->station) == 0) {
		out->back = out->has_known_end = true;
		out->known_end = out->start;
	} else if (run->kind == LEVEL_CROSSING && (start->water_count || end->water_count)) {
		/* Both stand above one level surface by what was read. */
		out->has_known_end = out->by_water = start->water_count && end->water_count;
		out->water_missing = !out->by_water;
		out->known_end = out->start - start->water + end->water;
	} else if (end->has_known && !end->aside && start->has_known) {
		out->has_known_end = true;
		out->known_end = end->known;
	} else if (run->kind == LEVEL_CROSSING) {
		/* One of the two is not known, but both stand on one level surface. */
		out->has_known_end = out->end_assumed = true;
		out->known_end = out->start;
	}
}

/* The graded sets, strictest first: those of the program, and among them the run's own set where it
 * is a book's that is to be graded. NULL behind the last. */
static const struct level_tolerance *graded_set(const struct level_tolerance *own, size_t at)
{
	size_t count, place = 0;
	const struct level_tolerance *sets = level_tolerances(&count);
	bool pending = own->graded && own->per_km[0] > 0;
	for (size_t i = 0; i < count; i++)
		pending = pending && strcmp(sets[i].name, own->name) != 0;
	for (size_t i = 0; i < count; i++) {
		if (!sets[i].graded)
			continue;
		if (pending && own->per_km[0] <= sets[i].per_km[0]) {
			if (place++ == at)
				return own;
			pending = false;
		}
		if (place++ == at)
			return &sets[i];
	}
	return pending && place == at ? own : NULL;
}

/* What may be missed by a set on the whole way: a double run is held to the section rule on its
 * shorter way. */
static bool allowable_of(const struct level_tolerance *set, const struct level_run *run,
                         double setup_figure, const struct level_closing *c, double *most)
{
	return level_allowable(set, c->is_double ? LEVEL_LINK : run->kind, c->has_length,
	                       level_to_meters(c->is_double ? c->one_way : c->length) / 1000,
	                       c->setups, setup_figure, most);
}

struct level_allowed_by level_allowed_by(const struct level_closing *c, enum level_run_kind kind,
                                         double setup_figure)
{
	struct level_allowed_by out = {0};
	const struct level_tolerance *set = c->set;
	if (!c->has_allowable || kind == LEVEL_CROSSING || kind == LEVEL_OPEN)
		return out;
	if (c->provisional) {
		out.per_setup = level_by_setups(1);
		return out;
	}
	out.per_km = set->per_km[kind == LEVEL_LOOP && !c->is_double];
	if (out.per_km > 0) {
		out.length = level_to_meters(c->is_double ? c->one_way : c->length);
		return out;
	}
	out.per_setup = set->per_setup > 0 ? set->per_setup : setup_figure;
	out.cap = set->cap;
	return out;
}

/* The strictest graded set that a misclosure of this size meets. */
static const char *grade_of(const struct level_run *run, const struct level_closing *closing)
{
	const struct level_tolerance *set;
	level_nm size = magnitude(closing->judged);
	for (size_t i = 0; (set = graded_set(closing->set, i)) != NULL; i++) {
		double allowable;
		if (allowable_of(set, run, 0, closing, &allowable) &&
		    size <= level_from_meters(allowable))
			return set->title;
	}
	return "none";
}

static void judge(const struct level_run *run, const struct level_sums *sums,
                  double tilt_correction, struct level_closing *out)
{
	out->has_misclosure = true;
	out->misclosure = out->end - out->known_end;
	if (out->has_length) {
		out->has_corrected = true;
		out->tilt_taken_off = tilt_correction != 0;
		out->corrected =
		    out->misclosure + level_from_meters(sums->drop.drop - tilt_correction);
	}
	out->judged_corrected = out->has_corrected && run->kind != LEVEL_CROSSING;
	out->judged = out->judged_corrected ? out->corrected : out->misclosure;
	out->grade = grade_of(run, out);
	/* An open run is held to nothing, even where it happens to end on a known mark. */
	if (out->has_allowable && run->kind != LEVEL_OPEN)
		out->closes = magnitude(out->judged) <= out->allowable && !out->failing ? LEVEL_YES
		                                                                        : LEVEL_NO;
	if (out->failing && run->kind != LEVEL_OPEN)
		out->closes = LEVEL_NO;
}

/* Where a loop goes out and back: the length of its shorter way. */
static void find_double(const struct level_run *run, const struct level_page *page,
                        struct level_closing *out)
{
	size_t turn = level_turn_row(run, page);
	level_nm there;
	if (turn == SIZE_MAX)
		return;
	there = page->row[turn].sums.bs_length + page->row[turn].sums.fs_length;
	out->is_double = true;
	out->one_way = there < out->length - there ? there : out->length - there;
	if (!out->one_way) /* back by offsets alone */
		out->one_way = out->length;
}

/* Known marks on the way, and sections leveled both ways, that do not hold. */
static void find_failing(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_rule *rule,
                         struct level_closing *out)
{
	struct level_section failed;
	struct level_double both;
	out->failing = level_sections_failing(run, page, terms, rule, &failed);
	if (out->failing) {
		out->failing_mark = failed.to;
		out->failing_by = failed.difference;
		out->failing_allowable = failed.allowable;
		out->failing_length = failed.has_length ? failed.length : 0;
		out->failing_rows[0][0] = failed.from_row;
		out->failing_rows[0][1] = failed.to_row;
	}
	/* One pair of marks, start and turn, is the run as a whole. */
	for (size_t end = SIZE_MAX; level_double_before(run, page, terms, rule, end, &both) &&
	                            (end != SIZE_MAX || both.back_row != both.to_row);
	     end = both.back_row)
		if (both.holds == LEVEL_NO && (!out->failing++ || out->failing_from)) {
			out->failing_from = both.from;
			out->failing_mark = both.to;
			out->failing_by = both.divergence;
			out->failing_allowable = both.allowable;
			out->failing_length = both.has_length ? both.length : 0;
			out->failing_rows[0][0] = both.from_row;
			out->failing_rows[0][1] = both.to_row;
			out->failing_rows[1][0] = both.back_row;
			out->failing_rows[1][1] = both.end_row;
		}
}

static struct level_ends ends_of(const struct level_run *run, const struct level_line *line,
                                 const struct level_terms *terms, const struct level_closing *c)
{
	const struct level_sight *start = &run->sight[line->start_row];
	const struct level_sight *end = &run->sight[line->end_row];
	struct level_ends out = {.water = c->by_water || c->end_assumed};

	if (c->by_water) {
		double tape = terms->reading_fixed[LEVEL_TAPE];
		out.mean[0] = level_mean_of(start->water_count, start->water_sd, tape);
		out.mean[1] = level_mean_of(end->water_count, end->water_sd, tape);
	} else if (c->has_known_end && !c->back && !c->end_assumed) {
		/* Where both ends are one mark, or one surface, its height cancels. */
		out.known_u[0] = start->has_known ? level_to_meters(start->known_u) : 0;
		out.known_u[1] = end->has_known ? level_to_meters(end->known_u) : 0;
	}
	return out;
}

/* Why a crossing that is complete has no answer, as far as that is known before its test. */
static enum level_no_answer no_answer(const struct level_run *run, const struct level_terms *terms,
                                      const struct level_closing *c)
{
	if (run->kind != LEVEL_CROSSING)
		return LEVEL_ANSWERED;
	if (c->water_missing || c->end_assumed)
		return LEVEL_NO_WATER;
	/* Flowing water is not level: one way over it shows nothing until its slope is declared. */
	if (c->by_water && terms->flow < 0)
		return LEVEL_NO_SLOPE;
	return c->has_length ? LEVEL_ANSWERED : LEVEL_NO_DISTANCE;
}

/* How often the setup of row i stands. */
static int standings_of(const struct level_page *page, size_t i)
{
	size_t first = page->row[i].line.first_row;
	int most = page->row[i].line.standings;
	for (; i < page->count && page->row[i].line.first_row == first; i++)
		if (page->row[i].line.standings > most)
			most = page->row[i].line.standings;
	return most;
}

static void weigh_drop(const struct level_run *run, const struct level_page *page,
                       const struct level_terms *terms, struct level_closing *out)
{
	static const struct level_identity nobody;
	const struct level_drop_sums *sums = &level_page_sums(page)->drop;
	struct level_length lengths[LEVEL_LENGTHS_MOST];
	enum level_no_answer none = out->finding.none;
	struct level_weighing w;
	size_t count = 0;
	bool crossing = run->kind == LEVEL_CROSSING;
	out->ends = ends_of(run, level_page_line(page), terms, out);
	out->has_drop = true;
	out->has_observed = crossing && out->has_misclosure && none != LEVEL_NO_SLOPE;
	if (out->has_observed)
		out->observed =
		    level_known_light_error(sums, terms) - level_to_meters(out->misclosure);
	if (crossing)
		count = level_run_lengths(run, page, terms, &nobody, lengths);
	w = level_weigh(sums, terms, &out->ends, lengths, count,
	                out->has_observed ? &out->observed : NULL);
	out->flat = w.flat;
	/* Of any other page the tilt found by pegs has curvature taken off it. */
	out->predicted = crossing ? w.predicted : sums->drop;
	out->shown = w.shown;
	out->separation = w.separation;
	out->allowance = w.allowance;
	out->finding = w.finding;
	out->margin = out->separation - out->allowance.decides;
	if (out->has_observed)
		out->margin = out->shown * out->finding.turn - out->allowance.decides;
	if (none)
		out->finding.none = none;
}

size_t level_run_lengths(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_identity *identity,
                         struct level_length out[LEVEL_LENGTHS_MOST])
{
	size_t count = 0, end = level_page_line(page)->end_row;
	for (size_t i = 0; end != SIZE_MAX && i <= end; i++) {
		const struct level_line *line = &page->row[i].line;
		const struct level_sight *fs = &run->sight[i], *bs;
		double share;
		if (!level_counted(fs) || fs->kind != LEVEL_FS || line->end_row != i)
			continue;
		bs = &run->sight[page->row[i - 1].line.bs_row];
		share = 1.0 / standings_of(page, i);
		level_length_add(out, &count, terms, identity, share, level_to_meters(bs->distance),
		                 bs->distance_by, bs->instrument);
		level_length_add(out, &count, terms, identity, -share,
		                 level_to_meters(fs->distance), fs->distance_by, fs->instrument);
	}
	return count;
}

/* The strictest graded set that is kept, and what broke the one before it. */
static void find_kept(const struct level_run *run, const struct level_sums *sums,
                      struct level_closing *out)
{
	const struct level_tolerance *set;
	for (size_t i = 0; (set = graded_set(out->set, i)) != NULL; i++) {
		level_nm figure;
		enum level_limit broken = level_breaks(set, run, sums, out, &figure);
		if (broken == LEVEL_LIMIT_NONE) {
			out->kept = set;
			return;
		}
		out->next = set;
		out->broken = broken;
		out->broken_by = figure;
	}
}

struct level_closing level_close(const struct level_run *run, const struct level_page *page,
                                 const struct level_terms *terms, const struct level_tolerance *set,
                                 double setup_figure)
{
	const struct level_sums *sums = level_page_sums(page);
	const struct level_line *line = level_page_line(page);
	struct level_closing out = {.sum_bs = sums->bs,
	                            .sum_fs = sums->fs,
	                            .rises = sums->rises,
	                            .falls = sums->falls,
	                            .sum_offsets = sums->offsets,
	                            .offsets = sums->offset_count,
	                            .setups = sums->setups,
	                            .unknown_distances = sums->unknown_distances,
	                            .standings = sums->standings,
	                            .length = sums->bs_length + sums->fs_length,
	                            .imbalance = sums->bs_length - sums->fs_length,
	                            .set = set,
	                            .failing_rows = {{SIZE_MAX, SIZE_MAX}, {SIZE_MAX, SIZE_MAX}},
	                            .grade = "none",
	                            .closes = LEVEL_UNKNOWN};
	const struct level_rule rule = {set, setup_figure};
	double allowable;

	if (line->start_row == SIZE_MAX)
		return out;
	out.start_station = run->sight[line->start_row].station;
	out.start_assumed = !run->sight[line->start_row].has_known;
	out.start = page->row[line->start_row].elevation;
	if (line->end_row == SIZE_MAX)
		return out;
	out.has_end = line->has_end;
	out.end = line->end;
	out.end_station = run->sight[line->end_row].station;
	out.page_check = (out.sum_bs - out.sum_fs + out.sum_offsets) - (out.end - out.start);
	out.page_holds = line->broken_row == SIZE_MAX && out.has_end && out.page_check == 0 &&
	                 out.rises - out.falls == out.sum_bs - out.sum_fs;
	out.has_length = out.unknown_distances == 0;
	find_double(run, page, &out);
	out.has_allowable = allowable_of(set, run, setup_figure, &out, &allowable);
	if (!out.has_allowable && set->per_km[0] > 0 && !out.has_length && out.setups > 0) {
		out.has_allowable = out.provisional = true;
		allowable = level_by_setups(out.setups);
	}
	if (out.has_allowable)
		out.allowable = level_from_meters(allowable);
	if (!out.page_holds)
		return out;
	find_failing(run, page, terms, &rule, &out);
	find_known_end(run, line, &out);
	if (out.has_known_end)
		judge(run, sums, level_known_error(&sums->drop, terms), &out);
	/* Where distances are missing nothing is known to be kept, and nothing is where a section
	 * fails. */
	if (out.has_length && out.has_misclosure && !out.failing && run->kind != LEVEL_CROSSING)
		find_kept(run, sums, &out);
	out.finding.none = no_answer(run, terms, &out);
	if (out.has_length)
		weigh_drop(run, page, terms, &out);
	return out;
}

bool level_drop_is_seen(const struct level_closing *closing)
{
	return closing->has_observed && closing->finding.none != LEVEL_NO_WATER;
}

bool level_shows_drop(const struct level_run *run, const struct level_page *page,
                      level_nm long_sight)
{
	return run->kind == LEVEL_CROSSING || level_page_extent(page)->distance >= long_sight;
}

void level_hide_drop(struct level_closing *closing)
{
	closing->has_misclosure = closing->has_corrected = closing->has_observed = false;
	closing->misclosure = closing->corrected = closing->judged = 0;
	closing->observed = closing->shown = 0;
	closing->margin = closing->separation - closing->allowance.decides;
	closing->finding =
	    (struct level_finding){.none = LEVEL_NO_LOOK, .turn = closing->finding.turn};
}
