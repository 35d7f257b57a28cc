/* What the times of observation of a run say against each other. */
#ifndef RODBOOK_WORK_TIMES_H
#define RODBOOK_WORK_TIMES_H

#include "rodbook/book/crossing.h"

/* Water and air change within the hour: what is read farther apart is said (common practice, no
 * source). */
#define WORK_APART_SECONDS 3600

/* What has a time of observation of its own. */
enum work_observed {
	WORK_OBSERVED_SIGHT,
	WORK_OBSERVED_WATER,
	WORK_OBSERVED_AIR,
	WORK_OBSERVED_GAUGE
};

/* An empty time: nothing is to be said of it. */
struct work_times {
	/* Of a crossing whose water was read at both ends: a reading, and the one nearest to it at
	 * the other end, where more than an hour lies between; of several such pairs the widest. */
	char water_start[BOOK_TIME_BYTES], water_end[BOOK_TIME_BYTES];
	/* Its longest sight, and the air farthest from it in time, likewise; of a sealed crossing
	 * of the air that counted at the seal. */
	char air_sight[BOOK_TIME_BYTES], air[BOOK_TIME_BYTES];
	/* The first sight that was observed before the counted one before it, or the first sight,
	 * water, air or gauge that was observed after it was typed. */
	char back[BOOK_TIME_BYTES], before[BOOK_TIME_BYTES];
	enum work_observed observed;            /* which of them */
	char back_station[LEVEL_STATION_BYTES]; /* its station; empty for air */
	bool ahead; /* back was observed after `before`, when it was typed */
};

/* Of a run that may have a draft in it, whose line is given. terms: those that it is computed with.
 */
bool work_times(struct book *book, const struct book_run *run, const struct book_terms *terms,
                struct work_times *out, struct fault *why);

/* The earliest and the latest time of the sights that count; they live in run. False where none has
 * one. */
bool work_sight_times(const struct book_run *run, const char **first, const char **last);

/* Warnings about a sight observed at `time`, of those of level/warnings.h, as bits: earlier than
 * the sight before it, or later than now. Empty times, and what is no time, warn of nothing. */
unsigned work_time_warnings(const char *before, const char *time, const char *now);

#endif
