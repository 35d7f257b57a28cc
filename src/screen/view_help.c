/* The help page: every key, and what to do. */

#include "screen/editor.h"
#include "screen/views.h"

static const char *const lines[] = {
    "TYPING A SIGHT",
    "  Enter          on to the next field; on the last one it books the sight",
    "  +              in a number: book the sight at once",
    "  Ctrl-B         anywhere: book the sight at once",
    "  Tab Shift-Tab  next field, field before",
    "  Home End Left Right Backspace Del   within a field;   Ctrl-U  empties it",
    "  Sight          b, i, f, or blank for the next: BS, IS, FS",
    "  Method         r, t, or blank for the next: rod, tape, target",
    "  Lengths        1.432   1432 mm   4.16 ft   96 1/2\"   8' 0 1/2\"",
    "  After a BS comes the FS; after an FS the BS on that same mark.",
    "  F6  Ctrl-N     makes the new sight an intermediate sight (IS), or back",
    "  F5  Ctrl-W     one reading, or three wires",
    "",
    "THE PAGE",
    "  Up Down PgUp PgDn Ctrl-Home Ctrl-End   go to a row; the form shows it. What",
    "                 you type there changes it, and the old entry stays, struck.",
    "  F6  Ctrl-N     put in a forgotten IS, or in a gap of the line a setup",
    "                 (F6, Shift-Tab, b: a forgotten setup, behind that row)",
    "  F7  Ctrl-D     strike the sight",
    "  F8  Ctrl-E     strike its whole setup",
    "  F9  Ctrl-Z     take back the last change of this run, then the one before",
    "  Ctrl-Y         bring back what was taken back",
    "  Esc            back to the new sight; drops a change that is not booked",
    "  > the current row   x struck: does not count   + typed, counted, not booked",
    "",
    "THE BOOK",
    "  F1  Ctrl-G     this help",
    "  F2  Ctrl-R     runs: open, new, rename, kind",
    "  F3  Ctrl-K     marks with known elevations",
    "  F4  Ctrl-T     settings: unit, decimals, tolerance, instrument, k ...",
    "  F10 Ctrl-Q     leave: what is booked is on disk, what is half typed is kept",
    "",
    "THE LIVE PANE counts what you type before it is booked",
    "  HI             elevation of the line of sight: elevation of the mark + BS",
    "  elevation      HI - IS, HI - FS; corrected: less curvature, refraction",
    "  page check     sum BS - sum FS = last - first elevation, exactly",
    "  imbalance      sum of BS distances - sum of FS distances",
    "  misclosure     computed - known elevation of the end mark, as booked;",
    "                 the corrected one is judged where all distances are known",
    "  visible drop   what unequal sights should show over a level surface",
    "  allowance      everything that could fake a drop, from the settings",
    "  drop margin    the drop less the allowance: below 0, nothing is shown",
    "",
    "CAUTIONS",
    "  Never point the telescope at the sun. Keep metal rods off overhead lines.",
    "  Stop for lightning. Mind traffic, ice and deep water.",
    "  Boundaries, construction and legal levels belong to licensed practice and",
    "  local codes.",
};
#define LINE_COUNT ((int)(sizeof lines / sizeof *lines))

static void paint(int top)
{
	if (!term_begin_page("Help"))
		return;
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
