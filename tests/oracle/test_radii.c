/* Radii of the ellipsoid against PROJ's geodesic routines (geodesic.h; Karney 2013, J. Geodesy 87,
 * 43-55), which know distances and no radii: M from meridian arcs, N from the distance across a
 * parallel, each carried to arcs of no length by Richardson's extrapolation, then Euler's formula
 * in long double. */
#include "rodbook/level/drop/drop.h"

#include <geodesic.h>
#include <math.h>

#include "unit/suite.h"

static const long double degree = 0.017453292519943295769L;

static double arc(const struct geod_geodesic *earth, double lat1, double lat2, double lon)
{
	double distance;
	geod_inverse(earth, lat1, 0, lat2, lon, &distance, NULL, NULL);
	return distance;
}

/* Takes the errors in step^2, step^4 and step^6 off values at step, step/2, step/4 and step/8. */
static long double extrapolate(long double *value)
{
	long double power = 4;
	for (int left = 3; left > 0; left--, power *= 4)
		for (int i = 0; i < left; i++)
			value[i] = (power * value[i + 1] - value[i]) / (power - 1);
	return value[0];
}

/* Meridian arc over its difference of latitude. Over the pole the meridian goes on at 180 degrees.
 */
static long double meridian_radius(const struct geod_geodesic *earth, double latitude)
{
	long double value[4];
	double step = 4;
	for (int i = 0; i < 4; i++, step /= 2) {
		double high = latitude + step, low = latitude - step;
		double distance = high > 90   ? arc(earth, low, 180 - high, 180)
		                  : low < -90 ? arc(earth, -180 - low, high, 180)
		                              : arc(earth, low, high, 0);
		value[i] = distance / (2 * step * degree);
	}
	return extrapolate(value);
}

/* Radius of the parallel over the cosine of the latitude; the geodesic between two of its points
 * is as long as its arc where the arc is short. */
static long double normal_radius(const struct geod_geodesic *earth, double latitude)
{
	long double value[4];
	double step = 4;
	for (int i = 0; i < 4; i++, step /= 2)
		value[i] = arc(earth, latitude, latitude, step) / (step * degree);
	return extrapolate(value) / cosl(latitude * degree);
}

START_TEST(test_radii)
{
	struct geod_geodesic earth;
	geod_init(&earth, LEVEL_GRS80_A, 1 / LEVEL_GRS80_INVERSE_F);
	for (int latitude = -90; latitude <= 90; latitude++) {
		bool pole = latitude == 90 || latitude == -90;
		long double m = meridian_radius(&earth, latitude);
		/* a pole has no parallel, and every section through it is a meridian */
		long double n = pole ? m : normal_radius(&earth, latitude);
		for (int azimuth = 0; azimuth < 360; azimuth += 5) {
			long double c = cosl(azimuth * degree), s = sinl(azimuth * degree);
			long double radius = 1 / (c * c / m + s * s / n);
			double got = level_earth_radius(latitude, azimuth);
			ck_assert_msg(fabsl(got - radius) < 0.001L,
			              "latitude %d, azimuth %d: %.4f, not %.4Lf", latitude, azimuth,
			              got, radius);
		}
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("radii", test_radii);
}
