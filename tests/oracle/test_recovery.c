/* What a crossing says of a world whose truth is known, and how often that truth lies within the
 * allowance, by 10 000 drawings each: JCGM 101:2008 (propagation of distributions by a Monte Carlo
 * method). The prediction is always a round Earth's; the world is round or flat. */
#include "observe.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <string.h>

#include "unit/suite.h"

#define RUNS 10000
/* Percent of the time that a total at 95 % has to hold; no more than MOST where the normal errors
 * are the larger ones, since a rectangular one alone never goes beyond its bound. */
#define LEAST 93
#define MOST 97
#define ANY 100

/* Common practice, no source. */
static struct level_terms terms_of(double tolerance)
{
	return (struct level_terms){
	    .radius = LEVEL_MEAN_RADIUS,
	    .k = 0.13,
	    .dk = 0.15,
	    .instrument = {{.tolerance = tolerance}, {.tolerance = 2 * tolerance}},
	    .reading_fixed = {0.0005, 0.001, 0.0003},
	    .reading_slope = {0.00001, 0, 0.000005},
	    .declared = {{.bound = 0.001}, {.bound = 0.001}},
	    .water = 0.001,
	    .water_floor = 0.003,
	    .decides = LEVEL_BY_U95};
}

/* Readings at 800 m and the air have u = 4.3 and 3.8 mm, the tilt 4 mm/km x 780 m / sqrt 3. */
static struct scene one_sight(const char *name)
{
	return (struct scene){.name = name,
	                      .terms = terms_of(0.000004),
	                      .setups = 1,
	                      .setup = {{20, 800, LEVEL_ROD, LEVEL_TARGET, 0}}};
}

static struct scene setups(const char *name, size_t count, double dk)
{
	struct scene out = {.name = name,
	                    .terms = terms_of(0.000003),
	                    .setups = count,
	                    .setup = {{20, 600, LEVEL_ROD, LEVEL_TARGET, 0},
	                              {40, 400, LEVEL_ROD, LEVEL_TARGET, 0},
	                              {700, 30, LEVEL_TARGET, LEVEL_ROD, 0},
	                              {15, 1100, LEVEL_ROD, LEVEL_TARGET, 0}}};
	out.terms.dk = dk;
	return out;
}

struct tally {
	int drop, curvature, bound;
	double farthest; /* how far the worst observed drop is from the truth, m */
	struct level_allowance allowance;
};

static struct tally count_held(gsl_rng *rng, const struct scene *scene, enum draw draw)
{
	struct tally out = {0};
	struct level_page page = {0};
	const struct level_tolerance *set = level_tolerance_find("setups", NULL);
	double truth = true_drop(scene), curvature = isinf(scene->radius) ? 0 : 1 / scene->radius;
	for (int i = 0; i < RUNS; i++) {
		struct booked booked = {0};
		struct shared shared = draw_shared(rng, &scene->terms, draw);
		struct level_closing got;
		double off;
		observe(rng, scene, &shared, draw, &booked);
		if (!level_reduce(&booked.run, 0, &booked.terms, &page))
			ck_abort_msg("out of memory");
		got = level_close(&booked.run, &page, &booked.terms, set, 0.01);
		if (!got.has_observed || got.by_water != (scene->waters[0] > 0))
			ck_abort_msg("%s: a crossing that does not close", scene->name);
		off = fabs(got.observed - truth);
		out.drop += off <= got.allowance.total_u95;
		/* geometry and rounding to 1 nm a reading */
		out.bound += off <= got.allowance.total_bound + 1e-7;
		out.curvature += fabs(got.finding.curvature - curvature) <= got.finding.curvature_u;
		out.farthest = fmax(out.farthest, off);
		out.allowance = got.allowance;
	}
	level_page_free(&page);
	return out;
}

static void check_percent(const struct scene *scene, const char *what, int held, double most)
{
	double percent = 100.0 * held / RUNS;
	ck_assert_msg(percent >= LEAST && percent <= most, "%s, %s Earth: the %s holds %.2f %%",
	              scene->name, isinf(scene->radius) ? "flat" : "round", what, percent);
}

static void check(gsl_rng *rng, struct scene scene, bool flat, double most)
{
	struct tally held;
	scene.radius = flat ? (double)INFINITY : LEVEL_MEAN_RADIUS;
	held = count_held(rng, &scene, FREE);
	check_percent(&scene, "drop", held.drop, most);
	check_percent(&scene, "curvature", held.curvature, most);
	held = count_held(rng, &scene, INSIDE);
	ck_assert_msg(held.bound == RUNS, "%s, %s Earth: the bound holds %d of %d", scene.name,
	              flat ? "flat" : "round", held.bound, RUNS);
}

static void check_both(gsl_rng *rng, struct scene scene, double most)
{
	check(rng, scene, false, most);
	check(rng, scene, true, most);
}

START_TEST(test_one_sight)
{
	gsl_rng *rng = fixed_chance("one sight");
	struct scene scene = one_sight("long FS");
	check_both(rng, scene, MOST);
	scene.name = "long BS";
	scene.setup[0] = (struct standing){800, 20, LEVEL_TARGET, LEVEL_ROD, 0};
	check_both(rng, scene, MOST);
	scene = one_sight("two known marks");
	scene.known_u = 0.003;
	check_both(rng, scene, MOST);
	gsl_rng_free(rng);
}
END_TEST

/* Forth and back, the far reading an FS both times: D = 2 h, and the tilt counts twice. */
START_TEST(test_forth_and_back)
{
	gsl_rng *rng = fixed_chance("forth and back");
	struct scene scene = one_sight("forth and back");
	scene.setups = 2;
	scene.setup[1] = scene.setup[0];
	scene.home = true;
	check_both(rng, scene, MOST);
	gsl_rng_free(rng);
}
END_TEST

/* Every setup in air of its own. */
START_TEST(test_setups)
{
	gsl_rng *rng = fixed_chance("setups");
	for (size_t count = 1; count <= SETUPS_MOST; count++) {
		check_both(rng, setups("setups in calm air", count, 0.15), MOST);
		check_both(rng, setups("setups in low air", count, 0.5), MOST);
	}
	gsl_rng_free(rng);
}
END_TEST

START_TEST(test_instruments)
{
	gsl_rng *rng = fixed_chance("instruments");
	struct scene scene = setups("two instruments", 4, 0.15);
	scene.setup[1].instrument = scene.setup[2].instrument = 1;
	check_both(rng, scene, MOST);
	scene.name = "two instruments, tested";
	scene.terms.instrument[0] = (struct level_instrument){0.0001, true, 0, 0.000003};
	scene.terms.instrument[1] = (struct level_instrument){0.0002, true, 0, 0.000006};
	check_both(rng, scene, MOST);
	gsl_rng_free(rng);
}
END_TEST

/* Where only one shore has waves, holding the truth in p of 100 takes c = t_p times its standard
 * error; an allowance that never shrinks as a spread grows is then at least c times the larger of
 * two, and with waves alike at both shores and nothing else holds the truth in no fewer than
 * 1 - P(larger of s1, s2 < sqrt 2 |y|/c) of 100, y standard normal and s^2 chi-square/nu. */
struct floor {
	double c, freedom;
};

static double density_of_a_miss(double y, void *given)
{
	const struct floor *floor = given;
	double s = sqrt(2) * y / floor->c;
	double p = gsl_cdf_chisq_P(s * s * floor->freedom, floor->freedom);
	return 2 * gsl_ran_ugaussian_pdf(y) * p * p;
}

static double least_held(int readings, double percent)
{
	double freedom = readings - 1, missed, error;
	struct floor floor = {gsl_cdf_tdist_Pinv(0.5 + percent / 200, freedom), freedom};
	gsl_function miss = {density_of_a_miss, &floor};
	gsl_integration_workspace *work = gsl_integration_workspace_alloc(1000);
	gsl_integration_qags(&miss, 0, 12, 1e-12, 1e-9, 1000, work, &missed, &error);
	gsl_integration_workspace_free(work);
	return 100 * (1 - missed);
}

/* So two readings cannot be held to MOST at all, and three not by what holds 95 at one shore.
 * 97.80 also in closed form, in test_expand.c. */
START_TEST(test_alike_shores_hold_more)
{
	ck_assert_double_gt(least_held(2, LEAST), 98.4);
	ck_assert_double_lt(least_held(2, LEAST), 98.5);
	ck_assert_double_eq_tol(least_held(2, 95), 99.2, 0.05);
	ck_assert_double_eq_tol(least_held(3, 95), 97.80, 0.01);
	ck_assert_double_lt(least_held(5, 95), 96);
}
END_TEST

/* From 2 to 20 readings of the water at each shore, calmer than the tape reads, and so rough that
 * nothing else counts. */
START_TEST(test_waters)
{
	/* What two readings tell, and three where nothing else counts, is taken more widely than
	 * need be. */
	static const struct {
		int count;
		double most;
	} cases[] = {{2, 99.5}, {3, 98}, {5, MOST}, {10, MOST}, {20, MOST}};
	static const double waves[] = {0.0005, 0.005, 0.020};
	gsl_rng *rng = fixed_chance("waters");
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		for (size_t j = 0; j < sizeof waves / sizeof *waves; j++) {
			char name[60];
			struct scene scene = one_sight(name);
			snprintf(name, sizeof name, "%d readings of waves of %.1f mm",
			         cases[i].count, waves[j] * 1000);
			scene.waters[0] = scene.waters[1] = cases[i].count;
			scene.waves[0] = scene.waves[1] = waves[j];
			check(rng, scene, (i + j) % 2, cases[i].most);
		}
	gsl_rng_free(rng);
}
END_TEST

/* Few readings of a rough shore and as many of a still one: a small spread by luck must not pass
 * for knowledge. */
START_TEST(test_one_rough_shore)
{
	static const int counts[] = {2, 3, 5};
	static const double waves[] = {0.010, 0.020, 0.050};
	gsl_rng *rng = fixed_chance("one rough shore");
	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
		for (size_t j = 0; j < sizeof waves / sizeof *waves; j++) {
			char name[80];
			struct scene scene = one_sight(name);
			snprintf(name, sizeof name, "%d readings, one shore of %.1f mm waves",
			         counts[i], waves[j] * 1000);
			scene.waters[0] = scene.waters[1] = counts[i];
			scene.waves[0] = 0.0005;
			scene.waves[1] = waves[j];
			check(rng, scene, (i + j) % 2, ANY);
		}
	gsl_rng_free(rng);
}
END_TEST

/* Two readings of one shore and more of the other, both rough: what few readings tell must not pass
 * as what many do. */
START_TEST(test_unlike_shores)
{
	static const int counts[] = {5, 10, 20};
	static const double waves[][2] = {{0.0005, 0.015}, {0.025, 0.100}, {0.050, 0.050}};
	gsl_rng *rng = fixed_chance("unlike shores");
	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
		for (size_t j = 0; j < sizeof waves / sizeof *waves; j++) {
			char name[80];
			struct scene scene = one_sight(name);
			snprintf(name, sizeof name,
			         "2 readings of waves of %.1f mm and %d of %.0f mm",
			         waves[j][0] * 1000, counts[i], waves[j][1] * 1000);
			scene.waters[0] = 2;
			scene.waters[1] = counts[i];
			memcpy(scene.waves, waves[j], sizeof scene.waves);
			check(rng, scene, (i + j) % 2, ANY);
		}
	gsl_rng_free(rng);
}
END_TEST

/* One rectangular line larger than the rest: the totals hold more often, never less. */
START_TEST(test_rectangular)
{
	gsl_rng *rng = fixed_chance("rectangular");
	struct scene scene = one_sight("an untested tilt");
	scene.terms.instrument[0].tolerance = 0.0001;
	check_both(rng, scene, ANY);
	scene = one_sight("a declared transfer");
	scene.terms.declared[0].bound = 0.030;
	check_both(rng, scene, ANY);
	scene = one_sight("water set up by wind");
	scene.terms.water = 0.030;
	check_both(rng, scene, ANY);
	gsl_rng_free(rng);
}
END_TEST

/* With each error at one end of its bound or the other, the worst of all lies at the end of the
 * whole: the bound is no larger than it must be. Air is one for both sights of a setup here, and
 * two in the bound: 2 x 0.15 x 20^2/12 742 000 m. */
START_TEST(test_bound_is_reached)
{
	gsl_rng *rng = fixed_chance("bound");
	for (int flat = 0; flat < 2; flat++) {
		struct scene scene = one_sight("corner");
		struct tally held;
		scene.radius = flat ? (double)INFINITY : LEVEL_MEAN_RADIUS;
		held = count_held(rng, &scene, CORNER);
		ck_assert_int_eq(held.bound, RUNS);
		ck_assert_double_eq_tol(held.farthest, held.allowance.total_bound - 0.000009418,
		                        1e-7);
		/* and that is far beyond the total at 95 % */
		ck_assert_double_gt(held.farthest, 1.5 * held.allowance.total_u95);
	}
	gsl_rng_free(rng);
}
END_TEST

int main(void)
{
	return RUN_TESTS("recovery", test_one_sight, test_forth_and_back, test_setups,
	                 test_instruments, test_alike_shores_hold_more, test_waters,
	                 test_one_rough_shore, test_unlike_shores, test_rectangular,
	                 test_bound_is_reached);
}
