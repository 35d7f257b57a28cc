#include "rodbook/level/sections.h"

#include <math.h>
#include <string.h>

#include "level/wide.h"
#include "rodbook/level/determination.h"

static level_nm magnitude(level_nm value)
{
	return value < 0 ? -value : value;
}

double level_by_setups(int setups)
{
	return 0.010 * sqrt((double)setups);
}

/* Part of a run between two rows at which its line stood, start included. */
struct part {
	int setups, unknown;
	level_nm length;
	double raised; /* what curvature, refraction, tilts and rods took off the rise, m */
	double offset_variance; /* m^2 */
};

static struct part part_of(const struct level_page *page, const struct level_terms *terms,
                           size_t from, size_t to)
{
	const struct level_sums *a = &page->row[from].sums, *b = &page->row[to].sums;
	return (struct part){.setups = b->setups - a->setups,
	                     .unknown = b->unknown_distances - a->unknown_distances,
	                     .length = b->bs_length + b->fs_length - a->bs_length - a->fs_length,
	                     .raised = (b->drop.drop - level_known_error(&b->drop, terms)) -
	                               (a->drop.drop - level_known_error(&a->drop, terms)),
	                     .offset_variance = b->offset_variance - a->offset_variance};
}

bool level_section_allowable(const struct level_rule *rule, bool has_length, level_nm length,
                             int setups, bool *provisional, level_nm *allowable)
{
	double most;
	*provisional = false;
	if (!level_allowable(rule->set, LEVEL_LINK, has_length, level_to_meters(length) / 1000,
	                     setups, rule->setup_figure, &most)) {
		*provisional = rule->set->per_km[0] > 0 && !has_length && setups > 0;
		if (!*provisional)
			return false;
		most = level_by_setups(setups);
	}
	*allowable = level_from_meters(most);
	return true;
}

level_nm level_offsets_allowable(double variance)
{
	return level_from_meters(2 * sqrt(variance));
}

static enum level_answer holds(bool has_allowable, level_nm miss, level_nm allowable)
{
	return !has_allowable ? LEVEL_UNKNOWN : magnitude(miss) <= allowable ? LEVEL_YES : LEVEL_NO;
}

static size_t known_before(const struct level_page *page, size_t row)
{
	return page->row[row].line.known_before;
}

bool level_section_before(const struct level_run *run, const struct level_page *page,
                          const struct level_terms *terms, const struct level_rule *rule, size_t to,
                          struct level_section *out)
{
	const struct level_line *line = level_page_line(page);
	size_t from;
	struct part part;
	if (to == SIZE_MAX) {
		to = line->known_row;
		if (to != SIZE_MAX && to == line->end_row && run->kind == LEVEL_OPEN)
			to = known_before(page, to); /* it is held to nothing at its end */
		else if (to != SIZE_MAX && to == line->end_row &&
		         known_before(page, to) == line->start_row)
			return false; /* the run itself, whose misclosure tells */
	}
	if (to == SIZE_MAX || run->kind == LEVEL_CROSSING)
		return false;
	from = known_before(page, to);
	if (from == SIZE_MAX || !page->row[to].has_elevation || !page->row[from].has_elevation)
		return false;
	part = part_of(page, terms, from, to);
	*out = (struct level_section){.from = run->sight[from].station,
	                              .to = run->sight[to].station,
	                              .from_row = from,
	                              .to_row = to,
	                              .setups = part.setups,
	                              .has_length = part.unknown == 0,
	                              .corrected = part.unknown == 0,
	                              .length = part.length,
	                              .given = run->sight[to].known};
	out->found = run->sight[from].known + page->row[to].elevation - page->row[from].elevation;
	if (out->corrected)
		out->found += level_from_meters(part.raised);
	out->difference = out->found - out->given;
	out->has_allowable = level_section_allowable(
	    rule, out->has_length, out->length, out->setups, &out->provisional, &out->allowable);
	if (part.setups == 0) {
		out->has_allowable = true;
		out->allowable = level_offsets_allowable(part.offset_variance);
	}
	out->holds = holds(out->has_allowable, out->difference, out->allowable);
	return true;
}

bool level_section_aside(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_rule *rule, size_t is,
                         struct level_section *out)
{
	const struct level_sight *sight = &run->sight[is];
	size_t from = page->row[is].line.known_row, bs = page->row[is].line.bs_row;
	struct level_determination hangs;
	struct part part;
	if (run->kind == LEVEL_CROSSING || sight->kind != LEVEL_IS || !sight->has_known ||
	    sight->aside || from == SIZE_MAX || !level_determine(run, page, terms, is, &hangs))
		return false;
	/* Sums of an open setup are those of the setups before it. */
	part = part_of(page, terms, from, is);
	*out = (struct level_section){
	    .from = run->sight[from].station,
	    .to = sight->station,
	    .from_row = from,
	    .to_row = is,
	    .setups = part.setups + 1,
	    .has_length = part.unknown == 0 && run->sight[bs].distance && sight->distance,
	    .length = part.length + run->sight[bs].distance + sight->distance,
	    .given = sight->known};
	out->corrected = out->has_length && hangs.corrected && page->row[from].has_corrected;
	out->found = run->sight[from].known +
	             (out->corrected ? hangs.elevation - page->row[from].corrected
	                             : page->row[is].elevation - page->row[from].elevation);
	out->difference = out->found - out->given;
	out->has_allowable = level_section_allowable(
	    rule, out->has_length, out->length, out->setups, &out->provisional, &out->allowable);
	out->holds = holds(out->has_allowable, out->difference, out->allowable);
	return true;
}

int level_sections_failing(const struct level_run *run, const struct level_page *page,
                           const struct level_terms *terms, const struct level_rule *rule,
                           struct level_section *failed)
{
	struct level_section section;
	int count = 0;
	for (size_t to = SIZE_MAX;
	     level_section_before(run, page, terms, rule, to, &section) && section.from_row != to;
	     to = section.from_row)
		if (section.holds == LEVEL_NO) {
			count++;
			if (failed)
				*failed = section;
		}
	return count;
}

size_t level_turn_row(const struct level_run *run, const struct level_page *page)
{
	const struct level_line *line = level_page_line(page);
	if (run->kind != LEVEL_LOOP || line->end_row == SIZE_MAX || line->broken_row != SIZE_MAX ||
	    strcmp(run->sight[line->start_row].station, run->sight[line->end_row].station) != 0)
		return SIZE_MAX;
	if (line->mirrored >= 2 && line->mirror_row == line->start_row)
		return line->turn_row;
	if (!*run->turn)
		return SIZE_MAX;
	for (size_t i = line->end_row; i-- > line->start_row;)
		if (level_carries(run, page, i) && strcmp(run->sight[i].station, run->turn) == 0)
			return i;
	return SIZE_MAX;
}

bool level_double_before(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_rule *rule, size_t end,
                         struct level_double *out)
{
	size_t turn = level_turn_row(run, page), from, to, back;
	struct part there, home;
	if (turn == SIZE_MAX || end == turn)
		return false;
	if (end == SIZE_MAX)
		end = level_page_line(page)->end_row;
	if (level_page_line(page)->mirrored >= 2) {
		back = page->row[end].line.named_before;
		from = page->row[end].line.mirror_row;
		to = back == turn ? turn : page->row[back].line.mirror_row;
	} else {
		back = to = turn;
		from = level_page_line(page)->start_row;
	}
	there = part_of(page, terms, from, to);
	home = part_of(page, terms, back, end);
	*out = (struct level_double){.from = run->sight[from].station,
	                             .to = run->sight[to].station,
	                             .from_row = from,
	                             .to_row = to,
	                             .back_row = back,
	                             .end_row = end};
	out->has_length = out->corrected = !there.unknown && !home.unknown;
	out->forward = page->row[to].elevation - page->row[from].elevation;
	out->backward = page->row[end].elevation - page->row[back].elevation;
	if (out->corrected) {
		out->forward += level_from_meters(there.raised);
		out->backward += level_from_meters(home.raised);
	}
	out->divergence = out->forward + out->backward;
	out->mean = level_round_ratio((level_wide)out->forward - out->backward, 2);
	/* A way of offsets alone has no length: the other one's counts. */
	out->length = there.length < home.length && there.length ? there.length : home.length;
	out->setups = there.setups < home.setups && there.setups ? there.setups : home.setups;
	if (!home.setups) {
		out->length = there.length;
		out->setups = there.setups;
	}
	out->has_allowable = level_section_allowable(
	    rule, out->has_length, out->length, out->setups, &out->provisional, &out->allowable);
	if (there.setups == 0 && home.setups == 0) {
		out->has_allowable = true;
		out->allowable =
		    level_offsets_allowable(there.offset_variance + home.offset_variance);
	}
	out->holds = holds(out->has_allowable, out->divergence, out->allowable);
	return true;
}
