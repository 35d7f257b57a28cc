#include "screen/look.h"

#include <stdbool.h>
#include <stdlib.h>

/* Whether pairs of colors are set; curses keeps the pairs themselves. */
static bool colored;

static bool may_color(void)
{
	const char *none = getenv("NO_COLOR");
	return (!none || !*none) && has_colors();
}

static void set_pairs(bool sun)
{
	static const short pairs[LOOKS][2] = {
	    [LOOK_GOOD] = {COLOR_GREEN, -1},
	    [LOOK_BAD] = {COLOR_WHITE, COLOR_RED},
	    [LOOK_ASKS] = {COLOR_BLACK, COLOR_YELLOW},
	    [LOOK_MODE] = {COLOR_BLACK, COLOR_CYAN},
	};
	start_color();
	if (sun)
		assume_default_colors(COLOR_BLACK, COLOR_WHITE);
	else
		use_default_colors();
	for (int i = LOOK_GOOD; i < LOOKS; i++)
		init_pair((short)i, pairs[i][0], pairs[i][1]);
}

void look_use(enum book_look look)
{
	bool was = colored;
	colored = look != BOOK_LOOK_PLAIN && may_color();
	if (colored)
		set_pairs(look == BOOK_LOOK_SUN);
	else if (was)
		use_default_colors();
	wbkgdset(stdscr, look == BOOK_LOOK_SUN ? A_BOLD | ' ' : ' ');
}

attr_t look_of(enum look look)
{
	switch (look) {
	case LOOK_PLAIN:
		return A_NORMAL;
	case LOOK_STRONG:
		return A_BOLD;
	case LOOK_GOOD:
		return colored ? A_BOLD | (attr_t)COLOR_PAIR(look) : A_BOLD;
	case LOOK_BAD:
		return A_BOLD | (colored ? (attr_t)COLOR_PAIR(look) : A_REVERSE);
	default:
		return colored ? (attr_t)COLOR_PAIR(look) : A_REVERSE;
	}
}

short look_pair(enum look look)
{
	return colored && look >= LOOK_GOOD ? (short)look : 0;
}
