/* The stations of a book, and the determinations of one, for people or as CSV. */
#ifndef RODBOOK_REPORT_STATIONS_H
#define RODBOOK_REPORT_STATIONS_H

#include <stdio.h>

#include "rodbook/book/book.h"

/* All stations, a line each: what is given, how often it was determined, mean, largest less
 * smallest, latest, and whether they agree. *unreadable: runs that had to be left out. Faults are
 * those of work_stations(). */
bool report_stations(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why);
/* Each determination of one station, in the order of time. */
bool report_station(FILE *out, struct book *book, const char *name, bool csv, size_t *unreadable,
                    struct fault *why);

#endif
