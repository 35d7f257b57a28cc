/* The allowance: what could fake a drop or hide one, source by source.
 *
 * Each error that a crossing may carry is one source: a standard uncertainty, and a limit that it
 * keeps to at 95 % or by declaration. The lines of the allowance are sums over sources; so are the
 * covariances of several crossings, which share those sources that have the same key. A formula of
 * an error stands in level_sources(), once. */
#ifndef RODBOOK_LEVEL_DROP_ALLOWANCE_H
#define RODBOOK_LEVEL_DROP_ALLOWANCE_H

#include "rodbook/level/drop/drop.h"

enum level_allowance_line {
	LEVEL_LINE_INSTRUMENT,
	LEVEL_LINE_READING,
	LEVEL_LINE_REFRACTION,
	LEVEL_LINE_DECLARED,
	LEVEL_LINE_WATER,
	LEVEL_LINE_KNOWN,
	LEVEL_LINE_DRIFT,
	LEVEL_LINE_DISTANCE,
};
#define LEVEL_ALLOWANCE_LINES 8

/* What the ends of a run bring into its allowance. */
struct level_ends {
	bool water;                  /* the end heights hang on the water */
	struct level_mean_u mean[2]; /* of water readings at start and end; u 0 where none */
	double known_u[2]; /* of the known elevations of start and end; 0 where both are one mark,
	                      or one surface */
};

/* Who shares an error with this crossing, by numbers that the caller gives; 0: nobody. */
struct level_identity {
	int run;
	int state[LEVEL_INSTRUMENTS]; /* the instrument in one state of adjustment */
	int pair, start, end;         /* both marks in either direction; each mark */
	bool back;                    /* from the second mark of the pair to the first */
	int day;
	int declared[LEVEL_DECLARED_MOST]; /* the names of what is declared */
};

/* Two sources are one error where their keys are equal; kind 0: nobody else's. */
struct level_key {
	int kind, what, when;
};
bool level_key_same(const struct level_key *a, const struct level_key *b);

/* What one error does to D, m; u and bound are signed alike, by its direction. */
struct level_source {
	enum level_allowance_line line;
	struct level_key key;
	int instrument; /* whose tilt this is; -1: no tilt */
	double u, bound;
	struct level_sampled sampled; /* of u^2 what spreads gave */
};
#define LEVEL_SOURCES_MOST 40

/* All sources but air and distance, which hang on what is tested. Gives how many.
 *
 * instrument, for each: untested tau L, u = bound/sqrt 3; tested coverage u(t) L, u(t) L;
 * drift, for each: 2 u_drift L, u_drift L, in a state of adjustment;
 * reading: each reading's own; declared: bound, u = bound/sqrt 3, slopes times L;
 * water: the mean of each end by t(n-1); its floor at each end; declared; flow times the length;
 * wind set-up 1.6e-7 W^2 d/depth (recalled), sign unknown; rectangular ones /sqrt 3; known: 2 u and
 * u of each end. (Rectangular bounds: JCGM 100:2008, 4.3.7.) */
size_t level_sources(const struct level_drop_sums *sums, const struct level_terms *terms,
                     const struct level_ends *ends, const struct level_identity *identity,
                     struct level_source out[LEVEL_SOURCES_MOST]);

/* One measured length: an error e of it moves X(kappa) by (a + kappa b) e. */
struct level_length {
	struct level_key key;
	enum level_distance_way way;
	double distance; /* d, m */
	double a, b;     /* sum s (t - k d/R0), t with curvature left in, and sum s d, m */
	double u;        /* standard uncertainty of the length, m */
};
#define LEVEL_LENGTHS_MOST 32
/* Adds a sight of weight s (+1 BS, -1 FS; a share of it in a mean of standings) to its length.
 * Lengths by tape, map or step that are equal are one length, measured once; wires measure each
 * anew. Where the list is full the sight joins the last one. */
void level_length_add(struct level_length *list, size_t *count, const struct level_terms *terms,
                      const struct level_identity *identity, double s, double distance,
                      enum level_distance_way way, int instrument);

/* What the air of a run can do to D for each unit that k is off, m. */
struct level_air_effect {
	double common; /* all sights in one air: S/2R0, signed */
	double own;    /* each sight in its own: root of sum d^4, over 2R0 */
	double most;   /* all the same way: sum d^2/2R0 */
};
struct level_air_effect level_air_effect(const struct level_drop_sums *sums);
/* What counts of it at 95 %: as the terms declare, else the larger of common and own, m. */
double level_air_u(const struct level_air_effect *air, const struct level_terms *terms);

struct level_allowance {
	double bound[LEVEL_ALLOWANCE_LINES]; /* each line, its errors all in the same direction */
	double u[LEVEL_ALLOWANCE_LINES];     /* each line, standard uncertainty */
	double total_bound;                  /* if all add up: the plain sum of the lines */
	double u_total, freedom, coverage;   /* root of sum u^2, effective degrees of freedom, t */
	double total_u95;                    /* t u, never above the plain sum */
	double decides;                      /* the total that the terms choose */
};

/* "instrument", "reading", ... */
const char *level_allowance_name(enum level_allowance_line line);
/* What a line makes of the drop, m, as the total that decides is made: its bound, or its u times
 * the factor that makes the total at 95 % of the total u, but never more than its bound: that
 * factor grows with few readings of another line, and twice the u of a rectangular bound, a/sqrt 3
 * (JCGM 100:2008, 4.3.7), is more than the bound a. So the squares of the sizes may add up to less
 * than that of the total. */
double level_line_size(const struct level_allowance *allowance, enum level_allowance_line line,
                       enum level_decides decides);
/* The same at 95 % of any part of a line, by its bound and u, m. */
double level_size_at_95(const struct level_allowance *allowance, double bound, double u);
/* How far the air alone could carry the drop, m: the line of refraction. */
double level_air_alone(const struct level_allowance *allowance, enum level_decides decides);
/* The largest line, by bound or by u, as the total that decides is made. */
enum level_allowance_line level_largest_line(const struct level_allowance *allowance,
                                             enum level_decides decides);

/* All lines, the largest first, by the same; equal ones in their own order. */
void level_lines_by_size(const struct level_allowance *allowance, enum level_decides decides,
                         enum level_allowance_line out[LEVEL_ALLOWANCE_LINES]);

#endif
