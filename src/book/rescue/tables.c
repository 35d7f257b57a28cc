/* Entries and rows through SQLite, as far as it can read them. */
#include <stdio.h>
#include <string.h>

#include "book/file/schema.h"
#include "book/rescue/rescue.h"

sqlite3_stmt *rescue_put_entry(struct replica *r, struct fault *why)
{
	sqlite3_stmt *put = NULL;
	if (sqlite3_prepare_v2(
	        r->book.db,
	        "INSERT OR IGNORE INTO journal SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, "
	        "?9, ?10 WHERE ?2 BETWEEN 1 AND ?1 AND json_valid(?9) AND (?8 IS NULL "
	        "OR json_valid(?8))",
	        -1, &put, NULL) != SQLITE_OK)
		sql_fault(&r->book, why);
	return put;
}

/* Hands each row of a statement on, until SQLite ends it or refuses to go on. */
typedef bool take_row(struct replica *r, sqlite3_stmt *statement, void *context, struct fault *why);

static bool each_row(sqlite3 *db, const char *sql, struct replica *r, take_row *take, void *context,
                     bool *to_the_end, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	bool ok = true;
	int code = SQLITE_ERROR;
	*to_the_end = false;
	if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
		return true;
	while (ok && (code = sqlite3_step(statement)) == SQLITE_ROW)
		ok = take(r, statement, context, why);
	sqlite3_finalize(statement);
	*to_the_end = code == SQLITE_DONE;
	return ok;
}

static bool take_entry(struct replica *r, sqlite3_stmt *statement, void *context, struct fault *why)
{
	sqlite3_stmt *put = context;
	(void)r;
	(void)why;
	for (int i = 0; i < 10; i++)
		sqlite3_bind_value(put, i + 1, sqlite3_column_value(statement, i));
	sqlite3_step(put);
	sqlite3_reset(put);
	return true;
}

bool rescue_entries(sqlite3 *db, struct replica *r, bool *to_the_end, struct fault *why)
{
	static const char *const orders[] = {"SELECT seq, action, time, act, run, tbl, row, "
	                                     "before, after, undoes FROM journal NOT INDEXED "
	                                     "ORDER BY rowid",
	                                     "SELECT seq, action, time, act, run, tbl, row, "
	                                     "before, after, undoes FROM journal NOT INDEXED "
	                                     "ORDER BY rowid DESC"};
	sqlite3_stmt *put = rescue_put_entry(r, why);
	bool ok = put != NULL, ended = false;
	for (size_t i = 0; ok && !ended && i < sizeof orders / sizeof *orders; i++)
		ok = each_row(db, orders[i], r, take_entry, put, &ended, why);
	*to_the_end = ended;
	sqlite3_finalize(put);
	return ok;
}

struct target {
	const char *table;
	book_rescue_teller *tell;
	void *context;
	size_t differ;
	bool more;
};

static void tell_row(const struct target *target, const char *row, const char *why)
{
	char what[120], shown[60];
	snprintf(what, sizeof what, "%s %s", target->table,
	         level_show_text(shown, sizeof shown, row, false));
	target->tell(what, why, target->context);
}

static bool take_json(struct replica *r, sqlite3_stmt *statement, void *context, struct fault *why)
{
	struct target *target = context;
	const char *json = (const char *)sqlite3_column_text(statement, 0);
	const char *row = (const char *)sqlite3_column_text(statement, 1);
	struct fault refused;
	char *before, *after;
	(void)why;
	if (!json || !row)
		return true;
	before = journal_row(&r->book, target->table, row, &refused);
	/* What breaks the checks of the table is no row of a book. */
	if (replica_put(r, target->table, json, &refused)) {
		after = journal_row(&r->book, target->table, row, &refused);
		target->more = target->more || !before;
		if (before && (!after || strcmp(before, after) != 0)) {
			target->differ++;
			tell_row(target, row,
			         "table and journal say something else of it: look at both");
		}
		sqlite3_free(after);
	}
	sqlite3_free(before);
	return true;
}

/* One table of the file, as far as SQLite can read it: from the front, or else from the back too.
 */
static bool rescue_table(struct book *damaged, struct replica *r, struct target *target,
                         struct fault *why)
{
	static const char *const orders[] = {"rowid", "rowid DESC"};
	struct fault unread;
	const struct table *of = table_of(damaged, target->table, &unread);
	bool ok = true, ended = false;
	/* Of a table whose columns cannot be told nothing can be read. */
	for (size_t i = 0; of && ok && !ended && i < sizeof orders / sizeof *orders; i++) {
		char *sql =
		    sqlite3_mprintf("SELECT %s, %s FROM main.\"%w\" NOT INDEXED ORDER BY %s",
		                    of->json, of->key, of->name, orders[i]);
		ok = sql ? each_row(damaged->db, sql, r, take_json, target, &ended, why)
		         : fault_memory(why);
		sqlite3_free(sql);
	}
	return ok;
}

bool rescue_rows(sqlite3 *db, struct replica *r, book_rescue_teller *tell, void *context,
                 size_t *differ, bool *more, struct fault *why)
{
	struct book damaged = {.db = db, .path = r->book.path};
	bool ok = true;
	*differ = 0;
	*more = false;
	for (size_t i = 0; ok && journal_table(i); i++) {
		struct target target = {
		    .table = journal_table(i), .tell = tell, .context = context};
		ok = rescue_table(&damaged, r, &target, why);
		*differ += target.differ;
		*more = *more || target.more;
	}
	sql_drop_kept(&damaged);
	return ok;
}
