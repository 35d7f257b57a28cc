/* Names that a half-typed station may become. */
#ifndef RODBOOK_WORK_OFFERS_H
#define RODBOOK_WORK_OFFERS_H

#include "rodbook/book/book.h"

#define WORK_OFFERS_MOST 5

/* The marks of the book, then the stations of the run, that begin with what is typed, in whatever
 * case, and are longer; each once, in their order. They live in marks and run. Gives how many; 0
 * where nothing is typed. */
size_t work_offers(const struct book_mark *marks, size_t mark_count, const struct level_run *run,
                   const char *typed, const char *out[WORK_OFFERS_MOST]);

#endif
