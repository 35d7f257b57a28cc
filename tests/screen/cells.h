/*
 * The screen as text and attributes.
 */
#ifndef PLAY_CELLS_H
#define PLAY_CELLS_H

#include "term.h"

/* The row as UTF-8, one blank for each empty cell; to be freed. */
char *cells_row(const struct term *t, int row);

/* Cuts trailing blanks off, in place. */
void cells_trim(char *text);

/* How many cells a text takes, or -1 when it holds something that takes none of its own. */
int cells_width(const char *text);

/* Whether a name stands for an attribute at all. */
bool cells_attribute_known(const char *name);

/* Whether the cell has it: reverse, bold, underline, plain (none of these), colored, uncolored. */
bool cells_has(const struct term *t, int row, int col, const char *name);

/* Where the cursor stands. */
void cells_cursor(const struct term *t, int *row, int *col);

/* Prints the whole screen between bars. */
void cells_print(const struct term *t);

#endif
