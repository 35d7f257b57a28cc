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
