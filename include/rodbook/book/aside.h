/* Known marks that do not hold their elevation in a run: set aside for a reason, and held again. A
 * mark that has moved is often the reason for the trip. */
#ifndef RODBOOK_BOOK_ASIDE_H
#define RODBOOK_BOOK_ASIDE_H

#include "rodbook/book/book.h"

struct book_aside {
	int64_t id;
	char mark[LEVEL_STATION_BYTES];
	bool aside; /* else held again */
	char why[LEVEL_REMARK_BYTES];
	char time[BOOK_TIME_BYTES];
};

/* What was set aside and held again in a run, in order; free(*list). */
bool book_asides(struct book *book, int64_t run, struct book_aside **list, size_t *count,
                 struct fault *why);
/* Sets a mark aside in a run, which needs a reason, or holds it again. FAULT_INPUT where the run is
 * closed, where no counted sight of it stands on a known mark of that name, where it is the start
 * of the run, which all its elevations hang on, or where it stands that way already. */
bool book_aside_set(struct book *book, const struct book_run *run, const char *mark, bool aside,
                    const char *reason, struct fault *why);

#endif
