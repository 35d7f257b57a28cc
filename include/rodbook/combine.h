/* Several crossings together: the share of the predicted drop that they show, whether they agree,
 * and tilt and curvature apart where their distances differ.
 *
 * Errors that crossings share are not independent: each is a source with a number of its own, and
 * crossings that name the same source are correlated through it. */
#ifndef RODBOOK_COMBINE_H
#define RODBOOK_COMBINE_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/fault.h"
#include "rodbook/finding.h"

#define LEVEL_SOURCES_MOST 24
#define LEVEL_COMBINE_MOST 200 /* crossings */

/* From this correlation r of a tilt with the curvature on, which three decimals show as 1, the two
 * are one unknown and not told apart. Not knowing the curvature makes the tilt's interval
 * 1/sqrt(1 - r^2) times as wide as it would be were the curvature known: here 32 times, so that no
 * care in reading brings it back, only another distance does. It holds whatever the errors are: two
 * sights of equal errors come to it where one is less than about 6 % longer than the other
 * (1 - r is about (q - 1)^2/8 for lengths as 1 : q near 1). An interval that is wide because
 * readings are poor, at distances that differ, is an answer and stays. */
#define LEVEL_APART_MOST 0.9995

/* What one source of error does to a crossing's drop, m; both signed, by its direction. */
struct level_source {
	int id; /* above 0, once in a crossing; the same in two crossings: the same error */
	double u, bound;
	struct level_sampled sampled; /* of u^2 what spreads gave; one crossing's own, not shared */
};

struct level_crossing {
	double observed, predicted;    /* D, P; m */
	double s_d2;                   /* sum s d^2 = -S, m^2 */
	double k, radius;              /* of the prediction */
	double s_d[LEVEL_INSTRUMENTS]; /* sum s d by instrument; the index is the same in all */
	int tilt_source[LEVEL_INSTRUMENTS]; /* ids of the instruments' sources; 0: not used */
	size_t sources;
	struct level_source source[LEVEL_SOURCES_MOST];
};

/* A figure with its standard uncertainty, its 95 % half interval and its bound. The interval of one
 * crossing is level_expand()'s; of several, root of sum (2 u)^2 with t u for each sample, never
 * above the bound: with weights that follow the spreads the former held the truth in 91 of 100 for
 * three readings of the water (tests/oracle/test_recovery_combined.c). */
struct level_estimate {
	double value, u, u95, bound;
};

struct level_combined {
	/* Generalized least squares of D = share x P with the full covariance, in which samples
	 * count with t u/2: weights must not follow the luck of a small spread. */
	struct level_estimate share;   /* 0: no visible drop; 1: as predicted */
	enum level_drop_answer answer; /* by the total that decides */
	double chi_square, chance;     /* of the residuals; chance of one at least so large */
	int freedom;                   /* crossings - 1; 0: nothing to compare */
	bool agree;                    /* chance >= 0.05 (true where freedom is 0) */
	/* D + k (curvature at k = 0) = curvature x S / 2: the same crossings as one radius. */
	struct level_estimate curvature; /* 1/R, 1/m */
	struct level_radius radius;      /* by the total that decides */
	/* Tilt and curvature fitted apart, where the distances allow it: where every |correlation|
	 * is below LEVEL_APART_MOST. */
	bool has_fit;
	const char *no_fit;                                    /* why not, else NULL */
	int tilts;                                             /* instruments fitted */
	struct level_estimate tilt[LEVEL_INSTRUMENTS], fitted; /* m/m; 1/m */
	int tilt_instrument[LEVEL_INSTRUMENTS];
	double correlation[LEVEL_INSTRUMENTS]; /* of each tilt with the curvature */
	double fit_chi_square, fit_chance;
	int fit_freedom;
	struct level_radius fit_radius;
};

/* Combines crossings. Refuses none, more than LEVEL_COMBINE_MOST, crossings with equal sights, and
 * a covariance that cannot be solved. */
bool level_combine(const struct level_crossing *crossings, size_t count, enum level_decides decides,
                   struct level_combined *out, struct fault *why);

#endif
