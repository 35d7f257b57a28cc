/* What the two halves of a comparison of epochs share. */
#ifndef LEVEL_NET_CHANGES_H
#define LEVEL_NET_CHANGES_H

#include "rodbook/level/changes.h"

/* The variance of unit weight of both, pooled, and the degrees of freedom of both; 0 where there
 * are none. */
double changes_pool(const struct level_net_result *first, const struct level_net_result *second,
                    int *freedom);

/* Puts the held marks of out on trial. */
bool changes_try_held(const struct level_epoch *first, const struct level_epoch *second,
                      struct level_changes *out, struct fault *why);

#endif
