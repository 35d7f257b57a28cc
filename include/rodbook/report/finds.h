/* Sights that were found by a word, for people or as CSV. */
#ifndef RODBOOK_REPORT_FINDS_H
#define RODBOOK_REPORT_FINDS_H

#include <stdio.h>

#include "rodbook/work/find.h"

/* A line for each: run, setup, sight, station, remark, and that it is struck. row, unless NULL:
 * where the line of each begins, in bytes of a stream that can tell. False only where memory is
 * short. */
bool report_finds_text(FILE *out, const struct work_finds *finds, long *row, struct fault *why);
/* Looks for the text in all runs of the book. found: how many there are; unreadable: runs that had
 * to be left out. Faults are those of work_find(). */
bool report_finds(FILE *out, struct book *book, const char *text, bool csv, size_t *found,
                  size_t *unreadable, struct fault *why);

#endif
