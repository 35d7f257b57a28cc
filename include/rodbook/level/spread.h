/* The adjustment of one run: its misclosure, with the sign turned, spread over its setups in
 * proportion to their length or to their number (common practice, no source). */
#ifndef RODBOOK_LEVEL_SPREAD_H
#define RODBOOK_LEVEL_SPREAD_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/page.h"

enum level_by { LEVEL_BY_DISTANCE, LEVEL_BY_SETUPS };

/* "distance", "setups". */
const char *level_by_name(enum level_by by);
bool level_by_find(const char *name, enum level_by *by);

/* One row of the page. */
struct level_spread_row {
	bool has;         /* a mark of the adjusted line: the start, and each IS and FS */
	bool fixed;       /* known: it keeps that elevation */
	bool uncorrected; /* an IS whose own sight could not be corrected, its distance missing */
	level_nm from;    /* elevation as booked, or corrected where that is spread over */
	level_nm correction; /* adjusted - from */
	level_nm adjusted;
	double p;            /* part of its section's correction that it has, 0 to 1 */
	size_t begins, ends; /* rows of the fixed marks of that section */
	bool has_share;      /* its place between two fixed marks is known: */
	double share; /* x (1 - x / l), x the way from the fixed mark before and l that between the
	                 two, in km or setups: the variance of its elevation in units of that of
	                 one km or setup, least squares between two fixed marks */
};

struct level_spread {
	enum level_by by;
	bool fallback;  /* by setups, because a distance is not known */
	bool corrected; /* curvature, refraction and tilt were taken off first */
	bool
	    start_assumed; /* the start is not known: it is taken as 0, and no other mark is held */
	int sections;      /* parts between fixed marks; a known mark on the way begins a new one */
	level_nm misclosure; /* the judged one: the corrections at the end mark are its opposite */
	size_t count;        /* rows, as the page has them */
	struct level_spread_row *row;
};

/* Spreads the judged misclosure of a run over its page; by NULL: by distance, or by setups where a
 * distance is not known. An IS is corrected as its setup's FS. Corrections are the cumulative
 * share, rounded once to 1 nm, so that they are exactly the opposite of the misclosure at the end
 * mark. Refuses with FAULT_INPUT an open run, a crossing, a run that closes on nothing or whose
 * page check fails, and distances that are asked for and not known. out->row: free with
 * level_spread_free(). */
bool level_spread(const struct level_run *run, const struct level_page *page,
                  const struct level_closing *closing, const enum level_by *by,
                  struct level_spread *out, struct fault *why);
void level_spread_free(struct level_spread *spread);

/* Standard uncertainty of the adjusted elevation of a row, m, by level_spread_variance(): of a
 * fixed one that of its mark. NAN where the row is no mark of the line, or hangs off the end mark.
 */
double level_spread_u(const struct level_run *run, const struct level_page *page,
                      const struct level_terms *terms, const struct level_spread *spread,
                      size_t row);

#endif
