/* The journal: each row changed, before and after, as JSON built here (not in a trigger, where an
 * untrusted schema may not call json_object). */
#include "book/file/schema.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

char *journal_row(struct book *book, const char *table, const char *row, struct fault *why)
{
	char *json = NULL;
	bool ok = true;
	const struct table *of = table_of(book, table, why);
	sqlite3_stmt *statement = of ? sql_query(book, why, of->row, "t", row) : NULL;
	if (!statement)
		return NULL;
	if (sql_row(book, statement, &ok, why)) {
		const char *text = (const char *)sqlite3_column_text(statement, 0);
		json = text ? sqlite3_mprintf("%s", text) : NULL;
		ok = json || fault_memory(why);
	}
	if (sql_done(book, statement, ok, why))
		return json;
	sqlite3_free(json);
	return NULL;
}

bool journal_enter(struct book *book, const char *act, int64_t run, const char *table,
                   const char *row, const char *before, int64_t undoes, struct fault *why)
{
	char *after;
	int64_t seq = 0;
	bool ok;
	/* Before much is written: only a sound book is changed. */
	if (!book->checked && !book_check(book, why))
		return false;
	after = journal_row(book, table, row, why);
	ok = after && sql_integer(book, "SELECT coalesce(max(seq), 0) + 1 FROM journal", &seq, why);
	if (!book->action)
		book->action = seq;
	ok = ok &&
	     sql_run(book, why,
	             "INSERT INTO journal(seq, action, time, act, run, tbl, row, before, after, "
	             "undoes) VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
	             "iittnttttn", seq, book->action, book->now, act, run, table, row, before,
	             after, undoes);
	sqlite3_free(after);
	return ok;
}

char *journal_numbered(struct book *book, const char *table, int64_t id, struct fault *why)
{
	char row[24];
	snprintf(row, sizeof row, "%" PRId64, id);
	return journal_row(book, table, row, why);
}

bool journal_enter_numbered(struct book *book, const char *act, int64_t run, const char *table,
                            int64_t id, const char *before, int64_t undoes, struct fault *why)
{
	char row[24];
	snprintf(row, sizeof row, "%" PRId64, id);
	return journal_enter(book, act, run, table, row, before, undoes, why);
}

bool journal_restore(struct book *book, const char *table, int64_t id, const char *before,
                     struct fault *why)
{
	const struct table *of = table_of(book, table, why);
	return of && sql_run(book, why, of->restore, "it", id, before);
}

bool row_strike(struct book *book, const char *act, const char *table, int64_t run, int64_t id,
                const char *reason, int64_t undoes, struct fault *why)
{
	const struct table *of = table_of(book, table, why);
	char *before = of ? journal_numbered(book, table, id, why) : NULL;
	bool ok = before && sql_run(book, why, of->strike, "itt", id, book->now, reason) &&
	          journal_enter_numbered(book, act, run, table, id, before, undoes, why);
	sqlite3_free(before);
	return ok;
}

bool named_retire(struct book *book, const char *table, const char *name, struct fault *why)
{
	char act[40], *before;
	int64_t id = 0;
	bool ok = true;
	const struct table *of = table_of(book, table, why);
	sqlite3_stmt *statement = of ? sql_query(book, why, of->live, "t", name) : NULL;
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		id = sqlite3_column_int64(statement, 0);
	ok = sql_done(book, statement, ok, why);
	if (!ok || !id)
		return ok;
	snprintf(act, sizeof act, "strike %s", table);
	before = journal_numbered(book, table, id, why);
	ok = before && sql_run(book, why, of->retire, "it", id, book->now) &&
	     journal_enter_numbered(book, act, 0, table, id, before, 0, why);
	sqlite3_free(before);
	return ok;
}
