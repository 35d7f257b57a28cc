/* What a tolerance set asks for, limit by limit, and what the record of a run can show of it. A
 * class is a procedure, not a figure: what is not known is never kept (FGCC, Standards and
 * Specifications for Geodetic Control Networks, 1984, sec. 3.5, recalled). */
#ifndef RODBOOK_WORK_LIMITS_H
#define RODBOOK_WORK_LIMITS_H

#include "rodbook/work/run.h"

enum work_limit {
	WORK_LIMIT_MISCLOSURE,
	WORK_LIMIT_SIGHT,
	WORK_LIMIT_SETUP_IMBALANCE,
	WORK_LIMIT_IMBALANCE,
	WORK_LIMIT_HALF,
	WORK_LIMIT_STANDINGS,
	WORK_LIMIT_CLEARANCE, /* of the line of sight above the ground: no record shows it */
	WORK_LIMIT_TEST,      /* of the level */
	WORK_LIMIT_READINGS,  /* fine enough for the allowable of a single setup (common practice,
	                         no source) */
	WORK_LIMIT_SECTIONS,  /* known marks on the way, and sections leveled both ways */
	WORK_LIMITS
};
enum work_kept { WORK_NOT_ASKED, WORK_KEPT, WORK_BROKEN, WORK_NOT_KNOWN };

/* Of a run that has a misclosure, by the set that it is closed with. */
void work_limits(const struct work_run *run, enum work_kept out[WORK_LIMITS]);
/* Of a limit that is not known: whether distances would tell it. */
bool work_limit_wants_distances(const struct work_run *run, enum work_limit limit);
/* "misclosure", "sight", "setup_imbalance", "imbalance", "half", "standings", "clearance", "test",
 * "readings". */
const char *work_limit_name(enum work_limit limit);

#endif
