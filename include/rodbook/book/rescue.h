/* Bringing out of a damaged book what can be read. */
#ifndef RODBOOK_BOOK_RESCUE_H
#define RODBOOK_BOOK_RESCUE_H

#include "rodbook/book/book.h"

struct book_rescued {
	int64_t entries, last; /* of the journal: how many were read; the highest seq of them */
	bool whole;    /* the new book has the journal of the old one, and all that it says */
	bool certain;  /* SQLite read that journal to its end: no entry came after the last */
	size_t differ; /* rows of which table and journal say something else: the journal counts in
	                  a book that is whole, else the table */
	size_t rows, lost; /* in the new book; left out */
};

/* Hears of each row that was left out, or of which table and journal say something else: what it
 * is, and why. Both are clean. */
typedef void book_rescue_teller(const char *what, const char *why, void *context);

/* Makes a new book at `path` of what can be read in the file `broken`, which is not written to:
 * first of its journal, also where SQLite cannot open the file, else of its tables. Where the
 * journal is whole the new book is the old one, entry for entry. Else its rows are taken as an
 * import takes them, and what cannot stand in a book is left out, and told. Never over a file that
 * is there. False where nothing was made: FAULT_FILE. */
bool book_rescue(const char *broken, const char *path, book_clock *clock, book_rescue_teller *tell,
                 void *context, struct book_rescued *out, struct fault *why);

#endif
