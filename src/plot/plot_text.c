/* A drawing in characters. */
#include "plot/plot_text.h"

#include <math.h>
#include <string.h>

char *sheet_cell(const struct sheet *sheet, int row, int column)
{
	return sheet->grid + row * (sheet->columns + 1) + column;
}

int sheet_row(const struct sheet *sheet, double y)
{
	return sheet->top + (int)lround((1 - plot_place(&sheet->y, y)) * (sheet->height - 1));
}

int sheet_column(const struct sheet *sheet, double x)
{
	return sheet->left + (int)lround(plot_place(&sheet->x, x) * (sheet->width - 1));
}

/* Of a UTF-8 character only the first byte counts. */
static bool begins_character(char byte)
{
	return ((unsigned char)byte & 0xc0) != 0x80;
}

int sheet_length(const char *text)
{
	int count = 0;
	for (; text && *text; text++)
		count += begins_character(*text);
	return count;
}

char sheet_printable(char byte, char otherwise)
{
	return byte >= ' ' && byte <= '~' ? byte : otherwise;
}

int sheet_write(const struct sheet *sheet, int row, int column, const char *text)
{
	int all = sheet_length(text), room = sheet->columns - column;
	int count = all < room ? all : room;
	char *at = sheet_cell(sheet, row, column);
	for (int i = 0; i < count; text++)
		if (begins_character(*text))
			at[i++] = sheet_printable(*text, '?');
	if (count < all && count > 0)
		at[count - 1] = '~';
	return column + count;
}

/* Shares the rows out, and the columns. */
static int lay_out(struct sheet *sheet, const struct plot *plot)
{
	int rows = sheet->rows, most = rows < 12 ? 1 : (rows - 4) / 4;
	int signs = sheet_legend(sheet, plot, rows);
	sheet->top = (rows >= 8 && sheet_length(plot->title)) + (sheet_length(plot->y_name) > 0);
	signs = signs < most ? signs : most;
	sheet->height = rows - sheet->top - 1 - (rows >= 7 && sheet_length(plot->x_name)) - signs;
	sheet->y = plot_y_axis(plot, sheet->height < 21 ? (sheet->height - 1) / 2 : 10);
	sheet->left = plot_figure_width(&sheet->y) + 2;
	sheet->width = sheet->columns - sheet->left;
	for (int intervals = plot->counted ? (int)fmin((double)plot->counted + 1, 100) : 10;
	     intervals >= 2; intervals--) {
		sheet->x = plot_x_axis(plot, intervals);
		if ((sheet->width - 1) / sheet->x.intervals >= plot_figure_width(&sheet->x) + 2)
			break;
	}
	return signs;
}

static void write_title(const struct sheet *sheet, const struct plot *plot, int row)
{
	char more[40];
	int end, last;
	plot_exaggeration(plot, &sheet->x, &sheet->y, sheet->width - 1, 2 * (sheet->height - 1),
	                  more);
	end = sheet_write(sheet, row, 0, plot->title);
	last = sheet->columns - sheet_length(more);
	if (*more && last > 0)
		sheet_write(sheet, row, end < last ? end : last, more);
}

/* Writes the names around the field, with so many rows of signs below. */
static void write_frame(const struct sheet *sheet, const struct plot *plot, int signs)
{
	int rows = sheet->rows, row = 0, length = sheet_length(plot->x_name);
	int centered = sheet->left + (sheet->width - length) / 2;
	if (rows >= 8 && sheet_length(plot->title))
		write_title(sheet, plot, row++);
	if (sheet_length(plot->y_name))
		sheet_write(sheet, row, 0, plot->y_name);
	if (rows >= 7 && length)
		sheet_write(sheet, rows - signs - 1, centered < 0 ? 0 : centered, plot->x_name);
	sheet_legend(sheet, plot, rows - signs);
}

/* Figures that point at their rows, and those of x from below at their columns. */
static void draw_y_axis(const struct sheet *sheet)
{
	for (int i = 0; i <= sheet->y.intervals; i++) {
		int row = sheet_row(sheet, plot_tick(&sheet->y, i));
		char figure[PLOT_FIGURE_BYTES];
		plot_figure(&sheet->y, i, figure);
		sheet_write(sheet, row, sheet->left - 2 - sheet_length(figure), figure);
		*sheet_cell(sheet, row, sheet->left - 1) = '>';
	}
}

/* Whether a figure from here to there would run into another. */
static bool is_taken(const struct sheet *sheet, int row, int from, int to)
{
	for (int column = from < 0 ? 0 : from; column <= to && column < sheet->columns; column++)
		if (*sheet_cell(sheet, row, column) != ' ')
			return true;
	return false;
}

/* A tick of the x axis with its figure, where that does not run into another. */
static void draw_x_tick(const struct sheet *sheet, const struct plot *plot, int i)
{
	int row = sheet->top + sheet->height;
	int column = sheet_column(sheet, plot_tick(&sheet->x, i));
	int start, last;
	char figure[PLOT_FIGURE_BYTES];
	if (!plot_has_x_tick(plot, plot_tick(&sheet->x, i)))
		return;
	plot_figure(&sheet->x, i, figure);
	start = column - (sheet_length(figure) - 1) / 2;
	last = sheet->columns - sheet_length(figure);
	start = start < 0 ? 0 : start > last ? last : start;
	if (!is_taken(sheet, row, start - 1, start + sheet_length(figure)))
		sheet_write(sheet, row, start, figure);
	*sheet_cell(sheet, row - 1, column) = '^';
}

static void draw_x_axis(const struct sheet *sheet, const struct plot *plot)
{
	memset(sheet_cell(sheet, sheet->top + sheet->height - 1, sheet->left), '-',
	       (size_t)sheet->width);
	draw_x_tick(sheet, plot, 0);
	draw_x_tick(sheet, plot, sheet->x.intervals);
	for (int i = 1; i < sheet->x.intervals; i++)
		draw_x_tick(sheet, plot, i);
}

static void draw_marks(const struct sheet *sheet, const struct plot *plot)
{
	for (size_t i = 0; i < plot->marks; i++)
		for (int row = 0; row < sheet->height && plot_drawable(plot->mark[i]); row++)
			*sheet_cell(sheet, sheet->top + row, sheet_column(sheet, plot->mark[i])) =
			    ':';
}

/* A curve on its way: the cell that it was in last, and how many cells it shares with curves before
 * it. */
struct pen {
	char sign;
	size_t index;
	const char *last;
	size_t shared;
};

/* Into a cell: over what is no curve, and over an earlier curve in each (index + 1)th cell that it
 * shares, so that every curve keeps some of them. */
static void put_curve(struct pen *pen, char *cell)
{
	bool taken = (*cell & SHEET_KEPT) && (*cell & ~SHEET_KEPT & 0xff) != pen->sign;
	if (cell == pen->last)
		return;
	if (!taken || pen->shared % (pen->index + 1) == pen->index)
		*cell = (char)(pen->sign | SHEET_KEPT);
	pen->shared += taken;
	pen->last = cell;
}

/* A straight line from sample to sample, cell by cell; returns how many it shares. */
static size_t draw_curve(const struct sheet *sheet, const struct plot_curve *curve, size_t index)
{
	double from_x = NAN, from_y = NAN;
	struct pen pen = {.sign = sheet_printable(curve->sign, '*'), .index = index};
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
			put_curve(
			    &pen,
			    sheet_cell(
			        sheet,
			        sheet->top + (int)lround(from_y + (y - from_y) * part / cells),
			        sheet->left + (int)lround(from_x + (x - from_x) * part / cells)));
		from_x = x;
		from_y = y;
	}
	return pen.shared;
}

static void draw_error(const struct sheet *sheet, const struct plot_point *point)
{
	double error = plot_error(point);
	int high = sheet_row(sheet, point->y + error), low = sheet_row(sheet, point->y - error);
	int column = sheet_column(sheet, point->x);
	for (int row = high; row <= low && error > 0; row++)
		*sheet_cell(sheet, row, column) = (char)('|' | SHEET_KEPT);
	if (isinf(error)) {
		*sheet_cell(sheet, high, column) = (char)('^' | SHEET_KEPT);
		*sheet_cell(sheet, low, column) = (char)('v' | SHEET_KEPT);
	}
}

/* Returns whether points of several kinds share a cell. */
static bool draw_points(const struct sheet *sheet, const struct plot *plot)
{
	bool shared = false;
	for (size_t i = 0; i < plot->points; i++)
		if (plot_is_drawn(&plot->point[i]))
			draw_error(sheet, &plot->point[i]);
	for (size_t i = 0; i < plot->points; i++) {
		const struct plot_point *point = &plot->point[i];
		char sign = sheet_printable(plot_kind_of(plot, point).sign, 'o'), *cell, held;
		bool other;
		if (!plot_is_drawn(point))
			continue;
		cell = sheet_cell(sheet, sheet_row(sheet, point->y), sheet_column(sheet, point->x));
		held = *cell & 0x7f;
		/* What is kept and no piece of an error bar is a point. */
		other = (*cell & SHEET_KEPT) && held != sign && !strchr("|^v", held);
		*cell = (char)((other ? '&' : sign) | SHEET_KEPT);
		shared = shared || other;
	}
	return shared;
}

static void let_go(const struct sheet *sheet)
{
	for (int row = 0; row < sheet->rows; row++)
		for (int column = 0; column < sheet->columns; column++)
			*sheet_cell(sheet, row, column) &= 0x7f;
}

/* A few cells are not worth words: curves cross in some. */
#define CELLS_TOLD 6

/* Draws all but the names; returns whether the legend lacks something then. */
static bool draw(struct sheet *sheet, const struct plot *plot)
{
	bool turns = sheet->turns, shared = sheet->shared;
	size_t cells = 0;
	int signs;
	for (int row = 0; row < sheet->rows; row++) {
		memset(sheet_cell(sheet, row, 0), ' ', (size_t)sheet->columns);
		*sheet_cell(sheet, row, sheet->columns) = '\0';
	}
	signs = lay_out(sheet, plot);
	write_frame(sheet, plot, signs);
	if (plot->zero_line)
		memset(sheet_cell(sheet, sheet_row(sheet, 0), sheet->left), '-',
		       (size_t)sheet->width);
	draw_y_axis(sheet);
	draw_x_axis(sheet, plot);
	draw_marks(sheet, plot);
	for (size_t i = 0; i < plot->curves; i++)
		cells += draw_curve(sheet, &plot->curve[i], i);
	let_go(sheet);
	/* Once said, it stays said, whatever the rows for saying it change. */
	sheet->turns = turns || cells >= CELLS_TOLD;
	sheet->shared = draw_points(sheet, plot) || shared;
	return sheet->turns != turns || sheet->shared != shared;
}

bool plot_text(const struct plot *plot, int columns, int rows, char *grid)
{
	struct sheet sheet = {.grid = grid, .columns = columns, .rows = rows};
	if (columns < 20 || rows < 6)
		return false;
	while (draw(&sheet, plot))
		;
	sheet_names(&sheet, plot);
	let_go(&sheet);
	return true;
}
