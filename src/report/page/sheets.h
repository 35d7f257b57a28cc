/* Sheets of paper: lines gathered, then broken into pages with a heading each.
 *
 * A sheet takes 56 lines of 78 columns: in 10 point type (12 characters and 6 lines to the inch)
 * 165 by 237 mm, which leaves margins of 20 mm and more on A4 (210 by 297 mm) and on US letter (216
 * by 279 mm) alike; at 12 point (10 to the inch) 198 mm still fit between narrow ones. */
#ifndef REPORT_PAGE_SHEETS_H
#define REPORT_PAGE_SHEETS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#define SHEET_COLUMNS 78
#define SHEET_LINES 56

/* How a line hangs on the one before it. */
enum sheet_tie {
	SHEET_FREE,  /* a page may begin with it */
	SHEET_BLOCK, /* only where the block is longer than a page */
	SHEET_ROW,   /* only where a single row is */
};

struct sheet_line {
	char *text;
	char *carried; /* of a row of the table: the sums carried where a page ends behind it */
	bool row;      /* of the table; stands below its head */
	bool begins;   /* a page */
	enum sheet_tie tie;
};

struct sheets {
	const char *heading; /* on each page, beside its number */
	const char *first;   /* whole lines on the first page, above all else; NULL: none */
	const char *head;    /* of the table: lines on each page that begins with a row of it */
	int indent;          /* columns before the word "carried" */
	struct sheet_line *line;
	size_t count, room;
	bool breaks; /* the next line begins a page */
	bool failed; /* memory was short */
};

/* Adds one line, which wraps where it is too long. carried (may be NULL) holds the sums up to it,
 * which stand behind the word "carried", and on the next page behind "brought". The texts are
 * copied. */
void sheets_row(struct sheets *sheets, const char *text, enum sheet_tie tie, const char *carried);
/* Adds a text of several lines. What stands 6 columns deep or more belongs to the line before, a
 * line that ends with a colon to the one behind it. Behind a line that is a form feed a page
 * begins.
 */
void sheets_text(struct sheets *sheets, const char *text);
/* Prints the pages, a form feed between them. The head, where there are rows, and each row's
 * carried must be given. */
bool sheets_put(FILE *out, const struct sheets *sheets);
void sheets_free(struct sheets *sheets);

#endif
