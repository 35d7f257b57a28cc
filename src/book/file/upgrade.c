/* Bringing a book of an older version up to this one: its rows into fresh tables, in one
 * transaction. */
#include "book/store.h"

#include <stdio.h>

#define TABLES_MOST 40

static bool run_sql(struct book *book, const char *sql)
{
	return sqlite3_exec(book->db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

/* What is brought over: the journaled tables in their order, then those beside them. */
static const char *table_at(size_t i)
{
	static const char *const beside[] = {"editor", "draft", "journal"};
	size_t journaled = 0;
	while (journal_table(journaled))
		journaled++;
	if (i < journaled)
		return journal_table(i);
	return i - journaled < sizeof beside / sizeof *beside ? beside[i - journaled] : NULL;
}

/* The columns of a table as the old book has them; *out NULL where it has no such table. */
static bool read_columns(struct book *book, const char *table, char **out)
{
	sqlite3_stmt *statement = NULL;
	const char *text;
	bool ok = sqlite3_prepare_v2(book->db,
	                             "SELECT group_concat('\"' || name || '\"') FROM "
	                             "pragma_table_info(?1, 'main')",
	                             -1, &statement, NULL) == SQLITE_OK &&
	          sqlite3_bind_text(statement, 1, table, -1, SQLITE_STATIC) == SQLITE_OK &&
	          sqlite3_step(statement) == SQLITE_ROW;
	*out = NULL;
	if (ok && sqlite3_column_type(statement, 0) != SQLITE_NULL) {
		text = (const char *)sqlite3_column_text(statement, 0);
		*out = text ? sqlite3_mprintf("%s", text) : NULL;
		ok = *out != NULL;
	}
	sqlite3_finalize(statement);
	return ok;
}

/* Runs SQL made of a table's name, %1$s, and its columns, %2$s. */
static bool run_for(struct book *book, const char *format, const char *table, const char *columns)
{
	char sql[3000];
	snprintf(sql, sizeof sql, format, table, columns);
	return run_sql(book, sql);
}

static bool rebuild_tables(struct book *book, char *const *columns, size_t count)
{
	bool ok = true;
	for (size_t i = 0; ok && i < count; i++)
		if (columns[i])
			ok = run_for(book,
			             "CREATE TEMP TABLE old_%1$s AS SELECT %2$s FROM main.%1$s",
			             table_at(i), columns[i]);
	for (size_t i = count; ok && i-- > 0;)
		if (columns[i])
			ok = run_for(book, "DROP TABLE main.%1$s", table_at(i), columns[i]);
	ok = ok && run_sql(book, rodbook_schema);
	for (size_t i = 0; ok && i < count; i++)
		if (columns[i])
			ok = run_for(book,
			             "INSERT INTO main.%1$s(%2$s) SELECT %2$s FROM old_%1$s ORDER "
			             "BY rowid; DROP TABLE old_%1$s",
			             table_at(i), columns[i]);
	return ok;
}

static bool rebuild(struct book *book)
{
	char *columns[TABLES_MOST] = {0}, sql[60];
	size_t count = 0;
	bool ok = true;
	for (; ok && count < TABLES_MOST && table_at(count); count++)
		ok = read_columns(book, table_at(count), &columns[count]);
	ok = ok && rebuild_tables(book, columns, count);
	for (size_t i = 0; i < count; i++)
		sqlite3_free(columns[i]);
	snprintf(sql, sizeof sql, "PRAGMA user_version=%d", BOOK_VERSION);
	return ok && run_sql(book, sql);
}

bool upgrade(struct book *book, int64_t version, struct fault *why)
{
	bool ok;
	if (!run_sql(book, "PRAGMA foreign_keys=OFF; PRAGMA temp_store=MEMORY") ||
	    !run_sql(book, "BEGIN IMMEDIATE"))
		return sql_fault(book, why);
	book->brought_up = (int)version;
	ok = rebuild(book) && run_sql(book, "COMMIT");
	if (!ok) {
		fault_say(why, FAULT_FILE,
		          "%.300s, of an older rodbook, cannot be brought up to this one: %.200s",
		          book->path, sqlite3_errmsg(book->db));
		run_sql(book, "ROLLBACK");
	}
	/* A book that does not hold its rows together is not used. */
	return run_sql(book, "PRAGMA foreign_keys=ON") ? ok : ok && sql_fault(book, why);
}
