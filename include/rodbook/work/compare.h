/* A sight on a station that was known or determined before: what it finds less that, and whether it
 * may. */
#ifndef RODBOOK_WORK_COMPARE_H
#define RODBOOK_WORK_COMPARE_H

#include "rodbook/level/sections.h"
#include "rodbook/work/stations.h"

enum work_against {
	WORK_AGAINST_NOTHING,
	WORK_AGAINST_GIVEN,   /* held against the tolerance from the last known mark */
	WORK_AGAINST_EARLIER, /* of this run, by the uncertainty of the difference */
	WORK_AGAINST_RUN,     /* another run, likewise */
};

struct work_compared {
	enum work_against against;
	level_nm difference;        /* found less that */
	level_nm allowable;         /* not below 0 */
	bool has_allowable;         /* else nothing judges it */
	bool holds;                 /* also where nothing judges it */
	int setup;                  /* of this run, 1 first, that found it earlier */
	char run[LEVEL_NAME_BYTES]; /* the other run */
};

/* What sight `at` of a reduced run is compared with: what is given, else what this run found
 * before, else what another did (other; NULL where there is none). The start mark, met again, and
 * the first known mark of a loop or link are not: there the misclosure tells. Nothing of a crossing
 * is. */
struct work_compared work_compare(const struct level_run *run, const struct level_page *page,
                                  const struct level_terms *terms, const struct level_rule *rule,
                                  size_t at, const struct work_determination *other);

/* The last determination of a station by the other runs, from known elevations as this run is, or
 * from the same start mark. *has: there is one; none in a crossing, or of a turning
 * point (level_is_passing()). */
bool work_determined(struct book *book, const struct book_run *run, const char *station,
                     struct work_determination *out, bool *has, struct fault *why);

#endif
