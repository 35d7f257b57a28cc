/* What comes into a book from elsewhere. */
#ifndef RODBOOK_WORK_COPY_H
#define RODBOOK_WORK_COPY_H

#include "rodbook/book/book.h"

/* How much was taken. */
struct work_taken {
	size_t runs, sights, marks;
	size_t below; /* readings below zero, of runs as CSV */
};

/* Takes runs of another book with all that belongs to them: marks, instruments, rods and plans that
 * they name, water, air, seals, closings. Without names, the marks that count. path names the other
 * book in the journal. */
bool work_copy_runs(struct book *book, struct book *other, const char *path,
                    const char *const *names, size_t count, struct work_taken *counts,
                    struct fault *why);

#endif
