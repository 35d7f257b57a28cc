/* A still level line used for setting out. */
#include "rodbook/level/page.h"

struct level_set_out level_set_out(const struct level_run *run, const struct level_page *page,
                                   size_t at, const struct level_terms *terms, level_nm wanted)
{
	const struct level_sight *sight = &run->sight[at], *bs;
	const struct level_row *row = &page->row[at];
	struct level_set_out out = {0};
	size_t bs_row = row->line.bs_row;

	/* An FS has closed its setup: the line stood open in the row before. */
	if (bs_row == SIZE_MAX && at > 0 && level_counted(sight) && sight->kind == LEVEL_FS)
		bs_row = page->row[at - 1].line.bs_row;
	if (bs_row == SIZE_MAX || !page->row[bs_row].has_hi)
		return out;
	bs = &run->sight[bs_row];
	out.has = true;
	out.rod = page->row[bs_row].hi - wanted;
	out.corrected = bs != sight && bs->distance && sight->distance;
	if (out.corrected)
		out.rod +=
		    level_from_meters(level_too_high(sight, terms) - level_too_high(bs, terms));
	out.has_move = bs != sight && sight->state != LEVEL_BLANK;
	if (out.has_move)
		out.move = sight->reading - out.rod;
	return out;
}
