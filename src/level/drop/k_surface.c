/* k by the water itself, one thermometer and the wind. */
#include <math.h>

#include "level/drop/light_integral.h"
#include "level/drop/surface_layer.h"

#define WATER_U 0.3 /* of the water's skin, K */
#define WIND_U 1.0  /* m/s */
/* The skin is colder than the water that a thermometer dips into, by about this, K (Fairall and
 * others 1996, J. Geophys. Res. 101, recalled). */
#define COOL_SKIN 0.2
/* The roughness length for heat is known to a factor of ten either way. */
#define LOG_HEAT_U (2.3 / sqrt(3.0))

/* What k is worked out from, without what is the same in all of it. */
struct told {
	double water, at, wind, log_heat;
};

static double gradient_at(double z, const void *with)
{
	return surface_gradient(z, with);
}

static struct surface_input input_of(const struct level_air_reading *air, const struct told *told)
{
	return (struct surface_input){.theta =
	                                  told->at + DRY_ADIABATIC * air->at_height - told->water,
	                              .at_height = air->at_height,
	                              .celsius = told->at,
	                              .wind = told->wind,
	                              .wind_height = air->wind_height,
	                              .log_heat = told->log_heat};
}

static double k_told(const struct level_air_reading *air, const struct level_sightline *line,
                     const struct told *told)
{
	struct surface_input input = input_of(air, told);
	struct surface_layer layer = surface_layer_of(&input);
	return k_from_potential(pressure_of(air), told->at, line_mean(line, gradient_at, &layer));
}

/* Half of what k changes by from `less` to `more`. */
static double half_change(const struct level_air_reading *air, const struct level_sightline *line,
                          const struct told *more, const struct told *less)
{
	return (k_told(air, line, more) - k_told(air, line, less)) / 2;
}

static void take_inputs(const struct level_air_reading *air, const struct level_sightline *line,
                        const struct told *told, struct level_k_surface *out)
{
	struct told more = *told, less = *told;
	more.at += air->thermometer_u;
	less.at -= air->thermometer_u;
	out->by_air = half_change(air, line, &more, &less);
	more = less = *told;
	more.water += WATER_U;
	less.water -= WATER_U;
	out->by_water = half_change(air, line, &more, &less);
	more = less = *told;
	more.wind += WIND_U;
	less.wind -= WIND_U;
	out->by_wind = half_change(air, line, &more, &less);
	more = less = *told;
	more.log_heat += LOG_HEAT_U;
	less.log_heat -= LOG_HEAT_U;
	out->by_roughness = half_change(air, line, &more, &less);
}

/* How much colder than read the skin may be, against the air, K. */
static double reach_of(const struct level_air_reading *air)
{
	return 2 * sqrt(WATER_U * WATER_U + air->thermometer_u * air->thermometer_u) + COOL_SKIN;
}

/* What bounds k. Its slope in warmth jumps where air and water are alike: what one side tells of
 * its inputs is too little for the other side, so k is worked out there too. */
static struct level_k bounds_of(const struct level_air_reading *air,
                                const struct level_sightline *line, const struct told *told,
                                double k, const struct level_k_surface *by)
{
	double reach = reach_of(air);
	struct told colder = *told;
	struct level_k out = k_within(k, by->u, by->theta > -reach ? 2 : 1);
	colder.water -= reach;
	if (by->theta > -reach)
		out.high = fmax(out.high, k_told(air, line, &colder) - k);
	return out;
}

static double root_of_squares(const struct level_k_surface *of)
{
	return sqrt(of->by_air * of->by_air + of->by_water * of->by_water +
	            of->by_wind * of->by_wind + of->by_roughness * of->by_roughness +
	            of->shape * of->shape + of->place * of->place + of->path * of->path);
}

static bool is_there(const struct level_air_reading *air, const struct level_sightline *line)
{
	return isfinite(air->water) && isfinite(air->at) && isfinite(air->wind) &&
	       air->at_height >= LEVEL_AT_HEIGHT_LEAST && isfinite(air->at_height) &&
	       air->wind_height > WIND_ROUGHNESS && isfinite(air->wind_height) &&
	       air->from != LEVEL_WIND_FROM_LAND && line_is_sound(line);
}

bool level_k_by_water(const struct level_air_reading *air, const struct level_sightline *line,
                      struct level_k_surface *out)
{
	/* Less wind than this counts as this: W - u must not fall below it either. */
	struct told told = {air->water, air->at, fmax(air->wind, LEVEL_WIND_LEAST),
	                    log(HEAT_ROUGHNESS)};
	double pressure = pressure_of(air), per = k_per_gradient(pressure, air->at), k;
	struct surface_input input;
	struct surface_layer layer, without;
	struct line_means means;
	*out = (struct level_k_surface){0};
	if (!is_there(air, line))
		return false;
	input = input_of(air, &told);
	layer = surface_layer_of(&input);
	without = surface_layer_neutral(&input);
	means = line_means(line, gradient_at, &layer);
	k = k_from_potential(pressure, air->at, means.between);
	out->theta = input.theta;
	out->friction = layer.friction;
	out->scale = layer.scale;
	out->obukhov = layer.obukhov;
	out->neutral = k_from_potential(pressure, air->at, line_mean(line, gradient_at, &without));
	out->shape = fabs(k - out->neutral) / sqrt(3.0);
	out->place = air->place * per * fabs(means.between);
	out->path = per * fabs(means.round - means.flat) / 2;
	take_inputs(air, line, &told, out);
	out->u = root_of_squares(out);
	out->k = bounds_of(air, line, &told, k, out);
	return true;
}
