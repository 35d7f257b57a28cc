/* A net of leveling lines, adjusted by least squares on their height differences.
 *
 * Observation equations v = (H_to - H_from) - dH, weight 1/length (or 1/setups), marks of known
 * elevation held. Normal equations N x = A'P l and cofactors Q = N^-1, q_vv = 1/p - (Q_ff + Q_tt -
 * 2 Q_ft); variance of unit weight s0^2 = v'P v / f: adjustment of indirect observations, for
 * example Ghilani and Wolf, Adjustment Computations (recalled). */
#ifndef RODBOOK_LEVEL_NET_H
#define RODBOOK_LEVEL_NET_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/fault.h"
#include "rodbook/level/length.h"

struct level_net_mark {
	const char *name;
	bool fixed;
	level_nm elevation; /* of a fixed mark */
};

/* A line from one mark to another, or back to the same one; both are indices of marks. */
struct level_net_line {
	size_t from, to;
	level_nm rise;  /* observed elevation of `to` - elevation of `from` */
	double measure; /* its weight is 1/measure: length in km, or number of setups; > 0 */
};

struct level_net {
	size_t marks, lines;
	const struct level_net_mark *mark;
	const struct level_net_line *line;
	double sigma; /* stated standard deviation of a line of measure 1, m; 0: none is stated */
};

struct level_net_mark_result {
	level_nm elevation;
	double cofactor; /* its variance over the variance of unit weight; 0 where fixed */
};

struct level_net_line_result {
	level_nm adjusted; /* rise between the adjusted marks */
	double residual;   /* v, m: adjusted - observed */
	double cofactor;   /* q_vv of the residual */
	double redundancy; /* q_vv / measure: 1 all of an error shows in v, 0 nothing does */
	bool checked;      /* redundancy is above rounding */
	bool has_standardized;
	double standardized; /* v / (s sqrt(q_vv)), s = s0, or sigma where that is stated */
	bool suspect; /* the largest of them, beyond the limit, or one not told apart from it */
};

struct level_net_result {
	struct level_net_mark_result *mark; /* as the net's */
	struct level_net_line_result *line;
	int freedom; /* lines - loose marks; 0: nothing is checked */
	bool has_variance;
	double variance; /* of unit weight, s0^2, m^2 per km or per setup */
	/* The chi-square test of s0^2 against sigma^2, two-sided at 95 %. */
	bool has_test;
	double chi_square, low, high; /* f s0^2 / sigma^2, and what it should lie between */
	bool passes;
	/* The largest standardized residual, beside what it exceeds in 1 of 20 nets without a
	 * blunder: with sigma the normal quantile of 1 - 0.05/(2n), n lines checked (Baarda 1968, A
	 * Testing Procedure for Use in Geodetic Networks, recalled; Bonferroni's inequality), else
	 * tau of f degrees of freedom likewise (Pope 1976, NOAA Technical Report NOS 65 NGS 1,
	 * recalled), for which f must be 2 or more. */
	bool has_limit;
	size_t largest; /* the line that has it; net->lines where no line has one */
	double limit;
	int suspects; /* lines that are suspect: residuals may not tell them apart */
};

/* Told how far an adjustment is: a fraction from 0 to 1, never less than the last one. */
typedef void level_progress(void *context, double fraction);

/* Adjusts a net; progress may be NULL. Refuses with FAULT_INPUT a net without a line or without a
 * fixed mark, one with a part that is not tied to such a mark (its loose marks are named), and one
 * whose measures are too unequal for double precision (by 1e14 and more); FAULT_FILE where memory
 * is short. Free with level_net_free(). */
bool level_net_adjust(const struct level_net *net, level_progress *progress, void *context,
                      struct level_net_result *out, struct fault *why);
void level_net_free(struct level_net_result *result);

#endif
