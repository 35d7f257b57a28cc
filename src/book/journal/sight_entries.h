/* The entries about each sight, to find the last one before another entry. */
#ifndef BOOK_JOURNAL_SIGHT_ENTRIES_H
#define BOOK_JOURNAL_SIGHT_ENTRIES_H

#include "book/store.h"

struct sight_entry {
	int64_t row, seq;
};
/* By row and seq; made when first asked for, for then a search need not walk through the journal.
 */
struct sight_entries {
	bool made;
	struct sight_entry *list; /* free() it */
	size_t count;
};

/* The last entry about a sight before this seq, or 0. */
bool sight_entry_before(struct book *book, struct sight_entries *entries, int64_t row, int64_t seq,
                        int64_t *last, struct fault *why);
#endif
