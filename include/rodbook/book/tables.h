/* A book as plain tables of text, to leave the program whole and to be taken back.
 *
 * The journal and the half-typed form stay behind: the book that takes the tables journals each row
 * as its own, with where it came from. */
#ifndef RODBOOK_BOOK_TABLES_H
#define RODBOOK_BOOK_TABLES_H

#include "rodbook/book/book.h"

#define BOOK_TABLE_COLUMNS 46
/* No book has more tables; book_table_count() is how many it has. */
#define BOOK_TABLES_MOST 32

struct book_table {
	char name[16];
	size_t columns, rows;
	char column[BOOK_TABLE_COLUMNS][20];
	char **cell; /* rows x columns, row by row; NULL: no value */
};

/* The version of the tables that this program writes. */
int book_tables_version(void);
/* How many tables there are, in the order in which they must be taken. */
size_t book_table_count(void);
/* The name of table i. */
const char *book_table_name(size_t i);
/* Reads table i whole, in the order of its rows; free it. FAULT_INPUT where i is none. */
bool book_table_read(struct book *book, size_t i, struct book_table *out, struct fault *why);
void book_table_free(struct book_table *table);
/* Whether a column of a book's table may have no value; false too where there is no such column.
 * The call itself is false on a fault. */
bool book_column_optional(struct book *book, const char *table, const char *column, bool *optional,
                          struct fault *why);
/* Index of a column; table->columns where it has none so named. */
size_t book_table_column(const struct book_table *table, const char *name);
/* A cell by the name of its column; NULL where it has no value, or no such column. */
const char *book_table_cell(const struct book_table *table, size_t row, const char *name);
/* Drops the rows whose `keep` is false. */
void book_table_keep(struct book_table *table, const bool *keep);

/* Takes rows of any of the tables into a book, all or none. They get numbers of this book, and what
 * refers to them follows. A mark, instrument, rod, tolerance set or plan that the book has under
 * the same name already is left out where it says the same, else it is refused, like a run whose
 * name is taken. Settings go over those of the book. Every row is checked as if it were read from a
 * book. origin says in the journal where they came from. FAULT_INPUT where they cannot stand. */
bool book_take_tables(struct book *book, const struct book_table *tables, size_t count,
                      const char *origin, struct fault *why);

#endif
