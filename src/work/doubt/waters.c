#include "rodbook/work/water.h"

#include <string.h>

#include "rodbook/level/observed.h"

static struct level_tally tally_at(const struct book_water *list, size_t count, const char *station)
{
	struct level_tally out = {0};
	for (size_t i = 0; i < count; i++)
		if (!*list[i].struck && strcmp(list[i].station, station) == 0)
			level_tally_add(&out, list[i].reading);
	return out;
}

struct work_water_doubt work_doubt_water(const struct book_water *list, size_t count,
                                         const char *station, level_nm reading)
{
	struct work_water_doubt out = {0};
	struct level_tally own = tally_at(list, count, station), other;
	out.doubted = level_tally_doubts(&own, reading);
	out.off = own.count ? reading - level_tally_mean(&own) : 0;
	for (size_t i = 0; i < count && out.doubted && !*out.other; i++) {
		other = tally_at(list, count, list[i].station);
		if (other.count && !level_tally_doubts(&other, reading))
			strcpy(out.other, list[i].station);
	}
	return out;
}

struct work_water_doubt work_doubt_waters(const struct book_water *list, size_t count,
                                          const char *station, const char *typed,
                                          enum level_unit unit, char one[LEVEL_SET_READING_BYTES])
{
	struct work_water_doubt out = {0};
	level_nm value;
	while (!out.doubted && level_next_reading(&typed, one))
		if (level_parse_length(one, unit, &value, NULL))
			out = work_doubt_water(list, count, station, value);
	return out;
}

const struct level_sight *work_few_waters(const struct level_run *run,
                                          const struct level_page *page,
                                          const struct level_closing *closing, int end)
{
	const struct level_line *line = level_page_line(page);
	const struct level_sight *sight;
	if (!closing->by_water)
		return NULL;
	sight = &run->sight[end ? line->end_row : line->start_row];
	if (sight->surface && sight->water_count == 1 && sight->water == 0)
		return NULL;
	return sight->water_count < WORK_WATERS_ASKED ? sight : NULL;
}

bool work_water_unused(const struct work_run *run, const char *station)
{
	const struct level_closing *c = &run->closing;
	return run->book.run.kind == LEVEL_CROSSING && c->has_end &&
	       (c->back ||
	        (strcmp(station, c->start_station) != 0 && strcmp(station, c->end_station) != 0));
}
