/* Several crossings together: one curvature from all of them, whether they agree, and tilt and
 * curvature apart where their distances differ.
 *
 * The question, the null and the codes are those of one crossing (finding.h), and one crossing
 * alone gives exactly its own test. Errors that crossings share are not independent: sources with
 * the same key are one error (allowance.h). */
#ifndef RODBOOK_LEVEL_DROP_COMBINE_H
#define RODBOOK_LEVEL_DROP_COMBINE_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/fault.h"
#include "rodbook/level/drop/finding.h"

#define LEVEL_COMBINE_MOST 200 /* crossings */

/* From this correlation r of a tilt with the curvature on, which three decimals show as 1, the two
 * are one unknown and not told apart. Not knowing the curvature makes the tilt's interval
 * 1/sqrt(1 - r^2) times as wide as it would be were the curvature known: here 32 times, so that no
 * care in reading brings it back, only another distance does. It holds whatever the errors are: two
 * sights of equal errors come to it where one is less than about 6 % longer than the other
 * (1 - r is about (q - 1)^2/8 for lengths as 1 : q near 1). An interval that is wide because
 * readings are poor, at distances that differ, is an answer and stays. */
#define LEVEL_APART_MOST 0.9995

/* A crossing made ready. */
struct level_crossing {
	double shown, span, s; /* C, m; S' and S, m^2 */
	double radius, dk_low, dk_high;
	double s_d[LEVEL_INSTRUMENTS]; /* sum s d by instrument; the index is the same in all */
	/* Of D for each unit of k: u of its own test; in one air with the other crossings, signed,
	 * where the share that sights have in common is declared no more than that; at most. */
	double air_u, air_common, air_most;
	size_t sources, lengths;
	struct level_source source[LEVEL_SOURCES_MOST]; /* instrument: the index of above */
	struct level_length length[LEVEL_LENGTHS_MOST];
};

/* From what a run adds up to. instrument: the index of its instruments among all crossings. */
void level_crossing_of(const struct level_drop_sums *sums, const struct level_terms *terms,
                       const struct level_ends *ends, const struct level_identity *identity,
                       const int instrument[LEVEL_INSTRUMENTS], double observed,
                       struct level_crossing *out);

/* A figure with its standard uncertainty, its 95 % half interval and its limit where all errors add
 * up. */
struct level_estimate {
	double value, u, u95, bound;
};

struct level_combined {
	/* Weights: generalized least squares of C = kappa S'/2 with each crossing's own air, u(k) =
	 * (dk_low + dk_high)/4, in which samples count with t u/2: weights must not follow the luck
	 * of a small spread. u of the weighted mean: with the air the larger of all common and all
	 * own. (One day's air as fully shared inside the weights turns them negative: held 31 to 48
	 * of 100; all independent 70 to 82; so 95 to 99.) */
	struct level_finding finding;    /* of all crossings together */
	struct level_estimate curvature; /* 2C/S' of all, 1/m; u95 and bound at kappa = 0 */
	double prediction;               /* 1/R, weighted alike, 1/m */
	double chi_square, chance;       /* of the residuals; chance of one at least so large */
	int freedom;                     /* crossings - 1; 0: nothing to compare */
	bool agree;                      /* chance >= 0.05 (true where freedom is 0) */
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
	/* The interval of the fitted curvature; none: NO_DISTANCE, or NO_ACCORD. */
	struct level_finding fit;
};

/* Combines crossings. Refuses none, more than LEVEL_COMBINE_MOST, crossings with equal sights, and
 * a covariance that cannot be solved. */
bool level_combine(const struct level_crossing *crossings, size_t count, enum level_decides decides,
                   struct level_combined *out, struct fault *why);

#endif
