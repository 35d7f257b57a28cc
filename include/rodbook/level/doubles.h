/* What the divergences of sections leveled there and back say of the leveling. */
#ifndef RODBOOK_LEVEL_DOUBLES_H
#define RODBOOK_LEVEL_DOUBLES_H

#include <stdbool.h>

/* Divergences of sections, each with its one-way length. Begin with {0}. */
struct level_divergences {
	int count;
	double sum, squares; /* of the divergences, m and m^2 */
	double per_km;       /* sum of divergence^2/K, m^2/km */
};
/* Adds one: forward + backward, m, over K > 0 km. */
void level_divergence_add(struct level_divergences *d, double divergence, double km);
/* Standard deviation of one single run of 1 km, sqrt(sum(d^2/K)/2n), and of the mean of there and
 * back half of sqrt(sum(d^2/K)/n), m, with n degrees of freedom (any text on precise leveling,
 * recalled); 0 of none. */
double level_sd_single(const struct level_divergences *d);
double level_sd_double(const struct level_divergences *d);
/* Whether they lean one way, |sum d| > 2 sqrt(sum d^2): a systematic part that those do not
 * contain. At least two sections. */
bool level_divergences_lean(const struct level_divergences *d);

#endif
