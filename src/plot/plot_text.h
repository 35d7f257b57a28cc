/* What the parts of a drawing in characters share. */
#ifndef PLOT_PLOT_TEXT_H
#define PLOT_PLOT_TEXT_H

#include "plot/plot.h"

/* The cells, and within them the field where values are drawn: it ends with the last column, and
 * the x axis is its lowest row. */
struct sheet {
	char *grid;
	int columns, rows;
	int left, top, width, height;
	struct plot_axis x, y;
	bool turns;  /* curves share cells: the legend says so */
	bool shared; /* points of several kinds share a cell: likewise */
};

/* While it is drawn, a cell with this bit holds what the next step may not cover: a curve beside
 * the other curves, then what names may not cover. */
#define SHEET_KEPT 0x80

char *sheet_cell(const struct sheet *sheet, int row, int column);
int sheet_row(const struct sheet *sheet, double y);
int sheet_column(const struct sheet *sheet, double x);

/* How many characters of UTF-8 the text has; text may be NULL. */
int sheet_length(const char *text);
char sheet_printable(char byte, char otherwise);
/* Returns the column after the text, or after as much of it as there is room for. */
int sheet_write(const struct sheet *sheet, int row, int column, const char *text);

/* Writes what the signs mean from this row on; returns how many rows that takes. Writes nothing
 * where there is no such row. */
int sheet_legend(const struct sheet *sheet, const struct plot *plot, int row);
/* Writes the names of marks and points. Kept are the cells that they may not cover. */
void sheet_names(const struct sheet *sheet, const struct plot *plot);

#endif
