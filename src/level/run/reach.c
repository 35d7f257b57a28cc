/* One sight by itself: its reach, and what it shows too much. */
#include "rodbook/level/page.h"

struct level_reach level_reach_of(const struct level_sight *sight)
{
	return (struct level_reach){.distance = level_to_meters(sight->distance),
	                            .method = sight->method,
	                            .instrument = sight->instrument,
	                            .rod_error = sight->rod_error,
	                            .set_count = sight->set_count,
	                            .set_sd = sight->set_sd,
	                            .limit = level_to_meters(sight->limit),
	                            .u = level_to_meters(sight->u),
	                            .declared = sight->declared};
}

double level_too_high(const struct level_sight *sight, const struct level_terms *terms)
{
	const struct level_instrument *with = &terms->instrument[sight->instrument];
	double distance = level_to_meters(sight->distance);
	return level_visible_drop(distance, terms->radius, terms->k) +
	       (level_test_counts(terms, sight->instrument) ? with->tilt * distance : 0) +
	       sight->rod_error;
}
