/* What a proof found, in words. */
#ifndef BOOK_VERIFY_DIFFERENCE_H
#define BOOK_VERIFY_DIFFERENCE_H

#include "book/store.h"
#include "rodbook/book/journal.h"

/* Says a difference, where none was said before: what follows may follow from the first. Always
 * true. */
bool differs(struct book_verified *out, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#define PART_CHARS 120 /* bytes of a value that a message shows */
#define PART_BYTES (PART_CHARS + 8)

/* The first column in which two texts of a row differ, and its values as a message shows them;
 * false in *found where there is none. */
bool first_difference(struct book *book, const char *table, const char *one, const char *other,
                      bool *found, char column[60], char a[PART_BYTES], char b[PART_BYTES],
                      struct fault *why);

#endif
