/* k of a long sight and how far the true one may lie off, by a default, by two thermometers and by
 * the water itself. "worked" are figures of a sheet worked out by two programs that share nothing
 * with this one: line at 2.4 m, 800 m, R 6371 km, 1013.25 hPa. */
#include "rodbook/level/drop/refraction.h"

#include <math.h>
#include <string.h>

#include "rodbook/level/drop/drop.h"
#include "suite.h"

#define LINE(h0) (&(const struct level_sightline){h0, 800, 6371000})
#define IS(value, expected, digit) ck_assert_double_eq_tol(value, expected, 0.5 * (digit) + 1e-9)

/* Kelvin, as worked, become degrees C. */
static struct level_air_reading thermometers(double low, double low_height, double high,
                                             double high_height)
{
	struct level_air_reading air = level_air_nothing();
	air.low = low - 273.15;
	air.low_height = low_height;
	air.high = high - 273.15;
	air.high_height = high_height;
	air.thermometer_u = 0.1;
	return air;
}

static struct level_air_reading dipped(double water, double at, double wind)
{
	struct level_air_reading air = level_air_nothing();
	air.water = water - 273.15;
	air.at = at - 273.15;
	air.at_height = air.wind_height = 2;
	air.wind = wind;
	return air;
}

static struct level_k_pair by_pair(const struct level_air_reading *air, double h0)
{
	struct level_k_pair out;
	ck_assert(level_air_reading_check(air, NULL));
	ck_assert(level_k_by_thermometers(air, LINE(h0), &out));
	return out;
}

static struct level_k_surface by_water(const struct level_air_reading *air, double h0)
{
	struct level_k_surface out;
	ck_assert(level_air_reading_check(air, NULL));
	ck_assert(level_k_by_water(air, LINE(h0), &out));
	return out;
}

static struct level_k_found found(const struct level_air_reading *air, double h0)
{
	return level_k_find(air, LINE(h0), LEVEL_OVER_WATER);
}

/* Worked: 503 P/T^2 6.14682, mean of 1/z 0.41594, of z^-1.5 0.26826. */
START_TEST(test_cooling_upward)
{
	struct level_air_reading air = thermometers(288.15, 1, 287.75, 6);
	struct level_k_pair out = by_pair(&air, 2.4);
	double per = 6.14682, spread = 2 * (1 - 1 / sqrt(6));
	IS(out.theta, -0.3510, 1e-4);
	IS(out.by_power[0], -0.2809, 1e-4);
	IS(out.by_power[1], -0.3503, 1e-4);
	IS(out.by_power[2], -0.3384, 1e-4);
	IS(out.noise, 0.2018, 1e-4);
	IS(out.shape, 0.0400, 1e-4);
	IS(out.place, 0.1002, 1e-4);
	IS(out.path, 0.0009, 1e-4);
	IS(out.u, 0.2288, 1e-4);
	IS(out.k.k, -0.3503, 1e-4);
	IS(out.k.low, 0.4577, 1e-4);
	ck_assert_double_eq(out.k.low, out.k.high);
	/* The means along the line, out of k - 503 P/T^2 (0.0343 - 0.0098). */
	IS((out.by_power[1] - per * 0.0245) / per / -0.3510 * log(6), 0.41594, 1e-5);
	IS((out.by_power[2] - per * 0.0245) / per / -0.3510 * spread, 0.26826, 1e-5);
	IS((out.by_power[0] - per * 0.0245) / -0.3510 * 5, per, 1e-5);
}
END_TEST

/* Worked: 503 P/T^2 6.12128. */
START_TEST(test_warming_upward)
{
	struct level_air_reading air = thermometers(288.15, 1, 288.95, 6);
	struct level_k_pair out = by_pair(&air, 2.4);
	IS(out.theta, 0.8490, 1e-4);
	IS(out.by_power[0], 1.1894, 1e-4);
	IS(out.by_power[1], 1.3564, 1e-4);
	IS(out.by_power[2], 1.3279, 1e-4);
	IS(out.noise, 0.2010, 1e-4);
	IS(out.shape, 0.0964, 1e-4);
	IS(out.place, 0.2413, 1e-4);
	IS(out.path, 0.0021, 1e-4);
	IS(out.u, 0.3285, 1e-4);
	IS(out.k.k, 1.3564, 1e-4);
	IS(out.k.low, 0.6570, 1e-4);
	/* One thermometer hangs above the line: the upper side is as the lower one. */
	ck_assert_double_eq(out.k.low, out.k.high);
	IS((out.by_power[0] - 6.12128 * 0.0245) / 0.8490 * 5, 6.12128, 1e-5);
}
END_TEST

/* Worked. */
START_TEST(test_water_warmer)
{
	struct level_air_reading air = dipped(291.15, 288.15, 3);
	struct level_k_surface out = by_water(&air, 2.4);
	IS(out.theta, -2.9804, 1e-4);
	IS(out.friction, 0.12752, 1e-5);
	IS(out.scale, -0.13237, 1e-5);
	IS(out.obukhov, -9.0206, 1e-4);
	IS(out.k.k, -0.2179, 1e-4);
	IS(out.by_air, 0.0164, 1e-4);
	IS(out.by_water, -0.0244, 1e-4);
	IS(out.by_wind, -0.0845, 1e-4);
	IS(out.by_roughness, -0.0363, 1e-4);
	IS(out.neutral, -0.6180, 1e-4);
	IS(out.shape, (0.6180 - 0.2179) / sqrt(3), 1e-4);
	IS(out.place, 0.0736, 1e-4);
	IS(out.path, 0.0009, 1e-4);
	IS(out.u, 0.5219 / 2, 1e-4);
	IS(out.k.low, 0.5219, 1e-4);
	IS(out.k.high, 0.5219, 1e-4);
}
END_TEST

/* Worked. */
START_TEST(test_water_colder)
{
	struct level_air_reading air = dipped(288.15, 291.15, 5);
	struct level_k_surface out = by_water(&air, 2.4);
	IS(out.theta, 3.0196, 1e-4);
	IS(out.friction, 0.19373, 1e-5);
	IS(out.scale, 0.11700, 1e-5);
	IS(out.obukhov, 23.8016, 1e-4);
	IS(out.k.k, 1.2482, 1e-4);
	IS(out.by_air, 0.0934, 1e-4);
	IS(out.by_water, -0.1430, 1e-4);
	IS(out.by_wind, -0.1469, 1e-4);
	IS(out.by_roughness, 0.1893, 1e-4);
	IS(out.neutral, 0.9098, 1e-4);
	IS(out.place, 0.2202, 1e-4);
	IS(out.path, 0.0013, 1e-4);
	IS(out.k.low, 0.8324, 1e-4);
	IS(out.k.high, 1.6648, 1e-4);
}
END_TEST

/* theta above -(2 sqrt(0.3^2 + 0.2^2) + 0.2) = -0.92 K: the air may be warmer than the water. high
 * is 4 u, or reaches to the k of water colder by that. */
START_TEST(test_alike)
{
	double reach = 2 * hypot(0.3, 0.2) + 0.2;
	for (double warmer = -1.5; warmer < 0.5; warmer += 0.1) {
		struct level_air_reading air = dipped(288.15, 288.15 + warmer, 1.5), colder = air;
		struct level_k_surface out = by_water(&air, 2), other;
		double high = fmax(2 * out.u, 0.1);
		colder.water -= 0.921110;
		other = by_water(&colder, 2);
		if (warmer + 0.0196 > -reach)
			high = fmax(fmax(4 * out.u, 0.1), other.k.k - out.k.k);
		ck_assert_double_eq_tol(out.k.high, high, 1e-5);
		ck_assert_double_eq_tol(out.k.low, fmax(2 * out.u, 0.1), 1e-12);
	}
}
END_TEST

/* Water 5 K warmer than the air gives k at 2 m of about -0.2 at 1 m/s, -0.5 at 3, -1 at 7; air 5 K
 * warmer than the water +8 to +2 (worked, to a digit). */
START_TEST(test_five_kelvin)
{
	static const struct {
		double wind, k, digit;
	} warmer[] = {{1, -0.2, 0.1}, {3, -0.5, 0.1}, {7, -1, 1}},
	  colder[] = {{1, 8, 1}, {7, 2, 1}};
	for (size_t i = 0; i < sizeof warmer / sizeof *warmer; i++) {
		struct level_air_reading air = dipped(293.15, 288.15, warmer[i].wind);
		IS(by_water(&air, 2).k.k, warmer[i].k, warmer[i].digit);
	}
	for (size_t i = 0; i < sizeof colder / sizeof *colder; i++) {
		struct level_air_reading air = dipped(288.15, 293.15, colder[i].wind);
		IS(by_water(&air, 2).k.k, colder[i].k, colder[i].digit);
	}
}
END_TEST

/* Standard atmosphere at sea level (ISO 2533:1975): 1013.25 hPa, 288.15 K, -0.0065 K/m: k 0.1706.
 * Straight light, the autoconvective lapse rate (standard meteorology): -0.0343 K/m, k 0. Light
 * that follows the Earth: +0.1286 K/m, k 1. With thermometers 0.1 m about the line every power
 * tells nearly the same. */
START_TEST(test_known_gradients)
{
	static const double expected[][2] = {{-0.0065, 0.1706}, {-0.0343, 0}, {0.1286, 1}};
	for (size_t i = 0; i < sizeof expected / sizeof *expected; i++) {
		double half = expected[i][0] * 0.05;
		struct level_air_reading air =
		    thermometers(288.15 - half, 19.95, 288.15 + half, 20.05);
		struct level_k_pair out;
		const struct level_sightline line = {20, 10, 6371000};
		air.pressure = 1013.25;
		ck_assert(level_k_by_thermometers(&air, &line, &out));
		for (int j = 0; j < 3; j++)
			ck_assert_double_eq_tol(out.by_power[j], expected[i][1], 0.0005);
	}
}
END_TEST

/* Common practice, no source. */
START_TEST(test_default)
{
	static const struct {
		double height, low, high;
	} water[] = {{NAN, 2, 4}, {0.5, 2, 4},   {2.99, 2, 4},  {3, 1, 3},
	             {5.9, 1, 3}, {6, 0.5, 2.5}, {50, 0.5, 2.5}};
	struct level_k out;
	for (size_t i = 0; i < sizeof water / sizeof *water; i++) {
		ck_assert(level_k_default(water[i].height, LEVEL_OVER_WATER, &out));
		ck_assert_double_eq(out.k, 0.13);
		ck_assert_double_eq(out.low, water[i].low);
		ck_assert_double_eq(out.high, water[i].high);
	}
	ck_assert(level_k_default(3, LEVEL_OVER_LAND, &out));
	ck_assert_double_eq(out.k, 0.13);
	ck_assert_double_eq(out.low, 0.5);
	ck_assert_double_eq(out.high, 0.5);
	ck_assert(!level_k_default(2.99, LEVEL_OVER_LAND, &out));
	ck_assert(!level_k_default(NAN, LEVEL_OVER_LAND, &out));
}
END_TEST

/* Nothing read: the default, or over land below 3 m nothing. */
START_TEST(test_nothing_read)
{
	struct level_air_reading air = level_air_nothing();
	struct level_k_found out = found(&air, 2.4);
	ck_assert(level_air_reading_check(&air, NULL));
	ck_assert(out.has && !out.has_pair && !out.has_surface);
	ck_assert(!out.disagree && !out.from_land && !out.calm_and_cold);
	ck_assert_int_eq(out.source, LEVEL_K_DEFAULT);
	ck_assert_double_eq(out.chosen.high, 4);
	ck_assert(!level_k_find(&air, LINE(2.4), LEVEL_OVER_LAND).has);
	ck_assert(level_k_find(&air, LINE(3), LEVEL_OVER_LAND).has);
	/* A line whose height is not known. */
	ck_assert_double_eq(found(&air, NAN).chosen.high, 4);
	air = thermometers(288.15, 1, 287.75, 6);
	ck_assert_int_eq(found(&air, NAN).source, LEVEL_K_DEFAULT);
}
END_TEST

/* Low and high are never below 0.1: a pair over 30 m, very exact, where the gradient is near the
 * adiabatic one, and the line far up. */
START_TEST(test_floor)
{
	struct level_air_reading air = thermometers(288.15, 1, 287.85, 31);
	air.thermometer_u = 0.001;
	struct level_k_pair out = by_pair(&air, 20);
	ck_assert_double_lt(2 * out.u, 0.1);
	ck_assert_double_eq(out.k.low, 0.1);
	ck_assert_double_eq(out.k.high, 0.1);
}
END_TEST

/* Both thermometers below the line, and the upper one warmer in potential temperature. */
START_TEST(test_below_the_line)
{
	struct level_air_reading warm = thermometers(288.15, 0.5, 288.45, 2),
	                         cold = thermometers(288.45, 0.5, 288.15, 2),
	                         even = thermometers(288.15, 0.5, 288.14, 2);
	struct level_k_pair out = by_pair(&warm, 4);
	ck_assert_double_eq_tol(out.k.low, 2 * out.u, 1e-12);
	ck_assert_double_eq_tol(out.k.high, 3 * out.u, 1e-12);
	out = by_pair(&cold, 4);
	ck_assert_double_eq(out.k.high, out.k.low);
	out = by_pair(&warm, 1.9);
	ck_assert_double_eq(out.k.high, out.k.low);
	/* 0.01 K colder, but 0.0047 K warmer once the 1.5 m between them are taken off. */
	out = by_pair(&even, 4);
	ck_assert_double_eq_tol(out.theta, 0.0047, 1e-9);
	ck_assert_double_eq_tol(out.k.high, 3 * out.u, 1e-12);
}
END_TEST

/* Halves are allowed and serve nothing; a wind from land silences both ways over water. */
START_TEST(test_missing)
{
	struct level_air_reading pair = thermometers(288.15, 1, 287.75, 6),
	                         full = dipped(288.15, 291.15, 5), air;
	struct level_k_pair by;
	struct level_k_surface surface;
	air = pair;
	air.high = air.high_height = NAN;
	ck_assert(level_air_reading_check(&air, NULL));
	ck_assert(!level_k_by_thermometers(&air, LINE(2), &by));
	air = full;
	air.wind = air.wind_height = NAN;
	ck_assert(level_air_reading_check(&air, NULL));
	ck_assert(!level_k_by_water(&air, LINE(2), &surface));
	air = full;
	air.water = NAN;
	ck_assert(level_air_reading_check(&air, NULL));
	ck_assert(!level_k_by_water(&air, LINE(2), &surface));
	air = full;
	air.at_height = 0.49;
	ck_assert(level_air_reading_check(&air, NULL));
	ck_assert(!level_k_by_water(&air, LINE(2), &surface));
	air.at_height = 0.5;
	ck_assert(level_k_by_water(&air, LINE(2), &surface));
}
END_TEST

START_TEST(test_wind_from_land)
{
	struct level_air_reading air = dipped(288.15, 291.15, 5);
	struct level_k_found out;
	struct level_k_pair by;
	struct level_k_surface surface;
	air.low = 15;
	air.low_height = 1;
	air.high = 15.2;
	air.high_height = 6;
	air.from = LEVEL_WIND_FROM_WATER;
	out = found(&air, 2.4);
	ck_assert(out.has_pair && out.has_surface && !out.from_land);
	air.from = LEVEL_WIND_FROM_LAND;
	ck_assert(!level_k_by_thermometers(&air, LINE(2.4), &by));
	ck_assert(!level_k_by_water(&air, LINE(2.4), &surface));
	out = found(&air, 2.4);
	ck_assert(out.has && !out.has_pair && !out.has_surface && out.from_land);
	ck_assert_int_eq(out.source, LEVEL_K_DEFAULT);
	/* Over land there is no water for the wind to come from; nor a water way. */
	out = level_k_find(&air, LINE(2.4), LEVEL_OVER_LAND);
	ck_assert(out.has_pair && !out.has_surface && !out.from_land);
	ck_assert_int_eq(out.source, LEVEL_K_THERMOMETERS);
	/* With nothing read that could have served, the wind takes nothing away. */
	air = level_air_nothing();
	air.from = LEVEL_WIND_FROM_LAND;
	ck_assert(!found(&air, 2.4).from_land);
}
END_TEST

/* Less wind than 0.5 m/s counts as 0.5, also in W - u. */
START_TEST(test_least_wind)
{
	struct level_air_reading still = dipped(291.15, 288.15, 0),
	                         least = dipped(291.15, 288.15, 0.5),
	                         more = dipped(291.15, 288.15, 1.5),
	                         light = dipped(291.15, 288.15, 1.2);
	struct level_k_surface a = by_water(&still, 2), b = by_water(&least, 2);
	double top = by_water(&more, 2).k.k;
	ck_assert_mem_eq(&a, &b, sizeof a);
	ck_assert_double_eq_tol(b.by_wind, (top - b.k.k) / 2, 1e-12);
	more.wind = 2.2;
	ck_assert_double_eq_tol(by_water(&light, 2).by_wind, (by_water(&more, 2).k.k - b.k.k) / 2,
	                        1e-12);
}
END_TEST

/* A wind measured higher up: in neutral air u* = 0.4 W/ln(z/z0), with z0 0.0001 m, so that 5 m/s at
 * 2 m are 5 ln 10^5/ln(2 x 10^4) = 5.813 m/s at 10 m. */
START_TEST(test_wind_height)
{
	struct level_air_reading low = dipped(288.15, 288.15 - 0.0196, 5), high = low;
	high.wind_height = 10;
	high.wind = 5 * log(1e5) / log(2e4);
	ck_assert_double_eq_tol(high.wind, 5.813, 0.001);
	ck_assert_double_eq_tol(by_water(&low, 2).friction, by_water(&high, 2).friction, 1e-5);
	ck_assert_double_eq_tol(by_water(&low, 2).friction, 0.4 * 5 / log(2e4), 1e-5);
}
END_TEST

/* Air as warm as the water, and stability without end, give numbers. */
START_TEST(test_hard_air)
{
	static const double at[] = {230, 278.15, 288.1304, 288.15, 288.2, 330};
	static const double height[] = {0.1, 1.5, 100};
	for (size_t i = 0; i < sizeof at / sizeof *at; i++)
		for (size_t j = 0; j < sizeof height / sizeof *height; j++)
			for (double wind = 0; wind < 61; wind += 6) {
				struct level_air_reading air = dipped(288.15, at[i], wind);
				struct level_k_surface out = by_water(&air, height[j]);
				ck_assert(isfinite(out.k.k) && isfinite(out.u));
				ck_assert_double_ge(fabs(out.obukhov), 1);
				ck_assert_double_ge(out.k.low, 0.1);
				ck_assert_double_ge(out.k.high, out.k.low);
			}
}
END_TEST

/* Both ways agree where |k2 - k3| <= 2 sqrt(u2^2 + u3^2); the narrower one counts. The second water
 * example above has k 1.2482, low 0.8324, high 1.6648; a pair is moved against it. */
START_TEST(test_choice)
{
	struct level_air_reading air = dipped(288.15, 291.15, 5);
	bool met[2] = {false, false};
	for (double high = 10; high < 22; high += 0.25) {
		struct level_k_found out;
		double one, other, apart;
		air.low = 15;
		air.low_height = 1;
		air.high = high;
		air.high_height = 6;
		out = found(&air, 2.4);
		ck_assert(out.has && out.has_pair && out.has_surface);
		IS(out.surface.k.k, 1.2482, 1e-4);
		apart = out.pair.k.k - out.surface.k.k;
		one = (apart > 0 ? out.pair.k.low : out.pair.k.high) / 2;
		other = (apart > 0 ? 1.6648 : 0.8324) / 2;
		if (out.pair.k.low + out.pair.k.high <= 0.8324 + 1.6648)
			ck_assert_int_eq(out.source, LEVEL_K_THERMOMETERS);
		else
			ck_assert_int_eq(out.source, LEVEL_K_WATER);
		ck_assert_int_eq(out.disagree, fabs(apart) > 2 * sqrt(one * one + other * other));
		met[out.disagree] = true;
		ck_assert_double_eq(out.chosen.k,
		                    out.source == LEVEL_K_WATER ? out.surface.k.k : out.pair.k.k);
		/* Over colder water it reaches to the other one's k, upward. */
		ck_assert_double_ge(out.chosen.k + out.chosen.high + 1e-12,
		                    fmax(out.pair.k.k, out.surface.k.k));
		if (!out.disagree)
			continue;
		ck_assert_double_eq_tol(
		    out.chosen.k - out.chosen.low,
		    fmin(out.pair.k.k - out.pair.k.low, out.surface.k.k - out.surface.k.low),
		    1e-12);
		ck_assert_double_eq_tol(
		    out.chosen.k + out.chosen.high,
		    fmax(out.pair.k.k + out.pair.k.high, out.surface.k.k + out.surface.k.high),
		    1e-12);
	}
	ck_assert(met[0] && met[1]);
}
END_TEST

/* Over warmer water the narrower one stands as it is where both agree. */
START_TEST(test_choice_over_warmer_water)
{
	struct level_air_reading air = dipped(291.15, 288.15, 3);
	struct level_k_found out;
	air.low = 15;
	air.low_height = 1;
	air.high = 15.2;
	air.high_height = 2.2;
	out = found(&air, 2.4);
	ck_assert(!out.disagree);
	ck_assert_int_eq(out.source, LEVEL_K_WATER);
	ck_assert_double_gt(out.pair.k.k, out.surface.k.k + 0.5219);
	IS(out.chosen.k, -0.2179, 1e-4);
	IS(out.chosen.high, 0.5219, 1e-4);
}
END_TEST

START_TEST(test_calm_and_cold)
{
	struct level_air_reading air = dipped(288.15, 289.15, 0.9);
	ck_assert(found(&air, 2).calm_and_cold);
	air.wind = 1;
	ck_assert(!found(&air, 2).calm_and_cold);
	air = dipped(289.15, 288.15, 0.9);
	ck_assert(!found(&air, 2).calm_and_cold);
	/* 0.01 K colder at 2 m is warmer in potential temperature. */
	air = dipped(288.15, 288.14, 0.9);
	ck_assert(found(&air, 2).calm_and_cold);
}
END_TEST

/* A pressure that was not read is the standard one. */
START_TEST(test_pressure)
{
	struct level_air_reading air = thermometers(288.15, 1, 287.75, 6);
	struct level_k_pair standard = by_pair(&air, 2), out;
	air.pressure = 1013.25;
	out = by_pair(&air, 2);
	ck_assert_double_eq(out.k.k, standard.k.k);
	air.pressure = 1013.25 / 2;
	ck_assert_double_eq_tol(by_pair(&air, 2).k.k, standard.k.k / 2, 1e-12);
}
END_TEST

#define REFUSED(member, value)                                                                     \
	do {                                                                                       \
		struct level_air_reading air = dipped(288.15, 291.15, 5);                          \
		struct fault why = {0};                                                            \
		air.low = 15;                                                                      \
		air.low_height = 1;                                                                \
		air.high = 16;                                                                     \
		air.high_height = 6;                                                               \
		ck_assert(level_air_reading_check(&air, &why));                                    \
		air.member = (value);                                                              \
		ck_assert_msg(!level_air_reading_check(&air, &why), #member " " #value);           \
		ck_assert_int_eq(why.kind, FAULT_INPUT);                                           \
		ck_assert_uint_gt(strlen(why.text), 0);                                            \
	} while (0)

START_TEST(test_refused)
{
	REFUSED(pressure, 299.9);
	REFUSED(pressure, 1100.1);
	REFUSED(low, -90.1);
	REFUSED(high, 60.1);
	REFUSED(at, INFINITY);
	REFUSED(water, -3.1);
	REFUSED(water, 45.1);
	REFUSED(low_height, 0);
	REFUSED(high_height, 1000.1);
	REFUSED(at_height, -1);
	REFUSED(wind_height, 0);
	REFUSED(low_height, 6);
	REFUSED(low_height, 7);
	REFUSED(wind, -0.1);
	REFUSED(wind, 60.1);
	REFUSED(low, NAN);
	REFUSED(low_height, NAN);
	REFUSED(high, NAN);
	REFUSED(at_height, NAN);
	REFUSED(at, NAN);
	REFUSED(wind_height, NAN);
	REFUSED(wind, NAN);
	REFUSED(thermometer_u, 0);
	REFUSED(thermometer_u, NAN);
	REFUSED(place, -0.1);
}
END_TEST

START_TEST(test_names)
{
	ck_assert_str_eq(level_k_source_name(LEVEL_K_DEFAULT), "default");
	ck_assert_str_eq(level_k_source_name(LEVEL_K_THERMOMETERS), "thermometers");
	ck_assert_str_eq(level_k_source_name(LEVEL_K_WATER), "water");
	ck_assert_str_eq(level_k_source_name(LEVEL_K_SET), "set");
	ck_assert_str_eq(level_k_source_name(LEVEL_K_PLAN), "plan");
	ck_assert_str_eq(level_k_source_name(LEVEL_K_PLAN_AIR), "plan air");
}
END_TEST

int main(void)
{
	return RUN_TESTS("refraction", test_cooling_upward, test_warming_upward, test_water_warmer,
	                 test_water_colder, test_alike, test_five_kelvin, test_known_gradients,
	                 test_default, test_nothing_read, test_floor, test_below_the_line,
	                 test_missing, test_wind_from_land, test_least_wind, test_wind_height,
	                 test_hard_air, test_choice, test_choice_over_warmer_water,
	                 test_calm_and_cold, test_pressure, test_refused, test_names);
}
