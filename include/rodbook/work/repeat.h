/* The same long sight at another hour: a crossing of its own, with its own water, air and seal. */
#ifndef RODBOOK_WORK_REPEAT_H
#define RODBOOK_WORK_REPEAT_H

#include "rodbook/book/book.h"

/* Begins a crossing after another one, by the same plan, and proposes its near sight: station,
 * method, distance, instrument and rod, never a reading. name: of the new run, or "" for NAME-2,
 * NAME-3 ... FAULT_INPUT where the other one is no crossing or has no setup yet. */
bool work_repeat(struct book *book, const char *of, const char *name, struct book_run_info *out,
                 struct fault *why);

/* The name that a repeat of that run gets: NAME-2, or the next that is free; of NAME-2 it is
 * NAME-3.
 */
bool work_repeat_name(struct book *book, const char *of, char name[LEVEL_NAME_BYTES],
                      struct fault *why);

/* What the FS of a crossing that has its first BS only is likely to be: station, method and
 * distance of the last other crossing from that mark, or else of one to it, sighted back now. found
 * false where there is none; not found is no fault. */
bool work_far_sight(struct book *book, const struct book_run *run, const struct level_style *style,
                    struct book_draft *out, bool *found, struct fault *why);

#endif
