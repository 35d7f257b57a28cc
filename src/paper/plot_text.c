/* A drawing in characters. */
#include "paper/plot.h"

#include <math.h>
#include <string.h>

/* The cells, and within them the field where values are drawn: it ends with the last column, and
 * the x axis is its lowest row. */
struct sheet {
	char *grid;
	int columns, rows;
	int left, top, width, height;
	struct plot_axis x, y;
};

static char *cell(const struct sheet *sheet, int row, int column)
{
	return sheet->grid + row * (sheet->columns + 1) + column;
}

static int row_of(const struct sheet *sheet, double y)
{
	return sheet->top + (int)lround((1 - plot_place(&sheet->y, y)) * (sheet->height - 1));
}

static int column_of(const struct sheet *sheet, double x)
{
	return sheet->left + (int)lround(plot_place(&sheet->x, x) * (sheet->width - 1));
}

/* Of a UTF-8 character only the first byte counts. */
static bool begins_character(char byte)
{
	return ((unsigned char)byte & 0xc0) != 0x80;
}

static int length(const char *text)
{
	int count = 0;
	for (; text && *text; text++)
		count += begins_character(*text);
	return count;
}

static char printable(char byte, char otherwise)
{
	return byte >= ' ' && byte <= '~' ? byte : otherwise;
}

/* Returns the column after the text, or after as much of it as there is room for. */
static int write_text(const struct sheet *sheet, int row, int column, const char *text)
{
	int all = length(text), room = sheet->columns - column;
	int count = all < room ? all : room;
	char *at = cell(sheet, row, column);
	for (int i = 0; i < count; text++)
		if (begins_character(*text))
			at[i++] = printable(*text, '?');
	if (count < all && count > 0)
		at[count - 1] = '~';
	return column + count;
}

/* Whether the cells from here to there hold nothing but blanks, or what counts as such; beyond the
 * last column there is nothing. */
static bool is_free(const struct sheet *sheet, int row, int from, int to, const char *blanks)
{
	for (int column = from < 0 ? 0 : from; column <= to && column < sheet->columns; column++)
		if (!strchr(blanks, *cell(sheet, row, column)))
			return false;
	return true;
}

/* Writes the name of what stands in a cell beside it, right or left, where it covers only blanks.
 */
static bool write_beside(const struct sheet *sheet, int row, int column, const char *text,
                         const char *blanks)
{
	int count = length(text), after = column + 2, before = column - 1 - count;
	if (after + count <= sheet->columns &&
	    is_free(sheet, row, column + 1, after + count, blanks)) {
		write_text(sheet, row, after, text);
		return true;
	}
	if (before >= sheet->left && is_free(sheet, row, before - 1, column - 1, blanks)) {
		write_text(sheet, row, before, text);
		return true;
	}
	return false;
}

/* Writes what the signs mean from this row on; returns how many rows that takes. Writes nothing
 * where there is no such row. */
static int legend(const struct sheet *sheet, const struct plot *plot, int row)
{
	int first = row, column = 0;
	for (size_t i = 0; i <= plot->curves; i++) {
		bool points = i == plot->curves;
		const char *name = points ? plot->points_name : plot->curve[i].name;
		if (points ? !plot->points || !length(name) : !length(name))
			continue;
		if (column > 0 && column + 3 + 2 + length(name) > sheet->columns) {
			row++;
			column = 0;
		}
		column += column > 0 ? 3 : 0;
		if (row < sheet->rows) {
			*cell(sheet, row, column) =
			    points ? 'o' : printable(plot->curve[i].sign, '*');
			write_text(sheet, row, column + 2, name);
		}
		column += 2 + length(name);
	}
	if (first < sheet->rows && row >= sheet->rows)
		*cell(sheet, sheet->rows - 1, sheet->columns - 1) = '~';
	return row - first + (column > 0);
}

/* Shares the rows out, and the columns; writes the names around the field. */
static void lay_out(struct sheet *sheet, const struct plot *plot)
{
	int rows = sheet->rows, most = rows < 12 ? 1 : (rows - 4) / 4;
	int signs = legend(sheet, plot, rows), x_name = rows >= 7 && length(plot->x_name);
	int row = 0, centered;
	if (rows >= 8 && length(plot->title))
		write_text(sheet, row++, 0, plot->title);
	if (length(plot->y_name))
		write_text(sheet, row++, 0, plot->y_name);
	signs = signs < most ? signs : most;
	sheet->top = row;
	sheet->height = rows - row - 1 - x_name - signs;
	sheet->y = plot_y_axis(plot, sheet->height < 21 ? (sheet->height - 1) / 2 : 10);
	sheet->left = plot_figure_width(&sheet->y) + 2;
	sheet->width = sheet->columns - sheet->left;
	for (int intervals = 10; intervals >= 2; intervals--) {
		sheet->x = plot_x_axis(plot, intervals);
		if ((sheet->width - 1) / sheet->x.intervals >= plot_figure_width(&sheet->x) + 2)
			break;
	}
	centered = sheet->left + (sheet->width - length(plot->x_name)) / 2;
	if (x_name)
		write_text(sheet, rows - signs - 1, centered < 0 ? 0 : centered, plot->x_name);
	legend(sheet, plot, rows - signs);
}

static void draw_y_axis(const struct sheet *sheet)
{
	for (int row = sheet->top; row < sheet->top + sheet->height; row++)
		*cell(sheet, row, sheet->left - 1) = '|';
	for (int i = 0; i <= sheet->y.intervals; i++) {
		int row = row_of(sheet, plot_tick(&sheet->y, i));
		char figure[PLOT_FIGURE_BYTES];
		plot_figure(&sheet->y, i, figure);
		write_text(sheet, row, sheet->left - 2 - length(figure), figure);
		*cell(sheet, row, sheet->left - 1) = '+';
	}
}

/* A tick of the x axis with its figure, where that does not run into another. */
static void draw_x_tick(const struct sheet *sheet, int i)
{
	int row = sheet->top + sheet->height, column = column_of(sheet, plot_tick(&sheet->x, i));
	int start, last;
	char figure[PLOT_FIGURE_BYTES];
	plot_figure(&sheet->x, i, figure);
	start = column - (length(figure) - 1) / 2;
	last = sheet->columns - length(figure);
	start = start < 0 ? 0 : start > last ? last : start;
	if (is_free(sheet, row, start - 1, start + length(figure), " "))
		write_text(sheet, row, start, figure);
	*cell(sheet, row - 1, column) = '+';
}

static void draw_x_axis(const struct sheet *sheet)
{
	memset(cell(sheet, sheet->top + sheet->height - 1, sheet->left), '-', (size_t)sheet->width);
	draw_x_tick(sheet, 0);
	draw_x_tick(sheet, sheet->x.intervals);
	for (int i = 1; i < sheet->x.intervals; i++)
		draw_x_tick(sheet, i);
}

static void draw_marks(const struct sheet *sheet, const struct plot *plot)
{
	for (size_t i = 0; i < plot->marks; i++)
		for (int row = 0; row < sheet->height && plot_drawable(plot->mark[i]); row++)
			*cell(sheet, sheet->top + row, column_of(sheet, plot->mark[i])) = ':';
}

/* A straight line from sample to sample, cell by cell. */
static void draw_curve(const struct sheet *sheet, const struct plot_curve *curve)
{
	double from_x = NAN, from_y = NAN;
	for (size_t i = 0; i < curve->count; i++) {
		bool drawable = plot_drawable(curve->x[i]) && plot_drawable(curve->y[i]);
		double x = plot_place(&sheet->x, curve->x[i]) * (sheet->width - 1);
		double y = (1 - plot_place(&sheet->y, curve->y[i])) * (sheet->height - 1);
		int cells;
		if (!drawable) {
			from_x = NAN;
			continue;
		}
		if (isnan(from_x)) {
			from_x = x;
			from_y = y;
		}
		cells = (int)fmax(1, ceil(fmax(fabs(x - from_x), fabs(y - from_y))));
		for (int part = 0; part <= cells; part++)
			*cell(sheet, sheet->top + (int)lround(from_y + (y - from_y) * part / cells),
			      sheet->left + (int)lround(from_x + (x - from_x) * part / cells)) =
			    printable(curve->sign, '*');
		from_x = x;
		from_y = y;
	}
}

static void draw_error(const struct sheet *sheet, const struct plot_point *point)
{
	double error = plot_error(point);
	int high = row_of(sheet, point->y + error), low = row_of(sheet, point->y - error);
	int column = column_of(sheet, point->x);
	for (int row = high; row <= low && error > 0; row++)
		*cell(sheet, row, column) = '|';
	if (isinf(error)) {
		*cell(sheet, high, column) = '^';
		*cell(sheet, low, column) = 'v';
	}
}

static bool is_drawn(const struct plot_point *point)
{
	return plot_drawable(point->x) && plot_drawable(point->y);
}

static void draw_points(const struct sheet *sheet, const struct plot *plot)
{
	for (size_t i = 0; i < plot->points; i++)
		if (is_drawn(&plot->point[i]))
			draw_error(sheet, &plot->point[i]);
	for (size_t i = 0; i < plot->points; i++)
		if (is_drawn(&plot->point[i]))
			*cell(sheet, row_of(sheet, plot->point[i].y),
			      column_of(sheet, plot->point[i].x)) = 'o';
}

static bool write_mark_name(const struct sheet *sheet, int column, const char *name,
                            const char *blanks)
{
	for (int row = 0; row < sheet->height - 1; row++)
		if (write_beside(sheet, sheet->top + row, column, name, blanks))
			return true;
	return false;
}

/* Last, since names take the place that is left. The name of a mark may cover a piece of another
 * mark's upright. */
static void write_names(const struct sheet *sheet, const struct plot *plot)
{
	for (size_t i = 0; i < plot->marks; i++) {
		int column = column_of(sheet, plot->mark[i]);
		if (plot_drawable(plot->mark[i]) && plot->mark_name &&
		    !write_mark_name(sheet, column, plot->mark_name[i], " "))
			write_mark_name(sheet, column, plot->mark_name[i], " :");
	}
	for (size_t i = 0; i < plot->points; i++)
		if (is_drawn(&plot->point[i]))
			write_beside(sheet, row_of(sheet, plot->point[i].y),
			             column_of(sheet, plot->point[i].x), plot->point[i].name, " ");
}

bool plot_text(const struct plot *plot, int columns, int rows, char *grid)
{
	struct sheet sheet = {.grid = grid, .columns = columns, .rows = rows};
	if (columns < 20 || rows < 6)
		return false;
	for (int row = 0; row < rows; row++) {
		memset(cell(&sheet, row, 0), ' ', (size_t)columns);
		*cell(&sheet, row, columns) = '\0';
	}
	lay_out(&sheet, plot);
	if (plot->zero_line)
		memset(cell(&sheet, row_of(&sheet, 0), sheet.left), '-', (size_t)sheet.width);
	draw_y_axis(&sheet);
	draw_x_axis(&sheet);
	draw_marks(&sheet, plot);
	for (size_t i = 0; i < plot->curves; i++)
		draw_curve(&sheet, &plot->curve[i]);
	draw_points(&sheet, plot);
	write_names(&sheet, plot);
	return true;
}
