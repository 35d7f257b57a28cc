/* The page: one row a sight, decimals below each other, the current row plain to see. */
#include <string.h>

#include "rodbook/book/closings.h"
#include "screen/editor.h"

enum { COLUMN_BS, COLUMN_HI, COLUMN_IS, COLUMN_FS, COLUMN_ELEVATION, COLUMN_DISTANCE, NUMBERS };

/* Where the columns stand; width 0: left out. */
struct columns {
	int setup, station, number[NUMBERS], step, tail, distance_tail, remark;
	const struct level_style *style;
};

static int cells_of(level_nm value, const struct level_style *style)
{
	char text[LEVEL_LENGTH_BYTES];
	return (int)strlen(level_format_length(text, value, style, false));
}

/* The widest of a kind of value; the sixty-fourth makes a fraction as long as it can get. */
static int width_of(level_nm most, const struct level_style *style, int least)
{
	bool fraction = style->unit == LEVEL_FTIN || style->unit == LEVEL_IN;
	level_nm part = fraction ? LEVEL_NM_PER_IN - LEVEL_NM_PER_IN / style->fraction : 0;
	level_nm whole = fraction ? most - most % LEVEL_NM_PER_IN : most;
	int width = cells_of(whole + (style->fraction > 1 ? part : 0), style);
	return width > least ? width : least;
}

static struct columns lay_out(const struct editor *ed, int columns)
{
	const struct level_style *style = &ed->settings.style;
	const struct level_extent *extent = level_page_extent(&ed->page);
	const struct level_style own = level_distance_style(style);
	struct columns c = {.setup = 4, .station = 10, .style = style};
	int used, spare;

	/* One more than the setups that there are. */
	for (int most = 1000; most <= level_page_line(&ed->page)->setups_begun + 1; most *= 10)
		c.setup++;

	c.number[COLUMN_BS] = c.number[COLUMN_IS] = c.number[COLUMN_FS] =
	    width_of(extent->reading, style, (style->unit == LEVEL_FTIN ? 12 : 6) - extent->below);
	if (extent->below) {
		c.number[COLUMN_BS] = ++c.number[COLUMN_IS];
		c.number[COLUMN_FS]++;
	}
	c.number[COLUMN_HI] = c.number[COLUMN_ELEVATION] =
	    width_of(extent->height, style, style->unit == LEVEL_FTIN ? 13 : 8) + extent->negative;
	c.number[COLUMN_DISTANCE] = width_of(extent->distance, &own, 7);
	c.tail = style->unit == LEVEL_FT || style->unit == LEVEL_M
	             ? style->decimals + (style->decimals > 0)
	         : style->fraction > 1 ? (style->fraction > 8 ? 6 : 4)
	                               : 0;
	if (style->unit == LEVEL_FTIN)
		c.tail++;
	c.distance_tail = own.unit == style->unit ? c.tail : own.decimals + (own.decimals > 0);
	/* The mean of wires has a decimal more. */
	if (extent->wires && c.tail && style->unit <= LEVEL_FT) {
		c.tail++;
		c.number[COLUMN_BS] = ++c.number[COLUMN_IS];
		c.number[COLUMN_FS]++;
		c.number[COLUMN_HI]++;
		c.number[COLUMN_ELEVATION]++;
		c.distance_tail += own.unit == style->unit;
	}
	for (;;) {
		used = 1 + c.setup + 1 + c.station + 1 + c.step;
		for (int i = 0; i < NUMBERS; i++)
			used += c.number[i] ? c.number[i] + 1 : 0;
		spare = columns - used;
		if (spare >= 6)
			break;
		if (c.setup)
			c.setup = 0;
		else if (c.number[COLUMN_DISTANCE])
			c.number[COLUMN_DISTANCE] = 0;
		else if (c.number[COLUMN_IS] && !extent->intermediate)
			c.number[COLUMN_IS] = 0;
		else if (c.station > 6)
			c.station--;
		else
			break;
	}
	/* Room for "changed 09:30", if the names can spare it. */
	for (; spare >= 6 && spare < 13 && c.station > 8; spare++)
		c.station--;
	if (spare > 34) {
		c.step = c.number[COLUMN_BS] + 2;
		if (c.step <= (int)strlen("rise/fall"))
			c.step = (int)strlen("rise/fall") + 1;
		spare -= c.step;
	}
	while (spare > 24 && c.station < 20) {
		c.station++;
		spare--;
	}
	c.remark = spare > 0 ? spare : 0;
	return c;
}

/* Right-aligned so that decimal points stand below each other. */
static int put_number(int row, int column, int width, int tail, const char *text)
{
	int size = (int)strlen(text), after = *text ? tail - report_tail(text) : 0;
	if (width == 0)
		return column;
	if (after < 0 || size + after > width)
		after = 0;
	term_text(stdscr, row,
	          column + width - size - after > column ? column + width - size - after : column,
	          width, text);
	return column + width + 1;
}

/* "changed 09:30", "taken back 09:30" or "struck 09:30, target slipped": what was done to a row,
 * when and why. */
static void struck_remark(const struct book_run *run, size_t at, char *text, size_t size)
{
	const struct book_kept *note = &run->note[at];
	bool changed = book_is_changed(run, at), back = book_is_taken_back(note->why);
	const char *reason = changed || back ? "" : book_strike_reason(note->why);
	snprintf(text, size, "%s %.5s%s%s%s%s",
	         changed ? "changed"
	         : back  ? "taken back"
	                 : "struck",
	         strlen(note->struck) > 15 ? note->struck + 11 : "", *reason ? ", " : "", reason,
	         *note->remark ? ": " : "", note->remark);
}

/* "target: not booked: by the reeds", of which each part may be missing. A narrow row shows the
 * first one at least, and its + says that it is not booked. */
static void join_remark(const struct level_sight *sight, const struct book_kept *note,
                        const struct level_row *row, char *text, size_t size)
{
	char standing[40], tube[sizeof((struct book_note *)NULL)->ends + 8] = "";
	const char *parts[] = {sight->method == LEVEL_ROD || sight->state == LEVEL_BLANK ? ""
	                       : *note->ends                                             ? tube
	                                     : level_method_name(sight->method),
	                       sight->state == LEVEL_DRAFT ? "not booked" : "", standing,
	                       note->remark};
	size_t used = 0;
	snprintf(tube, sizeof tube, "tube %s", note->ends);
	report_standing(sight, row, standing, sizeof standing);
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
		if (*parts[i] && used < size)
			used += (size_t)snprintf(text + used, size - used, "%s%s", used ? ": " : "",
			                         parts[i]);
}

/* Where struck rows are folded away before row i, how many, as "x2"; else "". */
static void folded_text(const struct editor *ed, size_t i, char *text, size_t size)
{
	size_t count = 0;
	while (count < i && !editor_shows(ed, i - count - 1))
		count++;
	text[0] = '\0';
	if (count)
		snprintf(text, size, "x%zu", count);
}

/* What a row says beside its figures: that it is struck, or not booked, and its remark; and how
 * many are folded away before it. */
static void row_remark(const struct editor *ed, size_t i, char *text, size_t size)
{
	const struct level_sight *sight = &ed->work.sight[i];
	const struct book_kept note = editor_note(ed, i);
	size_t booked = editor_booked(ed, i), used;

	folded_text(ed, i, text, size);
	used = strlen(text);
	if (used)
		text[used++] = ' ';
	text += used;
	size -= used;
	text[0] = '\0';
	if (sight->state == LEVEL_STRUCK && booked < ed->run.run.count)
		struck_remark(&ed->run, booked, text, size);
	else if (i + 1 == ed->work.count && ed->target != TARGET_NEW)
		snprintf(text, size, book_draft_says(&ed->slot[0]) ? "half typed" : "");
	else
		join_remark(sight, &note, &ed->page.row[i], text, size);
	if (used && !*text)
		text[-1] = '\0';
}

static void put_row(const struct editor *ed, size_t i, int row, int columns,
                    const struct columns *c)
{
	const struct level_sight *sight = &ed->work.sight[i];
	const struct book_kept note = editor_note(ed, i);
	struct report_cells cells;
	char remark[LEVEL_REMARK_BYTES * 3];
	bool current = i == ed->at, struck = sight->state == LEVEL_STRUCK;
	int at, from; /* where an offset stands, over the columns of readings */

	report_cells(sight, &note, &ed->page.row[i], &ed->settings.style, &cells);
	row_remark(ed, i, remark, sizeof remark);
	wattrset(stdscr, (int)(sight->state == LEVEL_DRAFT ? A_BOLD : struck ? A_DIM : A_NORMAL));
	term_text(stdscr, row, 0, columns, "");
	at = 1;
	if (c->setup) {
		mvwprintw(stdscr, row, at, "%*s", c->setup, cells.setup);
		at += c->setup;
	}
	at++;
	term_text(stdscr, row, at, c->station, sight->station);
	at += c->station + 1;
	from = at + 2;
	at = put_number(row, at, c->number[COLUMN_BS], c->tail, cells.bs);
	at = put_number(row, at, c->number[COLUMN_HI], c->tail, cells.hi);
	at = put_number(row, at, c->number[COLUMN_IS], c->tail, cells.is);
	at = put_number(row, at, c->number[COLUMN_FS], c->tail, cells.fs);
	if (c->step)
		at = put_number(row, at, c->step - 1, c->tail, cells.step);
	if (*cells.offset)
		term_text(stdscr, row, from, at - from, cells.offset);
	at = put_number(row, at, c->number[COLUMN_ELEVATION], c->tail, cells.elevation);
	at = put_number(row, at, c->number[COLUMN_DISTANCE], c->distance_tail, cells.distance);
	if (c->remark > 0)
		term_text(stdscr, row, at, columns - at, remark);
	mvwaddstr(stdscr, row, 0,
	          sight->state == LEVEL_DRAFT ? "+"
	          : current                   ? ">"
	          : struck                    ? "x"
	                                      : " ");
	if (current)
		mvwchgat(stdscr, row, 0, columns,
		         sight->state == LEVEL_DRAFT ? A_REVERSE | A_BOLD : A_REVERSE, 0, NULL);
	wattrset(stdscr, A_NORMAL);
}

static void put_header(int row, int columns, const struct columns *c)
{
	static const char *const names[] = {"BS", "HI", "IS", "FS", "elevation", "distance"};
	static const char *const brief[] = {"BS", "HI", "IS", "FS", "elev.", "dist."};
	char title[LEVEL_LENGTH_BYTES];
	const char *name;
	int at = 1;
	wattrset(stdscr, A_UNDERLINE);
	term_text(stdscr, row, 0, columns, "");
	if (c->setup) {
		mvwprintw(stdscr, row, at, "%*s", c->setup, "no.");
		at += c->setup;
	}
	at++;
	mvwaddstr(stdscr, row, at, "station");
	at += c->station + 1;
	for (int i = 0; i < NUMBERS; i++) {
		if (i == COLUMN_ELEVATION && c->step) {
			mvwprintw(stdscr, row, at, "%*s", c->step - 1, "rise/fall");
			at += c->step;
		}
		if (!c->number[i])
			continue;
		name = (int)strlen(names[i]) > c->number[i] ? brief[i] : names[i];
		if (i == COLUMN_DISTANCE)
			name = level_distance_title(title, name, c->style);
		mvwprintw(stdscr, row, at, "%*s", c->number[i], name);
		at += c->number[i] + 1;
	}
	if (c->remark > 0)
		term_text(stdscr, row, at, columns - at, "remark");
	wattrset(stdscr, A_NORMAL);
}

void page_pane(struct editor *ed, int row, int rows, int columns)
{
	struct columns c = lay_out(ed, columns);
	size_t shown = (size_t)(rows - 1), least, most, i;

	/* The row in hand is on the page, and no room is left below the last one. */
	least = editor_row_before(ed, ed->at, shown - 1);
	most = editor_row_before(ed, ed->work.count, shown);
	ed->top = ed->top > ed->at ? ed->at : ed->top < least ? least : ed->top;
	ed->top = ed->top > most ? most : ed->top;
	put_header(row, columns, &c);
	for (i = ed->top; shown > 0 && i < ed->work.count; i++)
		if (editor_shows(ed, i)) {
			put_row(ed, i, ++row, columns, &c);
			shown--;
		}
	while (shown-- > 0)
		term_text(stdscr, ++row, 0, columns, "");
}

void page_whole(const struct editor *ed, int columns, char *text, size_t size)
{
	const struct columns c = lay_out(ed, columns);
	const char *station = ed->work.sight[ed->at].station;
	char remark[LEVEL_REMARK_BYTES * 3];
	text[0] = '\0';
	if (ed->target == TARGET_NEW)
		return;
	row_remark(ed, ed->at, remark, sizeof remark);
	if ((int)strlen(station) > c.station || (int)strlen(remark) > c.remark)
		snprintf(text, size, "%s%s%s", station, *remark ? ": " : "", remark);
}
