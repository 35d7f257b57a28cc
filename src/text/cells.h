/* How many cells of a terminal a text takes. */
#ifndef TEXT_CELLS_H
#define TEXT_CELLS_H

#include <stddef.h>
#include <stdio.h>

/* The bytes of the first character of UTF-8, at least 1 where the text is not empty; *cells: 1, or
 * 2 of a wide character. What draws nothing is in no book (level_check_text()), and counts as 1. */
size_t cells_first(const char *text, int *cells);
/* The cells of the whole text. */
int cells_of(const char *text);
/* Writes the whole text, and blanks behind it up to so many cells. */
void cells_put(FILE *out, const char *text, int width);

#endif
