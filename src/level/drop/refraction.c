/* The refraction coefficient of a long sight: what may be read of the air, the default, and which
 * of the sources counts. */
#include "rodbook/level/drop/refraction.h"

#include <math.h>

#include "level/drop/light_integral.h"
#include "rodbook/level/drop/drop.h"

/* A wind below this over water colder than the air, m/s, is worth a warning. */
#define CALM 1.0

const char *level_k_source_name(enum level_k_source source)
{
	static const char *const names[LEVEL_K_SOURCES] = {
	    [LEVEL_K_DEFAULT] = "default", [LEVEL_K_THERMOMETERS] = "thermometers",
	    [LEVEL_K_WATER] = "water",     [LEVEL_K_SET] = "set",
	    [LEVEL_K_PLAN] = "plan",       [LEVEL_K_PLAN_AIR] = "plan air",
	};
	return names[source];
}

struct level_air_reading level_air_nothing(void)
{
	return (struct level_air_reading){.pressure = NAN,
	                                  .low = NAN,
	                                  .low_height = NAN,
	                                  .high = NAN,
	                                  .high_height = NAN,
	                                  .water = NAN,
	                                  .at = NAN,
	                                  .at_height = NAN,
	                                  .wind = NAN,
	                                  .wind_height = NAN,
	                                  .from = LEVEL_WIND_NOT_SAID,
	                                  .thermometer_u = LEVEL_THERMOMETER_U_DEFAULT,
	                                  .place = LEVEL_PLACE_DEFAULT};
}

/* Not read, or from `least` to `most`. */
static bool within(double value, double least, double most)
{
	return isnan(value) || (value >= least && value <= most);
}

static bool height_within(double height)
{
	return isnan(height) || (height > 0 && height <= 1000);
}

/* Both read, or neither. */
static bool paired(double value, double height)
{
	return isnan(value) == isnan(height);
}

static bool refuse(struct fault *why, const char *field, const char *words)
{
	fault_say(why, FAULT_INPUT, "%s", words);
	return fault_at(why, field);
}

static bool check_figures(const struct level_air_reading *air, struct fault *why)
{
	const struct {
		double value;
		const char *field;
	} temperatures[] = {{air->low, "low"}, {air->high, "high"}, {air->at, "at"}},
	  heights[] = {{air->low_height, "low"},
	               {air->high_height, "high"},
	               {air->at_height, "at"},
	               {air->wind_height, "wind"}};
	if (!within(air->pressure, 300, 1100))
		return refuse(why, "pressure",
		              "air pressure is from 300 to 1100 hPa, at the place itself, not "
		              "reduced to the sea");
	for (size_t i = 0; i < sizeof temperatures / sizeof *temperatures; i++)
		if (!within(temperatures[i].value, -90, 60))
			return refuse(why, temperatures[i].field,
			              "an air temperature is from -90 to 60 degrees C");
	if (!within(air->water, -3, 45))
		return refuse(why, "water", "a water temperature is from -3 to 45 degrees C");
	if (!within(air->wind, 0, 60))
		return refuse(why, "wind",
		              "a wind is from 0 to 60 m/s; say apart where it comes from");
	for (size_t i = 0; i < sizeof heights / sizeof *heights; i++)
		if (!height_within(heights[i].value))
			return refuse(why, heights[i].field,
			              "a thermometer or wind meter is above 0 and up to 1000 m "
			              "above the water or ground");
	if (!(air->thermometer_u > 0 && air->thermometer_u <= 10))
		return fault_say(why, FAULT_INPUT,
		                 "the uncertainty of a thermometer is above 0 and up to 10 K");
	if (!(air->place >= 0 && air->place <= 1))
		return fault_say(
		    why, FAULT_INPUT,
		    "place must be from 0 to 1: the share of the gradient that one mast may miss");
	return true;
}

/* k at the middle height of two thermometers, dT/dz as 1/z; NAN where one is missing. */
static double k_between(const struct level_air_reading *air)
{
	double mean = sqrt(air->low_height * air->high_height);
	double gradient = (air->high - air->low) / (mean * log(air->high_height / air->low_height));
	double pressure = isnan(air->pressure) ? LEVEL_STANDARD_PRESSURE : air->pressure;
	return level_k_from_air(pressure, (air->low + air->high) / 2 + 273.15, gradient);
}

bool level_air_reading_check(const struct level_air_reading *air, struct fault *why)
{
	if (!check_figures(air, why))
		return false;
	if (!paired(air->low, air->low_height) || !paired(air->high, air->high_height) ||
	    !paired(air->at, air->at_height))
		return refuse(why,
		              !paired(air->low, air->low_height)     ? "low"
		              : !paired(air->high, air->high_height) ? "high"
		                                                     : "at",
		              "a temperature of the air and the height of its thermometer go "
		              "together: give both, or neither");
	if (!paired(air->wind, air->wind_height))
		return refuse(why, "wind",
		              "a wind and the height where it was measured go together: give "
		              "both, or neither");
	if (air->low_height == air->high_height)
		return refuse(why, "high",
		              "two thermometers at one height tell no gradient: hang one higher");
	if (air->low_height > air->high_height)
		return refuse(why, "low",
		              "the lower thermometer is named first: exchange the two, each "
		              "with its height");
	if (fabs(k_between(air)) > LEVEL_K_MOST)
		return fault_say(why, FAULT_INPUT,
		                 "that would be a k of %.0f between the thermometers: read them "
		                 "again",
		                 k_between(air));
	return true;
}

bool level_k_default(double height, enum level_over over, struct level_k *out)
{
	*out = (struct level_k){.k = LEVEL_K_GAUSS, .low = 2, .high = 4};
	if (over == LEVEL_OVER_LAND) {
		out->low = out->high = 0.5;
		return height >= 3;
	}
	if (height >= 6) {
		out->low = 0.5;
		out->high = 2.5;
	} else if (height >= 3) {
		out->low = 1;
		out->high = 3;
	}
	return true;
}

/* Whether two ways tell of different air, by the u of the sides that face each other. */
static bool differ(const struct level_k *a, const struct level_k *b)
{
	double one = (a->k < b->k ? a->high : a->low) / 2;
	double other = (a->k < b->k ? b->low : b->high) / 2;
	return fabs(a->k - b->k) > 2 * sqrt(one * one + other * other);
}

/* What the wind says: nothing over land, where there is no water to come from. */
static struct level_air_reading as_used(const struct level_air_reading *air, enum level_over over)
{
	struct level_air_reading used = *air;
	if (over == LEVEL_OVER_LAND) {
		used.from = LEVEL_WIND_NOT_SAID;
		used.water = NAN;
	}
	return used;
}

static bool leaves_no_say(const struct level_air_reading *air, const struct level_sightline *line)
{
	struct level_air_reading said = *air;
	struct level_k_pair pair;
	struct level_k_surface surface;
	said.from = LEVEL_WIND_NOT_SAID;
	return air->from == LEVEL_WIND_FROM_LAND && (level_k_by_thermometers(&said, line, &pair) ||
	                                             level_k_by_water(&said, line, &surface));
}

static bool is_calm_and_cold(const struct level_air_reading *air)
{
	return air->wind < CALM && air->at + DRY_ADIABATIC * air->at_height > air->water;
}

/* What a k can be written down with. */
static void cut(struct level_k *k)
{
	k->low = fmin(k->low, LEVEL_K_MOST);
	k->high = fmin(k->high, LEVEL_K_MOST);
}

/* Reaches down to `least` and up to `most`. */
static void reach(struct level_k *k, double least, double most)
{
	k->low = fmax(k->low, k->k - least);
	k->high = fmax(k->high, most - k->k);
	cut(k);
}

/* Of both ways, with what they disagree by. */
static void choose(struct level_k_found *found)
{
	const struct level_k *pair = &found->pair.k, *surface = &found->surface.k, *other;
	bool first = found->has_pair && (!found->has_surface ||
	                                 pair->low + pair->high <= surface->low + surface->high);
	found->has = true;
	found->source = first ? LEVEL_K_THERMOMETERS : LEVEL_K_WATER;
	found->chosen = first ? *pair : *surface;
	if (!found->has_pair || !found->has_surface)
		return;
	other = first ? surface : pair;
	found->disagree = differ(pair, surface);
	if (found->disagree)
		reach(&found->chosen, other->k - other->low, other->k + other->high);
	/* Over colder water the way that errs toward a small gradient is the narrower one. */
	if (found->surface.theta > 0)
		reach(&found->chosen, found->chosen.k, other->k);
}

/* Air that may bend light by almost anything is no reason to go by the default, which says less
 * than was measured: it reaches as far as a k can be written down. */
static bool can_be(struct level_k *k)
{
	cut(k);
	return fabs(k->k) <= LEVEL_K_MOST;
}

struct level_k_found level_k_find(const struct level_air_reading *air,
                                  const struct level_sightline *line, enum level_over over)
{
	struct level_air_reading used = as_used(air, over);
	struct level_k_found found = {0};
	found.has_pair = level_k_by_thermometers(&used, line, &found.pair) && can_be(&found.pair.k);
	found.has_surface =
	    level_k_by_water(&used, line, &found.surface) && can_be(&found.surface.k);
	found.from_land = leaves_no_say(&used, line);
	found.calm_and_cold = is_calm_and_cold(&used);
	if (found.has_pair || found.has_surface) {
		choose(&found);
		return found;
	}
	found.source = LEVEL_K_DEFAULT;
	found.has = level_k_default(line->height, over, &found.chosen);
	return found;
}
