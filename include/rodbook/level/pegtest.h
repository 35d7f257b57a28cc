/* The peg test: the tilt of the line of sight from readings on two pegs, from two standings whose
 * distances differ. */
#ifndef RODBOOK_LEVEL_PEGTEST_H
#define RODBOOK_LEVEL_PEGTEST_H

#include <stddef.h>

#include "rodbook/level/drop/drop.h"
#include "rodbook/level/fault.h"
#include "rodbook/level/length.h"

/* One standing of the instrument: distances to the pegs and readings on them. */
struct level_standing {
	level_nm distance_a, reading_a, distance_b, reading_b;
};

#define LEVEL_STANDINGS_MOST 40

struct level_peg_result {
	double tilt; /* m/m, positive upward, curvature and light taken off */
	double u;    /* standard uncertainty: the larger of own and spread, and the air */
	double own;  /* that the readings' own uncertainty gives the mean tilt */
	double air;  /* g dk/4R0: that of the air of the test, common to all its sets */
	double
	    g; /* geometry of the pegs, m: mean over sets of (d2a^2 - d2b^2 - d1a^2 + d1b^2) /
	          (d2a - d2b - d1a + d1b); curvature adds g/2R to the tilt of the bare readings */
	int sets;
	bool by_spread; /* u follows from the spread: sets - 1 degrees of freedom */
	double spread;  /* standard deviation of the sets' tilts; 0 where there is one */
	/* A set that differs from the mean of the others by more than four times what its and their
	 * readings explain (common practice, no source), of several the farthest: 1, 2, ...;
	 * LEVEL_PEG_EITHER of two sets; 0: none. How far off it is, and what readings explain, m/m.
	 */
	int odd;
	double odd_off, odd_u;
	double should_a, should_b; /* what the last standing should have read, m */
};

#define LEVEL_PEG_EITHER (-1)

/* In what air a peg test was made, and how its rods were read. */
struct level_peg_way {
	double k, dk;
	enum level_method method;
};

/* k and dk of a peg test where nothing was said of its air: in sun over land; and under cloud or
 * over water (common practice, no source). */
#define LEVEL_PEG_K 0.13
#define LEVEL_PEG_DK_SUN 4.0
#define LEVEL_PEG_DK_CLOUD 1.0

/* Beyond this, m/m, no level can be used (common practice, no source). */
#define LEVEL_TILT_MOST 0.05

/* Two standings are a set: tilt = ((a2 - b2) - (a1 - b1)) / ((d2a - d2b) - (d1a - d1b)), readings
 * with curvature of the terms' radius and refraction of k taken off (general two-peg test; common
 * practice, no source). Several sets: their mean. own: from the terms' readings by the way's
 * method. Refuses an odd count, none, more than LEVEL_STANDINGS_MOST, lengths that cannot
 * be, and a set whose standings do not differ by 1 m or more. */
bool level_peg_test(const struct level_standing *standings, size_t count,
                    const struct level_terms *terms, const struct level_peg_way *way,
                    struct level_peg_result *out, struct fault *why);

/* Refuses a tilt that no level has (LEVEL_TILT_MOST): then figures stand in the wrong places. What
 * is kept in a book may have it. */
bool level_peg_is_likely(const struct level_peg_result *result, struct fault *why);

/* Reads "DA,A,DB,B": distance to A, reading on A, distance to B, reading on B. Bare readings are in
 * the style's unit, bare distances in its unit of distances, whichever of the four that is. */
bool level_parse_standing(const char *text, const struct level_style *bare,
                          struct level_standing *out, struct fault *why);

/* The tilt in other words: seconds of arc; rise over 50 m in m; over 100 ft in ft. */
double level_tilt_arcsec(double tilt);

#endif
