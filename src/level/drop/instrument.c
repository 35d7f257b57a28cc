/* Tilts found by pegs: whether they count, and what they are where curvature is not assumed. */
#include "rodbook/level/drop/drop.h"

#include <math.h>

#include "rodbook/level/quantile.h"

double level_tilt_coverage(const struct level_instrument *instrument)
{
	return instrument->sets > 1 ? level_coverage(instrument->sets - 1) : 2;
}

bool level_test_counts(const struct level_terms *terms, int instrument)
{
	const struct level_instrument *with = &terms->instrument[instrument];
	double half = with->g / (4 * terms->radius), limit = level_tilt_coverage(with) * with->u;
	if (!with->tested)
		return false;
	return fabs(with->tilt + half) - limit > with->tolerance + fabs(half) ||
	       limit / 2 < with->tolerance / sqrt(3.0);
}

double level_light_tilt(const struct level_terms *terms, int instrument)
{
	const struct level_instrument *with = &terms->instrument[instrument];
	return level_test_counts(terms, instrument) ? with->tilt + with->g / (2 * terms->radius)
	                                            : 0;
}

double level_pegs_g(const struct level_terms *terms, int instrument)
{
	return level_test_counts(terms, instrument) ? terms->instrument[instrument].g : 0;
}
