/* Tolerance sets: how large a misclosure may be, and by whose rule. */
#ifndef RODBOOK_TOLERANCE_H
#define RODBOOK_TOLERANCE_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/sight.h"

/* One rule. Where per_km is not 0: per_km[0] x sqrt(K) m for a section and per_km[1] for a loop, K
 * the length of the run in km. Where per_setup is not 0: per_setup x sqrt(n) m for n setups, never
 * over cap (0: none). */
struct level_tolerance {
	const char *name;  /* as it is typed */
	const char *title; /* as it is shown */
	double per_km[2];
	double per_setup, cap;
	bool graded; /* one of the orders and classes that a run may be said to meet */
	const char *source;
};

/* The sets, strictest first; *count is filled in. The last, "setups", takes its figure from the
 * book and has per_setup 0 here. */
const struct level_tolerance *level_tolerances(size_t *count);
/* The set so named, or NULL with FAULT_INPUT; why may be NULL. */
const struct level_tolerance *level_tolerance_find(const char *name, struct fault *why);

/* Writes the allowable misclosure in m. False where it cannot be known: a set by length, and
 * has_length false or 0; a set by setups, and no setup or no figure. setup_figure: m per
 * sqrt(setup), for the set "setups". */
bool level_allowable(const struct level_tolerance *set, enum level_run_kind kind, bool has_length,
                     double length_km, int setups, double setup_figure, double *allowable);

#endif
