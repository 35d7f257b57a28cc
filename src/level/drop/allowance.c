/* The allowance: every line of it, as a bound and as a standard uncertainty. */
#include "rodbook/drop.h"

#include <math.h>

static double squared(double value)
{
	return value * value;
}

struct level_mean_u level_reading_u(const struct level_terms *terms,
                                    const struct level_reach *reach)
{
	double u = terms->reading_fixed[reach->method] +
	           terms->reading_slope[reach->method] * reach->distance;
	double root = sqrt((double)reach->set_count);
	if (reach->set_count > 1) {
		struct level_mean_u set = level_mean_of(reach->set_count, reach->set_sd, u * root);
		if (!isinf(set.freedom))
			return set;
	}
	return (struct level_mean_u){u, (double)INFINITY, 2 * u};
}

static void add_reading(struct level_drop_sums *sums, const struct level_terms *terms,
                        const struct level_reach *reach)
{
	struct level_mean_u mean = level_reading_u(terms, reach);
	struct level_sampled sampled = level_sampled_of(&mean);
	sums->reading_bound += mean.bound;
	sums->reading_variance += squared(mean.u);
	level_sampled_add(&sums->sampled, &sampled, 1);
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
	sums->length += bs->distance + fs->distance;
	sums->rods += bs->rod_error - fs->rod_error;
	add_reading(sums, terms, bs);
	add_reading(sums, terms, fs);
	sums->refraction_bound += terms->dk * (bs2 + fs2) / (2 * LEVEL_MEAN_RADIUS);
	sums->refraction_variance += squared(terms->dk / 2 * (bs2 - fs2) / (2 * LEVEL_MEAN_RADIUS));
}

void level_drop_add_mean(struct level_drop_sums *sums, const struct level_terms *terms,
                         const struct level_drop_sums *setup, int standings)
{
	double n = standings, s_d2 = setup->s_d2 / n;
	sums->drop += setup->drop / n;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		sums->s_d[i] += setup->s_d[i] / n;
	sums->s_d2 += s_d2;
	sums->length += setup->length / n;
	sums->rods += setup->rods / n;
	sums->reading_bound += setup->reading_bound / n;
	sums->reading_variance += setup->reading_variance / squared(n);
	level_sampled_add(&sums->sampled, &setup->sampled, 1 / n);
	sums->refraction_bound += setup->refraction_bound / n;
	sums->refraction_variance += squared(terms->dk / 2 * s_d2 / (2 * LEVEL_MEAN_RADIUS));
}

/* Of the air's variance a share is common to all setups, through sum s d^2; the rest is each
 * setup's own. */
static double refraction_u(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	double common = terms->dk / 2 * sums->s_d2 / (2 * LEVEL_MEAN_RADIUS);
	return sqrt(terms->air_common * squared(common) +
	            (1 - terms->air_common) * sums->refraction_variance);
}

bool level_test_counts(const struct level_instrument *instrument)
{
	if (!instrument->tested)
		return false;
	return instrument->u <= instrument->tolerance / sqrt(3.0) ||
	       fabs(instrument->tilt) > instrument->tolerance;
}

double level_known_error(const struct level_drop_sums *sums, const struct level_terms *terms)
{
	double sum = sums->rods;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (level_test_counts(&terms->instrument[i]))
			sum += terms->instrument[i].tilt * sums->s_d[i];
	return sum;
}

double level_declared_bound(const struct level_terms *terms)
{
	double sum = 0;
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		sum += terms->declared[i].bound;
	return sum;
}

static void instrument_line(const struct level_drop_sums *sums, const struct level_terms *terms,
                            struct level_allowance *out)
{
	double variance = 0;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++) {
		const struct level_instrument *instrument = &terms->instrument[i];
		double reach = fabs(sums->s_d[i]);
		bool tested = level_test_counts(instrument);
		out->bound[LEVEL_LINE_INSTRUMENT] +=
		    (tested ? 2 * instrument->u : instrument->tolerance) * reach;
		variance +=
		    squared((tested ? instrument->u : instrument->tolerance / sqrt(3.0)) * reach);
	}
	out->u[LEVEL_LINE_INSTRUMENT] = sqrt(variance);
}

/* What is declared and what was sampled of the water. */
static void water_line(const struct level_drop_sums *sums, const struct level_terms *terms,
                       const struct level_ends *ends, struct level_allowance *out,
                       struct level_sampled *sampled)
{
	double bound = fmax(terms->water, terms->water_floor), variance;
	if (!ends->water)
		return;
	variance = squared(bound) / 3;
	if (terms->flow > 0) {
		bound += terms->flow * sums->length;
		variance += squared(terms->flow * sums->length) / 3;
	}
	for (int i = 0; i < 2; i++) {
		const struct level_mean_u *mean = &ends->mean[i];
		struct level_sampled own;
		if (mean->u == 0)
			continue;
		own = level_sampled_of(mean);
		bound += mean->bound;
		variance += squared(mean->u);
		level_sampled_add(sampled, &own, 1);
	}
	out->bound[LEVEL_LINE_WATER] = bound;
	out->u[LEVEL_LINE_WATER] = sqrt(variance);
}

/* Both totals. */
static void add_up(const struct level_sampled *sampled, struct level_allowance *out)
{
	double variance = 0;
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		out->total_bound += out->bound[i];
		variance += squared(out->u[i]);
	}
	out->u_total = sqrt(variance);
	out->freedom = level_effective_freedom(variance, sampled);
	out->total_u95 = fmin(level_expand(variance, sampled), out->total_bound);
}

struct level_allowance level_allow(const struct level_drop_sums *sums,
                                   const struct level_terms *terms, const struct level_ends *ends)
{
	struct level_allowance out = {0};
	struct level_sampled sampled = sums->sampled;
	double declared = 0;

	instrument_line(sums, terms, &out);
	out.bound[LEVEL_LINE_READING] = sums->reading_bound;
	out.u[LEVEL_LINE_READING] = sqrt(sums->reading_variance);
	out.bound[LEVEL_LINE_REFRACTION] = sums->refraction_bound;
	out.u[LEVEL_LINE_REFRACTION] = refraction_u(sums, terms);
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++)
		declared += squared(terms->declared[i].bound) / 3;
	out.bound[LEVEL_LINE_DECLARED] = level_declared_bound(terms);
	out.u[LEVEL_LINE_DECLARED] = sqrt(declared);
	water_line(sums, terms, ends, &out, &sampled);
	out.bound[LEVEL_LINE_KNOWN] = ends->known_bound;
	out.u[LEVEL_LINE_KNOWN] = sqrt(ends->known_variance);
	add_up(&sampled, &out);
	out.decides = terms->decides == LEVEL_BY_BOUND ? out.total_bound : out.total_u95;
	return out;
}

const char *level_allowance_name(enum level_allowance_line line)
{
	static const char *const names[] = {"instrument", "reading", "refraction",
	                                    "declared",   "water",   "known"};
	return names[line];
}

enum level_allowance_line level_largest_line(const struct level_allowance *allowance,
                                             enum level_decides decides)
{
	const double *size = decides == LEVEL_BY_BOUND ? allowance->bound : allowance->u;
	int largest = 0;
	for (int i = 1; i < LEVEL_ALLOWANCE_LINES; i++)
		if (size[i] > size[largest])
			largest = i;
	return (enum level_allowance_line)largest;
}
