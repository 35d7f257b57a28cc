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

static bool run_sql(struct book *book, const char *sql)
{
	return sqlite3_exec(book->db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

static bool rebuild(struct book *book)
{
	char sql[1000];
	for (size_t i = 0; i < TABLES; i++) {
		snprintf(sql, sizeof sql, "CREATE TEMP TABLE old_%s AS SELECT %s FROM main.%s",
		         tables[i].name, tables[i].columns, tables[i].name);
		if (!run_sql(book, sql))
			return false;
	}
	for (size_t i = TABLES; i-- > 0;) {
		snprintf(sql, sizeof sql, "DROP TABLE main.%s", tables[i].name);
		if (!run_sql(book, sql))
			return false;
	}
	if (!run_sql(book, rodbook_schema))
		return false;
	for (size_t i = 0; i < TABLES; i++) {
		snprintf(sql, sizeof sql,
		         "INSERT INTO main.%s(%s) SELECT %s FROM old_%s ORDER BY rowid",
		         tables[i].name, tables[i].columns, tables[i].columns, tables[i].name);
		if (!run_sql(book, sql))
			return false;
		snprintf(sql, sizeof sql, "DROP TABLE old_%s", tables[i].name);
		if (!run_sql(book, sql))
			return false;
	}
	snprintf(sql, sizeof sql, "PRAGMA user_version=%d", BOOK_VERSION);
	return run_sql(book, sql);
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
