/* What a gauge showed, held against the elevation that the run found at its station. */
#ifndef RODBOOK_WORK_GAUGES_H
#define RODBOOK_WORK_GAUGES_H

#include "rodbook/book/gauge.h"

struct work_run;

/* What a gauge reading lacks to be held against anything. */
enum work_gauge_lack {
	WORK_GAUGE_WHOLE,
	WORK_GAUGE_NO_SIGHT,     /* no IS or FS of the run that counts stands on the station */
	WORK_GAUGE_NO_ELEVATION, /* the run's start is not known, or its line has a gap before it */
	WORK_GAUGE_NO_RUN,       /* the run cannot be read */
};

struct work_gauge {
	struct book_gauge gauge;
	char run[LEVEL_NAME_BYTES];
	enum work_gauge_lack lack;
	/* Where nothing is lacking: elevation of the station as the page has it, by the IS or FS
	 * nearest in time to the reading (the last one where times are not known); and that less
	 * the reading. */
	level_nm found, difference;
};

/* Finds that for a reading of the run, in out->gauge. A struck one too. */
void work_gauge_find(const struct work_run *run, struct work_gauge *out);
/* "", "sight", "elevation", "run". */
const char *work_gauge_lack_name(enum work_gauge_lack lack);

struct work_gauges {
	struct level_style style;
	struct work_gauge *list; /* by station, and then by time */
	size_t count;
	size_t unreadable; /* runs with gauges that cannot be read */
};
/* All gauge readings of a book, struck ones too; free with work_gauges_free(), after a fault too.
 */
bool work_gauges(struct book *book, struct work_gauges *out, struct fault *why);
void work_gauges_free(struct work_gauges *gauges);

#endif
