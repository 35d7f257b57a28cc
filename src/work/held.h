/* What a loaded run has beside its sights: what is held against them, and the heads of its pages.
 */
#ifndef WORK_HELD_H
#define WORK_HELD_H

#include "rodbook/work/run.h"

/* Reads those of a run that is reduced and closed. */
bool gauges_take(struct book *book, struct work_run *run, struct fault *why);
bool setouts_take(struct book *book, struct work_run *run, struct fault *why);
/* Reads the heads of its pages, day by day. */
bool heads_take(struct book *book, struct work_run *run, struct fault *why);

#endif
