/* The parts of papers as HTML. */
#ifndef REPORT_HTML_PAPERS_H
#define REPORT_HTML_PAPERS_H

#include "rodbook/report/report.h"

/* The rows of a page as a field book has them: a line a turning point, with BS and FS beside it,
 * sums below their columns, what was struck struck through. False only where memory is short. */
bool papers_table(FILE *out, const struct work_run *run);

#endif
