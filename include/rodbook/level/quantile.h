/* Quantiles of Student's t, chi-square and F distributions, for coverage factors and tests.
 *
 * Degrees of freedom are positive and need not be whole.
 * Relative accuracy is 1e-10 or better for freedoms from 0.1 (Student's t: from 1) to 1e6. An
 * argument out of its range gives NAN; a quantile below 1e-299 or above 1e299 goes to 0 or
 * INFINITY.
 *
 * Formulas from the NIST Digital Library of Mathematical Functions (recalled): the distribution
 * functions are regularized incomplete gamma (8.2.4) and beta functions (8.17.2). */
#ifndef RODBOOK_LEVEL_QUANTILE_H
#define RODBOOK_LEVEL_QUANTILE_H

/* What Student's t of that freedom exceeds, up or down, once in twenty times; freedom > 0. INFINITY
 * gives the normal distribution's 1.95996..., and so does, within its accuracy, any freedom above
 * 1e12. */
double level_t95(double freedom);
/* The same as a coverage factor, at least 2 (JCGM 100:2008, 6.3.3); 2 for INFINITY. */
double level_coverage(double freedom);

/* What chi-square of that freedom stays below with probability p; 0 < p < 1, 0 < freedom <= 1e12.
 */
double level_chi_square(double p, double freedom);

/* Probability that chi-square of that freedom is at least value; 0 < freedom <= 1e12. A value of 0
 * or less gives 1. */
double level_chi_square_above(double value, double freedom);

/* What the ratio of two independent variances with f1 (above) and f2 (below) degrees of freedom
 * stays below with probability p; 0 < p < 1, f1, f2 > 0, INFINITY for a variance that is known. */
double level_f_quantile(double p, double f1, double f2);

#endif
