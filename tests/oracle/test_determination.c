/* What the uncertainty of a station claims, against 10,000 noisy runs, and against least squares.
 *
 * The runs are leveled over round ground with the level, the air and the eye wrong by errors drawn
 * by the normal generator of the GNU Scientific Library. The spread of what comes out is that of
 * the program's own elevations; it must be what level_path_variance() says, within 5 %. */
#include "rodbook/level/determination.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <string.h>

#include "rodbook/level/net.h"
#include "rodbook/level/spread.h"
#include "unit/sights.h"
#include "unit/suite.h"

#define RUNS 10000
#define SIGHTS_MOST 24
#define SEED 20260504

/* A sight to be made: what it is, where, and how far. */
struct plan_row {
	enum level_kind kind;
	const char *station;
	double distance;
};

struct world {
	enum level_run_kind kind;
	const struct plan_row *row;
	size_t count;
	bool own_air; /* each sight's own; else one for all */
	bool again;   /* the second BS opens a further standing */
};

static struct level_terms terms(void)
{
	struct level_terms out = usual_terms();
	out.dk_low = 2;
	out.dk_high = 4;
	out.drift = 0.00001;
	out.instrument[0] = (struct level_instrument){.tolerance = 0.00005};
	return out;
}

/* All stations stand at 100 m; a reading is the height of the line plus what is wrong with it. */
static void draw(const struct world *w, gsl_rng *rng, struct level_sight *sights)
{
	struct level_terms t = terms();
	double tilt = gsl_ran_gaussian(rng, t.instrument[0].tolerance / sqrt(3.0)) +
	              gsl_ran_gaussian(rng, t.drift),
	       shared = gsl_ran_gaussian(rng, 1.5);
	for (size_t i = 0; i < w->count; i++) {
		double d = w->row[i].distance, k = w->own_air ? gsl_ran_gaussian(rng, 1.5) : shared,
		       reading = 1.5 + d * d / (2 * LEVEL_MEAN_RADIUS) * (1 - 0.13 - k) + tilt * d +
		                 gsl_ran_gaussian(rng, 0.0005 + 0.00001 * d);
		sights[i] = sight(w->row[i].kind, w->row[i].station, level_from_meters(reading),
		                  level_from_meters(d));
		if (strncmp(w->row[i].station, "BM", 2) == 0)
			sights[i] = known(sights[i], METRES(100), 0);
		sights[i].again = w->again && i > 0 && w->row[i].kind == LEVEL_BS;
	}
}

static void agree(const double *found, double claimed, const char *what, const char *station)
{
	double spread = gsl_stats_sd(found, 1, RUNS);
	printf("%-9s %-5s %.4f mm, claimed %.4f mm\n", what, station, 1e3 * spread,
	       1e3 * sqrt(claimed));
	ck_assert_double_eq_tol(spread / sqrt(claimed), 1, 0.05);
}

/* The elevation at each row as found, before anything is spread. */
static void hold_determinations(const struct world *w, const char *what)
{
	static double found[SIGHTS_MOST][RUNS];
	double claimed[SIGHTS_MOST] = {0};
	struct level_terms t = terms();
	struct level_sight sights[SIGHTS_MOST];
	struct level_run run = {.kind = w->kind, .count = w->count, .sight = sights};
	struct level_page page = {0};
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_rng_set(rng, SEED);
	for (size_t n = 0; n < RUNS; n++) {
		struct level_determination d;
		draw(w, rng, sights);
		ck_assert(level_reduce(&run, 0, &t, &page));
		for (size_t i = 0; i < w->count; i++)
			if (level_determine(&run, &page, &t, i, &d)) {
				found[i][n] = level_to_meters(d.elevation - METRES(100));
				claimed[i] = level_path_variance(&d.path, &t);
			}
	}
	for (size_t i = 0; i < w->count; i++)
		if (claimed[i] > 0)
			agree(found[i], claimed[i], what, w->row[i].station);
	level_page_free(&page);
	gsl_rng_free(rng);
}

/* The same once the misclosure is spread by distance. */
static void hold_spread(const struct world *w, const char *what)
{
	static double found[SIGHTS_MOST][RUNS];
	double claimed[SIGHTS_MOST] = {0};
	struct level_terms t = terms();
	struct level_sight sights[SIGHTS_MOST];
	struct level_run run = {.kind = w->kind, .count = w->count, .sight = sights};
	struct level_page page = {0};
	gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
	gsl_rng_set(rng, SEED);
	for (size_t n = 0; n < RUNS; n++) {
		struct level_closing c;
		struct level_spread s;
		draw(w, rng, sights);
		ck_assert(level_reduce(&run, 0, &t, &page));
		c = level_close(&run, &page, &t, level_tolerance_find("third-order", NULL), 0);
		c.failing = 0;
		ck_assert(level_spread(&run, &page, &c, NULL, &s, NULL));
		for (size_t i = 1; i + 1 < w->count; i++) {
			if (w->row[i].kind == LEVEL_BS)
				continue;
			found[i][n] = level_to_meters(s.row[i].adjusted - METRES(100));
			claimed[i] = pow(level_spread_u(&run, &page, &t, &s, i), 2);
		}
		level_spread_free(&s);
	}
	for (size_t i = 0; i < w->count; i++)
		if (claimed[i] > 0)
			agree(found[i], claimed[i], what, w->row[i].station);
	level_page_free(&page);
	gsl_rng_free(rng);
}

static const struct plan_row loop[] = {
    {LEVEL_BS, "BM1", 40}, {LEVEL_FS, "A", 40},   {LEVEL_BS, "A", 35}, {LEVEL_FS, "B", 35},
    {LEVEL_BS, "B", 50},   {LEVEL_FS, "C", 50},   {LEVEL_BS, "C", 45}, {LEVEL_FS, "D", 45},
    {LEVEL_BS, "D", 30},   {LEVEL_FS, "BM1", 30},
};
static const struct plan_row link[] = {
    {LEVEL_BS, "BM1", 20}, {LEVEL_FS, "A", 90}, {LEVEL_BS, "A", 30}, {LEVEL_FS, "B", 110},
    {LEVEL_BS, "B", 25},   {LEVEL_FS, "C", 70}, {LEVEL_BS, "C", 40}, {LEVEL_FS, "BM2", 120},
};
static const struct plan_row side[] = {
    {LEVEL_BS, "BM1", 40}, {LEVEL_IS, "P", 10}, {LEVEL_IS, "Q", 150}, {LEVEL_FS, "A", 42},
    {LEVEL_BS, "A", 35},   {LEVEL_IS, "R", 90}, {LEVEL_FS, "B", 33},
};
static const struct plan_row twice[] = {
    {LEVEL_BS, "BM1", 40},
    {LEVEL_FS, "A", 40},
    {LEVEL_BS, "BM1", 40},
    {LEVEL_FS, "A", 40},
};
static const struct plan_row beside[] = {
    {LEVEL_BS, "BM1", 40}, {LEVEL_IS, "P", 35}, {LEVEL_FS, "A", 40},
    {LEVEL_BS, "A", 35},   {LEVEL_IS, "Q", 30}, {LEVEL_FS, "BM2", 35},
};
#define WORLD(run_kind, rows, own)                                                                 \
	((struct world){.kind = run_kind,                                                          \
	                .row = rows,                                                               \
	                .count = sizeof(rows) / sizeof *(rows),                                    \
	                .own_air = own})

/* In balanced sights the air that all have in common cancels: there it is drawn as each one's own.
 */
START_TEST(test_loop)
{
	hold_determinations(&WORLD(LEVEL_LOOP, loop, true), "loop");
	hold_spread(&WORLD(LEVEL_LOOP, loop, true), "spread");
}
END_TEST

START_TEST(test_unequal_link)
{
	hold_determinations(&WORLD(LEVEL_LINK, link, false), "link");
	hold_spread(&WORLD(LEVEL_LINK, link, true), "spread");
}
END_TEST

START_TEST(test_side_shots)
{
	hold_determinations(&WORLD(LEVEL_OPEN, side, false), "side");
	hold_spread(&WORLD(LEVEL_LINK, beside, true), "beside");
}
END_TEST

/* Two standings: what the level does is the same in both, and so is the air; readings are not. */
START_TEST(test_standings)
{
	struct world w = WORLD(LEVEL_OPEN, twice, true);
	w.again = true;
	hold_determinations(&w, "standings");
}
END_TEST

/* Where a level is as good as perfect and the air known, readings alone are left: each setup is a
 * line of a net, of weight 1 over its variance. */
START_TEST(test_as_least_squares)
{
	enum { SETUPS = 7, MARKS = SETUPS + 1 };
	static const char *const names[MARKS] = {"BM1", "A", "B", "C", "D", "E", "F", "BM2"};
	struct level_terms t = terms();
	struct level_sight sights[2 * SETUPS];
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_page page = {0};
	struct level_net_mark marks[MARKS];
	struct level_net_line lines[SETUPS];
	struct level_net net = {MARKS, SETUPS, marks, lines, 1};
	struct level_net_result result;
	struct fault why = {0};
	t.dk_low = t.dk_high = t.drift = 0;
	t.instrument[0].tolerance = 1e-12;
	for (int i = 0; i < SETUPS; i++) {
		double a = 10 + 7 * i, b = 60 - 5 * i, u = 0.0005 + 1e-5 * a, v = 0.0005 + 1e-5 * b;
		sights[2 * i] = sight(LEVEL_BS, names[i], MM(1500 + i), level_from_meters(a));
		sights[2 * i + 1] = sight(LEVEL_FS, names[i + 1], MM(1200), level_from_meters(b));
		lines[i] =
		    (struct level_net_line){(size_t)i, (size_t)i + 1, MM(300 + i), u * u + v * v};
	}
	for (int i = 0; i < MARKS; i++)
		marks[i] = (struct level_net_mark){names[i], i == 0, METRES(100)};
	sights[0] = known(sights[0], METRES(100), 0);
	ck_assert(level_reduce(&run, 0, &t, &page));
	/* One end held: what is found. Both ends held: what is spread in proportion to variance. */
	for (int held = 1; held <= 2; held++) {
		const struct level_drop_sums *whole = &page.row[2 * SETUPS - 1].sums.drop;
		marks[MARKS - 1].fixed = held == 2;
		ck_assert(level_net_adjust(&net, NULL, NULL, &result, &why));
		for (size_t i = 1; i < MARKS - (size_t)(held == 2); i++) {
			const struct level_drop_sums *to = &page.row[2 * i - 1].sums.drop;
			struct level_determination d;
			double variance;
			ck_assert(level_determine(&run, &page, &t, 2 * i - 1, &d));
			variance = held == 1
			               ? level_path_variance(&d.path, &t)
			               : level_spread_variance(
			                     &(struct level_spread_at){.p = to->reading_variance /
			                                                    whole->reading_variance,
			                                               .to.sums = *to,
			                                               .whole.sums = *whole},
			                     &t);
			ck_assert_double_eq_tol(sqrt(variance), sqrt(result.mark[i].cofactor),
			                        1e-9);
		}
		level_net_free(&result);
	}
	level_page_free(&page);
}
END_TEST

int main(void)
{
	printf("seed %d\n", SEED);
	return RUN_TESTS("determination", test_loop, test_unequal_link, test_side_shots,
	                 test_standings, test_as_least_squares);
}
