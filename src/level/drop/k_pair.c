/* k by two thermometers. */
#include <math.h>

#include "level/drop/light_integral.h"

/* How the gradient falls off: as z^-p. */
#define POWERS 3
static const double power[POWERS] = {0, 1, 1.5};
#define CHOSEN 1

static double to_the_power(double z, const void *with)
{
	double p = *(const double *)with;
	if (p == 0)
		return 1;
	return p == 1 ? 1 / z : pow(z, -p);
}

/* Integral of z^-p from `from` to `to`. */
static double power_between(double p, double from, double to)
{
	return p == 1 ? log(to / from) : (pow(to, 1 - p) - pow(from, 1 - p)) / (1 - p);
}

/* Mean of z^-p along the line, by one K between the thermometers: of dtheta/dz, 1/m. */
static struct line_means gradient_by(double p, const struct level_air_reading *air,
                                     const struct level_sightline *line)
{
	double between = power_between(p, air->low_height, air->high_height);
	struct line_means means = line_means(line, to_the_power, &p);
	return (struct line_means){means.flat / between, means.between / between,
	                           means.round / between};
}

static bool is_there(const struct level_air_reading *air, const struct level_sightline *line)
{
	return isfinite(air->low) && isfinite(air->high) && air->low_height > 0 &&
	       air->high_height > air->low_height && isfinite(air->high_height) &&
	       air->from != LEVEL_WIND_FROM_LAND && line_is_sound(line);
}

bool level_k_by_thermometers(const struct level_air_reading *air,
                             const struct level_sightline *line, struct level_k_pair *out)
{
	double celsius = (air->low + air->high) / 2, pressure = pressure_of(air);
	double per = k_per_gradient(pressure, celsius), off, below;
	struct line_means chosen = {0};
	*out = (struct level_k_pair){0};
	if (!is_there(air, line))
		return false;
	out->theta = air->high - air->low + DRY_ADIABATIC * (air->high_height - air->low_height);
	for (int i = 0; i < POWERS; i++) {
		struct line_means by = gradient_by(power[i], air, line);
		out->by_power[i] = k_from_potential(pressure, celsius, out->theta * by.between);
		if (i == CHOSEN)
			chosen = by;
	}
	off = fmax(fabs(out->by_power[0] - out->by_power[CHOSEN]),
	           fabs(out->by_power[2] - out->by_power[CHOSEN]));
	out->noise = per * sqrt(2.0) * air->thermometer_u * chosen.between;
	out->shape = off / sqrt(3.0);
	out->place = air->place * per * fabs(out->theta) * chosen.between;
	out->path = per * fabs(out->theta) * fabs(chosen.round - chosen.flat) / 2;
	out->u = sqrt(out->noise * out->noise + out->shape * out->shape + out->place * out->place +
	              out->path * out->path);
	/* The gradient below both can be steeper than any power tells. */
	below = air->high_height < line->height && out->theta > 0 ? 1.5 : 1;
	out->k = k_within(out->by_power[CHOSEN], out->u, below);
	return true;
}
