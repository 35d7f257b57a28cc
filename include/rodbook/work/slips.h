/* The slips that would explain the misclosure of a run. */
#ifndef RODBOOK_WORK_SLIPS_H
#define RODBOOK_WORK_SLIPS_H

#include "rodbook/level/slips.h"
#include "rodbook/work/run.h"

/* level_slips_find() over a run of a book; at and other of a slip are rows of run->book.run. out
 * begins as all zeros, and is freed with level_slips_free() in any case. False only where memory is
 * short. */
bool work_slips(const struct work_run *run, struct level_slips *out, struct fault *why);

#endif
