/* The air over water as wind and the water's warmth make it: Monin-Obukhov similarity with the
 * Businger-Dyer functions (Garratt, The Atmospheric Boundary Layer, 1992, recalled). */
#ifndef LEVEL_DROP_SURFACE_LAYER_H
#define LEVEL_DROP_SURFACE_LAYER_H

struct surface_input {
	double theta;     /* potential temperature of the air less that of the water, K ... */
	double at_height; /* ... with the thermometer this high, m */
	double celsius;   /* of the air there */
	double wind, wind_height; /* m/s (LEVEL_WIND_LEAST counts where it is less), m */
	double log_heat;          /* ln of the roughness length for heat, m; ln HEAT_ROUGHNESS */
};
/* Roughness lengths of water, m: for the wind and for heat. */
#define WIND_ROUGHNESS 1e-4
#define HEAT_ROUGHNESS 1e-4

struct surface_layer {
	double friction; /* u*, m/s */
	double scale;    /* theta*, K; has the sign of theta */
	double obukhov;  /* Lo, m; at least 1 m either way, negative where the water is warmer */
};
struct surface_layer surface_layer_of(const struct surface_input *input);
/* Without the functions of stability. */
struct surface_layer surface_layer_neutral(const struct surface_input *input);
/* dtheta/dz at z, K/m; obukhov INFINITY: neutral. */
double surface_gradient(double z, const struct surface_layer *layer);

#endif
