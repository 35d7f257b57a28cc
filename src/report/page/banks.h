/* The reciprocal pairs of setups of a run on paper. */
#ifndef REPORT_PAGE_BANKS_H
#define REPORT_PAGE_BANKS_H

#include "rodbook/report/report.h"

/* Of each pair of setups, one after the other, that look across from both banks: the rise, its u by
 * the readings alone, and by how much the far sights read too high. Nothing where there is none. */
void banks_lines(FILE *out, const struct work_run *run);
/* The same as quantities reciprocal_N_M_rise, _u_rise, _far_too_high, _k, _u_k; N and M the
 * setups. */
void banks_csv(FILE *out, const struct work_run *run);

#endif
