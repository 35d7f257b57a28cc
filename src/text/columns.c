#include "text/columns.h"

#include <stdlib.h>
#include <string.h>

#include "text/cells.h"

void columns_add(struct columns *table, const char *const *cells)
{
	size_t n = table->columns;
	if (table->rows == table->room) {
		size_t room = table->room ? 2 * table->room : 32;
		char **more = realloc(table->cell, room * n * sizeof *more);
		if (!more) {
			table->failed = true;
			return;
		}
		table->cell = more;
		table->room = room;
	}
	for (size_t i = 0; i < n; i++) {
		char *text = strdup(cells[i]);
		table->failed = table->failed || !text;
		table->cell[table->rows * n + i] = text;
	}
	table->rows++;
}

void columns_free(struct columns *table)
{
	for (size_t i = 0; i < table->rows * table->columns; i++)
		free(table->cell[i]);
	free(table->cell);
	*table = (struct columns){0};
}

static const char *cell(const struct columns *table, size_t row, size_t column)
{
	const char *text = table->cell[row * table->columns + column];
	return text ? text : "?";
}

static int width_of(const struct columns *table, size_t column)
{
	int width = 0;
	for (size_t row = 0; row < table->rows; row++) {
		int here = cells_of(cell(table, row, column));
		width = here > width ? here : width;
	}
	return width;
}

/* Blanks are held back until something stands behind them. */
static void put_row(FILE *out, const struct columns *table, size_t row, const int *width,
                    const char *align)
{
	int blanks = 0;
	for (size_t i = 0; i < table->columns; i++) {
		const char *text = cell(table, row, i);
		int rest = width[i] - cells_of(text);
		blanks += align[i] == 'r' ? rest : 0;
		if (*text) {
			fprintf(out, "%*s%s", blanks, "", text);
			blanks = 0;
		}
		blanks += (align[i] == 'r' ? 0 : rest) + 2;
	}
	fputc('\n', out);
}

bool columns_put(FILE *out, const struct columns *table, const char *align)
{
	int *width = table->failed ? NULL : malloc((table->columns + 1) * sizeof *width);
	if (!width)
		return false;
	for (size_t i = 0; i < table->columns; i++)
		width[i] = width_of(table, i);
	for (size_t row = 0; row < table->rows; row++)
		put_row(out, table, row, width, align);
	free(width);
	return true;
}
