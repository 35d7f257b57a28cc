/* The drawing of a plan: curves over distance. */
#ifndef REPORT_DROP_DRAWINGS_H
#define REPORT_DROP_DRAWINGS_H

#include "rodbook/report/report.h"

/* Drop and allowance of a plan over distances of `from` to `to`, m, with the distances marked where
 * they cross: rows texts of `columns` cells, each ended by a NUL. */
void drawing_plan(const struct report_plan *plan, double from, double to, int columns, int rows,
                  char *grid);

#endif
