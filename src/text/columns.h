/* A table of texts: columns as wide as the widest of their texts, in cells of a terminal. */
#ifndef TEXT_COLUMNS_H
#define TEXT_COLUMNS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct columns {
	size_t columns, rows, room;
	char **cell; /* rows x columns */
	bool failed; /* memory was short: rows are missing */
};

/* Adds a row; the texts are copied. The first row, of as many cells as the table has columns, is
 * its head. */
void columns_add(struct columns *table, const char *const *cells);
/* Prints the table, two blanks between columns and none at a line's end; align has an l or r for
 * each column. False, and nothing is printed, where memory was short. */
bool columns_put(FILE *out, const struct columns *table, const char *align);
void columns_free(struct columns *table);

#endif
