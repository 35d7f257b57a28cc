/* Sights of all runs of a book, found by their station or by a word of their remark. */
#ifndef RODBOOK_WORK_FIND_H
#define RODBOOK_WORK_FIND_H

#include "rodbook/book/book.h"

enum work_state {
	WORK_COUNTS,
	WORK_CHANGED, /* struck, and another sight stands for it */
	WORK_STRUCK,
};

struct work_found {
	int64_t run_id, sight; /* the book's numbers */
	char run[LEVEL_NAME_BYTES];
	size_t row; /* of its run, from 0, struck ones counted too */
	int setup;  /* from 1; 0: in none, as a struck sight or an offset */
	enum level_kind kind;
	enum work_state state;
	char station[LEVEL_STATION_BYTES], remark[LEVEL_REMARK_BYTES];
};

struct work_finds {
	size_t count;
	struct work_found *find;
	size_t left;       /* found too, and left out for there were more than asked for */
	size_t unreadable; /* runs that could not be looked through */
};

/* The sights whose station or remark holds the text, as level_holds_text() says, struck ones too,
 * `most` of them at most; runs in the order in which they were begun, rows in theirs. Blanks at the
 * ends of the text do not count. FAULT_INPUT names "text". Free with work_finds_free(), also after
 * a fault. */
bool work_find(struct book *book, const char *text, size_t most, struct work_finds *out,
               struct fault *why);
void work_finds_free(struct work_finds *finds);

#endif
