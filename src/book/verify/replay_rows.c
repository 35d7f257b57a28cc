/* Whether each row of the tables is as the last entry about it left it. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "book/file/schema.h"
#include "book/journal/entries.h"
#include "book/verify/difference.h"

/* The last of these entries about each row. */
#define LAST(entries)                                                                              \
	"SELECT j.seq, j.tbl, j.row, j.after FROM (SELECT max(seq) AS seq FROM " entries           \
	" GROUP BY tbl, row) l CROSS JOIN journal j ON j.seq = l.seq ORDER BY l.seq"
static const char last[] = LAST(ENTRIES_ALL), last_of_run[] = LAST(ENTRIES_OF_RUN);

/* The row that a JSON text holds, as a user knows it. */
static bool name_text(struct book *book, const char *table, const char *text,
                      char what[BOOK_WHAT_BYTES], struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why, "SELECT " ENTRY_WHAT("?1", "?2"), "tt", table, text);
	what[0] = '\0';
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why)) {
		const char *name = (const char *)sqlite3_column_text(statement, 0);
		level_show_text(what, BOOK_WHAT_BYTES, name ? name : "", false);
	}
	return sql_done(book, statement, ok, why);
}

/* What is different where the row, as it is now, is not there or has another text than its entry.
 */
static bool say_row(struct book *book, sqlite3_stmt *statement, const char *now,
                    struct book_verified *out, struct fault *why)
{
	const char *table = (const char *)sqlite3_column_text(statement, 1);
	const char *row = (const char *)sqlite3_column_text(statement, 2);
	const char *after = (const char *)sqlite3_column_text(statement, 3);
	int64_t seq = sqlite3_column_int64(statement, 0);
	char what[BOOK_WHAT_BYTES], id[60], column[60], a[PART_BYTES], b[PART_BYTES];
	bool found = false;
	if (!name_text(book, table, after, what, why))
		return false;
	level_show_text(id, sizeof id, row, false);
	if (!now)
		return differs(out,
		               "%s is not in the table %s (row %s), and entry %" PRId64
		               " of the journal left it there",
		               what, table, id, seq);
	if (!first_difference(book, table, now, after, &found, column, a, b, why))
		return false;
	if (found)
		differs(out,
		        "%s (table %s, row %s): %s is %s in the table, and entry %" PRId64
		        " of the journal left it as %s",
		        what, table, id, column, a, seq, b);
	return true;
}

static bool check_row(struct book *book, sqlite3_stmt *statement, struct book_verified *out,
                      struct fault *why)
{
	struct fault read = {0};
	const char *after = (const char *)sqlite3_column_text(statement, 3);
	char *now = journal_row(book, (const char *)sqlite3_column_text(statement, 1),
	                        (const char *)sqlite3_column_text(statement, 2), &read);
	bool ok;
	if (!now && read.kind != FAULT_NONE)
		return fault_say(why, read.kind, "%s", read.text);
	ok = (now && strcmp(now, after) == 0) || say_row(book, statement, now, out, why);
	sqlite3_free(now);
	return ok;
}

/* The row as a user knows it. */
static bool name_row(struct book *book, const char *table, const char *row,
                     char what[BOOK_WHAT_BYTES], struct fault *why)
{
	struct fault read = {0};
	char *now = journal_row(book, table, row, &read);
	bool ok;
	/* A key with a NUL in it finds no row: it stays without words. */
	if (!now)
		return read.kind == FAULT_NONE || fault_say(why, read.kind, "%s", read.text);
	ok = name_text(book, table, now, what, why);
	sqlite3_free(now);
	return ok;
}

/* Which rows of a table are proven, as SQL: all, or those of run ?1 and those of no run. */
static const char *rows_of(const struct table *of, int64_t run)
{
	if (!run)
		return "";
	if (strcmp(of->name, "run") == 0)
		return "id = ?1 AND";
	return table_has(of, "run") ? "run = ?1 AND" : "";
}

/* The first of these rows that no entry is about, where there is one. */
static bool check_unentered(struct book *book, const struct table *of, int64_t run,
                            struct book_verified *out, struct fault *why)
{
	char sql[400];
	sqlite3_stmt *statement = NULL;
	bool ok = true;
	snprintf(sql, sizeof sql,
	         "SELECT CAST(%s AS TEXT) FROM main.%s WHERE %s CAST(%s AS TEXT) NOT IN (SELECT "
	         "row FROM %s WHERE tbl = '%s') ORDER BY rowid LIMIT 1",
	         of->key, of->name, rows_of(of, run), of->key, run ? ENTRIES_OF_RUN : ENTRIES_ALL,
	         of->name);
	if (sqlite3_prepare_v2(book->db, sql, -1, &statement, NULL) != SQLITE_OK ||
	    (run && sqlite3_bind_int64(statement, 1, run) != SQLITE_OK)) {
		sqlite3_finalize(statement);
		return sql_fault(book, why);
	}
	if (sql_row(book, statement, &ok, why)) {
		char id[60], what[BOOK_WHAT_BYTES] = "";
		const char *row = (const char *)sqlite3_column_text(statement, 0);
		ok = name_row(book, of->name, row ? row : "", what, why);
		level_show_text(id, sizeof id, row ? row : "", false);
		if (ok)
			differs(out,
			        "%s (table %s, row %s) has no entry in the journal: "
			        "rodbook did "
			        "not write it",
			        what, of->name, id);
	}
	sqlite3_finalize(statement);
	return ok;
}

bool replay_tables(struct book *book, int64_t run, struct book_verified *out, struct fault *why)
{
	bool ok = true;
	const char *table;
	sqlite3_stmt *statement =
	    run ? sql_query(book, why, last_of_run, "i", run) : sql_query(book, why, last, "");
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		ok = check_row(book, statement, out, why);
		out->rows++;
	}
	ok = sql_done(book, statement, ok, why);
	for (size_t i = 0; ok && (table = journal_table(i)) != NULL; i++) {
		const struct table *of = table_of(book, table, why);
		if (run && strcmp(table, "result") == 0)
			continue;
		ok = of && check_unentered(book, of, run, out, why);
	}
	return ok;
}
