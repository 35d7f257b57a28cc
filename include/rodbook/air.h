/* The air: refraction from pressure and two thermometers. */
#ifndef RODBOOK_AIR_H
#define RODBOOK_AIR_H

#include <stdbool.h>

#include "rodbook/fault.h"

/* Standard uncertainty of one thermometer where none is stated, K (common practice, no source). */
#define LEVEL_THERMOMETER_U 0.1
/* Thermometers never make dk smaller than this. */
#define LEVEL_DK_LEAST 0.05

struct level_air {
	double pressure;      /* hPa */
	double celsius[2];    /* of two thermometers ... */
	double height[2];     /* ... at these heights, m */
	double thermometer_u; /* standard uncertainty of each, K; > 0 */
};

/* Refuses what no air near the ground is: pressure outside 300 to 1100 hPa, temperatures outside
 * -90 to 60 C, heights that are equal or beyond 1000 m, and what makes k or dk larger than 20. */
bool level_air_check(const struct level_air *air, struct fault *why);
/* k by level_k_from_air() at the mean temperature, and its standard uncertainty: that of both
 * thermometers through dT/dz, in full. */
void level_air_k(const struct level_air *air, double *k, double *u);
/* dk for a k of that standard uncertainty: 2 u, at least LEVEL_DK_LEAST. */
double level_air_dk(double u);
/* Reads "P,T1@Z1,T2@Z2": hPa, degrees C, lengths (bare: m). */
bool level_air_parse(const char *text, struct level_air *air, struct fault *why);

#endif
