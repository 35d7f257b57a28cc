#include "rodbook/level/doubles.h"

#include <math.h>

void level_divergence_add(struct level_divergences *d, double divergence, double km)
{
	d->count++;
	d->sum += divergence;
	d->squares += divergence * divergence;
	d->per_km += divergence * divergence / km;
}

double level_sd_single(const struct level_divergences *d)
{
	return d->count ? sqrt(d->per_km / (2 * d->count)) : 0;
}

double level_sd_double(const struct level_divergences *d)
{
	return d->count ? sqrt(d->per_km / d->count) / 2 : 0;
}

bool level_divergences_lean(const struct level_divergences *d)
{
	return d->count > 1 && fabs(d->sum) > 2 * sqrt(d->squares);
}
