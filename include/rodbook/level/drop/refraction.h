/* The refraction coefficient k of a long sight, with how far the true one may lie below and above,
 * from one of three sources: a default, two thermometers, or the water's own temperature with one
 * thermometer and the wind.
 *
 * What bends the light is the temperature gradient where it runs, most of all near the instrument:
 *
 *     k(z)    = 503 P/T^2 (0.0343 + dT/dz)                        (level_k_from_air())
 *     k sight = (2/d^2) integral of (d - x) k(z(x)) dx, x from 0 to d
 *
 * with z(x) = h0 + x^2/4R, between a flat and a round surface; half the difference between the two
 * is part of u. (Hirt and others 2010, J. Geophys. Res. 115, D21102, eq. 1, citing Brocks; the
 * weight d - x follows from the bent path.) Units: hPa, degrees C, K, m, m/s, K/m. */
#ifndef RODBOOK_LEVEL_DROP_REFRACTION_H
#define RODBOOK_LEVEL_DROP_REFRACTION_H

#include <stdbool.h>

#include "rodbook/level/fault.h"

enum level_k_source {
	LEVEL_K_DEFAULT,
	LEVEL_K_THERMOMETERS,
	LEVEL_K_WATER,
	LEVEL_K_SET,  /* by the observer, in the settings or by an amendment */
	LEVEL_K_PLAN, /* by the observer, in a plan */
	/* of a run in which no air is booked that gives one: by the air that its plan was made with
	 */
	LEVEL_K_PLAN_AIR,
};
#define LEVEL_K_SOURCES 6
/* "default", "thermometers", "water", "set", "plan", "plan air". */
const char *level_k_source_name(enum level_k_source source);

/* The true k lies from k - low to k + high, at 95 %; low, high >= 0. */
struct level_k {
	double k, low, high;
};

enum level_over { LEVEL_OVER_WATER, LEVEL_OVER_LAND };
enum level_wind_from { LEVEL_WIND_NOT_SAID, LEVEL_WIND_FROM_WATER, LEVEL_WIND_FROM_LAND };

/* A line of sight that leaves horizontally. */
struct level_sightline {
	double height;   /* above the water or ground at the instrument, h0 > 0 */
	double distance; /* d > 0 */
	double radius;   /* R of the round surface, > 0 */
};

/* What was read of the air, all over the same water or ground. NAN: not read. */
struct level_air_reading {
	double pressure;                           /* hPa; not read: LEVEL_STANDARD_PRESSURE */
	double low, low_height, high, high_height; /* two thermometers: degrees C, m */
	double water;                              /* surface temperature, degrees C */
	double at, at_height;                      /* the thermometer once dipped, now in the air */
	double wind, wind_height;                  /* m/s, m */
	enum level_wind_from from;                 /* at mast and instrument */
	double thermometer_u; /* u_T, standard uncertainty of each thermometer, K; > 0 */
	double place;         /* share of the gradient by which one mast may miss the whole line */
};
/* Nothing read; u_T and place as they are where nobody sets them. */
struct level_air_reading level_air_nothing(void);

#define LEVEL_STANDARD_PRESSURE 1013.25 /* hPa */
#define LEVEL_STANDARD_CELSIUS 15.0
#define LEVEL_K_GAUSS 0.13
#define LEVEL_THERMOMETER_U_DEFAULT 0.2 /* K; 0.1 where both were compared side by side */
#define LEVEL_PLACE_DEFAULT 0.2         /* common practice, no source */
/* No air bends light by more, and no k says anything beyond: low and high end here. */
#define LEVEL_K_MOST 20
/* low and high of the three sources are never smaller than this (common practice, no source). */
#define LEVEL_DK_FLOOR 0.1
/* The water's source needs its thermometer this high, m. */
#define LEVEL_AT_HEIGHT_LEAST 0.5
/* The wind counts with at least this, m/s. */
#define LEVEL_WIND_LEAST 0.5

/* Refuses, with what to do, what no air near the ground is: pressure outside 300 to 1100 hPa,
 * temperatures outside -90 to 60 C (water: -3 to 45), heights that are not above 0 or beyond 1000
 * m, equal or exchanged thermometer heights, a wind below 0 or above 60 m/s, half of a pair (a
 * temperature or a wind without its height, or the other way round; one of the two thermometers
 * without the other is allowed and serves
 * nothing), and a k beyond 20 between the thermometers. */
bool level_air_reading_check(const struct level_air_reading *air, struct fault *why);

/* The default: k = LEVEL_K_GAUSS; low and high by the height of the line, over water 0.5 and 2.5
 * from 6 m, 1 and 3 from 3 m, 2 and 4 below; over land 0.5 from 3 m (common practice, no source).
 * False where there is none: over land below 3 m. A height that is not known (NAN) counts as the
 * lowest. */
bool level_k_default(double height, enum level_over over, struct level_k *out);

/* How k by two thermometers came about. */
struct level_k_pair {
	struct level_k k;
	double theta;       /* potential temperature of the upper less that of the lower, K */
	double by_power[3]; /* k by g_p with p = 0, 1 and 1.5; k is that of p = 1 */
	double noise, shape, place, path; /* parts of u */
	double u;
};
/* Two thermometers at the mean of their temperatures, by g_p(z) = dTheta z^-p / integral of z^-p
 * from low_height to high_height, dT/dz = g_p - 0.0098. u^2 = noise^2 + shape^2 + place^2 + path^2:
 * noise, sqrt 2 u_T through p = 1; shape, the larger of |k0 - k1| and |k1.5 - k1|, over sqrt 3;
 * place, 503 P/T^2 times the weighted mean of g_1 times `place` of the air. low = high = 2 u;
 * high 1.5 times that where both hang below the line and the upper is warmer (in potential
 * temperature). Both at least LEVEL_DK_FLOOR. False where something is missing or the wind comes
 * from land. */
bool level_k_by_thermometers(const struct level_air_reading *air,
                             const struct level_sightline *line, struct level_k_pair *out);

/* How k by the water itself came about. */
struct level_k_surface {
	struct level_k k;
	double theta;                                   /* air less water, potential, K */
	double friction, scale, obukhov;                /* u*, theta*, Lo; m/s, K, m */
	double neutral;                                 /* k of the neutral profile */
	double by_air, by_water, by_wind, by_roughness; /* central differences, signed */
	double shape, place, path; /* further parts of u; shape = |k - neutral|/sqrt 3 */
	double u;
};
/* The water itself, one thermometer and the wind: Monin-Obukhov with the Businger-Dyer functions
 * (Garratt, The Atmospheric Boundary Layer, 1992, recalled), T that of the air; u(water) 0.3 K,
 * u(air) u_T, u(wind) 1 m/s, ln z0T +- 2.3/sqrt 3. Thermometer and wind may have heights of their
 * own; a wind below LEVEL_WIND_LEAST counts as that. low = high = 2 u; high twice that where the
 * air may be warmer than the water, in potential temperature: theta above -r, r = 2 sqrt(0.3^2 +
 * u_T^2) + 0.2 K, where 0.2 K is the cool skin (Fairall and others 1996, J. Geophys. Res. 101,
 * recalled); and at least up to the k of water colder by r. (With high doubled above theta 0 only,
 * k held in 74 to 94 of 100 where theta was from -0.7 to 0 K; it holds in 95 and more: simulated,
 * tests/oracle/test_air_worlds.c.) In wind below 1 m/s over colder water low and high are about 4
 * and 8: they hold, and say little. False where something is missing, the thermometer hangs below
 * LEVEL_AT_HEIGHT_LEAST, or the wind comes from land. */
bool level_k_by_water(const struct level_air_reading *air, const struct level_sightline *line,
                      struct level_k_surface *out);

/* k of a sight from whatever was read. */
struct level_k_found {
	bool has;                   /* there is a k: by a source, or the default */
	enum level_k_source source; /* of the chosen one */
	struct level_k chosen;
	bool has_pair, has_surface;
	struct level_k_pair pair;
	struct level_k_surface surface;
	bool disagree;  /* both ways, and they differ by more than their u: chosen reaches to the
	                   outer ends of both */
	bool from_land; /* readings are there, and the wind from land leaves them no say */
	/* Wind below 1 m/s over water colder than the air: the worst hour. k and its low and high
	 * stand, for the default holds in 66 to 82 of 100 then (simulated). */
	bool calm_and_cold;
};
/* Over land the water has no say, nor where the wind comes from. Chooses: the narrower of the two
 * measured ways (low + high), else the default. Two ways agree where |k2 - k3| <= 2 sqrt(u2^2 +
 * u3^2), u half of the sides that face each other. Where both are there and the air is warmer than
 * the water, high reaches at least to the other one's k, for a way is often the narrower one
 * because its gradient came out too small: with thermometers at 1 and 6 m and the line at 4 m
 * chosen held the truth in 93 of 100 without this and in 95 with it (simulated,
 * as above). */
struct level_k_found level_k_find(const struct level_air_reading *air,
                                  const struct level_sightline *line, enum level_over over);

#endif
