/* Means along a line of sight. */
#include "level/drop/light_integral.h"

#include <math.h>

#include "rodbook/level/drop/drop.h"

#define NODES 12

/* Gauss-Legendre on -1 to 1 with 12 nodes, the positive half (Abramowitz and Stegun, Handbook of
 * Mathematical Functions, table 25.4, recalled; tests/oracle/test_line_means.c compares). */
static const double node[NODES / 2] = {0.125233408511468916, 0.367831498998180194,
                                       0.587317954286617447, 0.769902674194304687,
                                       0.904117256370474857, 0.981560634246719251};
static const double node_weight[NODES / 2] = {0.249147045813402785, 0.233492536538354809,
                                              0.203167426723065922, 0.160078328543346226,
                                              0.106939325995318431, 0.047175336386511827};

/* Height and share of the line at v, where x/d = s sinh v. The quantities here are of powers and
 * roots of z, and z = h0 cosh^2 v: what is singular lies pi/2 off the real line, wherever h0 is,
 * and so one step of v is as easy as any other. */
static double weighted(double v, double s, double h0, quantity_at *f, const void *with)
{
	double grown = exp(v), up = (grown + 1 / grown) / 2, along = s * (grown - 1 / grown) / 2;
	return 2 * (1 - along) * s * up * f(h0 * up * up, with);
}

/* With z = h0 + rise (x/d)^2. */
static double mean_over_rise(double h0, double rise, quantity_at *f, const void *with)
{
	double s = sqrt(h0 / rise), end = asinh(1 / s), sum = 0;
	int steps = (int)ceil(end);
	double half = end / steps / 2;
	for (int i = 0; i < steps; i++) {
		double middle = (2 * i + 1) * half;
		for (int j = 0; j < NODES / 2; j++)
			sum += half * node_weight[j] *
			       (weighted(middle - half * node[j], s, h0, f, with) +
			        weighted(middle + half * node[j], s, h0, f, with));
	}
	return sum;
}

/* z = h0 + share x^2/R. */
static double mean_of(const struct level_sightline *line, double share, quantity_at *f,
                      const void *with)
{
	double rise = share * line->distance * line->distance / line->radius;
	if (!(rise > 1e-9 * line->height))
		return f(line->height + rise / 6, with);
	return mean_over_rise(line->height, rise, f, with);
}

struct line_means line_means(const struct level_sightline *line, quantity_at *f, const void *with)
{
	return (struct line_means){.flat = f(line->height, with),
	                           .between = mean_of(line, 0.25, f, with),
	                           .round = mean_of(line, 0.5, f, with)};
}

double line_mean(const struct level_sightline *line, quantity_at *f, const void *with)
{
	return mean_of(line, 0.25, f, with);
}

bool line_is_sound(const struct level_sightline *line)
{
	return line->height > 0 && isfinite(line->height) && line->distance > 0 &&
	       isfinite(line->distance) && line->radius > 0;
}

double pressure_of(const struct level_air_reading *air)
{
	return isnan(air->pressure) ? LEVEL_STANDARD_PRESSURE : air->pressure;
}

double k_per_gradient(double pressure, double celsius)
{
	double kelvin = celsius + CELSIUS_ZERO;
	return level_k_from_air(pressure, kelvin, 1) - level_k_from_air(pressure, kelvin, 0);
}

double k_from_potential(double pressure, double celsius, double gradient)
{
	return level_k_from_air(pressure, celsius + CELSIUS_ZERO, gradient - DRY_ADIABATIC);
}

struct level_k k_within(double k, double u, double high)
{
	return (struct level_k){
	    .k = k, .low = fmax(2 * u, LEVEL_DK_FLOOR), .high = fmax(2 * u * high, LEVEL_DK_FLOOR)};
}
