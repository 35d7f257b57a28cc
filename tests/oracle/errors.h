/* Errors drawn at random, with the GNU Scientific Library. */
#ifndef ORACLE_ERRORS_H
#define ORACLE_ERRORS_H

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* A seed that is the same each time, unless RODBOOK_SEED gives another. */
static inline gsl_rng *fixed_chance(const char *what)
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
