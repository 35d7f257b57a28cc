/* What the runs of a book found for its stations. */
#ifndef WORK_STATIONS_GATHER_H
#define WORK_STATIONS_GATHER_H

#include "rodbook/work/stations.h"

/* Fills stations and determinations, a station once for each run and once for its mark, in no
 * order, and nothing of what is compared; `only` as in work_stations(). Free with
 * work_stations_free(), also after a fault. */
bool stations_gather(struct book *book, const char *only, struct work_stations *out,
                     struct fault *why);

/* Whether both hang on elevations that go together: known ones, or the same start mark. */
bool stations_go_together(const struct work_determination *a, const struct work_determination *b);
/* Variance of the difference of two determinations by different runs, m^2: without the start mark
 * where they share it. */
double stations_variance(const struct work_determination *a, const struct work_determination *b);

#endif
