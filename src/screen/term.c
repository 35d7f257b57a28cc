#include "screen/term.h"
#include "text/wrap.h" /* before <term.h>, which takes short words for itself */

#include <poll.h>
#include <term.h>
#include <stdio.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/select.h>
#include <time.h>
#include <unistd.h>
#include <wchar.h>
#include <wctype.h>

/* Set by the signal handler, the one thing that may be written there. */
static volatile sig_atomic_t asked_to_end;
static bool pasting;

static void on_end(int number)
{
	(void)number;
	asked_to_end = 1;
}

static void define_keys(void)
{
	static const struct {
		const char *sequence;
		int code;
	} keys[] = {
	    /* As terminals send them that do not follow the keypad's mode. */
	    {"\033[A", KEY_UP},
	    {"\033[B", KEY_DOWN},
	    {"\033[C", KEY_RIGHT},
	    {"\033[D", KEY_LEFT},
	    {"\033[H", KEY_HOME},
	    {"\033[F", KEY_END},
	    {"\033[1;5H", TERM_KEY_TOP},
	    {"\033[1;5F", TERM_KEY_BOTTOM},
	    {"\033[200~", TERM_KEY_PASTE_BEGIN},
	    {"\033[201~", TERM_KEY_PASTE_END},
	    {"\033OM", KEY_ENTER},
	    {"\033Ok", TERM_KEY_PLUS},
	    {"\033Om", TERM_KEY_PAD + '-'},
	    {"\033On", TERM_KEY_PAD + '.'},
	    {"\033Ol", TERM_KEY_PAD + '.'},
	    {"\033Oo", TERM_KEY_PAD + '/'},
	    {"\033Op", TERM_KEY_PAD + '0'},
	    {"\033Oq", TERM_KEY_PAD + '1'},
	    {"\033Or", TERM_KEY_PAD + '2'},
	    {"\033Os", TERM_KEY_PAD + '3'},
	    {"\033Ot", TERM_KEY_PAD + '4'},
	    {"\033Ou", TERM_KEY_PAD + '5'},
	    {"\033Ov", TERM_KEY_PAD + '6'},
	    {"\033Ow", TERM_KEY_PAD + '7'},
	    {"\033Ox", TERM_KEY_PAD + '8'},
	    {"\033Oy", TERM_KEY_PAD + '9'},
	};
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		define_key(keys[i].sequence, keys[i].code);
}

static void send(const char *sequence)
{
	/* A terminal that does not know the sequence ignores it. */
	fputs(sequence, stdout);
	fflush(stdout);
}

static bool can_place_cursor(void)
{
	char name[] = "cup";
	const char *sequence = tigetstr(name);
	return sequence && sequence != (const char *)-1;
}

bool term_begin(struct fault *why)
{
	struct sigaction end = {.sa_handler = on_end};
	const char *type = getenv("TERM");

	/* Before ncurses: its own handler would leave without our saving. */
	sigaction(SIGTERM, &end, NULL);
	sigaction(SIGHUP, &end, NULL);
	sigaction(SIGINT, &end, NULL);
	signal(SIGPIPE, SIG_IGN);
	if (!newterm(NULL, stdout, stdin))
		return fault_say(
		    why, FAULT_FILE,
		    "the terminal (TERM=%.40s) is not known here: try TERM=xterm-256color",
		    type ? type : "");
	if (!can_place_cursor()) {
		endwin();
		return fault_say(why, FAULT_FILE,
		                 "the terminal (TERM=%.40s) cannot place its cursor: the editor "
		                 "needs one that can, such as xterm",
		                 type ? type : "");
	}
	raw();
	noecho();
	nonl();
	set_escdelay(100);
	keypad(stdscr, TRUE);
	define_keys();
	send("\033[?2004h");
	return true;
}

void term_end(void)
{
	send("\033[?2004l");
	endwin();
}

long long term_milliseconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (long long)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* When an escape came alone: the last one. */
static long long escaped_at = -1000000;

static struct key as_key(int code, wint_t value)
{
	struct key key = {.kind = KEY_IS_TEXT, .value = value, .pasted = pasting};
	if (code == KEY_CODE_YES && value == KEY_RESIZE) {
		/* Nothing of what stood there holds any more. */
		clearok(stdscr, TRUE);
		key.kind = KEY_IS_RESIZED;
	} else if (code == KEY_CODE_YES && value >= TERM_KEY_PAD) {
		key.value = value - TERM_KEY_PAD;
	} else if (code == KEY_CODE_YES) {
		key.kind = KEY_IS_CODE;
	} else if (!pasting && (value == '\r' || value == '\n')) {
		key = (struct key){.kind = KEY_IS_CODE, .value = KEY_ENTER};
	} else if (!pasting && (value == 127 || value == 8)) {
		key = (struct key){.kind = KEY_IS_CODE, .value = KEY_BACKSPACE};
	} else if (!pasting && value == 27) {
		escaped_at = term_milliseconds();
		key = (struct key){.kind = KEY_IS_CODE, .value = TERM_KEY_ESCAPE};
	}
	return key;
}

/* Waits for a byte, below 0 until one comes; false when none came in time. A signal that the mask
 * lets through ends the wait early. */
static bool wait_for_byte(int milliseconds, const sigset_t *mask, bool *gone)
{
	struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
	struct timespec most = {.tv_sec = milliseconds / 1000,
	                        .tv_nsec = milliseconds % 1000 * 1000000L};
	fd_set bytes;
	int count;
	FD_ZERO(&bytes);
	FD_SET(STDIN_FILENO, &bytes);
	count =
	    pselect(STDIN_FILENO + 1, &bytes, NULL, NULL, milliseconds < 0 ? NULL : &most, mask);
	*gone = count > 0 && poll(&input, 1, 0) > 0 && !(input.revents & POLLIN);
	return count != 0;
}

/* How long after an escape its tail may come, over a line that lags. */
#define TAIL_MS 500

/* An O may be typed by hand just behind Esc, as in OAK: then what follows does not come with it. */
static bool is_pair(WINDOW *pad)
{
	wint_t value;
	int code = wget_wch(pad, &value);
	if (code == OK && iswalpha(value))
		return true;
	if (code == OK)
		unget_wch((wchar_t)value);
	else if (code == KEY_CODE_YES)
		ungetch((int)value);
	return false;
}

/* The tail of a key whose escape came alone, and was taken for Esc: "[18~" must not be typed. */
static bool late_tail(WINDOW *pad, long long escaped, wint_t value, const sigset_t *mask)
{
	bool gone;
	int code;
	if (term_milliseconds() - escaped > TAIL_MS)
		return false;
	if (value != '[')
		return value == 'O' && is_pair(pad);
	do {
		code = wget_wch(pad, &value);
		if (code == ERR && !wait_for_byte(TAIL_MS, mask, &gone))
			break;
	} while (code == ERR || (code == OK && value < 0x40));
	return true;
}

/* An escape with more behind it at once is a key that nobody named: all of it is thrown away, lest
 * its tail be typed into a field. Returns whether it was one. */
static bool unnamed_key(WINDOW *pad)
{
	wint_t value;
	int code = wget_wch(pad, &value);
	if (code == ERR)
		return false;
	/* A key with a name, another size of the window, or a key such as Enter or a Ctrl letter,
	 * which no sequence has behind its escape, is something else and comes next. */
	if (code == KEY_CODE_YES || (value < ' ' && value != 27)) {
		if (code == KEY_CODE_YES)
			ungetch((int)value);
		else
			unget_wch((wchar_t)value);
		return false;
	}
	if (value == '[' || value == 'O')
		while (wget_wch(pad, &value) == OK && value < 0x40)
			continue;
	return true;
}

/* In a window that shows nothing no key is taken, but the one that leaves. */
static bool may_be_taken(int code, wint_t value)
{
	if (!term_too_small() || (code == KEY_CODE_YES && value == KEY_RESIZE))
		return true;
	if (code == KEY_CODE_YES ? value == KEY_F(10) : value == TERM_CTRL('q'))
		asked_to_end = 1;
	return false;
}

static struct key next_key(WINDOW *pad, int milliseconds, const sigset_t *mask)
{
	keypad(pad, TRUE);
	nodelay(pad, TRUE);
	for (int empty = 0;;) {
		wint_t value = 0;
		bool gone = false;
		int code;
		if (asked_to_end)
			return (struct key){.kind = KEY_IS_GONE};
		code = wget_wch(pad, &value);
		if (code == KEY_CODE_YES &&
		    (value == TERM_KEY_PASTE_BEGIN || value == TERM_KEY_PASTE_END)) {
			pasting = value == TERM_KEY_PASTE_BEGIN;
			continue;
		}
		if (code == OK && value == 27 && !pasting && unnamed_key(pad))
			continue;
		if (code == OK && !pasting && late_tail(pad, escaped_at, value, mask))
			continue;
		if (code != ERR && may_be_taken(code, value))
			return as_key(code, value);
		if (code != ERR)
			continue;
		if (!wait_for_byte(milliseconds, mask, &gone))
			return (struct key){.kind = KEY_IS_IDLE};
		/* Readable, yet nothing comes: the terminal is gone. */
		empty = asked_to_end ? 0 : empty + 1;
		if (gone || empty > 1000)
			return (struct key){.kind = KEY_IS_GONE};
	}
}

struct key term_key(WINDOW *pad, int milliseconds)
{
	static const int seen[] = {SIGTERM, SIGHUP, SIGINT, SIGWINCH};
	sigset_t held, before;
	struct key key;
	/* A signal that comes between the look at its flag and the wait must end the wait. */
	sigemptyset(&held);
	for (size_t i = 0; i < sizeof seen / sizeof *seen; i++)
		sigaddset(&held, seen[i]);
	sigprocmask(SIG_BLOCK, &held, &before);
	key = next_key(pad, milliseconds, &before);
	sigprocmask(SIG_SETMASK, &before, NULL);
	return key;
}

bool term_is_control(const struct key *key, char letter)
{
	return key->kind == KEY_IS_TEXT && !key->pasted && key->value == TERM_CTRL(letter);
}

bool term_turns_back(const struct key *key)
{
	if (key->kind == KEY_IS_CODE)
		return key->value == TERM_KEY_ESCAPE || key->value == KEY_F(10);
	return key->kind == KEY_IS_GONE || term_is_control(key, 'q');
}

bool term_asks_help(const struct key *key)
{
	return (key->kind == KEY_IS_CODE && key->value == KEY_F(1)) || term_is_control(key, 'g');
}

bool term_too_small(void)
{
	return COLS < TERM_LEAST_COLUMNS || LINES < TERM_LEAST_ROWS;
}

static void paint_too_small(void)
{
	werase(stdscr);
	mvwprintw(stdscr, 0, 0, "This window is %d x %d:", COLS, LINES);
	mvwprintw(stdscr, 1, 0, "rodbook needs %d x %d.", TERM_LEAST_COLUMNS, TERM_LEAST_ROWS);
	mvwaddstr(stdscr, 2, 0, "Make it larger;");
	mvwaddstr(stdscr, 3, 0, "what you typed is kept.");
	mvwaddstr(stdscr, 4, 0, "F10 or Ctrl-Q leaves.");
	wnoutrefresh(stdscr);
	doupdate();
}

bool term_begin_page(const char *title)
{
	char bar[1100];
	if (term_too_small()) {
		paint_too_small();
		return false;
	}
	werase(stdscr);
	snprintf(bar, sizeof bar, " %s", title);
	term_bar(0, A_REVERSE, bar);
	return true;
}

/* The bytes of the first character and the cells that it takes; 0 where there is none to show. */
static size_t first_character(const char *text, int *cells)
{
	mbstate_t state = {0};
	wchar_t wide = 0;
	size_t left = strlen(text), size = mbrtowc(&wide, text, left, &state);
	*cells = size && size <= left ? wcwidth(wide) : -1;
	return *cells < 0 ? 0 : size;
}

int term_text(WINDOW *window, int row, int column, int width, const char *text)
{
	int used = 0, last = 0, end, cells;
	bool cut;
	size_t size;
	if (wmove(window, row, column) == ERR)
		return 0;
	/* Nothing runs on into the next row. */
	if (width > getmaxx(window) - column)
		width = getmaxx(window) - column;
	while ((size = first_character(text, &cells)) > 0 && used + cells <= width) {
		waddnstr(window, text, (int)size);
		text += size;
		last = cells ? used : last;
		used += cells;
	}
	cut = size > 0;
	/* Half of a wide character below the ~ would push what follows it to the right. */
	end = cut && used == width ? last : used;
	wmove(window, row, column + end);
	for (int i = end; i < width; i++)
		waddch(window, ' ');
	if (cut && width > 0)
		mvwaddch(window, row, column + width - 1, '~');
	return used;
}

void term_bar(int row, attr_t attribute, const char *text)
{
	wattrset(stdscr, (int)attribute);
	term_text(stdscr, row, 0, COLS, text);
	wattrset(stdscr, A_NORMAL);
}

size_t term_fitting(const char *text, int width)
{
	size_t at = 0, cut = 0;
	int used = 0;
	while (text[at] && text[at] != '\n') {
		int cells;
		size_t size = first_character(text + at, &cells);
		used += size ? cells : 1;
		if (used > width && at > 0)
			return cut ? cut : at;
		if (text[at] == ' ' && wrap_breaks(text, at))
			cut = at;
		at += size ? size : 1;
	}
	return at;
}

void term_message(int row, int rows, attr_t attribute, const char *text)
{
	char part[512];
	for (int i = 0; i < rows && (*text || i == 0); i++) {
		size_t size = term_fitting(text, COLS);
		snprintf(part, sizeof part, "%.*s", (int)size, text);
		term_bar(row + i, attribute, part);
		text += size;
		while (*text == ' ')
			text++;
	}
}
