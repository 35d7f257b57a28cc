#include "rodbook/level/ready.h"

#include <stdlib.h>
#include <string.h>

enum level_readiness level_ready(const struct level_run *run, const struct level_page *page,
                                 const struct level_closing *closing)
{
	const struct level_line *line = level_page_line(page);
	if (line->start_row == SIZE_MAX)
		return LEVEL_NO_SIGHTS;
	if (line->bs_row != SIZE_MAX)
		return LEVEL_SETUP_OPEN;
	if (!closing->page_holds)
		return LEVEL_LINE_BROKEN;
	if (run->kind == LEVEL_LOOP && strcmp(closing->start_station, closing->end_station) != 0)
		return LEVEL_NOT_BACK;
	if (run->kind == LEVEL_LINK && !closing->has_misclosure)
		return LEVEL_END_UNKNOWN;
	if (run->kind == LEVEL_CROSSING && closing->water_missing)
		return LEVEL_WATER_MISSING;
	if (closing->failing)
		return LEVEL_CHECK_FAILS;
	if ((run->kind == LEVEL_LOOP || run->kind == LEVEL_LINK) && closing->closes == LEVEL_NO)
		return LEVEL_OVER_ALLOWABLE;
	return LEVEL_READY;
}

bool level_is_weak(const struct level_run *run, const struct level_closing *closing)
{
	return (run->kind == LEVEL_LOOP || run->kind == LEVEL_LINK) && closing->has_misclosure &&
	       (closing->provisional || closing->closes == LEVEL_UNKNOWN);
}

/* The shore of a station: that of its last sight before row `at`; the first where it has none. */
static bool shore_before(const struct level_run *run, const bool *second, size_t at)
{
	for (size_t i = at; i-- > 0;)
		if (level_counted(&run->sight[i]) &&
		    strcmp(run->sight[i].station, run->sight[at].station) == 0)
			return second[i];
	return false;
}

bool level_shores(const struct level_run *run, level_nm long_sight, struct level_shores *out)
{
	bool *second = calloc(run->count + 1, sizeof *second); /* each row's station */
	const struct level_sight *bs = NULL;
	bool bs_second = false, stands_second = false; /* the shore where the line stands */
	*out = (struct level_shores){0};
	if (!second)
		return false;
	for (size_t i = 0; i < run->count; i++) {
		const struct level_sight *sight = &run->sight[i];
		level_nm longer, difference;
		if (!level_counted(sight))
			continue;
		if (sight->kind == LEVEL_BS) {
			bs = sight;
			second[i] = bs_second = shore_before(run, second, i);
		}
		if (sight->kind == LEVEL_OFF)
			second[i] = stands_second;
		if (sight->kind != LEVEL_FS || !bs)
			continue;
		longer = sight->distance > bs->distance ? sight->distance : bs->distance;
		difference = llabs(sight->distance - bs->distance);
		second[i] = stands_second = bs_second;
		if (longer < long_sight || difference <= LEVEL_UNEQUAL)
			continue;
		second[i] = stands_second = !bs_second;
		/* The instrument stands by the nearer of the two. */
		if ((sight->distance < bs->distance) == bs_second)
			out->first = true;
		else
			out->second = true;
	}
	free(second);
	return true;
}

bool level_awaits_distance(const struct level_run *run, const struct level_closing *closing,
                           size_t at)
{
	return closing->provisional && closing->unknown_distances == 1 &&
	       run->sight[at].state == LEVEL_DRAFT && run->sight[at].distance == 0;
}
