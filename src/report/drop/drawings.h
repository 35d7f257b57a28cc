/* Drawings of plans and crossings: curves over distance. */
#ifndef REPORT_DROP_DRAWINGS_H
#define REPORT_DROP_DRAWINGS_H

#include "work/crossing/crossings.h"
#include "rodbook/report/report.h"

/* Drop and allowance of a plan over distances of `from` to `to`, m, with the distances marked where
 * they cross: rows texts of `columns` cells, each ended by a NUL. */
void drawing_plan(const struct report_plan *plan, double from, double to, int columns, int rows,
                  char *grid);
/* The drops of crossings over their reach, with allowances as error bars, and each one's own
 * predicted drop; a predicted curve only where one k and R are those of all: in characters, or as
 * SVG. */
void drawing_drops(FILE *out, const struct crossings *crossings, bool svg);

#endif
