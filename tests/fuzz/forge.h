/* What somebody with an SQLite shell would do to a book, as lines of SQL. */
#ifndef FUZZ_FORGE_H
#define FUZZ_FORGE_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { FORGE_TABLES = 17 };

/* The last row of each table of a book; 0: it is empty. */
bool forge_rows(sqlite3 *db, int last[FORGE_TABLES]);
/* One line that changes a row, of which a book has so many; how many bytes. */
size_t forge_make(uint64_t *chance, const int last[FORGE_TABLES], char *text, size_t room);

#endif
