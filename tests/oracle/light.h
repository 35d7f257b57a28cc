/* An Earth, round or flat, and light that bends in a circle: heights from plane geometry, without
 * the formulas d^2/2R and k d^2/2R that it serves to test. */
#ifndef ORACLE_LIGHT_H
#define ORACLE_LIGHT_H

#include <math.h>

#include "rodbook/level/drop/drop.h"

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

#endif
