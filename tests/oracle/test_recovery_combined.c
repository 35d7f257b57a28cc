/* What several crossings say together of a world whose truth is known, by 10 000 drawings each:
 * JCGM 101:2008 (propagation of distributions by a Monte Carlo method). They share one
 * instrument, one day's air and the same two marks, forth and back by turns. */
#include "observe.h"

#include <string.h>

#include "rodbook/combine.h"
#include "unit/suite.h"

#define RUNS 10000
#define CROSSINGS_MOST 6
/* Percent of the time that a figure at 95 % has to hold; no more than MOST where the normal errors
 * are the larger ones, since a rectangular one alone never goes beyond its bound. */
#define LEAST 93
#define MOST 97
#define ANY 100

/* Ids of what is shared; what a crossing has of its own counts from OWN. */
enum { TILT = 1, AIR, MARKS, OWN = 10, READING = 0, WATER, WAVES, KINDS = 4 };

struct day {
	const char *name;
	double tolerance, declared, radius;
	size_t count;
	double far[CROSSINGS_MOST]; /* long sights, m */
	int waters;
	double waves;
};

static struct scene scene_of(const struct day *day, size_t number)
{
	return (struct scene){.name = day->name,
	                      .terms = {.radius = LEVEL_MEAN_RADIUS,
	                                .k = 0.13,
	                                .dk = 0.15,
	                                .instrument = {{.tolerance = day->tolerance}},
	                                .reading_fixed = {0.0005, 0.001, 0.0003},
	                                .reading_slope = {0.00001, 0, 0.000005},
	                                .declared = {{.bound = day->declared}},
	                                .water_floor = 0.003,
	                                .decides = LEVEL_BY_U95},
	                      .radius = day->radius,
	                      .setups = 1,
	                      .setup = {{20, day->far[number], LEVEL_ROD, LEVEL_TARGET, 0}},
	                      .back = number % 2,
	                      .same_air = true,
	                      .waters = {day->waters, day->waters},
	                      .waves = {day->waves, day->waves}};
}

static void add(struct level_crossing *c, int id, double u, double bound)
{
	c->source[c->sources++] = (struct level_source){.id = id, .u = u, .bound = bound};
}

/* A tilt upward makes far readings, and the drop, too large; so do marks that stand higher where
 * the line begins. */
static struct level_crossing crossing_of(const struct scene *scene, size_t number,
                                         const struct level_drop_sums *sums,
                                         const struct level_closing *closing)
{
	const struct level_terms *terms = &scene->terms;
	struct level_crossing out = {.observed = closing->observed,
	                             .predicted = closing->predicted,
	                             .s_d2 = sums->s_d2,
	                             .k = terms->k,
	                             .radius = terms->radius,
	                             .s_d = {sums->s_d[0]},
	                             .tilt_source = {TILT}};
	double reach = -sums->s_d[0] * terms->instrument[0].tolerance;
	double turn = closing->finding.turn, marks = scene->back ? 1 : -1;
	double declared = terms->declared[0].bound, water = terms->water_floor;
	int own = OWN + KINDS * (int)number;

	add(&out, TILT, reach / sqrt(3), reach);
	add(&out, AIR, turn * sqrt(sums->refraction_variance), turn * sums->refraction_bound);
	add(&out, MARKS, marks * declared / sqrt(3), marks * declared);
	add(&out, own + READING, sqrt(sums->reading_variance), sums->reading_bound);
	add(&out, own + WATER, water / sqrt(3), water);
	for (int end = 0; end < 2; end++) {
		struct level_mean_u mean = closing->ends.mean[end];
		if (mean.u > 0)
			out.source[out.sources++] = (struct level_source){
			    own + WAVES + end, mean.u, mean.bound, level_sampled_of(&mean)};
	}
	return out;
}

/* One day's crossings, combined; the share of its prediction that a perfect one would show. */
static struct level_combined combine_day(gsl_rng *rng, const struct day *day, enum draw draw,
                                         struct level_page *page, struct shared *shared,
                                         double *share)
{
	const struct level_tolerance *set = level_tolerance_find("setups", NULL);
	struct level_crossing crossings[CROSSINGS_MOST];
	struct level_combined out;
	struct fault why;
	for (size_t i = 0; i < day->count; i++) {
		struct scene scene = scene_of(day, i);
		struct booked booked = {0};
		struct level_closing closing;
		if (i == 0)
			*shared = draw_shared(rng, &scene.terms, draw);
		observe(rng, &scene, shared, draw, &booked);
		if (!level_reduce(&booked.run, 0, &booked.terms, page))
			ck_abort_msg("out of memory");
		closing = level_close(&booked.run, page, &booked.terms, set, 0.01);
		crossings[i] = crossing_of(&scene, i, &level_page_sums(page)->drop, &closing);
		/* the same for all, but for a millionth */
		*share = true_drop(&scene) / closing.predicted;
	}
	if (!level_combine(crossings, day->count, LEVEL_BY_U95, &out, &why))
		ck_abort_msg("%s: %s", day->name, why.text);
	return out;
}

/* Figures whose truth is known, and how often it was held by u95 and by bound. */
enum { SHARE, CURVATURE, TILTED, FITTED, FIGURES };
struct tally {
	int u95[FIGURES], bound[FIGURES], agree, fit_agree, fits;
};

static struct tally count_held(gsl_rng *rng, const struct day *day, enum draw draw)
{
	struct tally out = {0};
	struct level_page page = {0};
	double curvature = isinf(day->radius) ? 0 : 1 / day->radius;
	for (int i = 0; i < RUNS; i++) {
		struct shared shared;
		double share;
		struct level_combined got = combine_day(rng, day, draw, &page, &shared, &share);
		const double truth[] = {share, curvature, shared.tilt[0], curvature};
		const struct level_estimate *figure[] = {&got.share, &got.curvature, &got.tilt[0],
		                                         &got.fitted};
		for (int f = 0; f < (got.has_fit ? FIGURES : TILTED); f++) {
			double off = fabs(figure[f]->value - truth[f]);
			out.u95[f] += off <= figure[f]->u95;
			/* geometry, and rounding to 1 nm a reading */
			out.bound[f] += off <= figure[f]->bound * 1.0001;
		}
		out.agree += got.agree;
		out.fit_agree += got.fit_chance >= 0.05;
		out.fits += got.has_fit;
	}
	level_page_free(&page);
	return out;
}

static void check(gsl_rng *rng, struct day day, bool flat, bool fits, double most)
{
	static const char *const names[] = {"share", "curvature", "fitted tilt",
	                                    "fitted curvature"};
	struct tally held;
	day.radius = flat ? (double)INFINITY : LEVEL_MEAN_RADIUS;
	held = count_held(rng, &day, FREE);
	ck_assert_int_eq(held.fits, fits ? RUNS : 0);
	for (int f = 0; f < (fits ? FIGURES : TILTED); f++) {
		double percent = 100.0 * held.u95[f] / RUNS;
		ck_assert_msg(percent >= LEAST && percent <= most,
		              "%s, %s Earth: the %s holds %.2f %%", day.name,
		              flat ? "flat" : "round", names[f], percent);
	}
	/* chi-square is to call true errors unlikely once in twenty; rectangular ones less often */
	ck_assert_msg(held.agree > 0.93 * RUNS, "%s: %d agree", day.name, held.agree);
	ck_assert_msg(!fits || held.fit_agree > 0.93 * RUNS, "%s: %d fits agree", day.name,
	              held.fit_agree);
	held = count_held(rng, &day, INSIDE);
	for (int f = 0; f < (fits ? FIGURES : TILTED); f++)
		ck_assert_msg(held.bound[f] == RUNS, "%s: bound of the %s holds %d of %d", day.name,
		              names[f], held.bound[f], RUNS);
}

/* Over one distance tilt and curvature cannot be told apart. */
START_TEST(test_one_distance)
{
	gsl_rng *rng = fixed_chance("one distance");
	struct day day = {.name = "one distance",
	                  .tolerance = 0.000004,
	                  .declared = 0.002,
	                  .far = {800, 800, 800, 800, 800, 800}};
	for (day.count = 3; day.count <= CROSSINGS_MOST; day.count += 3) {
		check(rng, day, false, false, MOST);
		check(rng, day, true, false, MOST);
	}
	gsl_rng_free(rng);
}
END_TEST

START_TEST(test_several_distances)
{
	gsl_rng *rng = fixed_chance("several distances");
	struct day day = {.name = "several distances",
	                  .tolerance = 0.000004,
	                  .declared = 0.002,
	                  .far = {300, 1200, 800, 500, 1500, 400}};
	for (day.count = 3; day.count <= CROSSINGS_MOST; day.count++)
		check(rng, day, day.count % 2, true, MOST);
	gsl_rng_free(rng);
}
END_TEST

/* The mean of ten water readings at each shore, waves the larger part of the errors. */
START_TEST(test_waves)
{
	gsl_rng *rng = fixed_chance("waves");
	struct day day = {.name = "waves",
	                  .tolerance = 0.000004,
	                  .declared = 0.002,
	                  .count = 4,
	                  .far = {300, 1200, 800, 500},
	                  .waters = 10,
	                  .waves = 0.010};
	check(rng, day, false, true, MOST);
	/* few readings are taken more widely than need be, and never too narrowly */
	for (day.waters = 2; day.waters <= 5; day.waters++)
		check(rng, day, day.waters % 2, true, ANY);
	gsl_rng_free(rng);
}
END_TEST

/* One shared rectangular error larger than the rest. */
START_TEST(test_rectangular)
{
	gsl_rng *rng = fixed_chance("rectangular");
	struct day tilted = {.name = "an untested tilt",
	                     .tolerance = 0.0001,
	                     .declared = 0.002,
	                     .count = 4,
	                     .far = {800, 800, 800, 800}};
	struct day marked = {.name = "marks",
	                     .tolerance = 0.000004,
	                     .declared = 0.050,
	                     .count = 3,
	                     .far = {300, 800, 1200}};
	check(rng, tilted, true, false, ANY);
	check(rng, marked, false, true, ANY);
	gsl_rng_free(rng);
}
END_TEST

int main(void)
{
	return RUN_TESTS("recovery_combined", test_one_distance, test_several_distances, test_waves,
	                 test_rectangular);
}
