/* The allowance: every line of it, as a bound and as a standard uncertainty. */
#include "rodbook/drop.h"

#include <math.h>

static double squared(double value)
{
	return value * value;
}

void level_drop_add(struct level_drop_sums *sums, const struct level_terms *terms,
                    double bs_distance, enum level_method bs_method, double fs_distance,
                    enum level_method fs_method)
{
	double radius = terms->radius;
	double bs2 = squared(bs_distance), fs2 = squared(fs_distance);
	double bs_u =
	    terms->reading_fixed[bs_method] + terms->reading_slope[bs_method] * bs_distance;
	double fs_u =
	    terms->reading_fixed[fs_method] + terms->reading_slope[fs_method] * fs_distance;

	sums->drop += level_visible_drop(fs_distance, radius, terms->k) -
	              level_visible_drop(bs_distance, radius, terms->k);
	sums->s_d += bs_distance - fs_distance;
	sums->s_d2 += bs2 - fs2;
	sums->reading_bound += 2 * (bs_u + fs_u);
	sums->reading_variance += squared(bs_u) + squared(fs_u);
	sums->refraction_bound += terms->dk * (bs2 + fs2) / (2 * LEVEL_MEAN_RADIUS);
	/* How much air the setups share is not known: all of it is each setup's own. */
	sums->refraction_variance += squared(terms->dk / 2 * (bs2 - fs2) / (2 * LEVEL_MEAN_RADIUS));
}

struct level_allowance level_allow(const struct level_drop_sums *sums,
                                   const struct level_terms *terms, bool crossing,
                                   double known_bound, double known_u)
{
	struct level_allowance out = {0};
	double water = crossing ? terms->water : 0;
	double instrument = terms->tilt * fabs(sums->s_d);
	double variance = 0;

	out.bound[LEVEL_LINE_INSTRUMENT] = instrument;
	out.u[LEVEL_LINE_INSTRUMENT] = instrument / sqrt(3.0);
	out.bound[LEVEL_LINE_READING] = sums->reading_bound;
	out.u[LEVEL_LINE_READING] = sqrt(sums->reading_variance);
	out.bound[LEVEL_LINE_REFRACTION] = sums->refraction_bound;
	out.u[LEVEL_LINE_REFRACTION] = sqrt(sums->refraction_variance);
	out.bound[LEVEL_LINE_DECLARED] = terms->declared;
	out.u[LEVEL_LINE_DECLARED] = terms->declared / sqrt(3.0);
	out.bound[LEVEL_LINE_WATER] = water;
	out.u[LEVEL_LINE_WATER] = water / sqrt(3.0);
	out.bound[LEVEL_LINE_KNOWN] = known_bound;
	out.u[LEVEL_LINE_KNOWN] = known_u;
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		out.total_bound += out.bound[i];
		variance += squared(out.u[i]);
	}
	out.total_u95 = fmin(2 * sqrt(variance), out.total_bound);
	out.decides = terms->decides == LEVEL_BY_BOUND ? out.total_bound : out.total_u95;
	return out;
}

const char *level_allowance_name(enum level_allowance_line line)
{
	static const char *const names[] = {"instrument", "reading", "refraction",
	                                    "declared",   "water",   "known"};
	return names[line];
}
