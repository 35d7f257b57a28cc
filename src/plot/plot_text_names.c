/* Legend and names of a drawing in characters. */
#include <string.h>

#include "plot/plot_text.h"

/* So many names, the first ones, may cover a piece of a curve: of more, little would be left of it.
 */
#define FEW 16
/* No more names than this are tried. The room for names is used up with far fewer. */
#define MOST 200

/* An entry of the legend, '\0' for a sign where it has none; false where there is none of that
 * number. */
static bool legend_entry(const struct sheet *sheet, const struct plot *plot, size_t number,
                         char *sign, const char **name)
{
	size_t kind = number - plot->curves;
	*name = NULL;
	*sign = '\0';
	if (number < plot->curves) {
		*sign = sheet_printable(plot->curve[number].sign, '*');
		*name = plot->curve[number].name;
	} else if (kind < plot->kinds) {
		*sign = sheet_printable(plot->kind[kind].sign, 'o');
		*name = plot_shows(plot, kind) ? plot->kind[kind].name : NULL;
	} else if (kind == plot->kinds) {
		*sign = '&';
		*name = sheet->shared ? "several of these" : NULL;
	} else if (kind == plot->kinds + 1) {
		*name = sheet->turns ? "where lines coincide their signs take turns" : NULL;
	}
	return kind <= plot->kinds + 1 || number < plot->curves;
}

int sheet_legend(const struct sheet *sheet, const struct plot *plot, int row)
{
	int first = row, column = 0;
	const char *name;
	char sign;
	for (size_t i = 0; legend_entry(sheet, plot, i, &sign, &name); i++) {
		int width = (sign ? 2 : 0) + sheet_length(name);
		if (!sheet_length(name))
			continue;
		if (column > 0 && column + 3 + width > sheet->columns) {
			/* The note below the signs is the first that may be missing. */
			if (!sign && first < sheet->rows && row + 1 >= sheet->rows)
				continue;
			row++;
			column = 0;
		}
		column += column > 0 ? 3 : 0;
		if (row < sheet->rows) {
			if (sign)
				*sheet_cell(sheet, row, column) = sign;
			sheet_write(sheet, row, column + (sign ? 2 : 0), name);
		}
		column += width;
	}
	if (first < sheet->rows && row >= sheet->rows)
		*sheet_cell(sheet, sheet->rows - 1, sheet->columns - 1) = '~';
	return row - first + (column > 0);
}

/* What a name may cover. */
enum cover { COVER_BLANKS, COVER_UPRIGHTS, COVER_CURVES };

static bool is_free(const struct sheet *sheet, const struct plot *plot, int row, int from, int to,
                    enum cover cover)
{
	bool on_zero = plot->zero_line && row == sheet_row(sheet, 0);
	for (int column = from; column <= to; column++) {
		char cell = *sheet_cell(sheet, row, column);
		if (cell & SHEET_KEPT)
			return false;
		if (cell != ' ' && cover != COVER_CURVES && !(on_zero && cell == '-') &&
		    !(cell == ':' && cover == COVER_UPRIGHTS))
			return false;
	}
	return true;
}

/* Whether a name stays within the field, above the x axis, and covers no more than it may, nor do
 * the cells beside it. */
static bool has_room(const struct sheet *sheet, const struct plot *plot, int row, int column,
                     const char *name, enum cover cover)
{
	int last = column + sheet_length(name) - 1;
	int before = column > sheet->left ? column - 1 : column;
	int after = last < sheet->columns - 1 ? last + 1 : last;
	return column >= sheet->left && last < sheet->columns && row >= sheet->top &&
	       row < sheet->top + sheet->height - 1 &&
	       is_free(sheet, plot, row, before, after, cover);
}

static void write_name(const struct sheet *sheet, int row, int column, const char *name)
{
	int last = column + sheet_length(name) - 1;
	/* A curve that a name covers would run into its letters. */
	if (column > sheet->left)
		*sheet_cell(sheet, row, column - 1) = ' ';
	if (last < sheet->columns - 1)
		*sheet_cell(sheet, row, last + 1) = ' ';
	sheet_write(sheet, row, column, name);
	for (; column <= last; column++)
		*sheet_cell(sheet, row, column) |= (char)SHEET_KEPT;
}

/* How many cells there are from a name to a place, a row as much as two columns. */
static int far_from(int row, int from, int to, int at_row, int at_column)
{
	int down = 2 * (row > at_row ? row - at_row : at_row - row);
	int along = at_column < from ? from - at_column - 1
	            : at_column > to ? at_column - to - 1
	                             : 0;
	return down > along ? down : along;
}

/* Whether no point elsewhere is as near to a name as the one it belongs to. */
static bool is_nearest(const struct sheet *sheet, const struct plot *plot, int row, int column,
                       const struct plot_point *own)
{
	int last = column + sheet_length(own->name) - 1;
	int own_row = sheet_row(sheet, own->y), own_column = sheet_column(sheet, own->x);
	int near = far_from(row, column, last, own_row, own_column);
	for (size_t i = 0; i < plot->points; i++) {
		const struct plot_point *other = &plot->point[i];
		int at_row, at_column;
		if (other->quiet || !plot_is_drawn(other))
			continue;
		at_row = sheet_row(sheet, other->y);
		at_column = sheet_column(sheet, other->x);
		if ((at_row != own_row || at_column != own_column) &&
		    far_from(row, column, last, at_row, at_column) <= near)
			return false;
	}
	return true;
}

static bool name_point(const struct sheet *sheet, const struct plot *plot,
                       const struct plot_point *point, enum cover cover)
{
	int row = sheet_row(sheet, point->y), column = sheet_column(sheet, point->x);
	int length = sheet_length(point->name);
	int right = column + 2, left = column - 1 - length, middle = column - length / 2;
	/* rows down from the point, and where the name begins */
	const int places[][2] = {
	    {0, right},     {0, left},     {-1, right},     {1, right},
	    {-1, left},     {1, left},     {-1, right - 1}, {1, right - 1},
	    {-1, left + 1}, {1, left + 1}, {-1, middle},    {1, middle},
	    {-2, right},    {2, right},    {-2, left},      {2, left},
	};
	for (size_t i = 0; i < sizeof places / sizeof *places; i++)
		if (has_room(sheet, plot, row + places[i][0], places[i][1], point->name, cover) &&
		    is_nearest(sheet, plot, row + places[i][0], places[i][1], point)) {
			write_name(sheet, row + places[i][0], places[i][1], point->name);
			return true;
		}
	return false;
}

static bool name_mark(const struct sheet *sheet, const struct plot *plot, int column,
                      const char *name, enum cover cover)
{
	const int places[] = {column + 2, column - 1 - sheet_length(name)};
	for (int row = sheet->top; row < sheet->top + sheet->height - 1; row++)
		for (int i = 0; i < 2; i++)
			if (has_room(sheet, plot, row, places[i], name, cover)) {
				write_name(sheet, row, places[i], name);
				return true;
			}
	return false;
}

static bool has_name(const struct plot_point *point)
{
	return !point->quiet && plot_is_drawn(point) && sheet_length(point->name);
}

/* All that is drawn with a name of its own stands for itself first. */
void sheet_names(const struct sheet *sheet, const struct plot *plot)
{
	size_t names = 0;
	for (size_t i = 0; i < plot->points && names < MOST; i++) {
		const struct plot_point *point = &plot->point[i];
		if (!has_name(point))
			continue;
		if (!name_point(sheet, plot, point, COVER_BLANKS) && names < FEW)
			name_point(sheet, plot, point, COVER_CURVES);
		names++;
	}
	for (size_t i = 0; i < plot->marks; i++) {
		int column = sheet_column(sheet, plot->mark[i]);
		const char *name = plot->mark_name ? plot->mark_name[i] : NULL;
		if (plot_drawable(plot->mark[i]) && sheet_length(name) &&
		    !name_mark(sheet, plot, column, name, COVER_BLANKS))
			name_mark(sheet, plot, column, name, COVER_UPRIGHTS);
	}
}
