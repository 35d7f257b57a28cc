/* A text over the whole screen, to scroll in. */
#include <string.h>

#include "screen/views.h"

/* Where line number `line` of the text begins, broken to the window's width; NULL beyond the end.
 */
static const char *line_at(const char *text, int line)
{
	for (; line > 0 && *text; line--) {
		text += term_fitting(text, COLS - 2);
		while (*text == ' ')
			text++;
		text += *text == '\n';
	}
	return *text ? text : NULL;
}

static int count_lines(const char *text)
{
	int count = 0;
	for (; text && *text; text = line_at(text, 1))
		count++;
	return count;
}

static void paint(const char *title, const char *text, int top)
{
	const char *at = line_at(text, top);
	char part[1024];
	if (!term_begin_page(title))
		return;
	for (int row = 1; row < LINES - 1 && at; row++) {
		snprintf(part, sizeof part, "%.*s", (int)term_fitting(at, COLS - 2), at);
		term_text(stdscr, row, 1, COLS - 2, part);
		at = line_at(at, 1);
	}
	term_bar(LINES - 1, A_NORMAL, " Up Down PgUp PgDn scroll  Esc or Enter back");
	wnoutrefresh(stdscr);
	doupdate();
}

void view_text(const char *title, const char *text)
{
	int top = 0;
	curs_set(0);
	for (;;) {
		struct key key;
		int most = count_lines(text) - (LINES - 2);
		if (top > most)
			top = most;
		if (top < 0)
			top = 0;
		paint(title, text, top);
		key = term_key(stdscr, -1);
		if (key.kind == KEY_IS_RESIZED)
			clearok(stdscr, TRUE);
		if (key.kind == KEY_IS_GONE ||
		    (key.kind == KEY_IS_TEXT && key.value == TERM_CTRL('q')))
			break;
		if (key.kind != KEY_IS_CODE)
			continue;
		if (key.value == TERM_KEY_ESCAPE || key.value == KEY_ENTER ||
		    key.value == KEY_F(1) || key.value == KEY_F(10))
			break;
		top += key.value == KEY_UP      ? -1
		       : key.value == KEY_DOWN  ? 1
		       : key.value == KEY_PPAGE ? -(LINES - 3)
		       : key.value == KEY_NPAGE ? LINES - 3
		                                : 0;
	}
	curs_set(1);
}
