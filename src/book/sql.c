/* Statements and transactions. */
#include "book/store.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool sql_fault(struct book *book, struct fault *why)
{
	int code = sqlite3_errcode(book->db) & 0xff;
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
	if (code == SQLITE_FULL)
		return fault_say(why, FAULT_FILE, "no room to write %.300s: nothing was changed",
		                 book->path);
	return fault_say(why, FAULT_FILE, "%.300s: %.200s", book->path, sqlite3_errmsg(book->db));
}

static sqlite3_stmt *kept_statement(struct book *book, const char *sql)
{
	size_t i = 0;
	while (i < BOOK_STATEMENTS && book->kept[i].sql && book->kept[i].sql != sql)
		i++;
	/* One place for each statement there is; one more would take another's away. */
	assert(i < BOOK_STATEMENTS);
	if (!book->kept[i].sql) {
		if (sqlite3_prepare_v3(book->db, sql, -1, SQLITE_PREPARE_PERSISTENT,
		                       &book->kept[i].statement, NULL) != SQLITE_OK)
			return NULL;
		book->kept[i].sql = sql;
	}
	return book->kept[i].statement;
}

static sqlite3_stmt *bind(struct book *book, const char *sql, const char *types, va_list list)
{
	sqlite3_stmt *statement = kept_statement(book, sql);
	int code = SQLITE_OK;
	if (!statement)
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
	return code == SQLITE_OK ? statement : NULL;
}

sqlite3_stmt *sql_query(struct book *book, struct fault *why, const char *sql, const char *types,
                        ...)
{
	sqlite3_stmt *statement;
	va_list list;
	va_start(list, types);
	statement = bind(book, sql, types, list);
	va_end(list);
	if (!statement)
		sql_fault(book, why);
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

void sql_done(sqlite3_stmt *statement)
{
	sqlite3_reset(statement);
	sqlite3_clear_bindings(statement);
}

bool sql_run(struct book *book, struct fault *why, const char *sql, const char *types, ...)
{
	sqlite3_stmt *statement;
	bool ok = true;
	va_list list;
	va_start(list, types);
	statement = bind(book, sql, types, list);
	va_end(list);
	if (!statement)
		return sql_fault(book, why);
	while (sql_row(book, statement, &ok, why))
		continue;
	sql_done(statement);
	return ok;
}

bool sql_integer(struct book *book, const char *sql, int64_t *value, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, sql, "");
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		*value = sqlite3_column_int64(statement, 0);
	sql_done(statement);
	return ok;
}

void sql_text(sqlite3_stmt *statement, int column, char *out, size_t size)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	snprintf(out, size, "%s", text ? text : "");
}

bool check_writable(const struct book *book, struct fault *why)
{
	return !book->read_only ||
	       fault_say(why, FAULT_FILE, "%.300s is read-only: nothing was changed", book->path);
}

bool txn_begin(struct book *book, struct fault *why)
{
	if (book->depth == 0) {
		if (!check_writable(book, why))
			return false;
		if (sqlite3_exec(book->db, "BEGIN IMMEDIATE", NULL, NULL, NULL) != SQLITE_OK)
			return sql_fault(book, why);
		book->failed = false;
		book->action = 0;
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

bool txn_end(struct book *book, bool ok, struct fault *why)
{
	if (!ok)
		book->failed = true;
	if (--book->depth > 0)
		return ok;
	if (!book->failed) {
		if (sqlite3_exec(book->db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK)
			return true;
		sql_fault(book, why);
	}
	/* A failed statement may have rolled back by itself; then this is refused, and harmless. */
	sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
	return false;
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
	return sqlite3_exec(book->db, "BEGIN", NULL, NULL, NULL) == SQLITE_OK ||
	       sql_fault(book, why);
}

void book_release(struct book *book)
{
	/* Nothing was written, so nothing can be lost. */
	sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
}

void *store_grow(void *array, size_t count, size_t *room, size_t size, struct fault *why)
{
	void *more;
	if (count < *room)
		return array;
	more = realloc(array, (*room ? 2 * *room : 16) * size);
	if (!more)
		fault_say(why, FAULT_FILE, "out of memory");
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
	sql_done(statement);
	if (!ok) {
		free(*list);
		*list = NULL;
		*count = 0;
	}
	return ok;
}
