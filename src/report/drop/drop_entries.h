/* What a drop leaves out of its sums, said all the same. */
#ifndef REPORT_DROP_DROP_ENTRIES_H
#define REPORT_DROP_DROP_ENTRIES_H

#include "rodbook/report/report.h"

/* The sights that count, and what drop_struck() says. */
bool drop_entries(FILE *out, struct book *book, const struct work_run *run, const char *sealed,
                  struct fault *why);

/* Water that was read at no end of a crossing, and what was struck since the time `sealed` (""
 * where nothing is sealed): entries taken out once the allowance stood can make a drop. */
bool drop_struck(FILE *out, struct book *book, const struct work_run *run, const char *sealed,
                 struct fault *why);

#endif
