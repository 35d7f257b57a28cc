/* The rules that say what a run leaves open. */
#ifndef WORK_LEAVE_RULES_H
#define WORK_LEAVE_RULES_H

#include "rodbook/work/leave.h"

/* A run, and what the run alone does not hold. */
struct leave_about {
	const struct work_run *run;
	bool draft_waits;
	bool has_air;                           /* air that counts is booked */
	bool air_tells;                         /* and a k follows from it, or the run is sealed */
	char water_unused[LEVEL_STATION_BYTES]; /* the first station whose water counts for nothing
	                                         */
	bool other_shore; /* another crossing between its ends was sighted from the other shore */
	const struct book_mark *marks;
	bool *mark_said; /* by number of the mark: each is said once */
	size_t mark_count;
};

/* Adds what is open in the run; of a closed one only what blocks. False where memory is short. */
bool leave_add(struct work_leave *list, const struct leave_about *about);
/* Adds one item about a station and another one; either may be "". */
bool leave_say(struct work_leave *list, const struct work_run *run, struct work_leave_item item,
               const char *station, const char *other);
/* Adds the stations that an IS found apart from what is given, and those that the run found twice
 * and apart. */
bool leave_stations(struct work_leave *list, const struct work_run *run);
/* The same for a run that cannot be read. */
bool leave_add_unreadable(struct work_leave *list, const struct book_run_info *info,
                          const char *why);

#endif
