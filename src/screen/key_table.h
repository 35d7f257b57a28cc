/* The actions of the editor: one table of what its keys do, which the loop, the bar and the help
 * page read. The keys of the form (Enter, +, Ctrl-B, Tab ...) and those that go to a row are not in
 * it. */
#ifndef SCREEN_KEY_TABLE_H
#define SCREEN_KEY_TABLE_H

#include "screen/term.h"

struct editor;

/* What the form is on, which says what is useful now. */
enum bar {
	BAR_NEW,    /* a sight to come */
	BAR_ROW,    /* a booked sight, or a forgotten one to be put in */
	BAR_CLOSED, /* a run that is only looked at */
};

/* Where the help page lists an action, in the order of the page. */
enum help_section { HELP_TYPING, HELP_PAGE, HELP_BOOK, HELP_SECTIONS };

/* Each holds what the one before it asks for, and more. */
enum action_allowed {
	ALLOWED_ALWAYS,
	ALLOWED_OPEN,    /* while the run is not closed: it changes the run */
	ALLOWED_COUNTED, /* and while the form is not on a struck sight */
};

struct action {
	int function;    /* the number of its function key; 0: it has none */
	char letter;     /* with Ctrl its second way, for a keyboard without function keys; on the
	                    help page it acts without Ctrl */
	char menu;       /* instead of `letter`: its key on the help page only; 0: it has none */
	char also;       /* another letter that bar and help leave out; 0: none */
	const char *bar; /* its word in the bar; NULL: not there */
	unsigned on;     /* the bars that have it, as bits 1 << enum bar */
	const char *help[HELP_SECTIONS]; /* what it does; NULL: not in that section */
	enum action_allowed allowed;
	bool view; /* over the whole screen: the draft is saved before, the book read after */
	void (*act)(struct editor *ed);
};

/* The actions in the order in which a section of the help page lists them; NULL behind the last. */
const struct action *keys_action(size_t i);
/* The action of this key; NULL where it has none. */
const struct action *keys_find(const struct key *key);
/* The action of this letter on the help page; NULL where it has none. */
const struct action *keys_lettered(int letter);
/* The action, with what belongs around a view. Whether it is allowed is asked before. */
void keys_act(struct editor *ed, const struct action *action);
/* The action's keys, its first one in front: "F6  Ctrl-N", "Ctrl-A", "F5  b": b on this page. */
#define KEYS_NAME_BYTES 24
void keys_name(const struct action *action, char text[KEYS_NAME_BYTES]);
/* A row of the bar, which is two of them: 0 the upper, 1 the lower. Both ways of each key: F6/^N is
 * F6 or Ctrl-N. */
#define KEYS_BAR_BYTES 256
void keys_bar(enum bar bar, int row, char text[KEYS_BAR_BYTES]);

#endif
