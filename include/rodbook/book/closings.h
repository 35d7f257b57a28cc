/* Closing a run: from then on what belongs to it stays as it is, until somebody opens it again and
 * says why. */
#ifndef RODBOOK_BOOK_CLOSINGS_H
#define RODBOOK_BOOK_CLOSINGS_H

#include "rodbook/book/book.h"

/* A run was closed, or opened again. */
struct book_closing {
	int64_t id;
	bool closed;                  /* else reopened */
	char why[LEVEL_REMARK_BYTES]; /* of a reopening, or of closing what is not judged */
	char time[BOOK_TIME_BYTES];
};

/* Each closing and reopening of a run, in order; free(*list). */
bool book_closings(struct book *book, int64_t run, struct book_closing **list, size_t *count,
                   struct fault *why);
/* Closes a run where it can stand (rodbook/ready.h) and no half-typed sight waits; one in which
 * nothing is booked is set aside so, for a reason. FAULT_INPUT
 * says why it cannot, FAULT_STALE where the book has changed since the run was loaded. */
bool book_run_close(struct book *book, const struct book_run *run, const char *reason,
                    struct fault *why);
/* Opens a closed run again, for a reason. */
bool book_run_reopen(struct book *book, int64_t run, const char *reason, struct fault *why);
/* Whether a new sight's draft holds more than what is proposed for the next sight: part of a
 * reading, a distance, a remark. */
bool book_draft_says(const struct book_draft *draft);
/* Whether the draft of a run does, or holds a change that is not booked. */
bool book_draft_waits(struct book *book, int64_t run, bool *waits, struct fault *why);

#endif
