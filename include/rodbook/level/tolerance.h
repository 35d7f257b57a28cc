/* Tolerance sets: how large a misclosure may be, what else is asked for, and by whose rule. */
#ifndef RODBOOK_LEVEL_TOLERANCE_H
#define RODBOOK_LEVEL_TOLERANCE_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/sight.h"

/* One rule. Where per_km is not 0: per_km[0] x sqrt(K) m for a section and per_km[1] for a loop, K
 * the length of the run in km. Where per_setup is not 0: per_setup x sqrt(n) m for n setups, never
 * over cap (0: none). The other limits, in m and m/m, are 0 where the rule has none. */
struct level_tolerance {
	char name[40];  /* as it is typed */
	char title[60]; /* as it is shown */
	double per_km[2];
	double per_setup, cap;
	double sight;           /* longest sight */
	double setup_imbalance; /* difference of BS and FS distance of one setup */
	double imbalance;       /* the same of the sums of the run */
	double half;            /* difference of the half intervals of three wires */
	double standings;       /* difference of the rises of a setup's standings */
	double clearance;       /* of the line above the ground, at least */
	double tilt;            /* of the level */
	double days;            /* age of its last peg test */
	bool graded;            /* one of the orders and classes that a run may be said to meet */
	char source[160];
};

/* The sets of data/tolerances.txt, strictest first; *count is filled in. The last, "setups", takes
 * its figure from the book and has per_setup 0 here. */
const struct level_tolerance *level_tolerances(size_t *count);
/* The set so named, or NULL with FAULT_INPUT; why may be NULL. */
const struct level_tolerance *level_tolerance_find(const char *name, struct fault *why);

/* Reads the figures of a set, "title=...; section=12 mm; ...", as data/tolerances.txt explains
 * them; lengths need their unit. */
bool level_parse_tolerance(const char *name, const char *figures, struct level_tolerance *out,
                           struct fault *why);

/* Writes the allowable misclosure in m. False where it cannot be known: a set by length, and
 * has_length false or 0; a set by setups, and no setup or no figure. setup_figure: m per
 * sqrt(setup), for the set "setups". */
bool level_allowable(const struct level_tolerance *set, enum level_run_kind kind, bool has_length,
                     double length_km, int setups, double setup_figure, double *allowable);

#endif
