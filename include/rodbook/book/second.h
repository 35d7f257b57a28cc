/* A second copy of a book, elsewhere. */
#ifndef RODBOOK_BOOK_SECOND_H
#define RODBOOK_BOOK_SECOND_H

#include "rodbook/book/files.h"
#include "rodbook/book/journal.h"

struct book_second {
	char path[BOOK_PATH_BYTES];  /* where it stands */
	struct book_witness witness; /* worked out from the copy */
	bool replaced;               /* an earlier state of the book stood there */
};

/* Copies the book whole to `where`, a folder (it keeps its name there) or the name of a new file:
 * made beside its place, put on disk, opened again and its digest held against the book's, and only
 * then moved there. What is there stays as it was, unless it is an earlier state of the same book,
 * whose journal is the beginning of this one's: that is replaced. FAULT_FILE. */
bool book_second_copy(struct book *book, const char *where, struct book_second *out,
                      struct fault *why);

#endif
