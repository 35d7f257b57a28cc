/* What a sheet to write on holds, for text and for HTML. */
#ifndef REPORT_BLANK_SHEET_H
#define REPORT_BLANK_SHEET_H

#include "rodbook/report/blank.h"

#define BLANK_COLUMNS 10

struct blank_column {
	const char *name;
	int width; /* characters, in text */
};

struct blank_sheet {
	const char *title;
	const char *const *heads; /* what is filled in above the table; NULL behind the last */
	const char *words;        /* above the table, lines; "" where there are none */
	struct blank_column column[BLANK_COLUMNS];
	int columns, rows;
	const char *const *first; /* what the first column holds, row by row; NULL: nothing */
	const char *last;         /* what it holds in the last row; NULL: nothing */
	const char *below;        /* lines */
};

const struct blank_sheet *blank_sheet(enum report_blank sheet);
/* What the first column holds in a row; "" where it is empty. */
const char *blank_first(const struct blank_sheet *sheet, int row);

#endif
