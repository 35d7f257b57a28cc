/* A long sight before it is made: what it would show, and what could fake it. */
#ifndef RODBOOK_LEVEL_DROP_PLAN_H
#define RODBOOK_LEVEL_DROP_PLAN_H

#include "rodbook/level/drop/finding.h"
#include "rodbook/level/drop/refraction.h"

/* One setup, its long sight an FS. Lengths in m. */
struct level_plan {
	double distance; /* of the long sight, > 0 */
	double near;     /* of the near sight, >= 0, shorter than that */
	enum level_method near_method, far_method;
	enum level_distance_way distance_by; /* of both */
	bool has_hi, has_target;
	double hi;     /* height of the line of sight above the water at the instrument, > 0 */
	double target; /* height of the mark sighted above the water, >= 0 */
	double pole;   /* height of the top of the far pole above the water; 0: not known */
	int waters;    /* readings of the water at each end; 0: the ends do not hang on water */
	bool has_ends; /* the ends are those of a run, as they were read, in place of waters: */
	struct level_ends ends;
	enum level_over over;
	enum level_k_source k_source;
	/* Where the terms have no k of their own: it follows from this air, or is the default. */
	bool by_air;
	struct level_air_reading air;
	struct level_terms terms;
};

/* Why a planned sight cannot tell, whatever its margin. */
enum level_plan_bar {
	LEVEL_PLAN_FREE,
	LEVEL_PLAN_HIDDEN, /* the line comes below LEVEL_CLEARANCE_HIDDEN on one of the surfaces */
	LEVEL_PLAN_ABOVE,  /* the cross-hair meets the far pole above its top */
	LEVEL_PLAN_NO_K,   /* nothing gives a k here */
	LEVEL_PLAN_FLOWS,  /* one way over flowing water whose slope is not declared */
};

struct level_planned {
	struct level_k_found air; /* where by_air */
	struct level_k k;         /* that the plan is reckoned with */
	enum level_k_source k_source;
	double curvature, refraction, visible_drop; /* at the distance; h = c - r */
	double predicted, flat;                     /* P = h(distance) - h(near), and F */
	double separation;                          /* S'/2R */
	struct level_allowance allowance;
	double margin_bound, margin_u95; /* separation - allowance */
	/* Shortest distance from which the separation beats the allowance, by each total, with the
	 * near sight as it is: there the sight tells in half of all cases. INFINITY where none does
	 * (up to 1000 km). */
	double shortest_bound, shortest_u95, shortest; /* the last by the total that decides */
	/* Where has_hi, and shortest is a longer sight: what bars it there, from this height to
	 * this pole. */
	enum level_plan_bar shortest_bar;
	/* Shortest from which it tells in 95 of 100: separation >= allowance + 1.645 u. */
	double sure;
	/* Chance that the sight will tell: Phi((separation - allowance)/u), 0 where the sight is
	 * barred. None for a default air, which says too little to promise anything. */
	bool has_chance;
	double chance;
	enum level_plan_bar bar;
	/* Where has_hi. Where on the far pole, above the water, a flat and a round surface put the
	 * cross-hair of a level without tilt. */
	double crosshair_flat, crosshair_round;
	/* Where has_hi. Lowest height of the line above the water up to the distance, on a flat and
	 * on a round surface, whichever is lower, with the tilt as it is known; and where. */
	double clearance, clearance_at;
	/* Where has_hi: what the water hides of something at the distance, seen from hi; 0 up to
	 * the horizon, and where light follows the surface or bends more. */
	double hidden, horizon; /* horizon: its distance; INFINITY where there is none */
	/* Where has_target: lowest height above the water of the light from hi to the target. */
	double target_clearance, target_clearance_at;
};

/* "", "hidden", "above-pole", "no-default-k", "flowing". */
const char *level_plan_bar_code(enum level_plan_bar bar);

/* Refuses distances that are not above 0, a near sight that is not shorter, an allowance of 0, and
 * heights below 0. */
bool level_plan_check(const struct level_plan *plan, struct fault *why);
struct level_planned level_plan_of(const struct level_plan *plan);
/* What the sight would show and what could fake it, at another distance. */
struct level_weighing level_plan_weigh(const struct level_plan *plan, double distance);

/* The smallest target, m, that an eye makes out at a distance, m, through a telescope of that
 * power: one arc minute to the eye (common practice, no source), distance * tan(1') / power. power
 * > 0. */
double level_target_size(double distance, double power);

/* Clearance under which a line is called too low: 0.5 m (FGCC, Standards and Specifications for
 * Geodetic Control Networks, 1984, recalled); over water 2 m or more is advised, and 4 m for an
 * answer at 300 to 800 m (simulated). Below 0.1 m a line is hidden. */
#define LEVEL_CLEARANCE_LEAST 0.5
#define LEVEL_CLEARANCE_WATER 2.0
#define LEVEL_CLEARANCE_ANSWER 4.0
#define LEVEL_CLEARANCE_HIDDEN 0.1

#endif
