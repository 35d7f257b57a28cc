/* What stands out on the screen, and how: never by color alone. */
#ifndef SCREEN_LOOK_H
#define SCREEN_LOOK_H

#include <ncurses.h>

#include "rodbook/book/book.h"

enum look {
	LOOK_PLAIN,
	LOOK_STRONG, /* the figures looked for first */
	LOOK_GOOD,   /* a verdict that holds */
	LOOK_BAD,    /* one that does not, and a refusal */
	LOOK_ASKS,   /* a question, and what is not settled */
	LOOK_MODE,   /* the form is not on a new sight */
	LOOKS
};

/* Chooses how everything looks from now on. NO_COLOR in the environment, and a terminal without
 * colors, make it plain (no-color.org). */
void look_use(enum book_look look);
attr_t look_of(enum look look);
/* Its pair of colors alone, for mvwchgat(). */
short look_pair(enum look look);

#endif
