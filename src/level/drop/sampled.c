/* Means of few readings, and what their spreads can vouch for. */
#include <math.h>

#include "rodbook/level/drop/drop.h"
#include "rodbook/level/quantile.h"

static double squared(double value)
{
	return value * value;
}

void level_sampled_add(struct level_sampled *sampled, const struct level_sampled *more,
                       double factor)
{
	double square = squared(factor);
	sampled->variance += square * more->variance;
	sampled->expanded += square * more->expanded;
	sampled->fourth += squared(square) * more->fourth;
	sampled->largest = fmax(sampled->largest, fabs(factor) * more->largest);
}

struct level_sampled level_sampled_of(const struct level_mean_u *mean)
{
	double variance = squared(mean->u);
	if (isinf(mean->freedom))
		return (struct level_sampled){0};
	return (struct level_sampled){variance, squared(mean->bound / 2),
	                              squared(variance) / mean->freedom, mean->bound};
}

double level_effective_freedom(double variance, const struct level_sampled *sampled)
{
	return sampled->fourth > 0 ? squared(variance) / sampled->fourth : (double)INFINITY;
}

struct level_mean_u level_mean_of(int n, double sd, double method_u)
{
	double root = sqrt((double)n), t = n > 1 ? level_coverage(n - 1) : 0;
	if (t * sd > 2 * method_u)
		return (struct level_mean_u){sd / root, n - 1, t * sd / root};
	return (struct level_mean_u){method_u / root, (double)INFINITY, 2 * method_u / root};
}
