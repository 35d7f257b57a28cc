/* Texts in lines no longer than a measure, in cells of a terminal. */
#ifndef TEXT_WRAP_H
#define TEXT_WRAP_H

#include <stdbool.h>
#include <stdio.h>

/* Whether a line may be broken at the blank text[at]: not inside a figure as 2 11/64 or 4' 9 3/8",
 * of which the number would stand alone. */
bool wrap_breaks(const char *text, size_t at);
/* How many bytes of the text fit into so many cells, broken at a blank where there is one, and
 * inside a word where there is none; *next: where the rest begins, its blanks left out. At least
 * one character. */
size_t wrap_fit(const char *text, int columns, const char **next);
/* Writes a text of several lines so; what is broken off stands 4 columns deeper than its line. */
void wrap_text(FILE *out, const char *text, int columns);
/* Writes a text into a column so many cells wide: cut, or filled with blanks. */
void wrap_put(FILE *out, const char *text, int width);

#endif
