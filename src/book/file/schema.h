/* The tables of a book as SQLite itself reports them, and the statements that follow from their
 * columns: data/schema.sql is the one list of both. */
#ifndef BOOK_FILE_SCHEMA_H
#define BOOK_FILE_SCHEMA_H

#include "book/store.h"

#define TABLE_BYTES 16

struct column {
	char *name;
	char *fallback; /* SQL: its default; NULL where it has none */
	bool optional;  /* it may have no value */
	bool later;     /* older versions of a book lack it */
};

/* Texts are SQL, NULL where the columns give no such statement. They stay as long as the book is
 * open, for statements are kept by the address of their text. */
struct table {
	struct table *next;
	char name[TABLE_BYTES];
	const char *key; /* the column that tells its rows apart: "id", or "name" of a setting */
	struct column *column;
	size_t columns;
	char *json;          /* json_object() over all columns, in order */
	char *row;           /* the row ?1 as JSON */
	char *rows;          /* all rows, in order */
	char *put;           /* puts a row from its JSON ?1; what that lacks has its default */
	char *restore;       /* of rows that undo reaches: row ?1 as its JSON ?2 has it */
	char *strike;        /* of rows that are struck with a reason: row, time, reason */
	char *live, *retire; /* of rows that go by a name: the id of ?1; row, time */
	char *differences;   /* columns in which two texts of a row differ: see entries.h */
};

/* The table so named, read when it is first asked for; NULL with *why on failure. */
struct table *table_of(struct book *book, const char *name, struct fault *why);
/* Whether a table has a column of that name. */
bool table_has(const struct table *table, const char *column);
/* Frees all of them, when the book is closed. */
void tables_free(struct book *book);
/* A row of sqlite_schema: sql of `size` bytes, none for an index of SQLite's own. */
#define STORED_NAME_BYTES 48
#define STORED_MOST 160
struct stored {
	const char *type;
	char name[STORED_NAME_BYTES], table[STORED_NAME_BYTES];
	const char *sql; /* in the text of the schema */
	size_t size;
};
/* What SQLite keeps of a schema of ours, by type and name; gives how many rows, 0 where the text is
 * not read. */
size_t schema_stored(const char *schema, struct stored out[STORED_MOST]);

#endif
