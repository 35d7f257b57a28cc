/* Set-outs: the elevation that a station of a run is to have, kept beside what its sight found. */
#ifndef RODBOOK_BOOK_SETOUT_H
#define RODBOOK_BOOK_SETOUT_H

#include "rodbook/book/book.h"

struct book_setout {
	int64_t id;
	char station[LEVEL_STATION_BYTES];
	enum level_unit unit;
	char typed[BOOK_TYPED_BYTES];
	level_nm wanted; /* elevation */
	char time[BOOK_TIME_BYTES];
	char struck[BOOK_TIME_BYTES], why[LEVEL_REMARK_BYTES];
};

/* Those of a run in the order in which they were kept, struck ones too; free(*list). */
bool book_setouts(struct book *book, int64_t run, struct book_setout **list, size_t *count,
                  struct fault *why);
/* Keeps the elevation that a station of the run is set out at; a bare number is in the book's unit.
 * Another elevation of that station is struck; the same one is not kept twice. FAULT_INPUT where
 * the run is closed. */
bool book_setout_set(struct book *book, int64_t run, const char *station, const char *typed,
                     struct fault *why);
/* Strikes a set-out, which needs a reason. */
bool book_setout_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                        struct fault *why);
/* Strikes the one that counts at a station of the run. FAULT_INPUT where there is none. */
bool book_setout_strike_at(struct book *book, int64_t run, const char *station, const char *reason,
                           struct fault *why);

#endif
