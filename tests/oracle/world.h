/* A world to level in: an Earth, round or flat, light that bends in a circle, a line of sight that
 * is not quite level, marks and waves. Heights come from plane geometry on circles; nothing here
 * uses the formulas d^2/2R and k d^2/2R that it serves to test. */
#ifndef ORACLE_WORLD_H
#define ORACLE_WORLD_H

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "rodbook/drop.h"

/* A circle of curvature k/R0, to the right and down, that leaves the origin at `tilt` upward: its
 * y at x. Exact, and good for a straight line too: with t = sin(tilt) and e = 1/radius it is
 * x (2 t - x e) / (sqrt(1 - (x e - t)^2) + cos(tilt)). */
static inline double light_at(double x, double tilt, double k)
{
	double e = k / LEVEL_MEAN_RADIUS, t = sin(tilt), off = x * e - t;
	return x * (2 * t - x * e) / (sqrt(1 - off * off) + cos(tilt));
}

/* How high above the level surface the line of sight meets the plumb line through a mark `distance`
 * away along that surface; the instrument stands `hi` above it. Radius INFINITY: flat. */
static inline double line_height(double radius, double hi, double tilt, double k, double distance)
{
	double angle = distance / radius, half, y = 0;
	if (isinf(radius))
		return hi + light_at(distance, tilt, k);
	/* The plumb line leans by the angle: along it x = (radius + hi + y) tan(angle). */
	for (int i = 0; i < 3; i++)
		y = light_at((radius + hi + y) * tan(angle), tilt, k);
	half = sin(angle / 2);
	return (hi + y + 2 * radius * half * half) / cos(angle);
}

/* A seed that is the same each time, unless RODBOOK_SEED gives another. */
static inline gsl_rng *world_chance(const char *what)
{
	const char *given = getenv("RODBOOK_SEED");
	unsigned long seed = given ? strtoul(given, NULL, 10) : 20170;
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_rng_set(rng, seed);
	printf("%s: RODBOOK_SEED=%lu\n", what, seed);
	fflush(stdout);
	return rng;
}

/* How errors are drawn. */
enum draw {
	FREE,   /* as they are distributed */
	INSIDE, /* the same, but none beyond its bound: 2 u for a normal one */
	CORNER, /* each at one end of its bound or the other */
};

static inline double either(gsl_rng *rng, double size)
{
	return gsl_rng_uniform_int(rng, 2) ? size : -size;
}

static inline double normal_error(gsl_rng *rng, double u, enum draw draw)
{
	double error;
	if (draw == CORNER)
		return either(rng, 2 * u);
	do
		error = gsl_ran_gaussian_ziggurat(rng, 1);
	while (draw == INSIDE && fabs(error) > 2);
	return u * error;
}

static inline double flat_error(gsl_rng *rng, double bound, enum draw draw)
{
	if (draw == CORNER)
		return either(rng, bound);
	return bound > 0 ? gsl_ran_flat(rng, -bound, bound) : 0;
}

#endif
