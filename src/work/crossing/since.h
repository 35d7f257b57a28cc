/* What was typed after a crossing was sealed. */
#ifndef WORK_SINCE_H
#define WORK_SINCE_H

#include "rodbook/book/crossing.h"

/* Whether that time, as the book writes it, is later than the seal; false without a seal or a time,
 * and in the second of the seal. */
bool since_seal(const struct book_terms *terms, const char *time);
/* The same of what was observed at `time` and typed at `booked`; booked empty: then, too. */
bool typed_since_seal(const struct book_terms *terms, const char *time, const char *booked);
/* Whether an air counts: of a sealed crossing as it was at the seal. */
bool air_counts(const struct book_terms *terms, const struct book_air *air);

#endif
