/* What went wrong, as a value: a kind for the caller and a sentence for the user.
 *
 * The sentence says what was wrong and what would be accepted; it never ends a program and is
 * never printed by the library. Functions that can fail return false (or NULL) and fill it in. */
#ifndef RODBOOK_LEVEL_FAULT_H
#define RODBOOK_LEVEL_FAULT_H

#include <stdbool.h>

enum fault_kind {
	FAULT_NONE,
	FAULT_INPUT,   /* a value that the user gave cannot be used */
	FAULT_FILE,    /* a book or another file could not be used */
	FAULT_SPOILED, /* the book can be used, but what was asked for holds what rodbook would not
	                  have written */
	FAULT_STALE,   /* another program changed the book since it was read */
	FAULT_EMPTY, /* what was asked for is in order, but the book has nothing to show for it yet
	              */
};

struct fault {
	enum fault_kind kind;
	char text[640];
	/* The text at fault, where the caller has several: "reading", "distance", ...; else NULL.
	 */
	const char *field;
};

/* Fills *why (which may be NULL) from a printf format and returns false, so that a function can
 * end with `return fault_say(...)`. */
bool fault_say(struct fault *why, enum fault_kind kind, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* fault_say() where memory is short: FAULT_FILE. What was asked for says nothing about the book
 * then.
 */
bool fault_memory(struct fault *why);
/* Names the text at fault in what was said; why may be NULL. Returns false. */
bool fault_at(struct fault *why, const char *field);

#endif
