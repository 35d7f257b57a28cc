/* The level surface, the light path, and what a long sight's answer hangs on: instruments, terms,
 * and what the sights of a run add up to.
 *
 * Lengths here are meters as doubles: this is physics, not booking. */
#ifndef RODBOOK_LEVEL_DROP_DROP_H
#define RODBOOK_LEVEL_DROP_DROP_H

#include <stdbool.h>

#include "rodbook/level/sight.h"

/* GRS 80 (Moritz, Geodetic Reference System 1980): a in m and 1/f. */
#define LEVEL_GRS80_A 6378137.0
#define LEVEL_GRS80_INVERSE_F 298.257222101
/* Mean radius of the Earth R0, m, to which k refers. */
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

/* The total of the allowance that decides: all limits at once, or the 95 % interval. */
enum level_decides { LEVEL_BY_ALL, LEVEL_BY_U95 };

/* One instrument in one state of adjustment; m/m. A tolerance is a maker's word. */
struct level_instrument {
	double tolerance; /* tilt that it may have untested, > 0 */
	bool tested;      /* by pegs: */
	double tilt, u; /* tilt found, curvature and light taken off, positive upward; its standard
	                   uncertainty, never smaller than the readings of the test make it */
	int sets;       /* of pegs whose spread u follows from, n - 1 degrees of freedom; 0 or 1: u
	                   follows from the readings, with many */
	double g;       /* of the pegs' geometry, m: the tilt found has had g/2R taken off it, which
	                   is there on a round surface only; 0: not known, or none */
};
#define LEVEL_INSTRUMENTS 8

/* Something that the observer declares: a bound in m, or a slope in m/m by which a sight may be off
 * for each meter of sum s d (compensator, focusing, local bend of the level surface). */
struct level_declared {
	char name[24];       /* empty: the plain "declared" line */
	double bound, slope; /* one of them is 0 */
};
#define LEVEL_DECLARED_MOST 6

/* What prediction and allowance are made of: the book's own figures, or a plan's, or those sealed
 * for a run. Meters, and m/m for slopes. */
struct level_terms {
	double radius;          /* R, m */
	double k;               /* refraction coefficient */
	double dk_low, dk_high; /* at 95 % the true k lies from k - dk_low to k + dk_high */
	bool no_k;              /* no source gives a k here: nothing can be said */
	/* Share of the air's variance that all sights of a run have in common, 0 to 1, where it is
	 * declared; else the larger of all common and all own counts. */
	bool air_declared;
	double air_common;
	struct level_instrument instrument[LEVEL_INSTRUMENTS]; /* 0 is the book's unnamed level */
	double
	    drift; /* standard uncertainty of what an adjustment moves by between test and sight */
	double reading_fixed[LEVEL_METHODS];    /* standard uncertainty of a reading: fixed ... */
	double reading_slope[LEVEL_METHODS];    /* ... + slope x distance, by method */
	double distance_u[LEVEL_DISTANCE_WAYS]; /* u(d)/d by how the distance was got */
	struct level_declared declared[LEVEL_DECLARED_MOST]; /* bound and slope 0: none */
	double water;       /* bound declared for the water surface */
	double water_floor; /* bound of each end where water was read */
	double flow; /* slope of flowing water, m/m; 0 where it is still, < 0 where not declared */
	double depth, wind; /* mean depth, m, and wind, m/s, for wind set-up; 0: not given */
	enum level_decides decides;
};

/* A peg test must not assume the answer: for a crossing only light is taken off its readings. Tilt
 * with curvature left in, t + g/2R, m/m; 0 where the test does not count. */
double level_light_tilt(const struct level_terms *terms, int instrument);
/* g of an instrument whose test counts, else 0, m. */
double level_pegs_g(const struct level_terms *terms, int instrument);
/* Coverage factor of a tested tilt: t95(sets - 1), or 2. */
double level_tilt_coverage(const struct level_instrument *instrument);

/* Whether the test counts instead of the tolerance. It refutes the tolerance where
 * |t + g/4R| - coverage u > tolerance + g/4R, t the tilt of above, and is the better one where
 * coverage u/2 < tolerance/sqrt 3. (Common practice, no source; without g the test of the tolerance
 * would assume a round surface.) */
bool level_test_counts(const struct level_terms *terms, int instrument);

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
/* The effective degrees of freedom by Welch-Satterthwaite (JCGM 100:2008, G.4); INFINITY where
 * nothing was sampled. */
double level_effective_freedom(double variance, const struct level_sampled *sampled);

/* Of n readings with this standard deviation, by a method of this uncertainty each; n > 0. */
struct level_mean_u level_mean_of(int n, double sd, double method_u);

/* What the sights of completed setups add up to; s = +1 for a BS and -1 for an FS. All in m. */
struct level_drop_sums {
	double drop;                   /* - sum s h(d) */
	double s_d[LEVEL_INSTRUMENTS]; /* sum s d by instrument: -L */
	double s_d2;                   /* sum s d^2 = -S */
	double d2, d4;                 /* sum d^2, sum d^4: what the air of each sight can do */
	double setup_d4;               /* sum over setups of (sum s d^2)^2, for the old rule */
	double length;                 /* sum d */
	double rods;                   /* sum s e, e what a rod reads too high by */
	double reading_bound, reading_variance;
	struct level_sampled sampled; /* of reading_variance the part that spreads of sets gave */
};

/* One end of a sight, for the sums. */
struct level_reach {
	double distance; /* m */
	enum level_method method;
	int instrument;   /* index into the terms */
	double rod_error; /* m that the rod reads too high by */
	int set_count;    /* readings whose mean it is, and their standard deviation; 0 or 1: one */
	double set_sd;
	double limit, u; /* of this reading, m, in place of its method's; 0: not said */
	bool declared;   /* a declared line has its uncertainty already */
};

/* The uncertainty of a reading: by its own limit (u = limit/sqrt 3: JCGM 100:2008, 4.3.7) or its
 * own u, else by its method, or by the spread of its set where that says more. A method's own is
 * not shrunk by reading again: what the eye does, it does each time. Nothing where a declared line
 * has it, and the terms declare one. */
struct level_mean_u level_reading_u(const struct level_terms *terms,
                                    const struct level_reach *reach);

/* Adds what has an uncertainty and no distance: an offset. */
void level_drop_add_mean_u(struct level_drop_sums *sums, const struct level_mean_u *mean);
/* Adds one completed setup. */
void level_drop_add(struct level_drop_sums *sums, const struct level_terms *terms,
                    const struct level_reach *bs, const struct level_reach *fs);
/* Adds the mean of several standings of one setup, which `setup` is the sum of: what each reads
 * wrong by itself shrinks, what the level and the air do is the same in all of them. */
void level_drop_add_mean(struct level_drop_sums *sums, const struct level_drop_sums *setup,
                         int standings);
/* What tested tilts and known rods take off an ordinary page: sum s (t d + e), t of the instruments
 * whose test counts, curvature taken off it, m. */
double level_known_error(const struct level_drop_sums *sums, const struct level_terms *terms);
/* The same for a crossing, whose tilts have curvature left in, m. */
double level_known_light_error(const struct level_drop_sums *sums, const struct level_terms *terms);

/* L = - sum s d, over all instruments, m. */
double level_drop_reach(const struct level_drop_sums *sums);
/* S = - sum s d^2, and S' = S - sum g L over the instruments whose test counts, m^2. */
double level_drop_s(const struct level_drop_sums *sums);
double level_drop_span(const struct level_drop_sums *sums, const struct level_terms *terms);
/* F = -k S/2 R0: what a flat surface would show in the air of the terms, m. */
double level_drop_flat(const struct level_drop_sums *sums, const struct level_terms *terms);
/* P = - sum s h(d) - gL/2R: what a surface of the terms' radius would show in that air, m. */
double level_drop_predicted(const struct level_drop_sums *sums, const struct level_terms *terms);

/* An instrument tolerance as makers write it: "1/16 in in 300 ft", "0.1 mm/m", "2 mm in 30 m",
 * "0.003 ft per 100 ft", "5 arcsec". Gives length per length (or the tangent of the angle); refuses
 * the rest, 0 and anything over 0.01. */
bool level_parse_slope(const char *text, double *slope, struct fault *why);
/* The same with a sign, or 0 with or without a unit: a tilt, positive upward. */
bool level_parse_tilt(const char *text, double *tilt, struct fault *why);
/* Declared allowances: one length, or "NAME=LENGTH; NAME=SLOPE; ...", where lengths need their
 * unit. Names are letters, digits and _, and none of the allowance's first lines. */
bool level_parse_declared(const char *text, enum level_unit bare,
                          struct level_declared out[LEVEL_DECLARED_MOST], struct fault *why);

#endif
