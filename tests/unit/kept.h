/* Notes as a loaded run keeps them, for tests that make a run without a book. */
#ifndef UNIT_KEPT_H
#define UNIT_KEPT_H

#include "rodbook/book/book.h"

/* The texts stay where they are: what is written there is what is read. */
#define KEPT(note) ((struct book_kept[1]){book_kept_of(&(note))})

static inline struct book_kept *keep_notes(struct book_kept *kept, const struct book_note *notes,
                                           size_t count)
{
	for (size_t i = 0; i < count; i++)
		kept[i] = book_kept_of(&notes[i]);
	return kept;
}

#endif
