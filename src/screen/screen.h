/* The editor: keys in, cells out. */
#ifndef SCREEN_SCREEN_H
#define SCREEN_SCREEN_H

#include "rodbook/book/book.h"

/* Runs the editor on the run so named, or where that is NULL on the last one, until the user
 * leaves. False where it could not run; whatever was booked is on disk in any case. */
bool screen_edit(struct book *book, const char *run, struct fault *why);

/* Asks a few questions about a book that is not there, and makes it; *made: it is. False where the
 * terminal cannot be used. */
bool screen_make(const char *path, book_clock *clock, bool *made, struct fault *why);

#endif
