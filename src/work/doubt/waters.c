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

/* Says in `other` whose readings a doubted one fits. */
static void find_other(const struct book_water *list, size_t count, level_nm reading,
                       struct work_water_doubt *out)
{
	struct level_tally other;
	for (size_t i = 0; i < count && out->doubted && !*out->other; i++) {
		other = tally_at(list, count, list[i].station);
		if (other.count && !level_tally_doubts(&other, reading))
			strcpy(out->other, list[i].station);
	}
}

struct work_water_doubt work_doubt_water(const struct book_water *list, size_t count,
                                         const char *station, level_nm reading)
{
	struct work_water_doubt out = {0};
	struct level_tally own = tally_at(list, count, station);
	out.doubted = level_tally_doubts(&own, reading);
	out.off = own.count ? reading - level_tally_mean(&own) : 0;
	find_other(list, count, reading, &out);
	return out;
}

static struct level_tally tally_of(const char *typed, enum level_unit unit)
{
	struct level_tally out = {0};
	char one[LEVEL_SET_READING_BYTES];
	level_nm value;
	while (level_next_reading(&typed, one))
		if (level_parse_length(one, unit, &value, NULL))
			level_tally_add(&out, value);
	return out;
}

/* Of a reading of the set that the tally is of. */
static struct work_water_doubt doubt_in_set(const struct book_water *list, size_t count,
                                            const struct level_tally *set, level_nm reading)
{
	struct work_water_doubt out = {.in_set = true};
	struct level_tally others = level_tally_without(set, reading);
	out.doubted = level_tally_doubts(&others, reading);
	out.off = reading - level_tally_mean(&others);
	find_other(list, count, reading, &out);
	return out;
}

struct work_water_doubt work_doubt_waters(const struct book_water *list, size_t count,
                                          const char *station, const char *typed,
                                          enum level_unit unit, char one[LEVEL_SET_READING_BYTES])
{
	struct work_water_doubt out = {0};
	struct level_tally set = tally_of(typed, unit);
	const char *at = typed;
	level_nm value;
	while (!out.doubted && level_next_reading(&at, one))
		if (level_parse_length(one, unit, &value, NULL))
			out = work_doubt_water(list, count, station, value);
	at = typed;
	while (!out.doubted && set.count >= WORK_SET_TELLS && level_next_reading(&at, one))
		if (level_parse_length(one, unit, &value, NULL))
			out = doubt_in_set(list, count, &set, value);
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
