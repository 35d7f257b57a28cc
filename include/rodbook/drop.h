/* The level surface, the light path, and the allowance for everything that could fake a drop.
 *
 * Lengths here are meters as doubles: this is physics, not booking. */
#ifndef RODBOOK_DROP_H
#define RODBOOK_DROP_H

#include <stdbool.h>

#include "rodbook/sight.h"

/* GRS 80 (Moritz, Geodetic Reference System 1980): a in m and 1/f. */
#define LEVEL_GRS80_A 6378137.0
#define LEVEL_GRS80_INVERSE_F 298.257222101
/* Mean radius of the Earth, m, to which k refers. */
#define LEVEL_MEAN_RADIUS 6371000.0

/* c = d^2 / (sqrt(R^2 + d^2) + R): how far the level surface lies below the horizontal at
 * distance d; exact on a sphere, without cancellation. d >= 0, R > 0, m. */
double level_curvature(double distance, double radius);
/* r = k d^2 / 2 R0: how far light bends down over d. k refers to the Earth's mean radius R0: the
 * light's own curvature is k / R0, whatever the surface below does. */
double level_refraction(double distance, double k);
/* h = c - r: how far the cross-hair stands above the level surface of that radius at d. */
double level_visible_drop(double distance, double radius, double k);

/* Radius of the GRS 80 ellipsoid, m, in the direction of the sight (Euler's formula): latitude and
 * azimuth in degrees, |latitude| <= 90. */
double level_earth_radius(double latitude, double azimuth);

/* k from the air: 503 P/T^2 (0.0343 + dT/dz); P hPa, T kelvin, dT/dz K/m positive upward.
 * Hirt and others 2010, J. Geophys. Res. 115, D21102, eq. 1, citing Brocks. */
double level_k_from_air(double pressure, double temperature, double gradient);

enum level_decides { LEVEL_BY_BOUND, LEVEL_BY_U95 };

/* One instrument in one state of adjustment; m/m. A tolerance is a maker's word. */
struct level_instrument {
	double tolerance; /* tilt that it may have untested, > 0 */
	bool tested;      /* by pegs: */
	double tilt, u;   /* tilt found, positive upward, and its standard uncertainty */
};
#define LEVEL_INSTRUMENTS 8

/* Whether the test counts instead of the tolerance: where it is better, u <= tolerance / sqrt 3, or
 * does not confirm it, |tilt| > tolerance: the wider interval is the one to allow for then. (Common
 * practice, no source.) */
bool level_test_counts(const struct level_instrument *instrument);

/* Something that the observer declares: a bound, m. */
struct level_declared {
	char name[24]; /* empty: the plain "declared" line */
	double bound;
};
#define LEVEL_DECLARED_MOST 6

/* What prediction and allowance are made of: the book's own figures, or a plan's, or those sealed
 * for a run. Meters, and m/m for slopes. */
struct level_terms {
	double radius;     /* R, m */
	double k, dk;      /* refraction coefficient, and the bound of its error */
	double air_common; /* share of that error's variance that all setups have in common, 0 to 1;
	                      0 where the split is not known: all of it each setup's own */
	struct level_instrument instrument[LEVEL_INSTRUMENTS]; /* 0 is the book's unnamed level */
	double reading_fixed[LEVEL_METHODS]; /* standard uncertainty of a reading: fixed ... */
	double reading_slope[LEVEL_METHODS]; /* ... + slope x distance, by method */
	struct level_declared declared[LEVEL_DECLARED_MOST]; /* bound 0: none */
	double water, water_floor; /* water surface as declared, and never below the floor */
	double flow; /* slope of flowing water, m/m; 0 where it is still, < 0 where not declared */
	enum level_decides decides;
};

/* A mean of readings, m: its standard uncertainty u and degrees of freedom (INFINITY where u
 * follows from the method of reading and not from the spread), and its bound. The spread counts
 * where its interval t95 sd is wider than the method's 2 u: few readings are weak evidence. */
struct level_mean_u {
	double u, freedom, bound;
};
/* What of a variance is known only by the spread of samples: each sample's u, its degrees of
 * freedom nu and t = t95(nu), at least 2. */
struct level_sampled {
	double variance, expanded; /* sum u^2 and sum (t u/2)^2, m^2 */
	double fourth;             /* sum u^4/nu, m^4 */
	double largest;            /* the largest t u, m */
};
/* Adds samples that enter `factor` times as large as they stand in `more`. */
void level_sampled_add(struct level_sampled *sampled, const struct level_sampled *more,
                       double factor);
/* One mean as a sample; nothing where its u follows from the method of reading. */
struct level_sampled level_sampled_of(const struct level_mean_u *mean);

/* Half the interval at 95 % of what has this variance, part of which was sampled, m: t95(nu) times
 * its root, nu the effective degrees of freedom by Welch-Satterthwaite (JCGM 100:2008, G.4; 2 where
 * they are many, 6.3.3), and never less than what any one sample needs by itself. The formula alone
 * follows the luck of a small spread: two readings of a rough shore and two of a still one held the
 * truth in 87 of 100; with this floor samples of two readings and more, in any number and
 * proportion, hold it in 94 and more (tests/oracle/test_expand.c). */
double level_expand(double variance, const struct level_sampled *sampled);
/* The effective degrees of freedom; INFINITY where nothing was sampled. */
double level_effective_freedom(double variance, const struct level_sampled *sampled);

/* Of n readings with this standard deviation, by a method of this uncertainty each; n > 0. */
struct level_mean_u level_mean_of(int n, double sd, double method_u);

/* What the sights of completed setups add up to; s = +1 for a BS and -1 for an FS. All in m. */
struct level_drop_sums {
	double drop;                   /* - sum s h(d): predicted drop P */
	double s_d[LEVEL_INSTRUMENTS]; /* sum s d by instrument */
	double s_d2;                   /* sum s d^2 = -S */
	double length;                 /* sum d */
	double rods;                   /* sum s e, e what a rod reads too high by */
	double reading_bound, reading_variance;
	struct level_sampled sampled; /* of reading_variance the part that spreads of sets gave */
	double refraction_bound, refraction_variance; /* the variance: each setup's own air */
};

/* One end of a sight, for the sums. */
struct level_reach {
	double distance; /* m */
	enum level_method method;
	int instrument;   /* index into the terms */
	double rod_error; /* m that the rod reads too high by */
	int set_count;    /* readings whose mean it is, and their standard deviation; 0 or 1: one */
	double set_sd;
};

/* The uncertainty of a reading: by its method, or by the spread of its set where that says more. A
 * method's own is not shrunk by reading again: what the eye does, it does each time. */
struct level_mean_u level_reading_u(const struct level_terms *terms,
                                    const struct level_reach *reach);

/* Adds one completed setup. */
void level_drop_add(struct level_drop_sums *sums, const struct level_terms *terms,
                    const struct level_reach *bs, const struct level_reach *fs);
/* Adds the mean of several standings of one setup, which `setup` is the sum of: what each reads
 * wrong by itself shrinks, what the level and the air do is the same in all of them. */
void level_drop_add_mean(struct level_drop_sums *sums, const struct level_terms *terms,
                         const struct level_drop_sums *setup, int standings);
/* What tested tilts and known rods take off the observed drop: sum s (gamma d + e), gamma of the
 * instruments whose test counts, m. */
double level_known_error(const struct level_drop_sums *sums, const struct level_terms *terms);

enum level_allowance_line {
	LEVEL_LINE_INSTRUMENT,
	LEVEL_LINE_READING,
	LEVEL_LINE_REFRACTION,
	LEVEL_LINE_DECLARED,
	LEVEL_LINE_WATER,
	LEVEL_LINE_KNOWN,
};
#define LEVEL_ALLOWANCE_LINES 6

/* What the ends of a run bring into its allowance. */
struct level_ends {
	bool water; /* the water line counts: a crossing that does not end on its own start mark */
	struct level_mean_u mean[2];        /* of water readings at start and end; u 0 where none */
	double known_bound, known_variance; /* 2(u_start + u_end), u_start^2 + u_end^2; 0 where
	                                       both are one mark or one surface */
};

struct level_allowance {
	double bound[LEVEL_ALLOWANCE_LINES]; /* each line, everything in the same direction */
	double u[LEVEL_ALLOWANCE_LINES];     /* each line, standard uncertainty */
	double total_bound;                  /* plain sum */
	double u_total, freedom;             /* root of sum u^2 (rectangular bounds / sqrt 3, JCGM
	                                        100:2008, 4.3.7), effective degrees of freedom */
	double total_u95;                    /* by level_expand(), never above the bound */
	double decides;                      /* the total that terms->decides chooses */
};

/* The allowance for a run whose sums and ends these are. */
struct level_allowance level_allow(const struct level_drop_sums *sums,
                                   const struct level_terms *terms, const struct level_ends *ends);
const char *level_allowance_name(enum level_allowance_line line);
/* The largest line, by bound or by u, as the total that decides is made. */
enum level_allowance_line level_largest_line(const struct level_allowance *allowance,
                                             enum level_decides decides);
/* Sum of the declared bounds, m. */
double level_declared_bound(const struct level_terms *terms);

/* An instrument tolerance as makers write it: "1/16 in in 300 ft", "0.1 mm/m", "2 mm in 30 m",
 * "0.003 ft per 100 ft", "5 arcsec". Gives length per length (or the tangent of the angle); refuses
 * the rest, 0 and anything over 0.01. */
bool level_parse_slope(const char *text, double *slope, struct fault *why);
/* The same with a sign, or 0 with or without a unit: a tilt, positive upward. */
bool level_parse_tilt(const char *text, double *tilt, struct fault *why);
/* Declared allowances: one length, or "NAME=LENGTH; LENGTH; ...", where lengths need their unit.
 * Names are letters, digits and _, and none of the allowance's own lines. */
bool level_parse_declared(const char *text, enum level_unit bare,
                          struct level_declared out[LEVEL_DECLARED_MOST], struct fault *why);

#endif
