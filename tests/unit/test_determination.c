/* Elevations of a station by the sights of a run. Figures by hand, from the law of propagation of
 * uncertainty (JCGM 100:2008, 5.1.2, from memory). */
#include "rodbook/level/determination.h"

#include <math.h>
#include <string.h>

#include "sights.h"
#include "suite.h"

#define BS(station, mm, m) sight(LEVEL_BS, station, MM(mm), METRES(m))
#define IS(station, mm, m) sight(LEVEL_IS, station, MM(mm), METRES(m))
#define FS(station, mm, m) sight(LEVEL_FS, station, MM(mm), METRES(m))
#define AT(on, elevation) known(on, METRES(elevation), 0)

static double squared(double value)
{
	return value * value;
}

/* Readings of 1 mm, a level known to 0.02 mm/m, air known to 0.5. */
static struct level_terms plain_terms(void)
{
	struct level_terms terms = {
	    .radius = LEVEL_MEAN_RADIUS, .k = 0.13, .dk_low = 1, .dk_high = 1};
	terms.instrument[0] = (struct level_instrument){.tolerance = 0.02e-3 * sqrt(3)};
	for (int i = 0; i < LEVEL_METHODS; i++)
		terms.reading_fixed[i] = 0.001;
	return terms;
}

struct found {
	struct level_determination of[8];
	bool has[8];
	struct level_page page;
};

static struct found determine(const struct level_run *run, const struct level_terms *terms)
{
	struct found out = {0};
	ck_assert(level_reduce(run, 0, terms, &out.page));
	for (size_t i = 0; i < run->count; i++)
		out.has[i] = level_determine(run, &out.page, terms, i, &out.of[i]);
	return out;
}

START_TEST(test_two_setups_and_a_side_shot)
{
	struct level_sight sights[] = {AT(BS("BM1", 1500, 40), 100), FS("TP1", 1000, 60),
	                               BS("TP1", 1200, 30), IS("NAIL", 700, 80),
	                               FS("BM2", 900, 50)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = plain_terms();
	struct found got = determine(&run, &terms);
	double dk = 0.5 / (2 * LEVEL_MEAN_RADIUS), d4;
	ck_assert(!got.has[0] && got.has[1] && !got.has[2] && got.has[3] && got.has[4]);
	ck_assert_int_eq(got.of[3].how, LEVEL_IS);
	ck_assert_int_eq(got.of[4].how, LEVEL_FS);
	ck_assert(got.of[4].corrected);
	/* 101.000 m less h of 60 m, 0.2458 mm, plus h of 40 m, 0.1092 mm: (1 - 0.13) d^2/2R. */
	ck_assert_int_le(llabs(got.of[1].elevation - (METRES(100) + MM(500) + 136560)), 30);
	/* NAIL: four readings; s d = 40 - 60 + 30 - 80; air all alike or each its own. */
	d4 = pow(40, 4) + pow(60, 4) + pow(30, 4) + pow(80, 4);
	ck_assert_double_eq_tol(level_path_variance(&got.of[3].path, &terms),
	                        4e-6 + squared(0.02e-3 * 70) +
	                            squared(dk) * fmax(squared(1600 - 3600 + 900 - 6400), d4),
	                        1e-15);
	/* BM2: four readings, s d = -40, s d^2 = -3600. */
	d4 = pow(40, 4) + pow(60, 4) + pow(30, 4) + pow(50, 4);
	ck_assert_double_eq_tol(
	    level_path_variance(&got.of[4].path, &terms),
	    4e-6 + squared(0.02e-3 * 40) + squared(dk) * fmax(squared(3600), d4), 1e-15);
	level_page_free(&got.page);
}
END_TEST

/* Two IS of one setup share its BS and all before; those of two setups share less. */
START_TEST(test_one_station_twice)
{
	struct level_sight sights[] = {AT(BS("BM1", 1500, 40), 100), IS("NAIL", 700, 20),
	                               IS("NAIL", 701, 20),          FS("TP1", 1000, 40),
	                               BS("TP1", 1200, 30),          IS("NAIL", 402, 50),
	                               FS("NAIL", 403, 50)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = plain_terms();
	struct found got = determine(&run, &terms);
	struct level_determination before;
	double dk = 0.5 / (2 * LEVEL_MEAN_RADIUS);
	ck_assert(!level_determined_before(&run, &got.page, &terms, &got.of[1], &before));
	ck_assert(level_determined_before(&run, &got.page, &terms, &got.of[2], &before));
	ck_assert_uint_eq(before.row, 1);
	/* Two readings over the same 20 m. */
	ck_assert_double_eq_tol(level_path_variance_between(&before.path, &got.of[2].path, &terms),
	                        2e-6 + squared(dk) * 2 * pow(20, 4), 1e-15);
	/* The first setup's IS and FS, the second's BS and IS: s d = (20 - 40) + (30 - 50). */
	ck_assert(level_determined_before(&run, &got.page, &terms, &got.of[5], &before));
	ck_assert_uint_eq(before.row, 2);
	ck_assert_double_eq_tol(level_path_variance_between(&before.path, &got.of[5].path, &terms),
	                        4e-6 + squared(0.02e-3 * 40) +
	                            squared(dk) *
	                                fmax(squared(400 - 1600 + 900 - 2500),
	                                     pow(20, 4) + pow(40, 4) + pow(30, 4) + pow(50, 4)),
	                        1e-15);
	/* An IS that becomes the turning point: two readings. */
	ck_assert(level_determined_before(&run, &got.page, &terms, &got.of[6], &before));
	ck_assert_uint_eq(before.row, 5);
	ck_assert_double_eq_tol(level_path_variance_between(&before.path, &got.of[6].path, &terms),
	                        2e-6 + squared(dk) * 2 * pow(50, 4), 1e-15);
	level_page_free(&got.page);
}
END_TEST

/* Without distances a setup adds (5 mm)^2; two sights of one setup on one station are alike. */
START_TEST(test_without_distances)
{
	struct level_sight sights[] = {
	    AT(BS("BM1", 1500, 0), 100), IS("NAIL", 700, 0), IS("NAIL", 701, 0), FS("TP1", 1000, 0),
	    BS("TP1", 1200, 0),          IS("NAIL", 402, 0), FS("TP2", 403, 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = plain_terms();
	struct found got = determine(&run, &terms);
	ck_assert(!got.of[1].corrected);
	ck_assert_double_eq_tol(level_path_variance(&got.of[1].path, &terms), 2e-6 + 25e-6, 1e-15);
	ck_assert_double_eq_tol(level_path_variance(&got.of[5].path, &terms), 4e-6 + 50e-6, 1e-15);
	ck_assert_double_eq_tol(level_path_variance(&got.of[6].path, &terms), 4e-6 + 50e-6, 1e-15);
	ck_assert_double_eq_tol(
	    level_path_variance_between(&got.of[1].path, &got.of[2].path, &terms), 2e-6, 1e-15);
	ck_assert_double_eq_tol(
	    level_path_variance_between(&got.of[2].path, &got.of[5].path, &terms), 4e-6 + 3 * 25e-6,
	    1e-15);
	level_page_free(&got.page);
}
END_TEST

/* Two standings of one setup: the FS of the second carries the mean, of half the variance; an IS of
 * each shares nothing but the mark. */
START_TEST(test_standings)
{
	struct level_sight sights[] = {AT(BS("BM1", 1500, 30), 100), IS("NAIL", 700, 30),
	                               FS("TP1", 1000, 30),          BS("BM1", 1600, 30),
	                               IS("NAIL", 801, 30),          FS("TP1", 1102, 30)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = plain_terms();
	struct found got;
	double dk = 0.5 / (2 * LEVEL_MEAN_RADIUS);
	sights[3].again = true;
	got = determine(&run, &terms);
	ck_assert(got.has[1] && !got.has[2] && got.has[4] && got.has[5]);
	ck_assert_int_eq(got.of[5].standings, 2);
	ck_assert_int_eq(got.of[5].elevation, METRES(100) + MM(499));
	ck_assert_double_eq_tol(level_path_variance(&got.of[5].path, &terms),
	                        1e-6 + squared(dk) * 2 * pow(30, 4), 1e-15);
	ck_assert_double_eq_tol(
	    level_path_variance_between(&got.of[1].path, &got.of[4].path, &terms),
	    4e-6 + squared(dk) * 4 * pow(30, 4), 1e-15);
	level_page_free(&got.page);
}
END_TEST

/* A gap in the line, a struck sight and a start without a reading determine nothing. */
START_TEST(test_nothing)
{
	struct level_sight sights[] = {AT(BS("BM1", 1500, 30), 100),
	                               as(IS("NAIL", 700, 30), LEVEL_STRUCK), FS("TP1", 1000, 30),
	                               BS("TP2", 1600, 30), IS("NAIL", 801, 30)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = plain_terms();
	struct found got = determine(&run, &terms);
	ck_assert(!got.has[1] && got.has[2] && !got.has[4]);
	level_page_free(&got.page);
}
END_TEST

/* A quarter of the way, by hand: (3/4)^2 a + (1/4)^2 b of the readings, and of known marks. */
START_TEST(test_spread)
{
	struct level_terms terms = plain_terms();
	struct level_spread_at at = {
	    .p = 0.25,
	    .to = {.sums = {.reading_variance = 2e-6, .d4 = 100, .s_d2 = 5}},
	    .whole = {.sums = {.reading_variance = 8e-6, .d4 = 400, .s_d2 = 20}},
	    .start_u = 0.002,
	    .end_u = 0.004};
	double dk = 0.5 / (2 * LEVEL_MEAN_RADIUS), readings = 0.5625 * 2e-6 + 0.0625 * 6e-6,
	       air = squared(dk) * (0.5625 * 100 + 0.0625 * 300);
	at.to.sums.s_d[0] = 10;
	at.whole.sums.s_d[0] = -20;
	/* 10 + 5 m of tilt */
	ck_assert_double_eq_tol(
	    level_spread_variance(&at, &terms),
	    readings + air + squared(0.02e-3 * 15) + 0.5625 * 4e-6 + 0.0625 * 16e-6, 1e-16);
	/* An IS: half of its readings hang off. */
	at.to.loose_readings = 1e-6;
	ck_assert_double_eq_tol(level_spread_variance(&at, &terms),
	                        0.5625 * 1e-6 + 1e-6 + 0.0625 * 7e-6 + air + squared(0.02e-3 * 15) +
	                            0.5625 * 4e-6 + 0.0625 * 16e-6,
	                        1e-16);
	/* Distances not known in 1 of 4 setups up to it. */
	at.to.loose_readings = 0;
	at.to.setups_unknown = 1;
	at.whole.setups_unknown = 4;
	ck_assert_double_eq_tol(level_spread_variance(&at, &terms),
	                        (0.5625 * 1 + 0.0625 * 3) * 25e-6 + readings + air +
	                            squared(0.02e-3 * 15) + 0.5625 * 4e-6 + 0.0625 * 16e-6,
	                        1e-16);
	at.to.setups_unknown = at.whole.setups_unknown = 0;
	at.one_mark = true;
	ck_assert_double_eq_tol(level_spread_variance(&at, &terms),
	                        readings + air + squared(0.02e-3 * 15) + 4e-6, 1e-16);
}
END_TEST

START_TEST(test_differs)
{
	ck_assert(!level_differs(MM(2), 0.001));
	ck_assert(level_differs(MM(2) + 1, 0.001));
	ck_assert(level_differs(-MM(3), 0.001));
}
END_TEST

/* A tested level has the u of its test, and drift is added. */
START_TEST(test_tested)
{
	struct level_terms terms = plain_terms();
	struct level_path path = {0};
	terms.instrument[0] = (struct level_instrument){
	    .tolerance = 0.0001, .tested = true, .tilt = 1e-5, .u = 0.004e-3};
	terms.drift = 0.003e-3;
	path.sums.s_d[0] = -100;
	ck_assert_double_eq_tol(level_path_variance(&path, &terms), squared(0.5e-3), 1e-15);
}
END_TEST

int main(void)
{
	return RUN_TESTS("determination", test_two_setups_and_a_side_shot, test_one_station_twice,
	                 test_without_distances, test_standings, test_nothing, test_spread,
	                 test_differs, test_tested);
}
