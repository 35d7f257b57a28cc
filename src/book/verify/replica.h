/* The book as it stood at an entry of its journal, made anew in memory. */
#ifndef BOOK_VERIFY_REPLICA_H
#define BOOK_VERIFY_REPLICA_H

#include "book/store.h"

#define REPLICA_TABLES 20

struct replica {
	struct book book;                  /* to be read, like any other */
	sqlite3_stmt *put[REPLICA_TABLES]; /* by number of the journaled table */
};

/* Begins an empty one that says it is `of`, a book that stays open meanwhile. */
bool replica_begin(struct replica *replica, const struct book *of, struct fault *why);
/* Puts a row as an entry left it: its table and its JSON. Columns that the entry lacks have their
 * defaults. */
bool replica_put(struct replica *replica, const char *table, const char *after, struct fault *why);
void replica_end(struct replica *replica);

#endif
