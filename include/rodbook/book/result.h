/* Results of adjustments, kept in the book beside the readings and never over them. */
#ifndef RODBOOK_BOOK_RESULT_H
#define RODBOOK_BOOK_RESULT_H

#include "rodbook/book/book.h"

#define BOOK_SUBJECT_BYTES 4001
#define BOOK_RESULT_BYTES 800000 /* of the figures, at most */
#define BOOK_ALL_RUNS "all runs"

struct book_result {
	int64_t id;
	bool net; /* else of one run */
	/* The name of the run; of a net the names of its runs, each ended by a line feed, or
	 * BOOK_ALL_RUNS, all that were no crossings. */
	char subject[BOOK_SUBJECT_BYTES];
	char time[BOOK_TIME_BYTES];
	int64_t seq;  /* the journal's last entry before it was computed */
	bool changed; /* since then something changed that it hangs on: its runs and their sights
	                 and air, a mark, a setting, an instrument, a rod or a plan */
};

/* The journal's last entry; 0 in an empty one. */
bool book_last_entry(struct book *book, int64_t *seq, struct fault *why);
/* Keeps a result: lines of text that were computed when `seq` was the journal's last entry. */
bool book_result_keep(struct book *book, bool net, const char *subject, const char *figures,
                      int64_t seq, int64_t *id, struct fault *why);
/* All that are kept, the newest first; free(*list). */
bool book_results(struct book *book, struct book_result **list, size_t *count, struct fault *why);
/* One of them, and its lines; free(*figures). FAULT_INPUT where there is no such number. */
bool book_result_find(struct book *book, int64_t id, struct book_result *out, char **figures,
                      struct fault *why);

#endif
