/* Statements and transactions. */
#include "book/file/schema.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/book/files.h"

bool sql_damaged(const struct book *book, struct fault *why)
{
	return fault_say(why, FAULT_FILE,
	                 "%.300s is damaged: work on a copy, and bring out what can be "
	                 "read: rodbook rescue",
	                 book->path);
}

/* A quota or a limit on the size of files, which SQLite does not call a full disk. */
static bool has_no_room(const struct book *book)
{
	int error = sqlite3_system_errno(book->db);
	return error == EFBIG || error == EDQUOT || error == ENOSPC;
}

bool sql_fault(struct book *book, struct fault *why)
{
	int code = sqlite3_errcode(book->db) & 0xff;
	if (code == SQLITE_NOMEM)
		return fault_memory(why);
	if (code == SQLITE_BUSY || code == SQLITE_LOCKED)
		return fault_say(why, FAULT_FILE,
		                 "%.300s is being written by another program: try again",
		                 book->path);
	if (book->read_only && (code == SQLITE_READONLY || code == SQLITE_CANTOPEN))
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s was left half-written by a crash, and is read-only: make it "
		    "writable once, so that it can be mended",
		    book->path);
	if (sqlite3_extended_errcode(book->db) == SQLITE_READONLY_DBMOVED)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s was moved or replaced while it was open: leave, and open the "
		    "one that is there now",
		    book->path);
	if (code == SQLITE_READONLY || code == SQLITE_CANTOPEN)
		return fault_say(why, FAULT_FILE,
		                 "%.300s cannot be written: check the permissions of the file and "
		                 "its folder",
		                 book->path);
	if (code == SQLITE_CORRUPT)
		return sql_damaged(book, why);
	if (code == SQLITE_FULL || (code == SQLITE_IOERR && has_no_room(book)))
		return fault_say(why, FAULT_FILE, "no room to write %.300s: nothing was changed",
		                 book->path);
	return fault_say(why, FAULT_FILE, "%.300s: %.200s", book->path, sqlite3_errmsg(book->db));
}

struct book_statement {
	const char *sql;
	sqlite3_stmt *statement;
};

static sqlite3_stmt *kept_statement(struct book *book, const char *sql, struct fault *why)
{
	struct book_statement *more;
	sqlite3_stmt *statement;
	for (size_t i = 0; i < book->kept_count; i++)
		if (book->kept[i].sql == sql)
			return book->kept[i].statement;
	more = store_grow(book->kept, book->kept_count, &book->kept_room, sizeof *more, why);
	if (!more)
		return NULL;
	book->kept = more;
	if (sqlite3_prepare_v3(book->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, NULL) !=
	    SQLITE_OK) {
		sql_fault(book, why);
		return NULL;
	}
	more[book->kept_count++] = (struct book_statement){sql, statement};
	return statement;
}

void sql_drop_kept(struct book *book)
{
	for (size_t i = 0; i < book->kept_count; i++)
		sqlite3_finalize(book->kept[i].statement);
	free(book->kept);
	free(book->held);
	tables_free(book);
	for (size_t i = 0; i < BOOK_MEMBER_TEXTS; i++)
		sqlite3_free(book->member_sql[i]);
}

static sqlite3_stmt *bind(struct book *book, const char *sql, const char *types, va_list list,
                          struct fault *why)
{
	sqlite3_stmt *statement = kept_statement(book, sql, why);
	int code = SQLITE_OK;
	if (!statement || (!sqlite3_stmt_readonly(statement) && !txn_is_open(book, why)))
		return NULL;
	for (int i = 0; types[i] && code == SQLITE_OK; i++) {
		if (types[i] == 'i' || types[i] == 'n') {
			int64_t value = va_arg(list, int64_t);
			code = types[i] == 'n' && value == 0
			           ? sqlite3_bind_null(statement, i + 1)
			           : sqlite3_bind_int64(statement, i + 1, value);
		} else if (types[i] == 'u') {
			code = sqlite3_bind_text(
			    statement, i + 1, level_unit_name((enum level_unit)va_arg(list, int)),
			    -1, SQLITE_STATIC);
		} else {
			const char *text = va_arg(list, const char *);
			code =
			    !text || (types[i] == 'e' && !*text)
			        ? sqlite3_bind_null(statement, i + 1)
			        : sqlite3_bind_text(statement, i + 1, text, -1, SQLITE_TRANSIENT);
		}
	}
	if (code == SQLITE_OK)
		return statement;
	sql_fault(book, why);
	return NULL;
}

sqlite3_stmt *sql_query(struct book *book, struct fault *why, const char *sql, const char *types,
                        ...)
{
	sqlite3_stmt *statement;
	va_list list;
	va_start(list, types);
	statement = bind(book, sql, types, list, why);
	va_end(list);
	return statement;
}

bool sql_row(struct book *book, sqlite3_stmt *statement, bool *ok, struct fault *why)
{
	int code = sqlite3_step(statement);
	if (code == SQLITE_ROW)
		return true;
	if (code != SQLITE_DONE) {
		sql_fault(book, why);
		*ok = false;
	}
	return false;
}

bool sql_done(struct book *book, sqlite3_stmt *statement, bool ok, struct fault *why)
{
	if (sqlite3_reset(statement) != SQLITE_OK && ok)
		ok = sql_fault(book, why);
	sqlite3_clear_bindings(statement);
	return ok;
}

bool sql_run(struct book *book, struct fault *why, const char *sql, const char *types, ...)
{
	sqlite3_stmt *statement;
	bool ok = true;
	va_list list;
	va_start(list, types);
	statement = bind(book, sql, types, list, why);
	va_end(list);
	if (!statement)
		return false;
	while (sql_row(book, statement, &ok, why))
		continue;
	return sql_done(book, statement, ok, why);
}

bool sql_integer(struct book *book, const char *sql, int64_t *value, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, sql, "");
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		*value = sqlite3_column_int64(statement, 0);
	return sql_done(book, statement, ok, why);
}

void sql_text(sqlite3_stmt *statement, int column, char *out, size_t size)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	size_t length = text ? strnlen(text, size - 1) : 0;
	if (length)
		memcpy(out, text, length);
	out[length] = '\0';
}

bool check_writable(const struct book *book, struct fault *why)
{
	return !book->read_only ||
	       fault_say(why, FAULT_FILE, "%.300s is read-only: nothing was changed", book->path);
}

bool txn_is_open(struct book *book, struct fault *why)
{
	if (book->depth > 0 && !sqlite3_get_autocommit(book->db))
		return true;
	return fault_say(why, FAULT_FILE, "%.300s: this change was broken off: nothing was changed",
	                 book->path);
}

static void drop_held(struct book *book)
{
	free(book->held);
	book->held = NULL;
}

bool txn_begin(struct book *book, struct fault *why)
{
	if (book->depth == 0) {
		if (!check_writable(book, why))
			return false;
		drop_held(book);
		/* Memory may have been short even for the end of the change before. */
		if (!sqlite3_get_autocommit(book->db))
			sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
		if (sqlite3_exec(book->db, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK)
			return sql_fault(book, why);
		book->failed = false;
		book->action = 0;
		book->read_to = 0;
		book->clock(book->now);
	}
	/* SQLite may have rolled back by itself; what came after would be kept, and alone. */
	if (book->failed)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s: an earlier part of this change failed: nothing was changed",
		    book->path);
	book->depth++;
	return true;
}

/* Whether the change that could not be ended is in the book all the same: once SQLite's journal is
 * gone it is, though the disk did not confirm all. Who is told that it failed would enter it twice.
 */
static bool is_kept(struct book *book)
{
	bool ok = true, kept;
	sqlite3_stmt *statement =
	    book->action ? sql_query(book, NULL, "SELECT 1 FROM journal WHERE seq=?1 AND time=?2",
	                             "it", book->action, book->now)
	                 : NULL;
	if (!statement)
		return false;
	kept = sql_row(book, statement, &ok, NULL);
	return sql_done(book, statement, ok, NULL) && kept;
}

static bool commit(struct book *book, struct fault *why)
{
	/* SQLite's JSON functions keep a want of memory to themselves; the change was rolled back.
	 */
	if (sqlite3_get_autocommit(book->db))
		return fault_memory(why);
	if (sqlite3_exec(book->db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK)
		return true;
	sql_fault(book, why);
	if (!sqlite3_get_autocommit(book->db))
		sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
	if (!sqlite3_get_autocommit(book->db) || !is_kept(book))
		return false;
	return book_file_sync_folder(book->path) ||
	       fault_say(why, FAULT_FILE,
	                 "%.300s: the change is in the book, but the disk does not confirm it: "
	                 "look whether it is still there before you enter it again",
	                 book->path);
}

bool txn_end(struct book *book, bool ok, struct fault *why)
{
	if (!ok)
		book->failed = true;
	if (book->depth > 1) {
		book->depth--;
		return ok;
	}
	ok = !book->failed && txn_is_open(book, why) && read_back(book, why) && commit(book, why);
	book->depth = 0;
	/* A failed statement may have rolled back by itself; then this is refused, and harmless. */
	if (!ok)
		sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
	return ok;
}

bool book_begin(struct book *book, struct fault *why)
{
	return txn_begin(book, why);
}

bool book_finish(struct book *book, bool keep, struct fault *why)
{
	return txn_end(book, keep, why);
}

bool book_hold(struct book *book, struct fault *why)
{
	/* Within a change the book is in one state already, and what is written must not be lost.
	 */
	if (book->depth)
		return true;
	if (book->holds == 0 && sqlite3_exec(book->db, "BEGIN", NULL, NULL, NULL) != SQLITE_OK)
		return sql_fault(book, why);
	book->holds++;
	return true;
}

struct held *book_held(struct book *book)
{
	if (!book->held && book->holds && !book->depth)
		book->held = calloc(1, sizeof *book->held);
	return book->depth ? NULL : book->held;
}

void book_release(struct book *book)
{
	/* Nothing was written, so nothing can be lost. */
	if (book->depth || --book->holds > 0)
		return;
	drop_held(book);
	sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
}

void *store_grow(void *array, size_t count, size_t *room, size_t size, struct fault *why)
{
	void *more;
	if (count < *room)
		return array;
	more = realloc(array, (*room ? 2 * *room : 16) * size);
	if (!more)
		fault_memory(why);
	else
		*room = *room ? 2 * *room : 16;
	return more;
}

bool sql_list(struct book *book, sqlite3_stmt *statement, size_t size, read_item *read, void **list,
              size_t *count, struct fault *why)
{
	size_t room = 0;
	bool ok = true;
	*list = NULL;
	*count = 0;
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		void *more = store_grow(*list, *count, &room, size, why);
		ok = more != NULL;
		if (!ok)
			break;
		*list = more;
		memset((char *)more + *count * size, 0, size);
		ok = read(book, statement, (char *)more + (*count)++ * size, why);
	}
	ok = sql_done(book, statement, ok, why);
	if (!ok) {
		free(*list);
		*list = NULL;
		*count = 0;
	}
	return ok;
}

bool sql_one(struct book *book, sqlite3_stmt *statement, read_item *read, void *item, bool *found,
             struct fault *why)
{
	bool ok = true;
	*found = false;
	if (!statement)
		return false;
	*found = sql_row(book, statement, &ok, why);
	if (*found)
		ok = read(book, statement, item, why);
	return sql_done(book, statement, ok, why);
}

bool row_reads(struct book *book, sqlite3_stmt *statement, read_item *read, void *item,
               struct fault *why)
{
	bool found;
	return sql_one(book, statement, read, item, &found, why) &&
	       (found || fault_say(why, FAULT_INPUT, "a row that was written is not there"));
}
