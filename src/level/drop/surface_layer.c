/* The air over water as wind and the water's warmth make it. */
#include "level/drop/surface_layer.h"

#include <math.h>

#include "level/drop/light_integral.h"

#define KARMAN 0.4
#define GRAVITY 9.81
#define STEPS 60
#define SCALE_LEAST 1e-6
#define OBUKHOV_LEAST 1.0

/* What stability takes off the logarithms, for wind and for heat. */
struct stability {
	double wind, heat;
};

static struct stability stability_at(double z, double obukhov)
{
	double zeta = z / obukhov, x, squared;
	if (zeta >= 0)
		return (struct stability){-5 * zeta, -5 * zeta};
	squared = sqrt(1 - 16 * zeta);
	x = sqrt(squared);
	return (struct stability){2 * log((1 + x) / 2) + log((1 + squared) / 2) - 2 * atan(x) +
	                              acos(-1.0) / 2,
	                          2 * log((1 + squared) / 2)};
}

static double obukhov_of(double friction, double scale, double celsius)
{
	double some = fabs(scale) < SCALE_LEAST ? SCALE_LEAST : fabs(scale), length;
	length = friction * friction * (celsius + CELSIUS_ZERO) / (KARMAN * GRAVITY * some);
	return copysign(fmax(length, OBUKHOV_LEAST), scale < 0 ? -1.0 : 1.0);
}

static double wind_of(const struct surface_input *input)
{
	return fmax(input->wind, LEVEL_WIND_LEAST);
}

static struct surface_layer neutral(const struct surface_input *input)
{
	return (struct surface_layer){
	    .friction = KARMAN * wind_of(input) / log(input->wind_height / WIND_ROUGHNESS),
	    .scale = KARMAN * input->theta / (log(input->at_height) - input->log_heat)};
}

/* One step: the layer in which `layer` makes the stability. */
static struct surface_layer next_of(const struct surface_input *input,
                                    const struct surface_layer *layer)
{
	double rough = exp(input->log_heat), lo = layer->obukhov;
	struct stability high = stability_at(input->wind_height, lo),
	                 low = stability_at(WIND_ROUGHNESS, lo),
	                 warm_high = stability_at(input->at_height, lo),
	                 warm_low = stability_at(rough, lo);
	return (struct surface_layer){
	    .friction = KARMAN * wind_of(input) /
	                (log(input->wind_height / WIND_ROUGHNESS) - high.wind + low.wind),
	    .scale = KARMAN * input->theta /
	             (log(input->at_height) - input->log_heat - warm_high.heat + warm_low.heat)};
}

struct surface_layer surface_layer_of(const struct surface_input *input)
{
	struct surface_layer layer = neutral(input);
	layer.obukhov = obukhov_of(layer.friction, layer.scale, input->celsius);
	for (int i = 0; i < STEPS; i++) {
		struct surface_layer next = next_of(input, &layer), before = layer;
		layer.friction = (before.friction + next.friction) / 2;
		layer.scale = (before.scale + next.scale) / 2;
		layer.obukhov = obukhov_of(layer.friction, layer.scale, input->celsius);
		if (layer.friction == before.friction && layer.scale == before.scale)
			break;
	}
	return layer;
}

struct surface_layer surface_layer_neutral(const struct surface_input *input)
{
	struct surface_layer layer = neutral(input);
	layer.obukhov = INFINITY;
	return layer;
}

double surface_gradient(double z, const struct surface_layer *layer)
{
	double zeta = z / layer->obukhov;
	double shape = zeta < 0 ? 1 / sqrt(1 - 16 * zeta) : 1 + 5 * zeta;
	return layer->scale * shape / (KARMAN * z);
}
