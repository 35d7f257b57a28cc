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

/* What the allowance is made of: the book's own figures. Meters, and m/m for slopes. */
struct level_terms {
	double radius; /* R, m */
	double k, dk;  /* refraction coefficient, and the bound of its error */
	double tilt;   /* instrument tolerance, length per length; a maker's word until tested */
	double reading_fixed[LEVEL_METHODS]; /* standard uncertainty of a reading: fixed ... */
	double reading_slope[LEVEL_METHODS]; /* ... + slope x distance, by method */
	double declared;                     /* transfers and marks, as the observer declares */
	double water;                        /* water surface, likewise; a crossing's only */
	enum level_decides decides;
};

/* What the sights of completed setups add up to; s = +1 for a BS and -1 for an FS. All in m. */
struct level_drop_sums {
	double drop; /* - sum s h(d): predicted drop P */
	double s_d;  /* sum s d */
	double s_d2; /* sum s d^2 */
	double reading_bound, reading_variance;
	double refraction_bound, refraction_variance;
};

/* Adds one completed setup. Distances m. */
void level_drop_add(struct level_drop_sums *sums, const struct level_terms *terms,
                    double bs_distance, enum level_method bs_method, double fs_distance,
                    enum level_method fs_method);

enum level_allowance_line {
	LEVEL_LINE_INSTRUMENT,
	LEVEL_LINE_READING,
	LEVEL_LINE_REFRACTION,
	LEVEL_LINE_DECLARED,
	LEVEL_LINE_WATER,
	LEVEL_LINE_KNOWN,
};
#define LEVEL_ALLOWANCE_LINES 6

struct level_allowance {
	double bound[LEVEL_ALLOWANCE_LINES]; /* each line, everything in the same direction */
	double u[LEVEL_ALLOWANCE_LINES];     /* each line, standard uncertainty */
	double total_bound;                  /* plain sum */
	/* 2 sqrt(sum u^2), never above the bound: JCGM 100:2008 (GUM), rectangular bounds /sqrt 3
	 * by its 4.3.7, coverage factor 2 by its 6.3.3 */
	double total_u95;
	double decides; /* the total that terms->decides chooses */
};

/* The allowance for a run whose sums these are. crossing: whether the water line counts.
 * known_bound, known_u: 2(u_start + u_end) and sqrt(u_start^2 + u_end^2), 0 where both are one
 * mark. */
struct level_allowance level_allow(const struct level_drop_sums *sums,
                                   const struct level_terms *terms, bool crossing,
                                   double known_bound, double known_u);
const char *level_allowance_name(enum level_allowance_line line);

/* An instrument tolerance as makers write it: "1/16 in in 300 ft", "0.1 mm/m", "2 mm in 30 m",
 * "0.003 ft per 100 ft", "5 arcsec". Gives length per length (or the tangent of the angle); refuses
 * the rest, 0 and anything over 0.01. */
bool level_parse_slope(const char *text, double *slope, struct fault *why);

#endif
