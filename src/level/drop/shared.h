/* What errors that crossings share make of them, for their combination. */
#ifndef LEVEL_DROP_SHARED_H
#define LEVEL_DROP_SHARED_H

#include "rodbook/level/drop/combine.h"

/* What one crossing alone is off by, m^2, with the air of its own and samples by t u/2; what two
 * are off by together. Without tilts where those are unknowns of the fit. */
double shared_own(const struct level_crossing *a, bool with_tilts);
double shared_covariance(const struct level_crossing *a, const struct level_crossing *b,
                         bool with_tilts);
/* The errors of sum gain C, as a case whose left-over is its value less kappa: span 2, shown to be
 * filled in. lengths has room for those of all crossings. */
struct level_case shared_case(const struct level_crossing *c, size_t n, const double *gain,
                              bool with_tilts, struct level_length *lengths);

#endif
