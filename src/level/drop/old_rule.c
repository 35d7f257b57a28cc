/* What books up to version 3 said of a crossing: its drop against zero and against the prediction,
 * by an allowance without drift, distances and floors of the water. It decides nothing any more. */
#include <math.h>

#include "rodbook/level/drop/old_rule.h"
#include "rodbook/level/quantile.h"

static double squared(double value)
{
	return value * value;
}

struct total {
	double bound, variance;
	struct level_sampled sampled;
};

static void add(struct total *t, double bound, double u)
{
	t->bound += bound;
	t->variance += squared(u);
}

static bool test_counted(const struct level_instrument *with)
{
	return with->tested &&
	       (with->u <= with->tolerance / sqrt(3.0) || fabs(with->tilt) > with->tolerance);
}

/* D with the tilts taken off that counted then, in place of those that count today. */
static double observed_before(const struct level_drop_sums *sums, const struct level_terms *terms,
                              double observed)
{
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++) {
		const struct level_instrument *with = &terms->instrument[i];
		if (sums->s_d[i] != 0)
			observed +=
			    ((test_counted(with) ? with->tilt : 0) - level_light_tilt(terms, i)) *
			    sums->s_d[i];
	}
	return observed;
}

static void add_instruments(struct total *t, const struct level_drop_sums *sums,
                            const struct level_terms *terms)
{
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++) {
		const struct level_instrument *with = &terms->instrument[i];
		double reach = fabs(sums->s_d[i]), rectangular = with->tolerance / sqrt(3.0);
		bool tested = test_counted(with);
		add(t, (tested ? 2 * with->u : with->tolerance) * reach,
		    (tested ? with->u : rectangular) * reach);
	}
}

static void add_water(struct total *t, const struct level_drop_sums *sums,
                      const struct level_terms *terms, const struct level_ends *ends)
{
	double surface = fmax(terms->water, terms->water_floor);
	if (!ends->water)
		return;
	add(t, surface, surface / sqrt(3.0));
	if (terms->flow > 0)
		add(t, terms->flow * sums->length, terms->flow * sums->length / sqrt(3.0));
	for (int i = 0; i < 2; i++) {
		struct level_sampled own = level_sampled_of(&ends->mean[i]);
		add(t, ends->mean[i].bound, ends->mean[i].u);
		level_sampled_add(&t->sampled, &own, 1);
	}
}

enum level_drop_answer level_answer_before(const struct level_drop_sums *sums,
                                           const struct level_terms *terms,
                                           const struct level_ends *ends, double observed)
{
	double twice = 2 * LEVEL_MEAN_RADIUS, turn = level_drop_s(sums) > 0 ? 1 : -1, dk, allowance,
	       common = terms->air_declared ? terms->air_common : 0;
	double drop = observed_before(sums, terms, observed) * turn, predicted = sums->drop * turn;
	struct total t = {.sampled = sums->sampled};
	bool near_prediction;
	dk = terms->dk_low;
	add_instruments(&t, sums, terms);
	add(&t, sums->reading_bound, sqrt(sums->reading_variance));
	add(&t, dk * sums->d2 / twice,
	    dk / 2 / twice * sqrt(common * squared(sums->s_d2) + (1 - common) * sums->setup_d4));
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		add(&t, terms->declared[i].bound, terms->declared[i].bound / sqrt(3.0));
	add_water(&t, sums, terms, ends);
	for (int i = 0; i < 2; i++)
		add(&t, 2 * ends->known_u[i], ends->known_u[i]);
	allowance =
	    fmax(level_coverage(level_effective_freedom(t.variance, &t.sampled)) * sqrt(t.variance),
	         t.sampled.largest);
	if (terms->decides == LEVEL_BY_ALL || allowance > t.bound)
		allowance = t.bound;
	near_prediction = fabs(drop - predicted) <= allowance;
	if (drop < -allowance)
		return LEVEL_OPPOSITE;
	if (drop > allowance)
		return near_prediction ? LEVEL_SHOWN_COMPATIBLE : LEVEL_SHOWN_INCOMPATIBLE;
	return near_prediction ? LEVEL_NOT_SEPARATED : LEVEL_NONE_SHOWN;
}
