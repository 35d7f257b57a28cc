/* A long sight before it is made: what it would show, and what could fake it. */
#ifndef RODBOOK_PLAN_H
#define RODBOOK_PLAN_H

#include "rodbook/drop.h"

/* One setup, its long sight an FS. Lengths in m. */
struct level_plan {
	double distance; /* of the long sight, > 0 */
	double near;     /* of the near sight, >= 0, shorter than that */
	enum level_method near_method, far_method;
	bool has_hi, has_target;
	double hi;     /* height of the line of sight above the water at the instrument, > 0 */
	double target; /* height of the mark sighted above the water, >= 0 */
	struct level_terms terms;
};

struct level_planned {
	double curvature, refraction, visible_drop; /* at the distance; h = c - r */
	double predicted;                           /* h(distance) - h(near) */
	struct level_allowance allowance;
	double margin_bound, margin_u95; /* |predicted| - allowance */
	/* Shortest distance from which the predicted drop beats the allowance, by each total, with
	 * the near sight as it is; INFINITY where none does (up to 1000 km), as when dk >= 1 - k.
	 */
	double shortest_bound, shortest_u95, shortest; /* the last by the total that decides */
	/* Where has_hi. Lowest height of the line above the water up to the distance, with the
	 * instrument tilted down by its tolerance and k larger by dk; and where. */
	double clearance, clearance_at;
	/* Where has_hi: what the water hides of something at the distance, seen from hi; 0 up to
	 * the horizon, and where light follows the surface or bends more. */
	double hidden, horizon; /* horizon: its distance; INFINITY where there is none */
	/* Where has_target: lowest height above the water of the light from hi to the target. */
	double target_clearance, target_clearance_at;
};

/* Refuses distances that are not above 0, a near sight that is not shorter, an allowance of 0, and
 * heights below 0. */
bool level_plan_check(const struct level_plan *plan, struct fault *why);
struct level_planned level_plan_of(const struct level_plan *plan);
/* The allowance alone, and the predicted drop, m. */
struct level_allowance level_plan_allowance(const struct level_plan *plan, double *predicted);
/* Clearance under which a line is called too low: 0.5 m (FGCC, Standards and Specifications for
 * Geodetic Control Networks, 1984, recalled); over water 1.5 m is advised, and below 3 m dk is 0.5
 * where nothing better is known, above 0.15 (common practice, no source). */
#define LEVEL_CLEARANCE_LEAST 0.5
#define LEVEL_CLEARANCE_WATER 1.5
#define LEVEL_CLEARANCE_CALM 3.0
#define LEVEL_DK_LOW 0.5
#define LEVEL_DK_HIGH 0.15

#endif
