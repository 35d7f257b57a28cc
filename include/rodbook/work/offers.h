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
/* What the line may go to next, for a new sight of that kind on whose station nothing is typed:
 * where a loop turns back that has not been there yet, where the run started, then the marks of the
 * book; of a link the marks of the book first, for it ends on another one (common practice, no
 * source). Not the mark that the setup was begun on. A BS that is not the first one stands where
 * the line does: none. */
size_t work_offers_ahead(const struct book_mark *marks, size_t mark_count,
                         const struct level_run *run, enum level_kind kind,
                         const char *out[WORK_OFFERS_MOST]);
/* Whether a bare whole number that is typed over that proposed station is a reading rather than a
 * name: readings are whole inches, the one proposed is no number, and no mark or station of the run
 * is one. Common practice, no source. */
bool work_number_is_reading(const struct book_mark *marks, size_t mark_count,
                            const struct level_run *run, const char *proposed,
                            enum level_unit unit);

#endif
