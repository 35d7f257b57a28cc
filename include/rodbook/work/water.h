/* Whether a water reading is likely a slip, and whether there are enough of them. */
#ifndef RODBOOK_WORK_WATER_H
#define RODBOOK_WORK_WATER_H

#include "rodbook/level/set.h"
#include "rodbook/work/run.h"

struct work_water_doubt {
	bool doubted;
	bool in_set;  /* held against the others of its own set, not against what is booked */
	level_nm off; /* from the mean of those that it was held against, with its sign */
	char other[LEVEL_STATION_BYTES]; /* another station, whose readings it fits; or "" */
};

/* Of a reading at a station that is not booked yet, held against those of the run that count there:
 * by level_tally_doubts(). */
struct work_water_doubt work_doubt_water(const struct book_water *list, size_t count,
                                         const char *station, level_nm reading);

/* The same of the first doubtful reading of a set, or of the one that is typed; its text into
 * `one`. Where none is held to be doubtful by what is booked, each of a set of WORK_SET_TELLS
 * readings or more is held against the others of the set, by the same rule. What is no length is
 * not doubted, and is none of the set. */
#define WORK_SET_TELLS 4
struct work_water_doubt work_doubt_waters(const struct book_water *list, size_t count,
                                          const char *station, const char *typed,
                                          enum level_unit unit, char one[LEVEL_SET_READING_BYTES]);

/* Readings that are asked for at each end of a crossing, over minutes; a mean of fewer is weak
 * evidence (common practice, no source). */
#define WORK_WATERS_ASKED 10

/* The start of a crossing that is closed by its water, or with end 1 its end, where the water was
 * read there fewer times than that; NULL where it was read enough. A station that is the water's
 * surface needs none. */
const struct level_sight *work_few_waters(const struct level_run *run,
                                          const struct level_page *page,
                                          const struct level_closing *closing, int end);

/* Whether water that was read at a station counts for nothing: the run is complete and back at its
 * start, so that no water enters it, or the station is neither of its two ends. */
bool work_water_unused(const struct work_run *run, const char *station);

#endif
