/* Figures several rows tall, to be read from the rod. */
#include <string.h>

#include "screen/editor.h"

#define GLYPH_ROWS 5

/* Rows of a glyph; a blank is dark. */
static const struct {
	char c;
	const char *rows[GLYPH_ROWS];
} glyphs[] = {
    {'0', {"###", "# #", "# #", "# #", "###"}}, {'1', {" # ", "## ", " # ", " # ", "###"}},
    {'2', {"###", "  #", "###", "#  ", "###"}}, {'3', {"###", "  #", " ##", "  #", "###"}},
    {'4', {"# #", "# #", "###", "  #", "  #"}}, {'5', {"###", "#  ", "###", "  #", "###"}},
    {'6', {"###", "#  ", "###", "# #", "###"}}, {'7', {"###", "  #", " # ", " # ", " # "}},
    {'8', {"###", "# #", "###", "# #", "###"}}, {'9', {"###", "# #", "###", "  #", "###"}},
    {'-', {"   ", "   ", "###", "   ", "   "}}, {'+', {"   ", " # ", "###", " # ", "   "}},
    {'.', {" ", " ", " ", " ", "#"}},           {'/', {"  #", "  #", " # ", "#  ", "#  "}},
    {'\'', {"#", "#", " ", " ", " "}},          {'"', {"# #", "# #", "   ", "   ", "   "}},
    {' ', {" ", " ", " ", " ", " "}},
};

static const char *const *glyph_of(char c)
{
	for (size_t i = 0; i < sizeof glyphs / sizeof *glyphs; i++)
		if (glyphs[i].c == c)
			return glyphs[i].rows;
	return NULL;
}

/* Cells of a text so drawn; 0 where a sign of it cannot be. */
static int width_of(const char *text, int wide)
{
	int width = 0;
	for (; *text; text++) {
		const char *const *glyph = glyph_of(*text);
		if (!glyph)
			return 0;
		width += ((int)strlen(glyph[0]) + 1) * wide;
	}
	return width;
}

/* How many cells a dot is wide and high. */
struct dot {
	int wide, high;
};

static void put_glyph(const char *const *glyph, int row, int column, struct dot dot)
{
	for (int y = 0; y < GLYPH_ROWS * dot.high; y++)
		for (int x = 0; x < (int)strlen(glyph[0]) * dot.wide; x++)
			if (glyph[y / dot.high][x / dot.wide] == '#')
				mvwaddch(stdscr, row + y, column + x, ' ' | A_REVERSE);
}

/* A figure of the big pane. */
struct figure {
	const char *name;
	char text[LEVEL_LENGTH_BYTES];
	enum look look;
};

static void put_figure(const struct figure *figure, int row, int column, int width, struct dot dot)
{
	int needed = width_of(figure->text, dot.wide);
	wattrset(stdscr, (int)look_of(figure->look));
	term_text(stdscr, row, column, width, figure->name);
	wattrset(stdscr, A_NORMAL);
	if (!needed || needed > width) {
		wattrset(stdscr, (int)look_of(LOOK_STRONG));
		term_text(stdscr, row + 2, column, width, figure->text);
		wattrset(stdscr, A_NORMAL);
		return;
	}
	for (const char *at = figure->text; *at; at++) {
		put_glyph(glyph_of(*at), row + 1, column, dot);
		column += ((int)strlen(glyph_of(*at)[0]) + 1) * dot.wide;
	}
}

/* As large as they fit, all alike; a cell is half as wide as it is high. */
static struct dot dot_for(const struct figure *figures, int count, int rows, int width)
{
	struct dot dot = {2, 1};
	int most = 0;
	for (int i = 0; i < count; i++) {
		int needed = width_of(figures[i].text, 1);
		most = needed > most ? needed : most;
	}
	while ((dot.high + 1) * GLYPH_ROWS + 2 <= rows && most * (dot.high + 1) <= width)
		dot.high++;
	dot.wide = 2 * dot.high * most <= width ? 2 * dot.high : dot.high;
	return dot;
}

static void set_reading(const struct editor *ed, struct figure *out)
{
	const struct book_draft *draft = &ed->slot[ed->target != TARGET_NEW];
	enum work_text focus = entry_focus(ed->entry);
	const char *text = !draft->wires          ? draft->reading
	                   : focus == WORK_MIDDLE ? draft->middle
	                   : focus == WORK_LOWER  ? draft->lower
	                                          : draft->upper;
	out->name = draft->wires ? "WIRE" : "READING";
	snprintf(out->text, sizeof out->text, "%.40s", text);
}

/* What the sight is taken for: how far the rod has to move, how the drop stands, or the closing. */
static void set_aim(const struct editor *ed, struct figure *out)
{
	const struct level_closing *c = &ed->closing;
	const struct level_style *style = &ed->settings.style;
	struct level_set_out set;
	level_nm wanted;
	out->name = "MISCLOSURE";
	if (*ed->wanted && level_parse_length(ed->wanted, style->unit, &wanted, NULL)) {
		set = level_set_out(&ed->work, &ed->page, ed->at, &ed->terms.terms, wanted);
		out->name = !set.has_move ? "ROD AT" : set.move > 0 ? "UP" : "DOWN";
		if (set.has)
			level_format_length(out->text,
			                    !set.has_move  ? set.rod
			                    : set.move < 0 ? -set.move
			                                   : set.move,
			                    style, false);
	} else if (ed->work.kind == LEVEL_CROSSING) {
		out->name = "MARGIN";
		if (c->has_drop && !c->finding.none)
			report_meters(out->text, c->margin, style, true);
	} else if (c->has_misclosure) {
		level_format_length(out->text, c->misclosure, style, true);
		if (c->has_allowable) {
			out->name = c->closes == LEVEL_YES ? "MISCLOSURE: CLOSES"
			                                   : "MISCLOSURE: DOES NOT CLOSE";
			out->look = c->closes == LEVEL_YES ? LOOK_GOOD : LOOK_BAD;
		}
	}
}

void big_pane(const struct editor *ed, int row, int rows, int columns)
{
	const struct level_style *style = &ed->settings.style;
	const struct level_row *at = &ed->page.row[ed->at];
	struct figure figures[4] = {{"", "", LOOK_PLAIN},
	                            {"HI", "", LOOK_PLAIN},
	                            {"ELEVATION", "", LOOK_PLAIN},
	                            {"", "", LOOK_PLAIN}};
	int half = columns / 2;
	struct dot dot;
	set_reading(ed, &figures[0]);
	if (at->line.has_hi && (at->line.bs_row != SIZE_MAX || at->has_step))
		level_format_length(figures[1].text, at->line.hi, style, false);
	if (at->has_elevation)
		level_format_length(figures[2].text, at->elevation, style, false);
	set_aim(ed, &figures[3]);
	dot = dot_for(figures, 4, rows / 2, half - 2);
	for (int i = 0; i < rows; i++)
		term_text(stdscr, row + i, 0, columns, "");
	for (int i = 0; i < 4; i++)
		put_figure(&figures[i], row + i / 2 * (rows / 2), 1 + i % 2 * half, half - 2, dot);
}
