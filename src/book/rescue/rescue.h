/* What the files of the rescue share. */
#ifndef BOOK_RESCUE_RESCUE_H
#define BOOK_RESCUE_RESCUE_H

#include "book/verify/replica.h"
#include "rodbook/book/rescue.h"

/* Adds an entry that was found to the replica's journal, unless it has that seq: ten values in the
 * order of the journal's columns, bound to `put` already. */
sqlite3_stmt *rescue_put_entry(struct replica *r, struct fault *why);

/* Reads entries from the pages of a file, whatever leads to them (sqlite.org, Database File Format,
 * sections 1.3, 1.5, 1.6, 2.1). */
bool rescue_pages(const char *file, struct replica *r, struct fault *why);
/* Reads entries, or rows, through SQLite from the front and from the back, up to what is damaged.
 * *to_the_end: all of the journal could be read; *differ: how many rows are otherwise than the
 * replica had them, and told; *more: a row is there that no entry made. */
bool rescue_entries(sqlite3 *db, struct replica *r, bool *to_the_end, struct fault *why);
bool rescue_rows(sqlite3 *db, struct replica *r, book_rescue_teller *tell, void *context,
                 size_t *differ, bool *more, struct fault *why);
/* Takes out of the replica what a book cannot hold, and tells. */
bool rescue_sift(struct replica *r, book_rescue_teller *tell, void *context, size_t *lost,
                 struct fault *why);

#endif
