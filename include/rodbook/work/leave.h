/* What is still open in a book before leaving the site: each thing as a code with its values. */
#ifndef RODBOOK_WORK_LEAVE_H
#define RODBOOK_WORK_LEAVE_H

#include "rodbook/work/compare.h"
#include "rodbook/work/remedy.h"

/* How costly it is to leave it so, 1 most; scripts hold on to the numbers. */
enum work_leave_rank {
	WORK_RANK_INCOMPLETE = 1,
	WORK_RANK_OVER,
	WORK_RANK_PAGE,
	WORK_RANK_UNCHECKED,
	WORK_RANK_IMBALANCE,
	WORK_RANK_UNTESTED,
	WORK_RANK_CROSSING,
	WORK_RANK_MARK,
	WORK_RANK_DRAFT,
	WORK_RANK_OVERRIDDEN,
	WORK_RANK_RODS,
	WORK_RANK_NOT_CLOSED,
	WORK_RANK_UNREADABLE,
	WORK_RANK_CHECK, /* first in the list all the same */
	WORK_RANK_MOVED,
	WORK_RANK_STATION,
	WORK_RANKS
};

/* What is open, and in parentheses the values of the item that say more. */
enum work_leave_code {
	WORK_NOTHING_BOOKED,
	WORK_SETUP_OPEN, /* no FS yet (setup; station: of its BS) */
	WORK_LINE_GAP,
	WORK_NOT_BACK,    /* a loop (station: where it stands; other: its start) */
	WORK_OPEN_RUN,    /* it closes on nothing */
	WORK_END_UNKNOWN, /* of a link (station: start or end without an elevation) */
	WORK_NOT_JUDGED,  /* by length, and by setups at most, which it holds (figure: misclosure;
	                     limit: by setups, 0: by nothing; count: distances not known) */
	WORK_OVER_ALLOWABLE, /* (figure: misclosure; limit: the allowable; corrected; provisional;
	                        count: distances not known) */
	WORK_SETUP_UNEQUAL,  /* BS and FS distance of a setup differ (figure, limit) */
	WORK_RUN_UNEQUAL,    /* the same of the sums of the run (figure, limit) */
	WORK_LEVEL_UNTESTED, /* (tested) */
	WORK_LEVEL_UNNAMED,  /* read with a level that no peg test can stand behind */
	WORK_ONE_SHORE,      /* the long sight of a crossing was taken from one shore only */
	WORK_WATER_ONE_END,  /* the water was read at one end only */
	WORK_NO_WATER,       /* the water was read at neither end of two marks */
	WORK_NO_AIR,         /* of a crossing */
	WORK_SEALED_LATE,    /* after a drop was seen or booked */
	WORK_NOT_SEALED,     /* a crossing with a setup */
	WORK_MARK_UNSAID,    /* a mark without a description (station) */
	WORK_DRAFT_WAITS,    /* a half-typed sight */
	WORK_BOOKED_AGAINST, /* warnings (count: sights; of the first: sight, station, text) */
	WORK_RODS_ODD,       /* two rods over an odd number of setups */
	WORK_RUN_NOT_CLOSED, /* (ready: it can be) */
	WORK_RUN_UNREADABLE, /* (text: why) */
	WORK_CHECK_FAILS, /* a known mark does not hold (station, figure, limit), or, from the mark
	                     named in other, a section leveled both ways */
	WORK_MARK_MOVED,  /* a mark is not known as it was when the run was closed, or the crossing
	                     sealed (moved) */
	WORK_STATION_APART, /* a known station on the side, or one read twice (station, compared) */
	WORK_WATER_APART,   /* the water of the two ends was read more than an hour apart (times) */
	WORK_AIR_APART,     /* air was booked more than an hour from the long sight (times) */
	WORK_TIME_ODD,     /* a sight before the one before it, or something ahead of now (times) */
	WORK_WATER_FEW,    /* of a crossing, too few readings of the water at an end, or at both
	                      (station,    count; of the other end: other, other_count) */
	WORK_WATER_UNUSED, /* water of a crossing, at a mark that is none of its ends (station) */
	WORK_NOT_SEPARATED, /* a crossing that is complete, and flat and round both fit its drop
	                       (largest, done) */
	WORK_NOT_PREDICTED, /* a crossing that is complete, and the prediction does not fit its drop
	                     */
	WORK_WIND_UNSAID,   /* of a crossing whose k comes from booked air */
	WORK_TEST_LATE, /* the test of a level of a crossing was booked after the seal (tested) */
	WORK_LEAVE_CODES
};

struct work_leave_item {
	enum work_leave_code code;
	enum work_leave_rank rank;
	bool blocks; /* it must be done before leaving; else it could be */
	bool closed; /* the run is closed, and has to be reopened to mend it */
	char run[LEVEL_NAME_BYTES];
	/* Values; 0 or empty where the code has no use for them. */
	char station[LEVEL_STATION_BYTES], other[LEVEL_STATION_BYTES];
	char text[LEVEL_REMARK_BYTES];
	enum level_kind sight;
	int setup; /* 1 first */
	size_t count, other_count;
	level_nm figure, limit; /* nm; a misclosure has its sign, no other figure has one */
	level_nm booked;        /* a misclosure as booked, where curvature is off the figure */
	bool corrected;         /* curvature and refraction are taken off the figure; */
	bool tilt;              /* a known tilt or rod too */
	bool provisional;       /* the limit is by the number of setups, for want of distances */
	bool ready;
	struct work_tested tested;
	struct work_compared compared;
	struct work_times times;
	struct book_moved moved;
	enum level_allowance_line largest; /* of the allowance, and what is done about it already */
	struct work_done done;
};

/* Items that block before the others, each of the two in the order of their ranks, and those of one
 * rank as the runs were given; WORK_RANK_CHECK stands before all. */
struct work_leave {
	struct work_leave_item *item;
	size_t count, room;
	struct level_style style;   /* of the book */
	struct level_tolerance set; /* that its runs are held to */
};

/* Lists what is open in the runs named, or where count is 0 in all runs of the book; a mark without
 * a description once only, and of a closed run only what blocks. FAULT_INPUT where a run is not
 * there; a run that cannot be read is an item. Free with work_leave_free(), also after a fault. */
bool work_leave(struct book *book, const char *const *names, size_t count, struct work_leave *out,
                struct fault *why);
void work_leave_free(struct work_leave *list);

#endif
