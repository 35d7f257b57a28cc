/* A text over the whole screen, to scroll in. */
#include <string.h>

#include "screen/view/views.h"

/* What is broken off a line stands this much deeper than it. */
#define DEEPER 4

static int indent_of(const char *whole, const char *at)
{
	const char *line = at;
	int indent;
	while (line > whole && line[-1] != '\n')
		line--;
	indent = (int)strspn(line, " ") + DEEPER;
	return line == at ? 0 : indent < COLS / 2 ? indent : COLS / 2;
}

/* Where the line number `line` behind `at` begins, broken to the window's width; NULL beyond the
 * end. */
static const char *line_at(const char *whole, const char *at, int line)
{
	for (; line > 0 && *at; line--) {
		at += term_fitting(at, COLS - 2 - indent_of(whole, at));
		while (*at == ' ')
			at++;
		at += *at == '\n';
	}
	return *at ? at : NULL;
}

/* How many lines begin before `end`; NULL: all. */
static int count_lines(const char *text, const char *end)
{
	int count = 0;
	for (const char *at = text; at && *at && (!end || at < end); at = line_at(text, at, 1))
		count++;
	return count;
}

static void paint(const char *title, const char *text, int top, const char *chosen, const char *bar)
{
	const char *at = line_at(text, text, top);
	char part[1024];
	if (!term_begin_page(title))
		return;
	for (int row = 1; row < LINES - 1 && at; row++) {
		int indent = indent_of(text, at);
		snprintf(part, sizeof part, "%*s%.*s", indent, "",
		         (int)term_fitting(at, COLS - 2 - indent), at);
		term_text(stdscr, row, 1, COLS - 2, part);
		if (at == chosen) {
			mvwaddch(stdscr, row, 0, '>');
			mvwchgat(stdscr, row, 0, COLS, A_REVERSE, 0, NULL);
		}
		at = line_at(text, at, 1);
	}
	term_bar(LINES - 1, A_NORMAL, bar);
	wnoutrefresh(stdscr);
	doupdate();
}

static int show(const char *title, const char *text, bool letters)
{
	int top = 0, letter = 0;
	/* Memory was short where there is none. */
	if (!text)
		text = "out of memory";
	curs_set(0);
	for (;;) {
		struct key key;
		int most = count_lines(text, NULL) - (LINES - 2);
		if (top > most)
			top = most;
		if (top < 0)
			top = 0;
		paint(title, text, top, NULL, " Up Down PgUp PgDn scroll  Esc or Enter back");
		key = term_key(stdscr, -1);
		if (term_turns_back(&key) || term_asks_help(&key))
			break;
		if (letters && key.kind == KEY_IS_TEXT && !key.pasted &&
		    ((key.value >= 'a' && key.value <= 'z') || key.value == '/')) {
			letter = (int)key.value;
			break;
		}
		if (key.kind != KEY_IS_CODE)
			continue;
		if (key.value == KEY_ENTER)
			break;
		top += key.value == KEY_UP      ? -1
		       : key.value == KEY_DOWN  ? 1
		       : key.value == KEY_PPAGE ? -(LINES - 3)
		       : key.value == KEY_NPAGE ? LINES - 3
		                                : 0;
	}
	curs_set(1);
	return letter;
}

void view_text(const char *title, const char *text)
{
	show(title, text, false);
}

int view_lettered(const char *title, const char *text)
{
	return show(title, text, true);
}

/* Scrolls as little as brings the chosen line, and the one that belongs to it, into view. */
static int top_for(const char *text, const char *chosen, int top)
{
	int line = count_lines(text, chosen), room = LINES - 2;
	if (line < top)
		return line;
	return line + 2 > top + room ? line + 2 - room : top;
}

static const char choose_bar[] =
    " Up Down choose  Enter go to that row  PgUp PgDn scroll  Esc back\n"
    "  Up Down        choose one of the entries, which stand likeliest first\n"
    "  Enter          goes to its row on the page; nothing is changed by that\n"
    "  Esc            turns back\n"
    "Booked is what the page has; likely is what the slip would have turned into it;\n"
    "leaves is the misclosure that would remain. Read again on the rod before you\n"
    "change anything.";

bool view_choose(const char *title, const char *text, const long *row, size_t count, size_t *at)
{
	int top = 0;
	bool chosen = false;
	curs_set(0);
	for (;;) {
		struct key key;
		int most = count_lines(text, NULL) - (LINES - 2);
		top = top > most ? most : top;
		top = top < 0 ? 0 : top;
		paint(title, text, top, text + row[*at], choose_bar);
		key = term_key(stdscr, -1);
		if (term_turns_back(&key))
			break;
		if (term_asks_help(&key)) {
			view_hints(title, &(struct hints){"", "", NULL, choose_bar, ""});
			curs_set(0);
			continue;
		}
		if (key.kind == KEY_IS_RESIZED)
			top = top_for(text, text + row[*at], top);
		if (key.kind != KEY_IS_CODE)
			continue;
		chosen = key.value == KEY_ENTER;
		if (chosen)
			break;
		if ((key.value == KEY_UP && *at > 0) || (key.value == KEY_DOWN && *at + 1 < count))
			*at += key.value == KEY_UP ? (size_t)-1 : 1;
		if (key.value == KEY_UP || key.value == KEY_DOWN)
			top = top_for(text, text + row[*at], top);
		top += key.value == KEY_PPAGE   ? -(LINES - 3)
		       : key.value == KEY_NPAGE ? LINES - 3
		                                : 0;
	}
	curs_set(1);
	return chosen;
}
