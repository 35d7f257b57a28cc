/* What is observed beside readings: how a rod errs, and means of repeated readings. */
#ifndef RODBOOK_LEVEL_OBSERVED_H
#define RODBOOK_LEVEL_OBSERVED_H

#include "rodbook/level/length.h"

/* What is known of a rod's errors. 0 is no error. */
struct level_rod {
	double zero;      /* m that it reads too high by at its zero */
	double scale;     /* ppm by which its units are too long at the reference temperature */
	double expansion; /* ppm/K more above that temperature */
	double reference; /* degrees C */
};
/* How much too high the rod reads at this reading, m: zero + reading - (reading - zero) (1 + (scale
 * + expansion (T - reference)) 10^-6) less that height; a rod whose units are too long reads too
 * little. Below zero the rod is upside down, and its zero shifts a reading the other way. celsius:
 * its temperature, NAN where it is not known; the scale then holds as it stands. By definition of
 * the unit's length. */
double level_rod_error(const struct level_rod *rod, level_nm reading, double celsius);

/* Readings of one thing, one added after the other. Begin with {0}. */
struct level_tally {
	int count;
	level_nm first, off; /* off: sum of what each is above the first, nm */
	double squares;      /* of the same, nm^2 */
};
void level_tally_add(struct level_tally *tally, level_nm reading);
/* The tally without one of the readings that were added. */
struct level_tally level_tally_without(const struct level_tally *tally, level_nm reading);
/* The mean, rounded once to 1 nm; 0 of none. */
level_nm level_tally_mean(const struct level_tally *tally);
/* Standard deviation of one reading, m, n - 1 in its divisor (GUM, JCGM 100:2008, 4.2.2); 0 of
 * fewer than two. */
double level_tally_sd(const struct level_tally *tally);
/* Whether one more reading lies so far from the others that it is likely a slip: by more than four
 * of their standard deviations, of which 2.5 mm is the least, where there are three or more; of two
 * by more than ten times their difference, from 0.05 m to 0.25 m; of one by more than 0.25 m, as
 * waves stand apart (common practice, no source). Never of the first one. */
bool level_tally_doubts(const struct level_tally *tally, level_nm reading);

#endif
