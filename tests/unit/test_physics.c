/* The level surface, the light path and the air, against published figures. */
#include "rodbook/level/drop/drop.h"

#include <math.h>

#include "suite.h"

#define FOOT 0.3048
#define MILE 1609.344
#define KM 1000.0

static double curvature(double distance)
{
	return level_curvature(distance, LEVEL_MEAN_RADIUS);
}

static double refraction(double distance, double k)
{
	return level_refraction(distance, k);
}

static double both(double distance, double k)
{
	return level_visible_drop(distance, LEVEL_MEAN_RADIUS, k);
}

/* Each figure within half of its last printed place. */

/* Handbook formulas, e.g. Ghilani and Wolf, Elementary Surveying (recalled): 0.0785 K^2 m,
 * 0.667 M^2 ft, 0.0239 F^2 ft (F thousand feet). */
START_TEST(test_curvature)
{
	ck_assert_double_eq_tol(curvature(KM), 0.0785, 0.00005);
	ck_assert_double_eq_tol(curvature(MILE) / FOOT, 0.667, 0.0005);
	ck_assert_double_eq_tol(curvature(1000 * FOOT) / FOOT, 0.0239, 0.00005);
	/* with the square of the distance: 100 times as far, 10 000 times as much */
	ck_assert_double_eq_tol(curvature(10 * KM), 7.85, 0.005);
	ck_assert_double_eq(curvature(0), 0);
}
END_TEST

/* Hicks, Civil Engineering Formulas, eq. 7.19 and 7.20: 0.011 K^2 m, 0.093 M^2 ft, 0.0033 F^2 ft;
 * they stand for k = 0.14. */
START_TEST(test_refraction)
{
	ck_assert_double_eq_tol(refraction(KM, 0.14), 0.011, 0.0005);
	ck_assert_double_eq_tol(refraction(MILE, 0.14) / FOOT, 0.093, 0.0005);
	ck_assert_double_eq_tol(refraction(1000 * FOOT, 0.14) / FOOT, 0.0033, 0.00005);
	ck_assert_double_eq(refraction(KM, 0), 0);
	ck_assert_double_eq(refraction(KM, -0.14), -refraction(KM, 0.14));
}
END_TEST

/* Ghilani and Wolf, Elementary Surveying (recalled): 0.0675 K^2 m, 0.574 M^2 ft, 0.0206 F^2 ft, for
 * k = 0.14; with Gauss's k = 0.13 it is 0.0683 K^2 m. */
START_TEST(test_both)
{
	ck_assert_double_eq_tol(both(KM, 0.14), 0.0675, 0.00005);
	ck_assert_double_eq_tol(both(MILE, 0.14) / FOOT, 0.574, 0.0005);
	ck_assert_double_eq_tol(both(1000 * FOOT, 0.14) / FOOT, 0.0206, 0.00005);
	ck_assert_double_eq_tol(both(KM, 0.13), 0.0683, 0.00005);
}
END_TEST

/* US Coast and Geodetic Survey, leveling table (recalled): the whole meters at which the
 * correction passes to the next 0.1 mm. */
START_TEST(test_coast_survey_table)
{
	static const struct {
		double first, last, correction;
	} table[] = {{27, 27, 0.00005}, {47, 47, 0.00015}, {60, 61, 0.00025}, {72, 72, 0.00035}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		ck_assert_double_lt(both(table[i].first - 0.5, 0.14), table[i].correction);
		ck_assert_double_gt(both(table[i].last + 0.5, 0.14), table[i].correction);
	}
}
END_TEST

/* A sight of 2 550 ft: 1.87 in, and 1.60 in with k = 1/7 (d^2/2R worked by hand); rough field
 * figures of 1.84 in and 1.55 in are in use (common practice, no source). */
START_TEST(test_2550_feet)
{
	double reach = 2550 * FOOT, inch = 0.0254;
	ck_assert_double_eq_tol(curvature(reach) / inch, 1.87, 0.005);
	ck_assert_double_eq_tol(both(reach, 1.0 / 7) / inch, 1.60, 0.005);
	ck_assert_double_eq_tol(curvature(reach) / inch, 1.84, 0.05);
	ck_assert_double_eq_tol(both(reach, 1.0 / 7) / inch, 1.55, 0.06);
}
END_TEST

/* Light that bends as much as the Earth (k = 1) shows no drop, but for d^4/8R^3; more, a rise. */
START_TEST(test_light_that_follows)
{
	for (double d = 1; d < 1e5; d *= 3) {
		double left = pow(d, 4) / (8 * pow(6371000, 3)) + 1e-15 * curvature(d);
		ck_assert_double_eq_tol(both(d, 1), 0, 1.0001 * left);
		ck_assert_double_lt(both(d, 1.2), 0);
		ck_assert_double_gt(both(d, -0.3), curvature(d));
	}
}
END_TEST

/* GRS 80 at latitude 45 degrees: M and N from their formulas with the constants of Moritz,
 * Geodetic Reference System 1980, and half way between. */
START_TEST(test_radii)
{
	ck_assert_double_eq_tol(level_earth_radius(45, 0), 6367381.816, 0.0005);
	ck_assert_double_eq_tol(level_earth_radius(45, 90), 6388838.290, 0.0005);
	ck_assert_double_eq_tol(level_earth_radius(45, 45), 6378092.008, 0.0005);
	/* Moritz: polar radius of curvature c = a^2/b = 6 399 593.6259 m, any way one looks */
	ck_assert_double_eq_tol(level_earth_radius(90, 0), 6399593.6259, 0.0001);
	ck_assert_double_eq_tol(level_earth_radius(90, 37), 6399593.6259, 0.0001);
	ck_assert_double_eq_tol(level_earth_radius(-90, 90), 6399593.6259, 0.0001);
	/* at the equator: a to the east, b^2/a to the north with Moritz's b = 6 356 752.3141 m */
	ck_assert_double_eq_tol(level_earth_radius(0, 90), 6378137, 0.0001);
	ck_assert_double_eq_tol(level_earth_radius(0, 0), 6356752.3141 * 6356752.3141 / 6378137,
	                        0.0002);
	/* north is south, east is west, and both hemispheres are alike */
	ck_assert_double_eq_tol(level_earth_radius(-45, 225), 6378092.008, 0.0005);
	ck_assert_double_eq_tol(level_earth_radius(45, -45), 6378092.008, 0.0005);
	ck_assert_double_eq(LEVEL_MEAN_RADIUS, 6371000);
}
END_TEST

/* Hirt and others 2010, J. Geophys. Res. 115, D21102, eq. 1, worked by hand for the standard
 * atmosphere at sea level (ISO 2533:1975: 1013.25 hPa, 288.15 K, -0.0065 K/m):
 * 503 x 1013.25 / 288.15^2 = 6.13829; x (0.0343 - 0.0065) = 0.17064. */
START_TEST(test_standard_atmosphere)
{
	ck_assert_double_eq_tol(level_k_from_air(1013.25, 288.15, -0.0065), 0.1706, 0.00005);
}
END_TEST

/* Light runs straight where the air's density does not change with height: at the autoconvective
 * lapse rate, 0.0342 K/m (standard meteorology), and there whatever the pressure. */
START_TEST(test_straight_light)
{
	ck_assert_double_eq_tol(level_k_from_air(1013.25, 288.15, -0.0343), 0, 1e-12);
	ck_assert_double_eq_tol(level_k_from_air(800, 260, -0.0343), 0, 1e-12);
	ck_assert_double_lt(level_k_from_air(1013.25, 288.15, -0.1), 0);
}
END_TEST

/* Light follows the Earth at +0.1286 K/m: 1/6.13829 - 0.0343. */
START_TEST(test_inversion)
{
	ck_assert_double_eq_tol(level_k_from_air(1013.25, 288.15, 0.1286), 1, 0.0005);
	ck_assert_double_gt(level_k_from_air(1013.25, 288.15, 0.2), 1);
}
END_TEST

/* Light bends by k/R0 whatever the surface below does: over a flat one D = -k S/2 R0, for 800 m and
 * k = 0.13 that is -0.13 x 640 000/12 742 000 m. */
START_TEST(test_light_over_a_flat_surface)
{
	ck_assert_double_eq_tol(level_visible_drop(800, 1e15, 0.13), -0.0065295872, 1e-9);
}
END_TEST

int main(void)
{
	return RUN_TESTS("physics", test_curvature, test_refraction, test_both,
	                 test_coast_survey_table, test_2550_feet, test_light_that_follows,
	                 test_radii, test_standard_atmosphere, test_straight_light, test_inversion,
	                 test_light_over_a_flat_surface);
}
