/* Two nm counts multiplied, for exact ratios. No public header may need it: compilers for 32 bits
 * have no such type. */
#ifndef LEVEL_WIDE_H
#define LEVEL_WIDE_H

#include "rodbook/level/length.h"

__extension__ typedef __int128 level_wide;

/* n/d rounded half away from zero; d > 0. */
level_nm level_round_ratio(level_wide n, level_wide d);

#endif
