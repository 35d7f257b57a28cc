/* Reciprocal leveling: the rise between two marks on opposite banks, from one standing of the level
 * beside each of them. What curvature, refraction and tilt put into the long sight of one bank the
 * other bank takes out again. */
#ifndef RODBOOK_LEVEL_RECIPROCAL_H
#define RODBOOK_LEVEL_RECIPROCAL_H

#include <stddef.h>

#include "rodbook/level/page.h"

/* One standing: the readings on the mark beside it and on the one across, and their sights. */
struct level_bank {
	level_nm near, far;
	struct level_reach near_sight, far_sight;
};

struct level_reciprocal {
	level_nm rise;     /* from A to B, rounded once to 1 nm; free of curvature, refraction and
	                      tilt where both banks have the same sights, level and air */
	level_nm combined; /* what those put into the long sight, h + tilt (far - near), likewise */
	double u_rise;     /* standard uncertainty of both by the readings alone, m */
	double unequal; /* what banks with unequal sights, or two tested tilts, leave in the rise by
	                   the terms: to be taken off; m, 0 where they are alike */
	bool two_levels; /* the banks were read with two instruments: their tilts do not cancel */
	double lever;    /* far - near, mean of both banks, m: combined takes tilt x lever ... */
	double bend;     /* ... and less k x bend, bend = (far^2 - near^2)/2 R0, m */
	bool has_k;      /* the tilt of every level used is known by a test that counts: */
	double k, u_k;   /* by these sights, so no prediction of them; u by readings and tests */
};

/* With a1, b1 near A and a2, b2 near B (common practice, no source):
 *	rise A to B = ((a1 - b1) + (a2 - b2))/2
 *	combined    = ((b1 - a1) - (b2 - a2))/2
 *	k           = (c(far) - c(near) + tilt (far - near) - combined)/bend,
 * c being the curvature of the terms' radius in its closed form; at the mean radius that is
 * 1 - 2R(combined - tilt (far - near))/(far^2 - near^2). u_rise = sqrt(sum u^2)/2, u of a reading
 * by its method or by the spread of its set, as in the allowance. a.near and b.far are on A.
 * Refuses readings below 0 or over 100 m, a far sight that is not above 0 or is over 100 km, and a
 * near one that is below 0 or not shorter. */
bool level_reciprocal(const struct level_bank *a, const struct level_bank *b,
                      const struct level_terms *terms, struct level_reciprocal *out,
                      struct fault *why);

/* Reads the two readings of a bank, "NEAR,FAR" where near_first, else "FAR,NEAR". The sights are
 * left as they are. */
bool level_parse_bank(const char *text, enum level_unit bare, bool near_first,
                      struct level_bank *out, struct fault *why);

/* A pair of setups of a run that are reciprocal. */
struct level_reciprocal_pair {
	size_t first, last; /* row of the BS of the first setup, and of the FS of the second */
	const char *a, *b;  /* the marks, a the first BS; the run's own text */
	struct level_bank bank_a, bank_b;
	struct level_reciprocal got;
};

/* The pair that the setup of row `at` makes with the setup before it, or else with the one behind
 * it: both complete and over the same two marks, run forth twice or forth and back, all distances
 * known, in each one sight at least twice as long as the other, and one time A beside the level,
 * the other time B. False where there is none. The page is that of the run. */
bool level_reciprocal_in(const struct level_run *run, const struct level_page *page, size_t at,
                         const struct level_terms *terms, struct level_reciprocal_pair *out);

#endif
