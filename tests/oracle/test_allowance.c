/* The allowance against errors drawn at random with the GNU Scientific Library: JCGM 101:2008
 * (propagation of distributions by a Monte Carlo method). The seed is fixed, so that the answer is
 * the same each time. */
#include "rodbook/level/drop/finding.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics.h>
#include <math.h>

#include "unit/suite.h"

#define DRAWS 200000

struct setup {
	double bs, fs;
	enum level_method bs_method, fs_method;
};

static const double known_u[] = {0.001, 0.0005};

static struct level_terms terms(double tilt)
{
	return (struct level_terms){.radius = LEVEL_MEAN_RADIUS,
	                            .k = 0.13,
	                            .dk_low = 0.15,
	                            .dk_high = 0.15,
	                            .instrument = {{.tolerance = tilt}},
	                            .reading_fixed = {0.0005, 0.001, 0.0003},
	                            .reading_slope = {0.00001, 0, 0.000005},
	                            .declared = {{.bound = 0.004}},
	                            .water = 0.006};
}

static double reading_error(gsl_rng *rng, const struct level_terms *with, double distance,
                            enum level_method method)
{
	return gsl_ran_gaussian(rng, with->reading_fixed[method] +
	                                 with->reading_slope[method] * distance);
}

/* One observed drop, less the true one: tilt one for all, air one for each setup. */
static double draw(gsl_rng *rng, const struct level_terms *with, const struct setup *setups,
                   size_t count)
{
	double tilt =
	    gsl_ran_flat(rng, -with->instrument[0].tolerance, with->instrument[0].tolerance);
	double sum = gsl_ran_flat(rng, -with->declared[0].bound, with->declared[0].bound) +
	             gsl_ran_flat(rng, -with->water, with->water) +
	             gsl_ran_gaussian(rng, known_u[0]) + gsl_ran_gaussian(rng, known_u[1]);
	for (size_t i = 0; i < count; i++) {
		double bend = gsl_ran_gaussian(rng, with->dk_low / 2) / (2 * with->radius);
		double bs = setups[i].bs, fs = setups[i].fs;
		sum +=
		    tilt * bs - bend * bs * bs + reading_error(rng, with, bs, setups[i].bs_method);
		sum -=
		    tilt * fs - bend * fs * fs + reading_error(rng, with, fs, setups[i].fs_method);
	}
	return sum;
}

static void check_run(const struct setup *setups, size_t count, double tilt)
{
	static double error[DRAWS];
	struct level_terms with = terms(tilt);
	struct level_drop_sums sums = {0};
	struct level_allowance got;
	struct level_ends ends = {.water = true, .known_u = {known_u[0], known_u[1]}};
	double variance = 0, u, drawn;
	size_t within = 0;
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_rng_set(rng, 20100);
	for (size_t i = 0; i < count; i++) {
		struct level_reach bs = {.distance = setups[i].bs, .method = setups[i].bs_method};
		struct level_reach fs = {.distance = setups[i].fs, .method = setups[i].fs_method};
		level_drop_add(&sums, &with, &bs, &fs);
	}
	got = level_weigh(&sums, &with, &ends, NULL, 0, NULL).allowance;
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++)
		variance += got.u[i] * got.u[i];
	u = sqrt(variance);
	for (size_t i = 0; i < DRAWS; i++) {
		error[i] = draw(rng, &with, setups, count);
		within += fabs(error[i]) <= got.total_u95;
	}
	drawn = gsl_stats_sd_m(error, 1, DRAWS, 0);
	/* five standard deviations of a standard deviation from so many draws, 1/sqrt(2n) each */
	ck_assert_msg(fabs(drawn - u) < 5 * u / sqrt(2.0 * DRAWS), "drawn %.6f m, reckoned %.6f m",
	              drawn, u);
	/* coverage factor 2 (GUM, 6.3.3) is at least the normal distribution's */
	ck_assert_double_ge(got.total_u95, gsl_cdf_ugaussian_Pinv(0.975) * u);
	/* and so holds 95 % and more */
	ck_assert_msg((double)within > 0.95 * DRAWS, "%zu of %d within", within, DRAWS);
	gsl_rng_free(rng);
}

START_TEST(test_drawn_errors)
{
	static const struct setup one[] = {{20, 800, LEVEL_ROD, LEVEL_TARGET}};
	static const struct setup three[] = {{30, 35, LEVEL_ROD, LEVEL_ROD},
	                                     {25, 1200, LEVEL_ROD, LEVEL_TAPE},
	                                     {60, 20, LEVEL_TARGET, LEVEL_ROD}};
	static const struct setup reciprocal[] = {{10, 500, LEVEL_ROD, LEVEL_TARGET},
	                                          {510, 12, LEVEL_TARGET, LEVEL_ROD}};
	check_run(one, 1, 0.0001);
	check_run(one, 1, 0.00001);
	check_run(three, 3, 0.0001);
	check_run(three, 3, 0.000005);
	check_run(reciprocal, 2, 0.0001);
}
END_TEST

int main(void)
{
	return RUN_TESTS("allowance", test_drawn_errors);
}
