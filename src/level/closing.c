/* How a run closes, by what rule, and what its long sights should show. */
#include "rodbook/page.h"

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
		out->has_known_end = true;
		out->known_end = out->start;
	} else if (end->has_known && start->has_known) {
		out->has_known_end = true;
		out->known_end = end->known;
	} else if (run->kind == LEVEL_CROSSING) {
		/* One of the two is not known, but both stand on one level surface. */
		out->has_known_end = out->end_assumed = true;
		out->known_end = out->start;
	}
}

/* The strictest graded set that a misclosure of this size meets. */
static const char *grade_of(const struct level_run *run, const struct level_closing *closing)
{
	size_t count;
	const struct level_tolerance *sets = level_tolerances(&count);
	level_nm size =
	    magnitude(closing->judged_corrected ? closing->corrected : closing->misclosure);
	for (size_t i = 0; i < count; i++) {
		double allowable;
		if (sets[i].graded &&
		    level_allowable(&sets[i], run->kind, closing->has_length,
		                    level_to_meters(closing->length) / 1000, closing->setups, 0,
		                    &allowable) &&
		    size <= level_from_meters(allowable))
			return sets[i].title;
	}
	return "none";
}

static void judge(const struct level_run *run, const struct level_sums *sums,
                  struct level_closing *out)
{
	out->has_misclosure = true;
	out->misclosure = out->end - out->known_end;
	if (out->has_length) {
		out->has_corrected = true;
		out->corrected = out->misclosure + level_from_meters(sums->drop.drop);
	}
	out->judged_corrected = out->has_corrected && run->kind != LEVEL_CROSSING;
	out->grade = grade_of(run, out);
	/* An open run is held to nothing, even where it happens to end on a known mark. */
	if (out->has_allowable && run->kind != LEVEL_OPEN)
		out->closes = magnitude(out->judged_corrected ? out->corrected : out->misclosure) <=
		                      out->allowable
		                  ? LEVEL_YES
		                  : LEVEL_NO;
}

static void weigh_drop(const struct level_run *run, const struct level_sums *sums,
                       const struct level_line *line, const struct level_terms *terms,
                       struct level_closing *out)
{
	const struct level_sight *start = &run->sight[line->start_row];
	const struct level_sight *end = &run->sight[line->end_row];
	double u_start = 0, u_end = 0;
	bool crossing = run->kind == LEVEL_CROSSING;
	bool same_mark = strcmp(start->station, end->station) == 0;

	/* Where both ends are one mark, or one surface, its height and the water cancel. */
	if (out->has_known_end && !same_mark && !out->end_assumed) {
		u_start = start->has_known ? level_to_meters(start->known_u) : 0;
		u_end = end->has_known ? level_to_meters(end->known_u) : 0;
	}
	out->has_drop = true;
	out->predicted = sums->drop.drop;
	out->allowance = level_allow(&sums->drop, terms, crossing && !same_mark,
	                             2 * (u_start + u_end), hypot(u_start, u_end));
	out->margin = fabs(out->predicted) - out->allowance.decides;
	if (crossing && out->has_misclosure) {
		/* S = - sum s d^2: the long sight may be the BS, and then D and P are negative. */
		double sign = sums->drop.s_d2 > 0 ? -1 : sums->drop.s_d2 < 0 ? 1 : 0;
		out->has_observed = true;
		out->observed = -level_to_meters(out->misclosure);
		out->margin = out->observed * sign - out->allowance.decides;
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
	                            .setups = sums->setups,
	                            .unknown_distances = sums->unknown_distances,
	                            .length = sums->bs_length + sums->fs_length,
	                            .imbalance = sums->bs_length - sums->fs_length,
	                            .set = set,
	                            .grade = "none",
	                            .closes = LEVEL_UNKNOWN};
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
	out.page_check = (out.sum_bs - out.sum_fs) - (out.end - out.start);
	out.page_holds = line->broken_row == SIZE_MAX && out.has_end && out.page_check == 0 &&
	                 out.rises - out.falls == out.sum_bs - out.sum_fs;
	out.has_length = out.unknown_distances == 0;
	if (level_allowable(set, run->kind, out.has_length, level_to_meters(out.length) / 1000,
	                    out.setups, setup_figure, &allowable)) {
		out.has_allowable = true;
		out.allowable = level_from_meters(allowable);
	}
	if (!out.page_holds)
		return out;
	find_known_end(run, line, &out);
	if (out.has_known_end)
		judge(run, sums, &out);
	if (out.has_length)
		weigh_drop(run, sums, line, terms, &out);
	return out;
}
