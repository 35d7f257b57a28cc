/* What a tolerance set asks for beside the size of the misclosure. */
#include "rodbook/level/page.h"

static level_nm magnitude(level_nm value)
{
	return value < 0 ? -value : value;
}

level_nm level_half_difference(const struct level_sight *sight)
{
	return magnitude((sight->upper - sight->middle) - (sight->middle - sight->lower));
}

static bool over(level_nm figure, double limit, level_nm *out)
{
	*out = figure;
	return limit > 0 && figure > level_from_meters(limit);
}

static bool misses(const struct level_tolerance *set, const struct level_run *run,
                   const struct level_closing *c, level_nm *figure)
{
	double allowable;
	*figure = magnitude(c->judged);
	return c->has_misclosure && run->kind != LEVEL_OPEN && run->kind != LEVEL_CROSSING &&
	       level_allowable(set, c->is_double ? LEVEL_LINK : run->kind, c->has_length,
	                       level_to_meters(c->is_double ? c->one_way : c->length) / 1000,
	                       c->setups, 0, &allowable) &&
	       *figure > level_from_meters(allowable);
}

enum level_limit level_breaks(const struct level_tolerance *set, const struct level_run *run,
                              const struct level_sums *sums, const struct level_closing *closing,
                              level_nm *figure)
{
	if (misses(set, run, closing, figure))
		return LEVEL_LIMIT_MISCLOSURE;
	if (over(sums->longest, set->sight, figure))
		return LEVEL_LIMIT_SIGHT;
	if (over(sums->setup_imbalance, set->setup_imbalance, figure))
		return LEVEL_LIMIT_SETUP_IMBALANCE;
	if (closing->has_length && over(magnitude(closing->imbalance), set->imbalance, figure))
		return LEVEL_LIMIT_IMBALANCE;
	if (over(sums->half, set->half, figure))
		return LEVEL_LIMIT_HALF;
	if (over(sums->standings, set->standings, figure))
		return LEVEL_LIMIT_STANDINGS;
	return LEVEL_LIMIT_NONE;
}

const char *level_limit_name(enum level_limit limit)
{
	static const char *const names[] = {"nothing",         "misclosure", "sight",
	                                    "setup imbalance", "imbalance",  "half intervals",
	                                    "standings"};
	return names[limit];
}

bool level_limit_is_distance(enum level_limit limit)
{
	return limit == LEVEL_LIMIT_SIGHT || limit == LEVEL_LIMIT_SETUP_IMBALANCE ||
	       limit == LEVEL_LIMIT_IMBALANCE;
}
