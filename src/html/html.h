/* A paper as one HTML file: nothing is fetched and nothing runs. Everything that comes from a book
 * is written by html_text(), which escapes it. */
#ifndef HTML_HTML_H
#define HTML_HTML_H

#include <stdio.h>

/* Head with the style for screens and for paper; the title is a heading too. */
void html_begin(FILE *out, const char *title);
/* foot: a line below all else. */
void html_end(FILE *out, const char *foot);

/* Text between tags, or in an attribute. */
void html_text(FILE *out, const char *text);
/* <name attributes>text</name> and a line end; attributes "" or as they are written. */
void html_element(FILE *out, const char *name, const char *attributes, const char *text);
/* A text of several lines as it stands, below a heading. On a screen lines with columns are never
 * broken, others where the screen ends. */
void html_lines(FILE *out, const char *heading, const char *text);
/* A text of several lines as a paragraph, which ends its lines anew, below a heading. */
void html_prose(FILE *out, const char *heading, const char *text);
/* A drawing that was written as a file of its own, without its first line. */
void html_drawing(FILE *out, const char *svg);

#endif
