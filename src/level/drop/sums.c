/* What the sights of a run add up to. */
#include <math.h>

#include "rodbook/level/drop/drop.h"
#include "rodbook/level/offset.h"

static double squared(double value)
{
	return value * value;
}

static bool is_declared(const struct level_terms *terms)
{
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		if (terms->declared[i].bound > 0 || terms->declared[i].slope > 0)
			return true;
	return false;
}

static double method_u(const struct level_terms *terms, const struct level_reach *reach)
{
	if (reach->method == LEVEL_RULER)
		return LEVEL_RULER_U;
	if (reach->method == LEVEL_TUBE)
		return LEVEL_TUBE_U;
	return terms->reading_fixed[reach->method] +
	       terms->reading_slope[reach->method] * reach->distance;
}

/* By its own figures, else by its method. */
static struct level_mean_u own_u(const struct level_terms *terms, const struct level_reach *reach)
{
	double u = method_u(terms, reach);
	if (reach->u > 0)
		u = reach->u;
	else if (reach->limit > 0)
		u = reach->limit / sqrt(3.0);
	return (struct level_mean_u){u, (double)INFINITY, reach->limit > 0 ? reach->limit : 2 * u};
}

struct level_mean_u level_reading_u(const struct level_terms *terms,
                                    const struct level_reach *reach)
{
	struct level_mean_u own = own_u(terms, reach);
	double root = sqrt((double)reach->set_count);
	if (reach->declared && is_declared(terms))
		return (struct level_mean_u){0, (double)INFINITY, 0};
	if (reach->set_count > 1) {
		struct level_mean_u set =
		    level_mean_of(reach->set_count, reach->set_sd, own.u * root);
		if (!isinf(set.freedom))
			return set;
	}
	return own;
}

void level_drop_add_mean_u(struct level_drop_sums *sums, const struct level_mean_u *mean)
{
	struct level_sampled sampled = level_sampled_of(mean);
	sums->reading_bound += mean->bound;
	sums->reading_variance += squared(mean->u);
	level_sampled_add(&sums->sampled, &sampled, 1);
}

static void add_reading(struct level_drop_sums *sums, const struct level_terms *terms,
                        const struct level_reach *reach)
{
	struct level_mean_u mean = level_reading_u(terms, reach);
	level_drop_add_mean_u(sums, &mean);
}

void level_drop_add(struct level_drop_sums *sums, const struct level_terms *terms,
                    const struct level_reach *bs, const struct level_reach *fs)
{
	double bs2 = squared(bs->distance), fs2 = squared(fs->distance);

	sums->drop += level_visible_drop(fs->distance, terms->radius, terms->k) -
	              level_visible_drop(bs->distance, terms->radius, terms->k);
	sums->s_d[bs->instrument] += bs->distance;
	sums->s_d[fs->instrument] -= fs->distance;
	sums->s_d2 += bs2 - fs2;
	sums->d2 += bs2 + fs2;
	sums->d4 += squared(bs2) + squared(fs2);
	sums->setup_d4 += squared(bs2 - fs2);
	sums->length += bs->distance + fs->distance;
	sums->rods += bs->rod_error - fs->rod_error;
	add_reading(sums, terms, bs);
	add_reading(sums, terms, fs);
}

void level_drop_add_mean(struct level_drop_sums *sums, const struct level_drop_sums *setup,
                         int standings)
{
	double n = standings;
	sums->drop += setup->drop / n;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		sums->s_d[i] += setup->s_d[i] / n;
	sums->s_d2 += setup->s_d2 / n;
	sums->d2 += setup->d2 / n;
	sums->d4 += setup->d4 / n;
	sums->setup_d4 += squared(setup->s_d2 / n);
	sums->length += setup->length / n;
	sums->rods += setup->rods / n;
	sums->reading_bound += setup->reading_bound / n;
	sums->reading_variance += setup->reading_variance / squared(n);
	level_sampled_add(&sums->sampled, &setup->sampled, 1 / n);
}

double level_known_error(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	double sum = sums->rods;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0 && level_test_counts(terms, i))
			sum += terms->instrument[i].tilt * sums->s_d[i];
	return sum;
}

double level_known_light_error(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	double sum = sums->rods;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0)
			sum += level_light_tilt(terms, i) * sums->s_d[i];
	return sum;
}

double level_drop_reach(const struct level_drop_sums *sums)
{
	double sum = 0;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		sum -= sums->s_d[i];
	return sum;
}

double level_drop_s(const struct level_drop_sums *sums)
{
	return -sums->s_d2;
}

/* sum g L, m^2 */
static double pegs(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	double sum = 0;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0)
			sum -= level_pegs_g(terms, i) * sums->s_d[i];
	return sum;
}

double level_drop_span(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	return level_drop_s(sums) - pegs(sums, terms);
}

double level_drop_flat(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	return -terms->k * level_drop_s(sums) / (2 * LEVEL_MEAN_RADIUS);
}

double level_drop_predicted(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	return sums->drop - pegs(sums, terms) / (2 * terms->radius);
}
