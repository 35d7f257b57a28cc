/* Means along a line of sight, as a bent line of sight weights them; and what both ways from
 * temperatures to k need. */
#ifndef LEVEL_DROP_LIGHT_INTEGRAL_H
#define LEVEL_DROP_LIGHT_INTEGRAL_H

#include "rodbook/level/drop/refraction.h"

/* Potential temperature is T + 0.0098 z: K/m, dry air that rises and mixes cools by so much
 * (standard meteorology). */
#define DRY_ADIABATIC 0.0098
#define CELSIUS_ZERO 273.15

/* Some quantity of the air as a function of the height z > 0, m; `with` is the caller's. */
typedef double quantity_at(double z, const void *with);

/* (2/d^2) integral of (d - x) f(z(x)) dx from 0 to d, relative error below 1e-11 for what falls off
 * as powers of z or as the functions of a surface layer do. Over a flat surface, over a round one,
 * and between the two. */
struct line_means {
	double flat;    /* z = h0 */
	double between; /* z = h0 + x^2/4R */
	double round;   /* z = h0 + x^2/2R */
};
struct line_means line_means(const struct level_sightline *line, quantity_at *f, const void *with);
/* The one between alone. */
double line_mean(const struct level_sightline *line, quantity_at *f, const void *with);

/* Height and distance above 0, and a radius above 0 (INFINITY too). */
bool line_is_sound(const struct level_sightline *line);

/* The pressure, or the standard one where it was not read, hPa. */
double pressure_of(const struct level_air_reading *air);
/* By how much k rises with dT/dz: 503 P/T^2, m/K; celsius in degrees C. */
double k_per_gradient(double pressure, double celsius);
/* k where the potential temperature rises by `gradient`, K/m. */
double k_from_potential(double pressure, double celsius, double gradient);
/* 2 u, at least LEVEL_DK_FLOOR; `high` that many times more. */
struct level_k k_within(double k, double u, double high);

#endif
