/* Warnings about a sight while it can still be cured. None of them refuses it: the observer may
 * book it all the same. */
#ifndef RODBOOK_LEVEL_WARNINGS_H
#define RODBOOK_LEVEL_WARNINGS_H

#include "rodbook/level/page.h"

enum level_warning {
	LEVEL_WARN_HALF,       /* half intervals differ by more than the set allows */
	LEVEL_WARN_SIGHT,      /* the sight is longer than the set allows */
	LEVEL_WARN_IMBALANCE,  /* BS and FS of the setup differ by more than the set allows */
	LEVEL_WARN_CLEARANCE,  /* a rod reading lower than the line may run above the ground */
	LEVEL_WARN_INTERVAL,   /* the wires make another distance than the one typed */
	LEVEL_WARN_NAME,       /* the station was a mark of an earlier setup already */
	LEVEL_WARN_SPREAD,     /* the readings of its set scatter more than its method explains */
	LEVEL_WARN_STANDINGS,  /* its standing's rise differs too much from those before it */
	LEVEL_WARN_STATION,    /* its station was known or determined before, and differs: set by
	                          work_warn() */
	LEVEL_WARN_TIME_BACK,  /* it was observed before the sight before it; this and the next by
	                          work_time_warnings() */
	LEVEL_WARN_TIME_AHEAD, /* it was observed after now */
	LEVEL_WARN_BELOW,      /* the reading is below zero: so it is where its station stands above
	                          the line of sight */
	LEVEL_WARN_CURVATURE,  /* its crossing shows more curvature than any water has: by
	                          work_warn() */
	LEVEL_WARN_NEAR,       /* so short a distance that it may be a reading */
	LEVEL_WARN_ALIKE,      /* its station is new and looks like another; this and the next by
	                          work_doubt() */
	LEVEL_WARN_DECIMALS,   /* the reading has fewer decimals than those before it */
	LEVEL_WARN_DRY,        /* no water was read at its station, but at one that no sight has: by
	                          work_doubt() */
	LEVEL_WARN_TAPE,       /* so far a sight by tape: a target's reading has another u */
	LEVEL_WARN_NUMBER,     /* its station is new and a bare number, as no other station is; set
	                          by work_doubt() */
	LEVEL_WARN_SEALS,      /* it seals the figures of its crossing, but no water and no air is
	                          booked; set by work_doubt_seal() */
	LEVEL_WARNINGS
};

/* A level focuses no nearer than about this, m: a shorter distance is asked about, but on a
 * crossing, whose near mark stands beside the level (common practice, no source). */
#define LEVEL_NEAREST 2

/* Nobody reads a tape through a level over more, m: a mark on a pole, set by signs, is a target
 * (common practice, no source). */
#define LEVEL_TAPE_FARTHEST 100

struct level_warned {
	unsigned set;             /* bits 1 << enum level_warning */
	level_nm half;            /* the figures behind them */
	level_nm distance, other; /* of the sight, and of what it is held against */
	level_nm interval;        /* distance that the wires make */
	level_nm standings;       /* largest difference of the rises of the setup's standings */
	int setup;                /* of the earlier mark */
	double radius;            /* that the crossing shows, m; below 0 where it bends upward */
	level_nm farthest;        /* the longest distance of that crossing */
	const char *alike;        /* the name that the station's looks like; its owner's */
	int decimals;             /* that the readings before it have */
	const char *dry;          /* where water was read, and no sight stands; its owner's */
};

/* Warnings about sight `at` of the run, held against a tolerance set. On a crossing sights are long
 * and unequal on purpose. stadia: distance that the wires make, 0 where there are none; u: standard
 * uncertainty of one reading by the sight's method, m; three times that may be the standard
 * deviation of a set (common practice, no source). */
struct level_warned level_warn(const struct level_run *run, const struct level_page *page,
                               size_t at, const struct level_tolerance *set, level_nm stadia,
                               double u);
/* Whether the distance of a sight is another one than its wires make, nm: by more than half a meter
 * and a hundredth of it, for wires read to 1 mm make 0.1 m (common practice, no source). False
 * where either is not known. */
bool level_wires_differ(const struct level_sight *sight, level_nm stadia);
/* Whether a reading is below zero; an offset has a sign of its own. */
bool level_is_below(const struct level_sight *sight);
/* No water that a level looks across is curved by a shorter radius, m (common practice, no source:
 * the Earth's is twelve times that). */
#define LEVEL_RADIUS_LEAST 500e3
/* Warns where what a crossing shows, the whole allowance taken off, is more curvature than that
 * either way: then a reading, a known mark, a distance or a unit is wrong, and not the water. Not
 * while it has no answer. */
void level_warn_curvature(const struct level_run *run, const struct level_closing *closing,
                          const struct level_terms *terms, struct level_warned *out);
/* "half intervals", ...: one or two words. */
const char *level_warning_name(enum level_warning warning);
/* Their names, parted by "; "; "" where there are none. Books keep this text. */
void level_warned_names(const struct level_warned *warned, char text[LEVEL_REMARK_BYTES]);

#endif
