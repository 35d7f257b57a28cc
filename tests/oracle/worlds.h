/* The true air over one shore's water on one day, made otherwise than the program supposes: other
 * functions of stability, stability by vapor too, a skin cooler than what a thermometer dips into,
 * roughness lengths that nobody knows, air that no wind mixes, a line of sight that is not the same
 * all along, and light traced step by step above a flat or a round surface.
 *
 *	struct air_world day = draw_air_world(rng), later = disturb_air_world(rng, &day, 0.2);
 *	struct level_air_reading air = level_air_nothing();
 *	read_thermometers(rng, &day, 1, 6, 0.2, &air);
 *	read_water_way(rng, &day, 2, &air);
 *	if (world_k(&later, &line, &k)) ...
 *
 * A world is one day's air; the same world again is air that sights share. Every published form
 * here is recalled. */
#ifndef ORACLE_WORLDS_H
#define ORACLE_WORLDS_H

#include <math.h>
#include <stdbool.h>

#include "errors.h"
#include "rodbook/level/drop/drop.h"
#include "rodbook/level/drop/refraction.h"

#define WORLD_FAMILIES 5
#define WORLD_HEIGHT 4.0 /* where weather is drawn, m */
#define WORLD_WAVES 3
#define WORLD_STEPS 64      /* of traced light */
#define WORLD_CLEARANCE 0.1 /* light lower than this above the water is lost, m */
#define WORLD_PLACE 0.2     /* by how much the gradient differs along the line, a share */
/* Bulk Richardson number at WORLD_HEIGHT beyond which turbulence may die out (recalled; any text on
 * the stable boundary layer). */
#define WORLD_RICHARDSON 0.25
#define WORLD_ADIABATIC 0.0098
#define WORLD_GRAVITY 9.81

/* How the gradient along a line differs from that at the mast: factor 1 + share x
 * (0.8 common + 0.6 waves), whose standard deviation is `share`. */
struct world_place {
	double share, common;
	double size[WORLD_WAVES], phase[WORLD_WAVES], length[WORLD_WAVES];
};

struct world_weather {
	double warmer; /* air at WORLD_HEIGHT less water as it is dipped into, K */
	double wind;   /* there, m/s */
	double water;  /* as it is dipped into, degrees C */
	double humidity, pressure;
};

struct air_world {
	struct world_weather weather;
	int family;               /* of the functions of stability */
	double rough, rough_heat; /* m */
	double cool;              /* the skin is colder than the water below it by this, K */
	double gusts;             /* m/s */
	struct world_place place;
	/* What follows from these. */
	double karman, inverse; /* inverse: 1/Lo, 1/m */
	double skin, scale;     /* degrees C, K */
	double friction;        /* m/s */
	/* Where wind is too weak to keep air over colder water mixed, half of the worlds have no
	 * surface layer, but air that is cooled from below without one: its warmth grows to `whole`
	 * as 1 - exp(-z/depth). depth 0: there is a surface layer. */
	double draw_depth, depth, whole; /* m, m, K; draw_depth 0: a surface layer always */
};

/* Functions of stability, for wind and heat. */
struct world_phi {
	double wind, heat;
};

/* Hogstrom 1988, and beyond zeta 1 as there. */
static inline struct world_phi phi_hogstrom(double zeta)
{
	if (zeta < 0)
		return (struct world_phi){pow(1 - 19.3 * zeta, -0.25),
		                          0.95 / sqrt(1 - 11.6 * zeta)};
	zeta = fmin(zeta, 1);
	return (struct world_phi){1 + 6 * zeta, 0.95 + 7.8 * zeta};
}

/* Businger and others 1971 (Kansas, with a von Karman constant of 0.35), and beyond zeta 1 as
 * there. */
static inline struct world_phi phi_kansas(double zeta)
{
	if (zeta < 0)
		return (struct world_phi){pow(1 - 15 * zeta, -0.25), 0.74 / sqrt(1 - 9 * zeta)};
	zeta = fmin(zeta, 1);
	return (struct world_phi){1 + 4.7 * zeta, 0.74 + 4.7 * zeta};
}

static inline double cheng(double zeta, double a, double b)
{
	double power = pow(zeta, b), grown = pow(1 + power, 1 / b);
	return 1 + a * (zeta + power * grown / (1 + power)) / (zeta + grown);
}

/* Stable: Cheng and Brutsaert 2005. Unstable: Kader and Yaglom 1990 as in Brutsaert 1992. */
static inline struct world_phi phi_brutsaert(double zeta)
{
	double y = -zeta, power;
	if (zeta >= 0)
		return (struct world_phi){cheng(zeta, 6.1, 2.5), cheng(zeta, 5.3, 1.1)};
	power = pow(y, 0.78);
	return (struct world_phi){y > 14.5 ? 1 : (0.33 + 0.41 * pow(y, 4.0 / 3)) / (0.33 + y),
	                          (0.33 + 0.057 * power) / (0.33 + power)};
}

/* Stable: Beljaars and Holtslag 1991. Unstable: Kansas going over into free convection, as COARE
 * 3.0 has it (Fairall and others 2003), blended in the gradient. */
static inline struct world_phi phi_coare(double zeta)
{
	double f = zeta * zeta / (1 + zeta * zeta), fade;
	if (zeta < 0)
		return (struct world_phi){
		    (1 - f) * pow(1 - 15 * zeta, -0.25) + f * pow(1 - 10.15 * zeta, -1.0 / 3),
		    (1 - f) / sqrt(1 - 15 * zeta) + f * pow(1 - 34.15 * zeta, -1.0 / 3)};
	fade = 0.667 * exp(-0.35 * zeta) * (1 + 5 - 0.35 * zeta);
	return (struct world_phi){1 + zeta * (1 + fade),
	                          1 + zeta * (sqrt(1 + 2.0 / 3 * zeta) + fade)};
}

/* Stable: Grachev and others 2007 (on ice). Unstable: Delage and Girard 1992. */
static inline struct world_phi phi_ice(double zeta)
{
	if (zeta < 0)
		return (struct world_phi){pow(1 - 40 * zeta, -1.0 / 6),
		                          pow(1 - 40 * zeta, -1.0 / 3)};
	return (struct world_phi){1 + 6.5 * zeta * cbrt(1 + zeta) / (1.3 + zeta),
	                          1 + (5 * zeta + 5 * zeta * zeta) / (1 + 3 * zeta + zeta * zeta)};
}

static inline struct world_phi world_phi(int family, double zeta)
{
	switch (family) {
	case 0:
		return phi_hogstrom(zeta);
	case 1:
		return phi_brutsaert(zeta);
	case 2:
		return phi_coare(zeta);
	case 3:
		return phi_kansas(zeta);
	default:
		return phi_ice(zeta);
	}
}

/* Integrals of phi over ln z, where phi has no bend. */
static inline struct world_phi phi_smooth(int family, double inverse, double from, double to)
{
	/* Gauss-Legendre with five nodes (Abramowitz and Stegun, table 25.4). */
	static const double node[] = {0, 0.5384693101056831, -0.5384693101056831,
	                              0.9061798459386640, -0.9061798459386640};
	static const double weight[] = {0.5688888888888889, 0.4786286704993665, 0.4786286704993665,
	                                0.2369268850561891, 0.2369268850561891};
	double whole = log(to / from);
	int steps = 1 + (int)(fabs(whole) / 1.5);
	double half = whole / steps / 2;
	struct world_phi sum = {0, 0};
	for (int i = 0; i < steps; i++)
		for (int j = 0; j < 5; j++) {
			double z = from * exp(half * (2 * i + 1 + node[j]));
			struct world_phi phi = world_phi(family, z * inverse);
			sum.wind += half * weight[j] * phi.wind;
			sum.heat += half * weight[j] * phi.heat;
		}
	return sum;
}

/* Integrals of phi over ln z; some phi bend at zeta 1. */
static inline struct world_phi phi_between(int family, double inverse, double from, double to)
{
	struct world_phi below, above;
	if (!(from * inverse < 1 && to * inverse > 1))
		return phi_smooth(family, inverse, from, to);
	below = phi_smooth(family, inverse, from, 1 / inverse);
	above = phi_smooth(family, inverse, 1 / inverse, to);
	return (struct world_phi){below.wind + above.wind, below.heat + above.heat};
}

/* Water vapor above water, kg/kg (Magnus). */
static inline double world_vapor(double celsius, double humidity, double pressure)
{
	double hpa = humidity * 6.112 * exp(17.62 * celsius / (243.12 + celsius));
	return 0.622 * hpa / (pressure - 0.378 * hpa);
}

/* Solves the layer: 1/Lo = g dthetav Im^2/(T W^2 Ih). */
static inline void settle_air_world(struct air_world *world)
{
	const struct world_weather *w = &world->weather;
	double air = w->water + w->warmer, theta, moist, drive, near = 0, far;
	struct world_phi between;
	world->karman = world->family == 3 ? 0.35 : 0.4;
	world->skin = w->water - world->cool;
	theta = air + WORLD_ADIABATIC * WORLD_HEIGHT - world->skin;
	moist = theta + 0.61 * (air + 273.15) *
	                    (world_vapor(air, w->humidity, w->pressure) -
	                     world_vapor(world->skin, 0.98, w->pressure));
	drive = WORLD_GRAVITY * moist / (air + 273.15) /
	        (w->wind * w->wind + world->gusts * world->gusts);
	far = moist < 0 ? -20 : 20;
	for (int i = 0; i < 36; i++) {
		double s = (near + far) / 2, lack;
		between = phi_between(world->family, s, world->rough, WORLD_HEIGHT);
		lack = between.wind * between.wind;
		between = phi_between(world->family, s, world->rough_heat, WORLD_HEIGHT);
		if (fabs(s * between.heat) < fabs(drive) * lack)
			near = s;
		else
			far = s;
	}
	world->inverse = near;
	between = phi_between(world->family, near, world->rough_heat, WORLD_HEIGHT);
	world->scale = world->karman * theta / between.heat;
	between = phi_between(world->family, near, world->rough, WORLD_HEIGHT);
	world->friction = world->karman * hypot(w->wind, world->gusts) / between.wind;
	world->depth = drive * WORLD_HEIGHT > WORLD_RICHARDSON ? world->draw_depth : 0;
	world->whole = theta / (1 - exp(-WORLD_HEIGHT / world->draw_depth));
}

/* What all weathers have in common: wind is Rayleigh's, from 0.5 to 9 m/s. */
static inline struct world_weather weather_with(gsl_rng *rng, double warmer)
{
	struct world_weather out = {.warmer = warmer,
	                            .water = gsl_ran_flat(rng, 4, 25),
	                            .humidity = gsl_ran_flat(rng, 0.4, 0.98),
	                            .pressure = gsl_ran_flat(rng, 950, 1030)};
	do
		out.wind = gsl_ran_rayleigh(rng, 2.8);
	while (out.wind < 0.5 || out.wind > 9);
	return out;
}

/* Air less water from -6 to 6 K, most often near 0 (standard deviation 3 K before what lies beyond
 * is left out; no source). */
static inline struct world_weather draw_weather(gsl_rng *rng)
{
	double warmer;
	do
		warmer = gsl_ran_gaussian_ziggurat(rng, 3);
	while (fabs(warmer) > 6);
	return weather_with(rng, warmer);
}

/* As often 6 K as 0 K: harder than any year is. */
static inline struct world_weather draw_hard_weather(gsl_rng *rng)
{
	return weather_with(rng, gsl_ran_flat(rng, -6, 6));
}

static inline struct world_place draw_world_place(gsl_rng *rng, double share)
{
	struct world_place out = {.share = share, .common = gsl_ran_gaussian_ziggurat(rng, 1)};
	for (int i = 0; i < WORLD_WAVES; i++) {
		out.size[i] = gsl_ran_gaussian_ziggurat(rng, 1) * sqrt(2.0 / WORLD_WAVES);
		out.phase[i] = gsl_ran_flat(rng, 0, 2 * acos(-1.0));
		out.length[i] = exp(gsl_ran_flat(rng, log(150), log(3000)));
	}
	return out;
}

static inline double log_flat(gsl_rng *rng, double low, double high)
{
	return exp(gsl_ran_flat(rng, log(low), log(high)));
}

static inline struct air_world air_world_in(gsl_rng *rng, const struct world_weather *weather)
{
	struct air_world out = {.weather = *weather,
	                        .family = (int)gsl_rng_uniform_int(rng, WORLD_FAMILIES),
	                        .rough = log_flat(rng, 1e-5, 1e-3),
	                        .rough_heat = log_flat(rng, 1e-5, 1e-3),
	                        .cool = gsl_ran_flat(rng, 0, 0.4),
	                        .gusts = gsl_ran_flat(rng, 0.1, 0.5),
	                        .place = draw_world_place(rng, WORLD_PLACE)};
	if (gsl_rng_uniform_int(rng, 2))
		out.draw_depth = log_flat(rng, 0.5, 10);
	if (weather->wind < 2)
		out.cool += gsl_ran_flat(rng, 0, 0.2);
	settle_air_world(&out);
	return out;
}

static inline struct air_world draw_air_world(gsl_rng *rng)
{
	struct world_weather weather = draw_weather(rng);
	return air_world_in(rng, &weather);
}

/* The same shore for another sight or at another hour: warmth and wind differ by `share` of
 * themselves (standard deviation), and the line has a place of its own. share 0: only the place. */
static inline struct air_world disturb_air_world(gsl_rng *rng, const struct air_world *world,
                                                 double share)
{
	struct air_world out = *world;
	out.weather.warmer *= 1 + share * gsl_ran_gaussian_ziggurat(rng, 1);
	out.weather.wind *= fmax(0.2, 1 + share * gsl_ran_gaussian_ziggurat(rng, 1));
	out.place = draw_world_place(rng, world->place.share);
	settle_air_world(&out);
	return out;
}

/* At the mast: temperature, degrees C; gradient of potential temperature, K/m; wind, m/s. */
static inline double world_celsius(const struct air_world *world, double z)
{
	struct world_phi between;
	if (world->depth > 0)
		return world->skin + world->whole * (1 - exp(-z / world->depth)) -
		       WORLD_ADIABATIC * z;
	between = phi_between(world->family, world->inverse, world->rough_heat, z);
	return world->skin + world->scale / world->karman * between.heat - WORLD_ADIABATIC * z;
}

static inline double world_potential_gradient(const struct air_world *world, double z)
{
	if (world->depth > 0)
		return world->whole / world->depth * exp(-z / world->depth);
	return world->scale * world_phi(world->family, z * world->inverse).heat /
	       (world->karman * z);
}

static inline double world_wind(const struct air_world *world, double z)
{
	struct world_phi between = phi_between(world->family, world->inverse, world->rough, z);
	double whole = world->friction / world->karman * between.wind;
	/* Gusts from all sides turn a vane, and carry nothing on. */
	return sqrt(fmax(0, whole * whole - world->gusts * world->gusts));
}

static inline double place_factor(const struct world_place *place, double x)
{
	double waves = 0;
	for (int i = 0; i < WORLD_WAVES; i++)
		waves +=
		    place->size[i] * cos(place->phase[i] + 2 * acos(-1.0) * x / place->length[i]);
	return fmax(0.1, 1 + place->share * (0.8 * place->common + 0.6 * waves));
}

/* k where the light runs. */
static inline double world_k_at(const struct air_world *world, double x, double z)
{
	double gradient = place_factor(&world->place, x) * world_potential_gradient(world, z);
	double kelvin = world->weather.water + world->weather.warmer + 273.15;
	return 503 * world->weather.pressure / (kelvin * kelvin) *
	       (0.0343 + gradient - WORLD_ADIABATIC);
}

/* The true k of a line that leaves horizontally: light traced step by step, as it bends, above a
 * surface of line->radius (INFINITY: flat). k is R0 over the radius of the circle that would end
 * where the light ends. False where it comes too near the water. */
static inline bool world_k(const struct air_world *world, const struct level_sightline *line,
                           double *k)
{
	double step = line->distance / WORLD_STEPS, down = 0, slope = 0;
	for (int i = 0; i < WORLD_STEPS; i++) {
		double x = (i + 0.5) * step, bend;
		/* Where it would be in the middle of the step. */
		double z = line->height + x * x / (2 * line->radius) - down - slope * step / 2;
		if (z < WORLD_CLEARANCE)
			return false;
		bend = world_k_at(world, x, z) / LEVEL_MEAN_RADIUS;
		down += slope * step + bend * step * step / 2;
		slope += bend * step;
	}
	*k = down * 2 * LEVEL_MEAN_RADIUS / (line->distance * line->distance);
	return line->height + line->distance * line->distance / (2 * line->radius) - down >=
	       WORLD_CLEARANCE;
}

/* Two thermometers at the mast, each with an error of its own. */
static inline void read_thermometers(gsl_rng *rng, const struct air_world *world, double low,
                                     double high, double u, struct level_air_reading *air)
{
	air->pressure = world->weather.pressure;
	air->thermometer_u = u;
	air->low_height = low;
	air->high_height = high;
	air->low = world_celsius(world, low) + gsl_ran_gaussian_ziggurat(rng, u);
	air->high = world_celsius(world, high) + gsl_ran_gaussian_ziggurat(rng, u);
}

/* A wind as it is read: 1 m/s off. */
static inline double read_wind(gsl_rng *rng, double wind)
{
	return fmax(0, wind + gsl_ran_gaussian_ziggurat(rng, 1));
}

/* The thermometer dipped (0.3 K off, and below the skin), then held at `height`, and the wind
 * there. */
static inline void read_water_way(gsl_rng *rng, const struct air_world *world, double height,
                                  struct level_air_reading *air)
{
	air->pressure = world->weather.pressure;
	air->water = world->weather.water + gsl_ran_gaussian_ziggurat(rng, 0.3);
	air->at = world_celsius(world, height) + gsl_ran_gaussian_ziggurat(rng, air->thermometer_u);
	air->at_height = air->wind_height = height;
	air->wind = read_wind(rng, world_wind(world, height));
}

#endif
