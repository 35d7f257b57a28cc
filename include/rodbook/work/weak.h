/* What a leveled run cannot show by itself, for whoever judges it: codes with values. Common
 * practice, no source. */
#ifndef RODBOOK_WORK_WEAK_H
#define RODBOOK_WORK_WEAK_H

#include "rodbook/work/run.h"

enum work_weak_point {
	WORK_WEAK_LINE,     /* the page check does not hold */
	WORK_WEAK_UNCLOSED, /* it closes on nothing: no slip would show */
	WORK_WEAK_SETUPS,   /* distances are missing: it is judged by setups alone */
	WORK_WEAK_LEVEL,    /* sights were not equal, no tested tilt is taken off, and a likely one
	                       would make a tenth of the allowable or more; see tilt */
	WORK_WEAK_UNTESTED, /* the level has no peg test that holds (work_run.tested says why) */
	WORK_WEAK_START,    /* one known mark only: a wrong elevation of it shows nowhere */
	WORK_WEAK_ROD,      /* a rod without a name, taken as true: its error shows in no loop */
	WORK_WEAK_PAIRS,    /* two slips that cancel, and a point taken for another */
};
#define WORK_WEAK_POINTS 8

struct work_weak {
	enum work_weak_point point[WORK_WEAK_POINTS]; /* the most costly first */
	size_t count;
	level_nm tilt; /* what a tilt of 0.1 mm/m would do over the imbalance; with its sign */
};

/* Of a loop, a link or an open run. A crossing has its allowance instead, and where no setup is
 * complete there is nothing to say: count 0. */
struct work_weak work_weak_of(const struct work_run *run);

#endif
