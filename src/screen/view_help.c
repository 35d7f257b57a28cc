/* The help page: every key, and what to do. */
#include <string.h>

#include "screen/editor.h"
#include "screen/views.h"

static const char *const lines[] = {
    "TYPING A SIGHT",
    "  Enter        on to the next field; on the last one it books the sight",
    "  +            in a number: book the sight at once; Ctrl-B does so anywhere",
    "  Tab, Shift-Tab   next field, field before",
    "  Ctrl-U       empty the field          Home End Left Right  within it",
    "  Sight        b, i, f or 1, 2, 3 or blank: BS, IS, FS",
    "  Method       r, t or 1, 2, 3 or blank: rod, tape, target",
    "  Lengths      1.432   1432 mm   4.16 ft   96 1/2\"   8' 0 1/2\"",
    "  After a BS comes the FS; after an FS the BS on that same mark.",
    "  For an intermediate sight type i in the field Sight.",
    "",
    "THE PAGE",
    "  Up, Down, PgUp, PgDn, Ctrl-Home, Ctrl-End   go to a row; the form shows it,",
    "               and what you type there changes it: the old entry stays, struck",
    "  F6  Ctrl-N   insert a forgotten IS below the row, or a setup into a gap",
    "  F7  Ctrl-D   strike the sight        F8  Ctrl-E   strike its whole setup",
    "  F9  Ctrl-Z   take back the last change of this run, and the one before ...",
    "  Esc          back to the new sight; drops a change that is not booked",
    "",
    "THE BOOK",
    "  F1  Ctrl-G   this help               F2  Ctrl-R   runs: open, new, rename, kind",
    "  F3  Ctrl-K   marks and elevations    F4  Ctrl-T   settings",
    "  F5  Ctrl-W   one reading or three wires",
    "  F10 Ctrl-Q   leave: what is booked is on disk, what is half typed comes back",
    "",
    "THE LIVE PANE counts what you type before it is booked.",
    "  HI = elevation + BS; elevation = HI - IS or HI - FS.",
    "  misclosure = computed - known elevation of the end mark.",
    "  corrected: with curvature and refraction taken off; it is the one judged.",
    "  visible drop: what unequal sights should show over a level surface;",
    "  allowance: everything that could fake it; margin: drop less allowance.",
    "",
    "CAUTIONS",
    "  Never point the telescope at the sun. Keep metal rods off overhead lines.",
    "  Stop for lightning. Mind traffic, ice and deep water.",
    "  Boundaries, construction and legal levels belong to licensed practice.",
};
#define LINE_COUNT ((int)(sizeof lines / sizeof *lines))

static void paint(int top)
{
	if (term_too_small()) {
		term_paint_too_small();
		return;
	}
	werase(stdscr);
	term_bar(0, A_REVERSE, " Help");
	for (int i = 0; i < LINES - 2 && top + i < LINE_COUNT; i++)
		term_text(stdscr, 1 + i, 1, COLS - 2, lines[top + i]);
	term_bar(LINES - 1, A_NORMAL, " Up Down PgUp PgDn scroll  Esc or Enter back to the page");
	wnoutrefresh(stdscr);
	doupdate();
}

void view_help(void)
{
	int top = 0;
	curs_set(0);
	for (;;) {
		struct key key;
		int most = LINE_COUNT - (LINES - 2);
		if (top > most)
			top = most;
		if (top < 0)
			top = 0;
		paint(top);
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
