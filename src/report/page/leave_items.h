/* What is still open in a book, most costly first. */
#ifndef REPORT_PAGE_LEAVE_ITEMS_H
#define REPORT_PAGE_LEAVE_ITEMS_H

#include "rodbook/report/report.h"

/* How costly it is to leave it so, 1 most; scripts hold on to the numbers. */
enum leave_rank {
	LEAVE_INCOMPLETE = 1,
	LEAVE_OVER,
	LEAVE_PAGE,
	LEAVE_UNCHECKED,
	LEAVE_IMBALANCE,
	LEAVE_UNTESTED,
	LEAVE_CROSSING,
	LEAVE_MARK,
	LEAVE_DRAFT,
	LEAVE_OVERRIDDEN,
	LEAVE_RODS,
	LEAVE_NOT_CLOSED,
	LEAVE_UNREADABLE,
	LEAVE_RANKS
};

struct leave_item {
	enum leave_rank rank;
	bool blocks;
	char run[LEVEL_NAME_BYTES];
	char what[500], cure[200];
};

struct leave_list {
	struct leave_item *item;
	size_t count, room;
	bool short_of_memory;
};

/* What a run leaves open; terms that the run alone does not hold are given. */
struct leave_about {
	const struct work_run *run;
	bool draft_waits;
	bool has_air;     /* air that counts is booked */
	bool other_shore; /* another crossing between its ends was sighted from the other shore */
	const struct book_mark *marks;
	bool *mark_said; /* by number of the mark: each is said once */
	size_t mark_count;
};

/* Adds what is open in the run; of a closed one only what blocks. */
void leave_add(struct leave_list *list, const struct leave_about *about);
/* The same for a run that cannot be read. */
void leave_add_unreadable(struct leave_list *list, const struct book_run_info *info,
                          const char *why);

#endif
