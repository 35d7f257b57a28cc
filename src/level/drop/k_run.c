/* k of a run: from the air read several times along its long sight. */
#include <math.h>

#include "rodbook/level/page.h"
#include "rodbook/level/quantile.h"

bool level_run_sightline(const struct level_run *run, double radius, struct level_sightline *out)
{
	const struct level_sight *longest = NULL, *near = NULL, *bs = NULL;
	for (size_t i = 0; i < run->count; i++) {
		const struct level_sight *sight = &run->sight[i];
		if (!level_counted(sight) || sight->kind == LEVEL_IS || sight->kind == LEVEL_OFF)
			continue;
		if (sight->kind == LEVEL_BS)
			bs = sight;
		if (longest && longest->kind == LEVEL_BS && longest == bs && sight != bs)
			near = sight; /* the FS of the setup whose BS is the long sight */
		if (sight->distance > 0 && (!longest || sight->distance > longest->distance)) {
			longest = sight;
			near = sight->kind == LEVEL_FS ? bs : NULL;
		}
	}
	if (!longest)
		return false;
	*out = (struct level_sightline){NAN, level_to_meters(longest->distance), radius};
	if (near && near->water_count > 0)
		out->height = level_to_meters(near->reading + near->water);
	else if (!near && longest->water_count > 0)
		/* A long BS is booked, and sealed, before its near sight is read. */
		out->height = level_to_meters(longest->reading + longest->water) -
		              out->distance * out->distance / (4 * radius);
	return true;
}

struct level_k_found level_k_mean(const struct level_air_reading *list, size_t count,
                                  const struct level_sightline *line, enum level_over over)
{
	struct level_air_reading nothing = level_air_nothing();
	struct level_k_found mean = level_k_find(&nothing, line, over), one;
	double sum = 0, squares = 0, low = 0, high = 0, spread = 0;
	bool disagree = false;
	int n = 0;
	for (size_t i = 0; i < count; i++) {
		one = level_k_find(&list[i], line, over);
		mean.from_land = mean.from_land || one.from_land;
		mean.calm_and_cold = mean.calm_and_cold || one.calm_and_cold;
		if (one.source != LEVEL_K_THERMOMETERS && one.source != LEVEL_K_WATER)
			continue;
		one.from_land = mean.from_land;
		one.calm_and_cold = mean.calm_and_cold;
		disagree = disagree || one.disagree;
		mean = one;
		sum += one.chosen.k;
		squares += one.chosen.k * one.chosen.k;
		low = fmax(low, one.chosen.low);
		high = fmax(high, one.chosen.high);
		n++;
	}
	if (n == 0)
		return mean;
	mean.disagree = disagree;
	mean.chosen.k = sum / n;
	if (n > 1)
		spread = level_coverage(n - 1) *
		         sqrt(fmax(0, squares - n * mean.chosen.k * mean.chosen.k) / (n - 1) / n);
	mean.chosen.low = fmin(hypot(low, spread), LEVEL_K_MOST);
	mean.chosen.high = fmin(hypot(high, spread), LEVEL_K_MOST);
	return mean;
}
