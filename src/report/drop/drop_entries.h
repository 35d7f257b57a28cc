/* What a drop leaves out of its sums, said all the same. */
#ifndef REPORT_DROP_DROP_ENTRIES_H
#define REPORT_DROP_DROP_ENTRIES_H

#include "rodbook/report/report.h"

/* The sights that count, and what drop_struck() says. */
bool drop_entries(FILE *out, struct book *book, const struct work_run *run, const char *sealed,
                  struct fault *why);

/* Lists water readings at stations that are not an end of the crossing, and what was struck after
 * the time `sealed` ("" if nothing is sealed). A strike after the allowance was fixed can make a
 * drop. */
bool drop_struck(FILE *out, struct book *book, const struct work_run *run, const char *sealed,
                 struct fault *why);

#endif
