/* Closing a run in one step. */
#ifndef UNIT_CLOSED_H
#define UNIT_CLOSED_H

#include "sights.h"
#include "suite.h"

/* Closes a run by the set so named; figure is m per sqrt(setup). */
static inline struct level_closing closed_with(const struct level_run *run,
                                               const struct level_terms *with, const char *set,
                                               double figure)
{
	struct level_page page = {0};
	struct level_closing out;
	ck_assert(level_reduce(run, 0, with, &page));
	out = level_close(run, &page, with, level_tolerance_find(set, NULL), figure);
	level_page_free(&page);
	return out;
}

static inline struct level_closing closed(const struct level_run *run, const char *set,
                                          double figure)
{
	struct level_terms with = usual_terms();
	return closed_with(run, &with, set, figure);
}

#endif
