/* Papers made of a drawing, words and figures, each as its own call writes it. */
#ifndef REPORT_HTML_SHEET_H
#define REPORT_HTML_SHEET_H

#include "rodbook/report/report.h"

enum sheet_part {
	SHEET_DRAWING, /* an SVG file */
	SHEET_WORDS,   /* lines of text */
	SHEET_FIGURES, /* CSV with its header */
};
/* Writes a part; nothing where the paper has no such part. */
typedef bool sheet_writer(FILE *out, void *of, enum sheet_part part, struct fault *why);

/* One HTML file: the drawing, the words, all figures in a table, cautions, and the foot of a
 * paper. A drawing that has nothing to draw (FAULT_EMPTY) is left out. */
bool sheet_html(FILE *out, struct book *book, const char *title, sheet_writer *write, void *of,
                struct fault *why);
/* The cautions of a paper as a paragraph with its heading. False only where memory is short. */
bool sheet_cautions(FILE *out, struct fault *why);
/* "Mill pond, WHAT": the title of a paper, by the title of its book and what it is. */
bool sheet_title(struct book *book, const char *what, char *text, size_t size, struct fault *why);

#endif
