/* The terminal: keys in, the window's size, and safe leaving. */
#ifndef SCREEN_TERM_H
#define SCREEN_TERM_H

#include <ncurses.h>
#include <stdbool.h>

#include "rodbook/level/fault.h"

/* The smallest window in which everything that matters can be shown. */
#define TERM_LEAST_COLUMNS 80
#define TERM_LEAST_ROWS 20

enum key_kind {
	KEY_IS_TEXT,    /* value is the character */
	KEY_IS_CODE,    /* value is one of curses' KEY_ or of the TERM_KEY_ codes */
	KEY_IS_RESIZED, /* the window has another size: it is to be painted anew */
	KEY_IS_IDLE,    /* nothing was typed for the time asked for */
	KEY_IS_GONE,    /* the terminal hung up, or the program is asked to end */
};

enum {
	TERM_KEY_ESCAPE = 2000,
	TERM_KEY_TOP,
	TERM_KEY_BOTTOM,
	TERM_KEY_PLUS, /* of the number pad */
	TERM_KEY_PASTE_BEGIN,
	TERM_KEY_PASTE_END,
	TERM_KEY_PAD, /* first of the number pad's characters: TERM_KEY_PAD + character */
};

struct key {
	enum key_kind kind;
	wint_t value;
	bool pasted; /* it came with a paste: it is text, whatever it looks like */
};

bool term_begin(struct fault *why);
void term_end(void);
/* The next key, waiting at most so many milliseconds (-1: for ever). pad is where the cursor
 * stands. */
struct key term_key(WINDOW *pad, int milliseconds);
/* Ctrl with a letter, as a key's text. */
#define TERM_CTRL(letter) ((wint_t)(letter)&0x1f)
/* Whether it is Ctrl with that letter, typed and not pasted. */
bool term_is_control(const struct key *key, char letter);
/* Whether it leaves what is only looked at: Escape, F10 or Ctrl-Q, and a terminal that is gone. */
bool term_turns_back(const struct key *key);
/* Whether it asks what can be done: F1 or Ctrl-G. */
bool term_asks_help(const struct key *key);
bool term_too_small(void);
/* Begins a screen: empty, with this title; false while the window is too small, and then a message
 * stands in its place. */
bool term_begin_page(const char *title);

/* Writes text into the window at row and column, at most `width` cells wide, filled with blanks;
 * returns the cells used by the text. The last cell of what is cut off is a ~. */
int term_text(WINDOW *window, int row, int column, int width, const char *text);
/* One line of text in this attribute over the whole width. */
void term_bar(int row, attr_t attribute, const char *text);
/* Text from this row on, broken between words into as many as `rows` rows. Rows that it does not
 * need are left alone. */
void term_message(int row, int rows, attr_t attribute, const char *text);
/* Bytes of text, up to a line end, that fit into so many cells, cut between words where that can
 * be; at least one character. */
size_t term_fitting(const char *text, int width);
/* Milliseconds that only go forward. */
long long term_milliseconds(void);

#endif
