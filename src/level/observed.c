#include "rodbook/level/observed.h"

#include <math.h>

#include "level/wide.h"

double level_rod_error(const struct level_rod *rod, level_nm reading, double celsius)
{
	double ppm = rod->scale, zero = reading < 0 ? -rod->zero : rod->zero;
	if (!isnan(celsius))
		ppm += rod->expansion * (celsius - rod->reference);
	return zero - (level_to_meters(reading) - zero) * ppm * 1e-6;
}

void level_tally_add(struct level_tally *tally, level_nm reading)
{
	double off;
	if (!tally->count++)
		tally->first = reading;
	tally->off += reading - tally->first;
	off = (double)(reading - tally->first);
	tally->squares += off * off;
}

struct level_tally level_tally_without(const struct level_tally *tally, level_nm reading)
{
	struct level_tally out = *tally;
	double off = (double)(reading - tally->first);
	out.count--;
	out.off -= reading - tally->first;
	out.squares -= off * off;
	return out;
}

level_nm level_tally_mean(const struct level_tally *tally)
{
	if (!tally->count)
		return 0;
	return level_round_ratio((level_wide)tally->first * tally->count + tally->off,
	                         tally->count);
}

double level_tally_sd(const struct level_tally *tally)
{
	double off = (double)tally->off, rest;
	if (tally->count < 2)
		return 0;
	/* Rounding may leave less than nothing of equal readings. */
	rest = fmax(tally->squares - off * off / tally->count, 0);
	return sqrt(rest / (tally->count - 1)) / LEVEL_NM_PER_M;
}

#define LEAST_SD 0.0025 /* m */
#define WAVES 0.25      /* m */
#define CALM 0.05       /* m */

bool level_tally_doubts(const struct level_tally *tally, level_nm reading)
{
	double off = fabs(level_to_meters(reading - level_tally_mean(tally)));
	if (tally->count == 0)
		return false;
	if (tally->count == 1)
		return off > WAVES;
	if (tally->count == 2)
		return off > fmin(WAVES, fmax(10 * sqrt(2) * level_tally_sd(tally), CALM));
	return off > 4 * fmax(level_tally_sd(tally), LEAST_SD);
}
