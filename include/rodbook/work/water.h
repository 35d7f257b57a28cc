/* Whether a water reading is likely a slip. */
#ifndef RODBOOK_WORK_WATER_H
#define RODBOOK_WORK_WATER_H

#include "rodbook/book/crossing.h"

struct work_water_doubt {
	bool doubted;
	level_nm off;                    /* from the mean of those at the station, with its sign */
	char other[LEVEL_STATION_BYTES]; /* another station, whose readings it fits; or "" */
};

/* Of a reading at a station that is not booked yet, held against those of the run that count there:
 * by level_tally_doubts(). */
struct work_water_doubt work_doubt_water(const struct book_water *list, size_t count,
                                         const char *station, level_nm reading);

#endif
