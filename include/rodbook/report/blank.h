/* Sheets to write on by hand, for days of rain. */
#ifndef RODBOOK_REPORT_BLANK_H
#define RODBOOK_REPORT_BLANK_H

#include <stdbool.h>
#include <stdio.h>

#include "rodbook/level/length.h"

enum report_blank {
	REPORT_BLANK_PAGE,    /* a page of the field book, in the columns of a printed one */
	REPORT_BLANK_PEGTEST, /* a card for a peg test of four sets */
};

/* One sheet, as text of 78 columns and 56 lines, or as HTML; lengths are written in `unit`. */
void report_blank(FILE *out, enum report_blank sheet, enum level_unit unit);
void report_blank_html(FILE *out, enum report_blank sheet, enum level_unit unit);

#endif
