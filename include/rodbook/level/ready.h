/* Whether a run is ready to be closed: complete, without a gap, and within what is allowed. */
#ifndef RODBOOK_LEVEL_READY_H
#define RODBOOK_LEVEL_READY_H

#include "rodbook/level/page.h"

enum level_readiness {
	LEVEL_READY,          /* also where it closes on nothing, or nothing judges it */
	LEVEL_NO_SIGHTS,      /* nothing is booked, or all of it is struck */
	LEVEL_SETUP_OPEN,     /* the last setup has no FS */
	LEVEL_LINE_BROKEN,    /* a gap in the line, or a page check that does not hold */
	LEVEL_NOT_BACK,       /* a loop that is not back on its start mark */
	LEVEL_END_UNKNOWN,    /* a link whose start or end mark has no known elevation */
	LEVEL_WATER_MISSING,  /* a crossing whose water was read at one end only */
	LEVEL_OVER_ALLOWABLE, /* the misclosure is larger than the set allows */
	LEVEL_CHECK_FAILS /* a known mark on the way, or a section leveled both ways, does not hold
	                   */
};

/* The first of these that is true of a run, as its page and closing stand. */
enum level_readiness level_ready(const struct level_run *run, const struct level_page *page,
                                 const struct level_closing *closing);

/* Whether a loop or link that has a misclosure is judged by nothing, or by the number of its setups
 * only: it is closed for a reason. */
bool level_is_weak(const struct level_run *run, const struct level_closing *closing);

/* Whether a run would be judged by its setups only because the sight at `at`, which is being typed,
 * has no distance yet: a reading is typed before its distance, and all others have theirs. */
bool level_awaits_distance(const struct level_run *run, const struct level_closing *closing,
                           size_t at);

/* A setup whose sights differ by more, nm, shows a drop, however short they are, and its longer
 * sight reaches over the water. Common practice, no source. */
#define LEVEL_UNEQUAL (10 * LEVEL_NM_PER_M)

/* From which shores of a crossing its long sights were taken. A long sight is the longer one of a
 * setup, from long_sight (nm) on and over LEVEL_UNEQUAL longer than the other: it reaches over the
 * water, and the instrument stands at the other end. The shore of the start is the first one. */
struct level_shores {
	bool first, second;
};
/* False where memory is short. */
bool level_shores(const struct level_run *run, level_nm long_sight, struct level_shores *out);

#endif
