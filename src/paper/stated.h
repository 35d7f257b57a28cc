/* The parts of a statement: each writes the lines of one matter, with a line that names it. */
#ifndef PAPER_STATED_H
#define PAPER_STATED_H

#include "rodbook/paper.h"
#include "rodbook/parts.h"

/* Instruments that were used, with tolerance or tilt and which of them counts and why, and all
 * their peg tests. */
bool stated_instruments(FILE *out, struct book *book, const struct paper_run *run,
                        struct fault *why);

#endif
