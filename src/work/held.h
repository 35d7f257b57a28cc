/* What is held against the elevations that a run found: its gauges and set-outs. */
#ifndef WORK_HELD_H
#define WORK_HELD_H

#include "rodbook/work/run.h"

/* Reads those of a run that is reduced and closed. */
bool gauges_take(struct book *book, struct work_run *run, struct fault *why);
bool setouts_take(struct book *book, struct work_run *run, struct fault *why);

#endif
