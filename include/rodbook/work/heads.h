/* The head of a page: that of its day, or what was written on earlier pages. */
#ifndef RODBOOK_WORK_HEADS_H
#define RODBOOK_WORK_HEADS_H

#include "rodbook/book/head.h"

/* The head of a run's page of a day. */
struct work_head {
	char day[BOOK_DAY_BYTES];
	bool
	    stands; /* it was booked so: no text is carried over, and an empty one was left empty */
	char text[BOOK_HEAD_TEXTS][LEVEL_REMARK_BYTES];
	bool carried[BOOK_HEAD_TEXTS]; /* the text is from another page */
};

/* Where none was booked for that day each text comes from the first of these that has it: the run's
 * last head before that day (not the weather); the last head of that day in another run (not the
 * purpose); the last one before it in another run (party, instrument, rods and datum only). list:
 * those that stand, as book_heads_standing() gives them. */
struct work_head work_head_of(const struct book_head *list, size_t count, int64_t run,
                              const char *day);
/* The same, out of the book. */
bool work_head(struct book *book, int64_t run, const char *day, struct work_head *out,
               struct fault *why);
/* Whether it says anything. */
bool work_head_says(const struct work_head *head);
/* Books a head as it is shown, its carried texts too. */
bool work_head_set(struct book *book, int64_t run, const struct work_head *head, struct fault *why);

#endif
