/* Painting the editor: title, panes, form, messages and keys. */
#include <stdlib.h>
#include <string.h>
#include "rodbook/level/set.h"
#include "screen/editor.h"
#include "screen/key_table.h"

/* From this width on the live pane stands beside the page. */
#define WIDE_COLUMNS 122
#define WIDE_ROWS 32
/* Where the window is tall, the form stands right below the rows: one place for the eyes. */
#define TALL_ROWS 32
/* Rows that a message takes at most. */
#define MESSAGE_ROWS 3

static void title_of(const struct editor *ed, char *text, size_t size)
{
	const char *level = ed->slot[ed->target != TARGET_NEW].instrument;
	snprintf(text, size, "run %s, %s, in %s%s%s%s%s    %s", ed->run.info.name,
	         level_run_kind_name(ed->run.info.kind), level_unit_words(ed->settings.style.unit),
	         *level ? ", by " : "", level, ed->run.info.closed ? "  CLOSED" : "",
	         book_read_only(ed->book) ? "  READ-ONLY" : "", ed->settings.title);
}

/* The two half intervals of three wires, which should agree. */
static void half_intervals(const struct editor *ed, char *text, size_t size)
{
	const struct level_sight *sight = &ed->work.sight[ed->at];
	char upper[LEVEL_LENGTH_BYTES], lower[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	if (!sight->wires || sight->state == LEVEL_BLANK)
		return;
	snprintf(
	    text, size, "-- half intervals %s and %s ",
	    level_format_length(upper, sight->upper - sight->middle, &ed->settings.style, false),
	    level_format_length(lower, sight->middle - sight->lower, &ed->settings.style, false));
}

/* Mean, spread and the reading farthest out of a set. */
static void set_text(const struct editor *ed, char *text, size_t size)
{
	const struct level_style *style = &ed->settings.style;
	const struct book_draft *draft = &ed->slot[ed->target != TARGET_NEW];
	struct level_style finer = *style;
	struct level_set set;
	char mean[LEVEL_LENGTH_BYTES], sd[LEVEL_LENGTH_BYTES], far[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	if (draft->wires || !level_is_set(draft->reading) ||
	    !level_parse_set(draft->reading, style->unit, &set, NULL) || set.count < 2)
		return;
	if (finer.decimals < 6)
		finer.decimals++;
	snprintf(text, size, "-- %d: mean %s, sd %s, farthest %s ", set.count,
	         level_format_length(mean, set.mean, &finer, false),
	         level_format_length(sd, level_from_meters(set.sd), &finer, false),
	         level_format_length(far, set.reading[set.farthest], style, false));
}

/* How far the rises of the standings are apart that end at the form's row. */
static void standings_text(const struct editor *ed, char *text, size_t size)
{
	const struct level_row *row = &ed->page.row[ed->at];
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES];
	text[0] = '\0';
	if (ed->work.sight[ed->at].kind != LEVEL_FS || !row->setup || row->line.standings < 2)
		return;
	snprintf(text, size, "-- rises of %d standings differ by %s, %s is allowed ",
	         row->line.standings,
	         level_format_length(a, row->line.differ, &ed->settings.style, false),
	         level_format_length(b, level_from_meters(ed->settings.tolerance.standings),
	                             &ed->settings.style, false));
}

/* When the sight was observed, where that is not now. */
static void observed_text(const struct editor *ed, char *text, size_t size)
{
	const char *time = ed->slot[ed->target != TARGET_NEW].time;
	text[0] = '\0';
	if (!*time || (ed->target == TARGET_CHANGE && !*ed->run.note[ed->at].booked &&
	               strcmp(time, ed->run.note[ed->at].time) == 0))
		return;
	snprintf(text, size, "-- observed %.16s ", time);
}

static void paint_rule(const struct editor *ed, int row, int columns)
{
	char text[LEVEL_STATION_BYTES + 80], halves[2 * LEVEL_LENGTH_BYTES + 40];
	int used;
	if (ed->run.info.closed)
		snprintf(text, sizeof text, "-- CLOSED: look only; F2, c reopens the run ");
	else if (ed->target == TARGET_NEW)
		snprintf(text, sizeof text, "-- new sight%s%s ",
		         ed->slot[0].again ? ", second standing" : "",
		         ed->series && strcmp(ed->slot[0].kind, "IS") == 0 ? ", a series of IS"
		                                                           : "");
	else if (ed->target == TARGET_INSERT)
		snprintf(text, sizeof text, "-- insert a sight ");
	else if (level_counted(&ed->run.run.sight[ed->at]))
		snprintf(text, sizeof text, "-- change %s on %s ",
		         level_kind_name(ed->run.run.sight[ed->at].kind),
		         ed->run.run.sight[ed->at].station);
	else
		snprintf(text, sizeof text, "-- struck: look only ");
	half_intervals(ed, halves, sizeof halves);
	used = term_text(stdscr, row, 0, columns, text);
	if (ed->run.info.closed || ed->target != TARGET_NEW)
		mvwchgat(stdscr, row, 0, used, look_of(LOOK_MODE), look_pair(LOOK_MODE), NULL);
	used += term_text(stdscr, row, used, columns - used, halves);
	set_out_text(ed, halves, sizeof halves);
	used += term_text(stdscr, row, used, columns - used, halves);
	standings_text(ed, halves, sizeof halves);
	used += term_text(stdscr, row, used, columns - used, halves);
	set_text(ed, halves, sizeof halves);
	used += term_text(stdscr, row, used, columns - used, halves);
	observed_text(ed, halves, sizeof halves);
	used += term_text(stdscr, row, used, columns - used, halves);
	for (int x = used; x < columns; x++)
		mvwaddch(stdscr, row, x, '-');
	if (ed->work.kind != LEVEL_CROSSING)
		return;
	drop_seal(ed, halves, sizeof halves);
	if (used + (int)strlen(halves) + 4 < columns) {
		mvwaddch(stdscr, row, columns - 4 - (int)strlen(halves), ' ');
		mvwaddstr(stdscr, row, columns - 3 - (int)strlen(halves), halves);
		mvwaddch(stdscr, row, columns - 3, ' ');
	}
}

static void paint_keys(const struct editor *ed)
{
	char text[KEYS_BAR_BYTES];
	enum bar bar = ed->run.info.closed        ? BAR_CLOSED
	               : ed->target == TARGET_NEW ? BAR_NEW
	                                          : BAR_ROW;
	for (int row = 0; row < 2; row++) {
		keys_bar(bar, row, text);
		term_bar(LINES - 2 + row, A_NORMAL, text);
	}
}

static bool is_blank(int row)
{
	for (int x = 0; x < COLS; x++)
		if ((mvinch(row, x) & A_CHARTEXT) != ' ')
			return false;
	return true;
}

/* A message stands above the keys. One of several rows begins higher, in rows that are blank, and
 * takes the last one of the pane, which says least; what has no room there covers the keys, until
 * the next one is pressed. No row above `least` is taken. */
static void put_message(enum look look, const char *text, int least, bool pane)
{
	int top = LINES - 3, rows = 0;
	for (const char *at = text; *at && rows < MESSAGE_ROWS; rows++) {
		at += term_fitting(at, COLS);
		at += strspn(at, " ");
	}
	for (; rows > 1 && top > least; rows--, top--)
		if (!is_blank(top - 1) && !(pane && top == LINES - 3))
			break;
	term_message(top, MESSAGE_ROWS, look_of(look), text);
}

static void paint_message(const struct editor *ed, int columns, int least, bool pane)
{
	char words[600], brief[LEVEL_REMARK_BYTES], tested[REPORT_TESTED_BYTES];
	if (*ed->message) {
		put_message(ed->message_look, ed->message, least, pane);
		return;
	}
	offers_text(ed, words, sizeof words);
	if (!*words)
		editor_warnings(ed, false, words, sizeof words, brief);
	if (!*words)
		page_whole(ed, columns, words, sizeof words);
	put_message(LOOK_PLAIN,
	            *words ? words : report_tested(tested, &ed->tested, &ed->settings.tolerance),
	            least, pane);
}

static int rows_of_page(const struct editor *ed, int most)
{
	int filled = 2;
	if (LINES < TALL_ROWS || ed->big)
		return most;
	for (size_t i = 0; i < ed->work.count && filled < most; i++)
		filled += editor_shows(ed, i);
	return filled < 12 ? 12 : filled < most ? filled : most;
}

/* The live pane below the form. */
static void paint_below(struct editor *ed, int row)
{
	for (int x = 0; x < COLS; x++)
		mvwaddch(stdscr, row, x, '-');
	if (ed->work.kind == LEVEL_CROSSING)
		drop_pane(ed, row + 1);
	else
		live_pane(ed, row + 1, 0, false);
}

void editor_paint(struct editor *ed)
{
	bool wide = COLS >= WIDE_COLUMNS && LINES >= WIDE_ROWS;
	int below = wide || ed->big ? 0 : 1 + LIVE_ROWS,
	    left = wide ? COLS - LIVE_COLUMNS - 1 : COLS;
	int form_row, rows;
	char title[1024];
	title_of(ed, title, sizeof title);
	if (!term_begin_page(title))
		return;
	/* A tall window has room for a long message below the form. */
	rows = rows_of_page(ed, LINES - 3 - ENTRY_ROWS - below - 2 -
	                            (LINES < TALL_ROWS ? 0 : MESSAGE_ROWS - 1));
	form_row = rows + 2;
	if (ed->big)
		big_pane(ed, 1, rows, left);
	else
		page_pane(ed, 1, rows, left);
	paint_rule(ed, form_row - 1, left);
	if (wide)
		live_pane(ed, 1, COLS - LIVE_COLUMNS, true);
	else if (!ed->big)
		paint_below(ed, form_row + ENTRY_ROWS);
	paint_keys(ed);
	paint_message(ed, left, form_row + ENTRY_ROWS, below > 0);
	wnoutrefresh(stdscr);
	entry_show(ed->entry, form_row);
	doupdate();
}
