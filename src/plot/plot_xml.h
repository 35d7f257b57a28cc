/* Text in an XML file: escaped, measured, and cut by letters, not by bytes. Text may be NULL, for
 * none. Widths are in ems, the size of the font. */
#ifndef PLOT_PLOT_XML_H
#define PLOT_PLOT_XML_H

#include <stddef.h>
#include <stdio.h>

/* How many UTF-8 characters the text has. */
size_t xml_letters(const char *text);
/* No font without serifs that is in common use sets the text wider than this: it is the width in a
 * wide one, by letters, and a little more (tests/outside/pictures holds it against a browser). */
double xml_width(const char *text);
/* How many bytes of the text fit into that width. */
size_t xml_fit(const char *text, double width);
/* The same, broken at the last blank where there is one; *next: where the rest begins. At least one
 * letter. */
size_t xml_break(const char *text, double width, const char **next);
/* Writes the first so many bytes. A text with control characters, or that is no UTF-8, which XML
 * would refuse, is written with '?' for all its bytes that are not printable ASCII. */
void xml_put_bytes(FILE *out, const char *text, size_t bytes);
/* Writes the text. */
void xml_put(FILE *out, const char *text);
/* Writes as many letters as there is room for, the last as "..." where more are left. */
void xml_put_within(FILE *out, const char *text, double width);

#endif
