/* Bringing a book of an older version up to this one: its rows into fresh tables, in one
 * transaction. */
#include "book/store.h"

#include <stdio.h>

/* The tables of version 1, those that others refer to first, with the columns they had. */
static const struct {
	const char *name, *columns;
} tables[] = {
    {"setting", "name, value"},
    {"mark", "id, name, typed, unit, elevation, u_typed, u, source, time, struck"},
    {"run", "id, name, kind, time"},
    {"sight", "id, run, place, kind, station, unit, typed, reading, upper_typed, middle_typed, "
              "lower_typed, upper, middle, lower, distance_typed, distance, method, time, remark, "
              "struck, why, replaces"},
    {"draft", "run, slot, at, inserts, focus, wires, unit, kind, station, reading, upper, middle, "
              "lower, distance, method, remark"},
    {"journal", "seq, action, time, act, run, tbl, row, before, after, undoes"},
};
#define TABLES (sizeof tables / sizeof *tables)

static bool run_sql(struct book *book, const char *format, size_t i)
{
	char sql[1000];
	snprintf(sql, sizeof sql, format, tables[i].name, tables[i].columns, tables[i].columns,
	         tables[i].name);
	return sqlite3_exec(book->db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

static bool rebuild(struct book *book)
{
	char sql[60];
	for (size_t i = 0; i < TABLES; i++)
		if (!run_sql(book, "CREATE TEMP TABLE old_%1$s AS SELECT %2$s FROM main.%1$s", i))
			return false;
	for (size_t i = TABLES; i-- > 0;)
		if (!run_sql(book, "DROP TABLE main.%1$s", i))
			return false;
	if (sqlite3_exec(book->db, rodbook_schema, NULL, NULL, NULL) != SQLITE_OK)
		return false;
	for (size_t i = 0; i < TABLES; i++)
		if (!run_sql(
		        book,
		        "INSERT INTO main.%1$s(%2$s) SELECT %2$s FROM old_%1$s ORDER BY rowid; "
		        "DROP TABLE old_%1$s",
		        i))
			return false;
	snprintf(sql, sizeof sql, "PRAGMA user_version=%d", BOOK_VERSION);
	return sqlite3_exec(book->db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

bool upgrade(struct book *book, struct fault *why)
{
	bool ok;
	sqlite3_exec(book->db, "PRAGMA foreign_keys=OFF; PRAGMA temp_store=MEMORY", NULL, NULL,
	             NULL);
	if (sqlite3_exec(book->db, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK)
		return sql_fault(book, why);
	ok = rebuild(book) && sqlite3_exec(book->db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK;
	if (!ok) {
		fault_say(why, FAULT_FILE,
		          "%.300s, of an older rodbook, cannot be brought up to this one: %.200s",
		          book->path, sqlite3_errmsg(book->db));
		sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
	}
	sqlite3_exec(book->db, "PRAGMA foreign_keys=ON", NULL, NULL, NULL);
	return ok;
}
