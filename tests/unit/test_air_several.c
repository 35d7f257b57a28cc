/* Air read several times along one long sight, and which sight that is. t95 is Student's two-sided
 * 95 % point: 12.706 at 1 degree of freedom, 4.303 at 2 (JCGM 100:2008, table G.2: 12.71, 4.30). */
#include <math.h>

#include "rodbook/level/page.h"
#include "suite.h"

static const struct level_sightline line = {2.4, 800, 6371000};

/* Two thermometers at 1 and 6 m, the upper one by this much the warmer. */
static struct level_air_reading pair(double warmer)
{
	struct level_air_reading out = level_air_nothing();
	out.low = 15;
	out.low_height = 1;
	out.high = 15 + warmer;
	out.high_height = 6;
	return out;
}

static struct level_k of_one(const struct level_air_reading *air)
{
	return level_k_find(air, &line, LEVEL_OVER_WATER).chosen;
}

static void mean_is(const struct level_air_reading *list, size_t count, double spread)
{
	struct level_k_found got = level_k_mean(list, count, &line, LEVEL_OVER_WATER);
	double sum = 0, low = 0, high = 0;
	for (size_t i = 0; i < count; i++) {
		struct level_k one = of_one(&list[i]);
		sum += one.k;
		low = fmax(low, one.low);
		high = fmax(high, one.high);
	}
	ck_assert_double_eq_tol(got.chosen.k, sum / (double)count, 1e-12);
	ck_assert_double_eq_tol(got.chosen.low, hypot(low, spread), 1e-4);
	ck_assert_double_eq_tol(got.chosen.high, hypot(high, spread), 1e-4);
}

/* k is the mean; its low and high are the worst of them, and in quadrature with t95 times the
 * standard deviation of the mean. Of two that is |k1 - k2|/2; of three at even steps of s it is s
 * over root 3. */
START_TEST(test_mean)
{
	struct level_air_reading list[3] = {pair(-0.1), pair(0.1), pair(0.3)};
	struct level_k one = of_one(&list[0]), two = of_one(&list[1]), three = of_one(&list[2]);
	double sd;
	ck_assert_double_gt(two.k - one.k, 0.1);
	mean_is(list, 1, 0);
	mean_is(list, 2, 12.7062 * (two.k - one.k) / 2);
	sd = sqrt(((one.k - two.k) * (one.k - two.k) + (two.k - three.k) * (two.k - three.k) +
	           (one.k - three.k) * (one.k - three.k)) /
	          6); /* of three: the sum over pairs, over n (n - 1) */
	mean_is(list, 3, 4.30265 * sd / sqrt(3));
	/* alike: nothing is added */
	list[1] = list[2] = list[0];
	mean_is(list, 3, 0);
}
END_TEST

/* Nothing can be written down beyond 20. */
START_TEST(test_end_of_k)
{
	struct level_air_reading list[2] = {pair(-2), pair(3)}, coarse = pair(0.1);
	struct level_k_found got = level_k_mean(list, 2, &line, LEVEL_OVER_WATER);
	coarse.thermometer_u = 10;
	ck_assert_double_eq(of_one(&coarse).low, 20);
	ck_assert_double_eq(of_one(&coarse).high, 20);
	ck_assert_double_gt(of_one(&list[1]).k - of_one(&list[0]).k, 4);
	ck_assert_double_eq(got.chosen.low, 20);
	ck_assert_double_eq(got.chosen.high, 20);
}
END_TEST

/* What only one of them says holds for all, whichever it was; one that serves nothing does not
 * count. */
START_TEST(test_flags)
{
	struct level_air_reading calm = level_air_nothing(), land = pair(0.1), plain = pair(0.1);
	calm.water = 14;
	calm.at = 16;
	calm.at_height = calm.wind_height = 2;
	calm.wind = 0.9;
	land.from = LEVEL_WIND_FROM_LAND;
	for (int turned = 0; turned < 2; turned++) {
		struct level_air_reading list[2];
		struct level_k_found got;
		list[turned] = land;
		list[!turned] = plain;
		got = level_k_mean(list, 2, &line, LEVEL_OVER_WATER);
		ck_assert(got.from_land && !got.calm_and_cold && !got.disagree);
		ck_assert_int_eq(got.source, LEVEL_K_THERMOMETERS);
		ck_assert_double_eq_tol(got.chosen.k, of_one(&plain).k, 1e-12);
		list[turned] = calm;
		got = level_k_mean(list, 2, &line, LEVEL_OVER_WATER);
		ck_assert(got.calm_and_cold && !got.from_land);
	}
	/* nothing but a wind from land: the default, and why */
	calm = land;
	ck_assert(level_k_mean(&calm, 1, &line, LEVEL_OVER_WATER).from_land);
	ck_assert_int_eq(level_k_mean(&calm, 1, &line, LEVEL_OVER_WATER).source, LEVEL_K_DEFAULT);
	ck_assert(!level_k_mean(NULL, 0, &line, LEVEL_OVER_WATER).from_land);
	ck_assert(level_k_mean(NULL, 0, &line, LEVEL_OVER_WATER).has);
}
END_TEST

/* Ways that differ in one of the readings: so they do in the mean. */
START_TEST(test_disagree)
{
	struct level_air_reading both = pair(3), list[2];
	both.thermometer_u = 0.02;
	both.place = 0;
	both.water = 20;
	both.at = 15;
	both.at_height = both.wind_height = 2;
	both.wind = 8;
	both.from = LEVEL_WIND_FROM_WATER;
	ck_assert(level_k_find(&both, &line, LEVEL_OVER_WATER).disagree);
	for (int turned = 0; turned < 2; turned++) {
		list[turned] = both;
		list[!turned] = pair(0.1);
		ck_assert(level_k_mean(list, 2, &line, LEVEL_OVER_WATER).disagree);
	}
	list[0] = list[1] = pair(0.1);
	ck_assert(!level_k_mean(list, 2, &line, LEVEL_OVER_WATER).disagree);
}
END_TEST

static struct level_sight sight(enum level_kind kind, double reading, double distance, double water)
{
	return (struct level_sight){.kind = kind,
	                            .reading = level_from_meters(reading),
	                            .distance = level_from_meters(distance),
	                            .water = level_from_meters(water),
	                            .water_count = water > 0 ? 1 : 0};
}

/* The longest counted BS or FS: an IS, an offset and a struck sight are none; of two alike the
 * first. Its near sight is that of its own setup. */
START_TEST(test_which_sight)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, 2.0, 6, 0.4),   sight(LEVEL_IS, 1.0, 2000, 0.1),
	    sight(LEVEL_FS, 2.3, 900, 0.3), sight(LEVEL_OFF, 2.3, 3000, 0.3),
	    sight(LEVEL_BS, 1.1, 7, 0.2),   sight(LEVEL_FS, 2.3, 900, 0.3),
	    sight(LEVEL_BS, 3.0, 5, 0.5),   sight(LEVEL_FS, 2.3, 1900, 0.3)};
	struct level_run run = {.sight = sights, .count = 8};
	struct level_sightline got;
	sights[7].state = LEVEL_STRUCK;
	ck_assert(level_run_sightline(&run, 6400000, &got));
	ck_assert_double_eq_tol(got.distance, 900, 1e-9);
	ck_assert_double_eq_tol(got.height, 2.4, 1e-12);
	ck_assert_double_eq(got.radius, 6400000);
	sights[7].state = LEVEL_BOOKED;
	ck_assert(level_run_sightline(&run, 6400000, &got));
	ck_assert_double_eq_tol(got.distance, 1900, 1e-9);
	ck_assert_double_eq_tol(got.height, 3.5, 1e-12);
	run.count = 0;
	ck_assert(!level_run_sightline(&run, 6400000, &got));
	/* without distances there is no long sight */
	run.count = 1;
	sights[0].distance = 0;
	ck_assert(!level_run_sightline(&run, 6400000, &got));
}
END_TEST

/* A long BS: the near sight is the FS behind it, an IS between or not, and not that of a later
 * setup. */
START_TEST(test_near_of_long_bs)
{
	struct level_sight sights[] = {sight(LEVEL_BS, 2.6, 1000, 1.0),
	                               sight(LEVEL_IS, 9.0, 5, 0.7), sight(LEVEL_FS, 3.0, 5, 0.5),
	                               sight(LEVEL_BS, 1.1, 7, 0.2), sight(LEVEL_FS, 1.2, 8, 0.3)};
	struct level_run run = {.sight = sights, .count = 5};
	struct level_sightline got;
	ck_assert(level_run_sightline(&run, 6371000, &got));
	ck_assert_double_eq_tol(got.height, 3.5, 1e-12);
	run.count = 2;
	ck_assert(level_run_sightline(&run, 6371000, &got));
	/* 3.6 - 1000^2/(4 x 6 371 000) */
	ck_assert_double_eq_tol(got.height, 3.560760, 1e-6);
	sights[0].water_count = 0;
	ck_assert(level_run_sightline(&run, 6371000, &got));
	ck_assert(isnan(got.height));
}
END_TEST

static bool is_sound(struct level_air_reading air)
{
	struct fault why = {0};
	return level_air_reading_check(&air, &why);
}

/* A thermometer at 1 m and one at 1.21 m: mean height 1.1 m, ln 1.21 = 0.190620, so 1 K makes
 * 4.76915 K/m. At 40 degrees and 1013.25 hPa 503 P/T^2 is 5.184: k 19.91 by 0.798 K and 20.10 by
 * 0.806 K; half of that at half the pressure; the same where none was read. */
START_TEST(test_most_between)
{
	struct level_air_reading air = pair(0);
	air.high_height = 1.21;
	air.pressure = 1013.25;
	air.low = 40;
	air.high = 40.798;
	ck_assert(is_sound(air));
	air.high = 40.806;
	ck_assert(!is_sound(air));
	air.pressure = NAN;
	ck_assert(!is_sound(air));
	air.high = 40.798;
	ck_assert(is_sound(air));
	air.pressure = 506.625;
	air.high = 41.59;
	ck_assert(is_sound(air));
	air.high = 41.64;
	ck_assert(!is_sound(air));
	/* colder upward: 0.0343 comes off, so 0.812 K make 19.90 and 0.820 K 20.09 */
	air.pressure = 1013.25;
	air.low = 40.812;
	air.high = 40;
	ck_assert(is_sound(air));
	air.low = 40.822;
	ck_assert(!is_sound(air));
}
END_TEST

/* Both ends of what may be set. */
START_TEST(test_settings_of_the_air)
{
	struct level_air_reading air = pair(0.1);
	air.place = 0;
	ck_assert(is_sound(air));
	air.place = 1;
	ck_assert(is_sound(air));
	air.place = 1.001;
	ck_assert(!is_sound(air));
	air.place = -0.001;
	ck_assert(!is_sound(air));
	air.place = 0.2;
	air.thermometer_u = 10;
	ck_assert(is_sound(air));
	air.thermometer_u = 10.001;
	ck_assert(!is_sound(air));
	air.thermometer_u = 0.001;
	ck_assert(is_sound(air));
	air.thermometer_u = 0;
	ck_assert(!is_sound(air));
}
END_TEST

int main(void)
{
	return RUN_TESTS("air_several", test_mean, test_end_of_k, test_flags, test_disagree,
	                 test_which_sight, test_near_of_long_bs, test_most_between,
	                 test_settings_of_the_air);
}
