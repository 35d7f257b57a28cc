/* Refraction from the air: k = 503 P/T^2 (0.0343 + dT/dz), Hirt and others 2010, J. Geophys. Res.
 * 115, D21102, eq. 1, citing Brocks; and the air as it is typed. */
#include "rodbook/air.h"

#include <math.h>
#include <string.h>

#include "suite.h"

static double k_of(double pressure, double t1, double z1, double t2, double z2, double *u)
{
	struct level_air air = {pressure, {t1, t2}, {z1, z2}, LEVEL_THERMOMETER_U};
	double k;
	level_air_k(&air, &k, u);
	return k;
}

/* Standard atmosphere at sea level (ISO 2533:1975): 1013.25 hPa, 15 C, -0.0065 K/m, here over 10 m
 * about 15 C. 503 x 1013.25/288.15^2 = 6.13829; x (0.0343 - 0.0065) = 0.17064. */
START_TEST(test_standard_atmosphere)
{
	double u;
	ck_assert_double_eq_tol(k_of(1013.25, 15.0325, 0, 14.9675, 10, &u), 0.1706, 0.00005);
	/* whichever thermometer is named first, and wherever heights count from */
	ck_assert_double_eq_tol(k_of(1013.25, 14.9675, 10, 15.0325, 0, &u), 0.1706, 0.00005);
	ck_assert_double_eq_tol(k_of(1013.25, 15.0325, -12, 14.9675, -2, &u), 0.1706, 0.00005);
}
END_TEST

/* Light is straight at the autoconvective lapse rate, -0.0343 K/m (standard meteorology), whatever
 * the pressure. */
START_TEST(test_straight_light)
{
	double u;
	ck_assert_double_eq_tol(k_of(1013.25, 15.1715, 0, 14.8285, 10, &u), 0, 1e-12);
	ck_assert_double_eq_tol(k_of(700, -4.657, 0, -5, 10, &u), 0, 1e-12);
	ck_assert_double_lt(k_of(1013.25, 15.5, 0, 14.5, 10, &u), 0);
}
END_TEST

/* Light follows the Earth at 1/6.13829 - 0.0343 = +0.1286 K/m. */
START_TEST(test_inversion)
{
	double u;
	ck_assert_double_eq_tol(k_of(1013.25, 14.357, 0, 15.643, 10, &u), 1, 0.0005);
	ck_assert_double_gt(k_of(1013.25, 14, 0, 16, 10, &u), 1);
}
END_TEST

/* Thermometers of 0.1 K each: 6.13829 x 0.1 sqrt 2/dz, 0.868 over 1 m and 0.0868 over 10 m. */
START_TEST(test_uncertainty)
{
	double u;
	k_of(1013.25, 15, 0, 15, 1, &u);
	ck_assert_double_eq_tol(u, 0.868, 0.0005);
	k_of(1013.25, 15, 3, 15, 2, &u);
	ck_assert_double_eq_tol(u, 0.868, 0.0005);
	k_of(1013.25, 15, 0, 15, 10, &u);
	ck_assert_double_eq_tol(u, 0.0868, 0.00005);
	/* and the same over 1 m with thermometers of 0.01 K */
	struct level_air air = {1013.25, {15, 15}, {0, 1}, 0.01};
	double k;
	level_air_k(&air, &k, &u);
	ck_assert_double_eq_tol(u, 0.0868, 0.00005);
}
END_TEST

/* Twice the standard uncertainty, and never below 0.05 (common practice, no source). */
START_TEST(test_dk)
{
	ck_assert_double_eq(level_air_dk(0.0868), 0.1736);
	ck_assert_double_eq(level_air_dk(0.025), 0.05);
	ck_assert_double_eq(level_air_dk(0.001), 0.05);
	ck_assert_double_eq(level_air_dk(0), 0.05);
}
END_TEST

START_TEST(test_read)
{
	static const struct {
		const char *text;
		double pressure, t1, z1, t2, z2;
	} table[] = {
	    {"1013,15.2@1 m,14.8@4 m", 1013, 15.2, 1, 14.8, 4},
	    {"1013.25,15.2@1,14.8@4", 1013.25, 15.2, 1, 14.8, 4},
	    {" 1013 , 15.2 @ 1 m , 14.8 @ 4 m ", 1013, 15.2, 1, 14.8, 4},
	    {"1013,15.2@100 cm,14.8@400 cm", 1013, 15.2, 1, 14.8, 4},
	    {"1013,15.2@5 ft,14.8@13' 1 1/2\"", 1013, 15.2, 1.524, 14.8, 4.0005},
	    {"985,-3.5@0.5 m,+2@-6 m", 985, -3.5, 0.5, 2, -6},
	    /* the ends of what is accepted */
	    {"300,-90@-1000 m,-90@1000 m", 300, -90, -1000, -90, 1000},
	    {"1100,60@0,60@5 m", 1100, 60, 0, 60, 5},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_air got;
		struct fault why = {0};
		ck_assert_msg(level_air_parse(table[i].text, &got, &why), "\"%s\": %s",
		              table[i].text, why.text);
		ck_assert_double_eq_tol(got.pressure, table[i].pressure, 1e-12);
		ck_assert_double_eq_tol(got.celsius[0], table[i].t1, 1e-12);
		ck_assert_double_eq_tol(got.height[0], table[i].z1, 1e-12);
		ck_assert_double_eq_tol(got.celsius[1], table[i].t2, 1e-12);
		ck_assert_double_eq_tol(got.height[1], table[i].z2, 1e-12);
		ck_assert_double_eq(got.thermometer_u, 0.1);
	}
}
END_TEST

static void check_refused(const char *text, const char *said)
{
	struct level_air got;
	struct fault why = {0};
	ck_assert_msg(!level_air_parse(text, &got, &why), "\"%s\" accepted", text);
	ck_assert_msg(strstr(why.text, said) != NULL, "\"%s\": %s", text, why.text);
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert(!level_air_parse(text, &got, NULL));
}

START_TEST(test_no_air)
{
	static const char *const texts[] = {
	    "",
	    ",",
	    "1013",
	    "1013,15.2@1 m",
	    "1013,15.2@1 m,",
	    "1013,15.2@1 m,14.8",
	    "1013,15.2@1 m,14.8@",
	    "1013,15.2@1 m,14.8@4 m,",
	    "1013,15.2@1 m,14.8@4 m,14@9 m",
	    "1013 15.2@1 m,14.8@4 m",
	    "1013,15.2 1 m,14.8@4 m",
	    "1013,15,2@1 m,14.8@4 m",
	    "1013,15.2@1 m,14.8@4 m x",
	    "1013,15.2@one,14.8@4 m",
	    "1013 hPa,15.2@1 m,14.8@4 m",
	    "1013,15.2 C@1 m,14.8@4 m",
	    "1e3,15.2@1 m,14.8@4 m",
	    "0x3F5,15.2@1 m,14.8@4 m",
	    "nan,15.2@1 m,14.8@4 m",
	    "1013,inf@1 m,14.8@4 m",
	    "1013,1-5@1 m,14.8@4 m",
	    "1013,15.2.1@1 m,14.8@4 m",
	    "1013,-@1 m,14.8@4 m",
	    "@@,,",
	};
	char endless[4000];
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		check_refused(texts[i], "is no air");
	memset(endless, '9', sizeof endless - 1);
	endless[sizeof endless - 1] = '\0';
	check_refused(endless, "is no air");
	memcpy(endless, "1013,15.2@", 10);
	memcpy(endless + 3000, ",14@4", 5);
	check_refused(endless, "is no air");
}
END_TEST

START_TEST(test_air_that_cannot_be)
{
	static const struct {
		const char *text, *said;
	} table[] = {
	    {"299.9,15.2@1 m,14.8@4 m", "pressure"},
	    {"1100.1,15.2@1 m,14.8@4 m", "pressure"},
	    {"-1013,15.2@1 m,14.8@4 m", "pressure"},
	    {"29.92,15.2@1 m,14.8@4 m", "pressure"}, /* inches of mercury */
	    {"760,60.1@1 m,14.8@4 m", "temperature"},
	    {"1013,-90.1@1 m,-80@4 m", "temperature"},
	    {"1013,15@1 m,288.15@4 m", "temperature"}, /* kelvin */
	    {"1013,15@1000.1 m,15@4 m", "1000 m"},
	    {"1013,15@1 m,15@-1 km,", "is no air"},
	    {"1013,15@1 m,15@-1001 m", "1000 m"},
	    {"1013,15@1 m,14@1 m", "one height"},
	    {"1013,15@1 m,14@100 cm", "one height"},
	    /* 2 x 0.868/dz passes 20 at 0.0868 m */
	    {"1013.25,15@1 m,15@1.08 m", "farther apart"},
	    /* k passes 20 at 20/6.13829 - 0.0343 = 3.224 K/m */
	    {"1013.25,13@1 m,17@2 m", "read the thermometers again"},
	    {"1013.25,17@1 m,13@2 m", "read the thermometers again"},
	};
	struct level_air got;
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		check_refused(table[i].text, table[i].said);
	ck_assert(level_air_parse("1013.25,15@1 m,15@1.09 m", &got, NULL));
	ck_assert(level_air_parse("1013.25,13.45@1 m,16.55@2 m", &got, NULL));
}
END_TEST

START_TEST(test_check)
{
	static const double bad_u[] = {0, -0.1, 10.1, NAN, INFINITY};
	struct level_air air = {1013.25, {15, 14}, {0, 10}, 0.1};
	struct fault why;
	ck_assert(level_air_check(&air, &why));
	for (size_t i = 0; i < sizeof bad_u / sizeof *bad_u; i++) {
		air.thermometer_u = bad_u[i];
		ck_assert(!level_air_check(&air, &why));
		ck_assert(strstr(why.text, "thermometer") != NULL);
	}
	air.thermometer_u = 0.1;
	air.pressure = NAN;
	ck_assert(!level_air_check(&air, &why));
	air.pressure = 1013.25;
	air.celsius[1] = NAN;
	ck_assert(!level_air_check(&air, &why));
	air.celsius[1] = 14;
	air.height[0] = NAN;
	ck_assert(!level_air_check(&air, NULL));
}
END_TEST

int main(void)
{
	return RUN_TESTS("air", test_standard_atmosphere, test_straight_light, test_inversion,
	                 test_uncertainty, test_dk, test_read, test_no_air, test_air_that_cannot_be,
	                 test_check);
}
