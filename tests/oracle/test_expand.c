/* How often the interval at 95 % of a sum holds the truth where some of its parts are means of few
 * readings, by 10 000 drawings each (JCGM 101:2008): any number of samples, of any size against
 * each other and against what is known well. */
#include <gsl/gsl_randist.h>
#include <math.h>

#include "errors.h"
#include "rodbook/drop.h"
#include "unit/suite.h"

#define RUNS 10000
#define MIXES 60
#define SAMPLES_MOST 6

struct mix {
	int samples, count[SAMPLES_MOST]; /* readings of each */
	double u[SAMPLES_MOST];           /* true standard uncertainty of each mean */
	double known;                     /* and of all that is known well */
};

/* The standard deviation of n readings is the true one x root of chi-square/(n - 1). */
static struct level_mean_u draw_mean(gsl_rng *rng, int count, double u)
{
	double freedom = count - 1;
	double sd = u * sqrt(count) * sqrt(gsl_ran_chisq(rng, freedom) / freedom);
	return level_mean_of(count, sd, 0);
}

static double percent_held(gsl_rng *rng, const struct mix *mix)
{
	int held = 0;
	for (int i = 0; i < RUNS; i++) {
		double off = gsl_ran_gaussian(rng, mix->known), variance = mix->known * mix->known;
		struct level_sampled sampled = {0};
		for (int s = 0; s < mix->samples; s++) {
			struct level_mean_u mean = draw_mean(rng, mix->count[s], mix->u[s]);
			struct level_sampled one = level_sampled_of(&mean);
			off += gsl_ran_gaussian(rng, mix->u[s]);
			variance += mean.u * mean.u;
			level_sampled_add(&sampled, &one, 1);
		}
		held += fabs(off) <= level_expand(variance, &sampled);
	}
	return 100.0 * held / RUNS;
}

static double spread_over(gsl_rng *rng, double low, double high)
{
	return exp(gsl_ran_flat(rng, log(low), log(high)));
}

static struct mix draw_mix(gsl_rng *rng, const int *counts, unsigned long kinds)
{
	struct mix mix = {.samples = 1 + (int)gsl_rng_uniform_int(rng, SAMPLES_MOST),
	                  .known = gsl_rng_uniform_int(rng, 5) ? 1 : 0};
	for (int s = 0; s < mix.samples; s++) {
		mix.count[s] = counts[gsl_rng_uniform_int(rng, kinds)];
		mix.u[s] = spread_over(rng, 0.05, 30);
	}
	return mix;
}

static void check_mixes(const char *what, const int *counts, unsigned long kinds, double most)
{
	gsl_rng *rng = fixed_chance(what);
	for (int i = 0; i < MIXES; i++) {
		struct mix mix = draw_mix(rng, counts, kinds);
		double percent = percent_held(rng, &mix);
		ck_assert_msg(percent >= 93 && percent <= most, "%s, mix %d: %.2f %%", what, i,
		              percent);
	}
	gsl_rng_free(rng);
}

START_TEST(test_mixes)
{
	static const int any[] = {2, 3, 5, 10, 20}, five[] = {5, 10, 20}, two[] = {2};
	check_mixes("samples of any size", any, 5, 100);
	check_mixes("samples of five and more", five, 3, 97);
	check_mixes("samples of two", two, 1, 100);
}
END_TEST

/* What Welch-Satterthwaite alone gets wrong: one rough sample of two beside a still one. */
START_TEST(test_rough_and_still)
{
	gsl_rng *rng = fixed_chance("rough and still");
	double still = 0.05;
	for (int i = 0; i < 12; i++, still *= 1.5) {
		struct mix mix = {2, {2, 2}, {5, still}, 1};
		double percent = percent_held(rng, &mix);
		ck_assert_msg(percent >= 93, "5 and %.2f: %.2f %%", still, percent);
	}
	gsl_rng_free(rng);
}
END_TEST

/* Both shores alike, three readings each: 97.8 of 100 where nothing else counts (worked with the
 * larger of the two spreads: 1 - 2/sqrt(1 + 4 a) + 1/sqrt(1 + 8 a), a = 1/4.303^2 = 0.05401,
 * GUM table G.2; Welch-Satterthwaite is nowhere wider: with equal spreads t of 4 x root 2 = 3.93).
 */
START_TEST(test_alike)
{
	gsl_rng *rng = fixed_chance("alike");
	struct mix mix = {2, {3, 3}, {1, 1}, 0};
	double expected = 100 * (2 / sqrt(1 + 4 * 0.05401) - 1 / sqrt(1 + 8 * 0.05401));
	double percent = percent_held(rng, &mix);
	ck_assert_msg(fabs(percent - expected) < 0.5, "%.2f %%, not %.2f %%", percent, expected);
	gsl_rng_free(rng);
}
END_TEST

int main(void)
{
	return RUN_TESTS("expand", test_mixes, test_rough_and_still, test_alike);
}
