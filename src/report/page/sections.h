/* The sections of a run on paper. */
#ifndef REPORT_PAGE_SECTIONS_H
#define REPORT_PAGE_SECTIONS_H

#include "rodbook/report/report.h"

/* Sections between known marks, those leveled both ways with what follows from their divergences,
 * then sections_marks(); nothing where there is none. */
void sections_lines(FILE *out, const struct work_run *run);
/* The last of these alone, a page has no more: marks set aside, and those of a closed run that are
 * not known as they were. */
void sections_marks(FILE *out, const struct work_run *run);
/* The same as quantities: check_NAME, section_A_B_divergence, km_sd_double, ... */
void sections_csv(FILE *out, const struct work_run *run);
/* What the set of a loop or link asks for: kept, broken or not known; as a line, or as quantities
 * limit_NAME. */
void sections_limits(FILE *out, const struct work_run *run, bool csv);

/* "2 distances are not known". */
void report_unknown_distances(const struct level_closing *c, char *text, size_t size);

/* What stands below the rows of a page: standings, gauges, how it closes, marks, closings. */
void page_notes(FILE *out, const struct work_run *run);

#endif
