/* The field test of a level: how well it reads a height difference again and again, after
 * ISO 17123-2:2001 (recalled).
 *
 * Pairs of BS and FS between the same two rods, the instrument moved a little and leveled anew
 * before each. Simplified: one series from midway between rods 60 m apart, one from near one of
 * them, 10 pairs each. Full: two series from midway, 20 pairs each, the rods exchanged in between.
 * Other counts are taken too, and the factors follow their degrees of freedom; the first half of
 * the pairs is the first series. */
#ifndef RODBOOK_LEVEL_FIELDTEST_H
#define RODBOOK_LEVEL_FIELDTEST_H

#include <stddef.h>

#include "rodbook/level/fault.h"
#include "rodbook/level/length.h"

/* A pair has readings of 0 to 100 m. */
struct level_pair {
	level_nm backsight, foresight;
};

/* Pairs that the procedures ask for, and those that are taken. */
#define LEVEL_FIELDTEST_SIMPLIFIED 20
#define LEVEL_FIELDTEST_FULL 40
#define LEVEL_FIELDTEST_LEAST 4
#define LEVEL_FIELDTEST_MOST 1000

/* Lengths in m. A test that was not made passes nothing and fails nothing. */
struct level_fieldtest {
	bool full;
	size_t pairs;   /* in each of the two series */
	double mean[2]; /* BS - FS of each series */
	/* Experimental standard deviation of one height difference, and its degrees of freedom:
	 * simplified, of the series from midway, sqrt(sum r^2/(n - 1)); full, of both, each from
	 * its own mean, sqrt(sum r^2/(2n - 2)). */
	double s, freedom;
	double
	    s_km; /* of 1 km of double run by sights of 30 m: sqrt(1000/60)/sqrt(2) s = 2.887 s */
	/* mean[0] - mean[1], and how large it may be. Simplified: 2.5 s. Full, at 95 %: t95 s
	 * sqrt(2/n), which is 0.64 s for 20 pairs; where the rods were exchanged this difference is
	 * twice that of their zeros. */
	double difference, limit;
	bool difference_passes;
	/* Whether s may be sigma or less, at 95 %: s <= chi_factor sigma, chi_factor =
	 * sqrt(chi-square(0.95, freedom)/freedom), which is 1.19 for 38. */
	bool has_sigma, sigma_passes;
	double sigma, chi_factor;
	/* Whether s and that of another test may be one and the same, at 95 %: f_low <= f_ratio <=
	 * f_high, f_ratio = s^2/s_other^2, f_high = F(0.975, freedom, freedom of the other), which
	 * is 1.91 for 38 and 38, and f_low = F(0.025, ...). */
	bool has_ratio, ratio_passes;
	double f_low, f_ratio, f_high;
};

/* Means, s, and the test of the difference. Refuses odd counts, fewer pairs than
 * LEVEL_FIELDTEST_LEAST or more than LEVEL_FIELDTEST_MOST, and readings that cannot be. */
bool level_fieldtest(const struct level_pair *pairs, size_t count, bool full,
                     struct level_fieldtest *out, struct fault *why);
/* Holds the test against a stated sigma > 0, m, of one height difference. */
void level_fieldtest_hold(struct level_fieldtest *test, double sigma);
/* Compares the test with another one; not made where one of them shows no spread at all. */
void level_fieldtest_compare(struct level_fieldtest *test, const struct level_fieldtest *other);
/* Whether all tests that were made are passed. */
bool level_fieldtest_passes(const struct level_fieldtest *test);

/* s of 1 km of double run over s of one height difference: 2.887. */
double level_double_run_factor(void);
/* Reads a stated sigma: the standard deviation of one height difference, a length; or "0.7 mm/km",
 * "0.7 mm per km", that of 1 km of double run, which is divided by 2.887. Refuses 0, less, and more
 * than 0.1 m. */
bool level_parse_sigma(const char *text, enum level_unit bare, double *sigma, struct fault *why);

#endif
