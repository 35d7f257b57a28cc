/* Curvature, refraction, the radius of the Earth and the air. */
#include "rodbook/level/drop/drop.h"

#include <math.h>

double level_curvature(double distance, double radius)
{
	return distance * distance / (sqrt(radius * radius + distance * distance) + radius);
}

double level_refraction(double distance, double k)
{
	return k * distance * distance / (2 * LEVEL_MEAN_RADIUS);
}

double level_visible_drop(double distance, double radius, double k)
{
	return level_curvature(distance, radius) - level_refraction(distance, k);
}

double level_earth_radius(double latitude, double azimuth)
{
	double f = 1 / LEVEL_GRS80_INVERSE_F, e2 = f * (2 - f);
	double degree = acos(-1.0) / 180;
	double sin_latitude = sin(latitude * degree);
	double cos_azimuth = cos(azimuth * degree), sin_azimuth = sin(azimuth * degree);
	double w2 = 1 - e2 * sin_latitude * sin_latitude;
	double n = LEVEL_GRS80_A / sqrt(w2);
	double m = LEVEL_GRS80_A * (1 - e2) / (w2 * sqrt(w2));
	return m * n / (n * cos_azimuth * cos_azimuth + m * sin_azimuth * sin_azimuth);
}

double level_k_from_air(double pressure, double temperature, double gradient)
{
	return 503 * pressure / (temperature * temperature) * (0.0343 + gradient);
}
