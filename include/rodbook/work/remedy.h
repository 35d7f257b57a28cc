/* What would make a line of a crossing's allowance smaller. */
#ifndef RODBOOK_WORK_REMEDY_H
#define RODBOOK_WORK_REMEDY_H

#include "rodbook/work/run.h"

enum work_remedy {
	WORK_PEGS_IN_SETS,
	WORK_MORE_SETS, /* it was tested in several sets */
	WORK_SIGHT_A_TARGET,
	WORK_READ_MORE,
	WORK_MEASURE_AIR,
	WORK_WATER_TOO,    /* two thermometers tell of the air, not yet the water */
	WORK_ANOTHER_HOUR, /* the air is known as well as it can be measured */
	WORK_TRANSFER_AGAIN,
	WORK_STILL_WATER,
	WORK_LEVEL_MARKS,
	WORK_TEST_THAT_DAY,
	WORK_TEST_AFTER, /* it was tested that day: a second test shows what it drifted */
	WORK_MEASURE_DISTANCES,
};

/* What is done already, and so is no remedy any more. */
struct work_done {
	enum level_k_source air;
	bool target;      /* the longest sight was read by a target */
	bool in_sets;     /* each level that has a name was tested in several sets */
	bool test_of_day; /* each level that has a name was tested on the day of its first sight */
};

/* Of a run as it stands; `tested` as work_tested() gives it. */
struct work_done work_done(const struct level_run *run, enum level_k_source air,
                           const struct work_tested *tested);
enum work_remedy work_remedy(enum level_allowance_line line, const struct work_done *done);

#endif
