/* Curvature and drop against other ways of reckoning them, from 1 m to 100 km. */
#include "rodbook/level/drop/drop.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#include "unit/suite.h"

/* The rod's vertical meets the horizontal at the angle t = atan(d/R) from the center, where the
 * sphere lies R (1/cos t - 1) = 2 R sin^2(t/2)/cos t below it. */
static long double by_angles(long double distance, long double radius)
{
	long double t = atan2l(distance, radius);
	long double half = sinl(t / 2);
	return 2 * radius * half * half / cosl(t);
}

START_TEST(test_exact_curvature)
{
	static const double radii[] = {LEVEL_MEAN_RADIUS, 6335439, 6399593.6259, 1e6};
	for (size_t i = 0; i < sizeof radii / sizeof *radii; i++)
		for (double distance = 1; distance <= 100000; distance *= 1.0173) {
			long double expected = by_angles(distance, radii[i]);
			double got = level_curvature(distance, radii[i]);
			ck_assert_msg(fabsl(got - expected) <= 1e-15L * expected,
			              "%.3f m, R %.0f m: %.17g, not %.17Lg", distance, radii[i],
			              got, expected);
		}
}
END_TEST

/* d^2/2R is enough for any sight: it is too much by less than d^4/8R^3. */
START_TEST(test_series)
{
	long double r = LEVEL_MEAN_RADIUS;
	for (double distance = 1; distance <= 100000; distance *= 1.3) {
		long double d = distance, plain = d * d / (2 * r),
		            next = d * d * d * d / (8 * r * r * r);
		double got = level_curvature(distance, LEVEL_MEAN_RADIUS);
		ck_assert(got <= plain * (1 + 1e-15L));
		ck_assert(got >= plain - next - 1e-15L * plain);
	}
}
END_TEST

/* A ray in Cartesian coordinates over a round Earth, its direction turned down by k/R for every
 * meter of its way. */
static int ray(double way, const double state[], double slope[], void *bend)
{
	(void)way;
	slope[0] = cos(state[2]);
	slope[1] = sin(state[2]);
	slope[2] = -*(double *)bend;
	return GSL_SUCCESS;
}

/* Traced by Runge and Kutta (GSL), the ray that leaves horizontally stands h above the level
 * surface where it meets the rod. */
START_TEST(test_traced_ray)
{
	static const double ks[] = {-2, -0.5, 0, 0.13, 0.1706, 1, 1.5};
	for (size_t i = 0; i < sizeof ks / sizeof *ks; i++)
		for (double distance = 30; distance <= 20000; distance *= 1.9) {
			double radius = LEVEL_MEAN_RADIUS, bend = ks[i] / radius;
			double state[] = {0, 0, 0}, way = 0, x, height, allowed;
			gsl_odeiv2_system system = {ray, NULL, 3, &bend};
			gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(
			    &system, gsl_odeiv2_step_rk8pd, 10, 1e-13, 1e-13);
			ck_assert_int_eq(gsl_odeiv2_driver_apply(driver, &way, distance, state),
			                 GSL_SUCCESS);
			gsl_odeiv2_driver_free(driver);
			x = state[0];
			/* height above the sphere, without its cancellation */
			height = (x * x + state[1] * state[1] + 2 * radius * state[1]) /
			         (hypot(x, radius + state[1]) + radius);
			/* the terms beyond d^2/2R, and rounding */
			allowed =
			    3 * (1 + ks[i] * ks[i]) * pow(distance, 4) / (8 * pow(radius, 3)) +
			    1e-9;
			ck_assert_double_eq_tol(level_visible_drop(distance, radius, ks[i]), height,
			                        allowed);
		}
}
END_TEST

int main(void)
{
	return RUN_TESTS("curvature", test_exact_curvature, test_series, test_traced_ray);
}
