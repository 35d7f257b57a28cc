/* All that a book holds, as one number, and its proof by the library. */
#include "trial.h"

#include <sqlite3.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "rodbook/book/journal.h"

/* FNV-1a, 64 bits (Fowler, Noll, Vo; recalled). */
static void mix(uint64_t *print, const void *bytes, size_t size)
{
	const unsigned char *at = bytes;
	for (size_t i = 0; i < size; i++)
		*print = (*print ^ at[i]) * UINT64_C(0x100000001b3);
}

static void mix_row(uint64_t *print, sqlite3_stmt *statement)
{
	for (int i = 0; i < sqlite3_column_count(statement); i++) {
		int type = sqlite3_column_type(statement, i);
		const void *text = sqlite3_column_blob(statement, i);
		int size = sqlite3_column_bytes(statement, i);
		mix(print, &type, sizeof type);
		mix(print, &size, sizeof size);
		if (text)
			mix(print, text, (size_t)size);
	}
}

static bool mix_query(sqlite3 *db, const char *sql, uint64_t *print)
{
	sqlite3_stmt *statement = NULL;
	int code = sqlite3_prepare_v2(db, sql, -1, &statement, NULL);
	if (code == SQLITE_OK)
		while ((code = sqlite3_step(statement)) == SQLITE_ROW)
			mix_row(print, statement);
	sqlite3_finalize(statement);
	return code == SQLITE_DONE;
}

/* Schema, version and every row of every table. */
static bool dump(const char *path, uint64_t *print, char *words, size_t size)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *names = NULL;
	char sql[200];
	int code = SQLITE_ERROR;
	bool ok =
	    sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK &&
	    mix_query(db, "PRAGMA user_version", print) &&
	    mix_query(db, "PRAGMA application_id", print) &&
	    mix_query(db, "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY 1, 2",
	              print) &&
	    sqlite3_prepare_v2(db, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY 1",
	                       -1, &names, NULL) == SQLITE_OK;
	while (ok && (code = sqlite3_step(names)) == SQLITE_ROW) {
		snprintf(sql, sizeof sql, "SELECT * FROM \"%s\" ORDER BY rowid",
		         (const char *)sqlite3_column_text(names, 0));
		ok = mix_query(db, sql, print);
	}
	ok = ok && code == SQLITE_DONE;
	if (!ok)
		snprintf(words, size, "SQLite cannot read the book: %s", sqlite3_errmsg(db));
	sqlite3_finalize(names);
	sqlite3_close(db);
	return ok;
}

static void no_clock(char out[BOOK_TIME_BYTES])
{
	strcpy(out, "2026-05-04T09:30:00+02:00");
}

/* What `rodbook verify` does, in this process. */
static bool prove(const char *path, char *words, size_t size)
{
	struct fault why = {0};
	struct book_verified verified;
	struct book *book = book_open(path, no_clock, &why);
	bool ok = book && book_verify(book, 0, &verified, &why);
	if (!ok)
		snprintf(words, size, "the book cannot be proved: %s", why.text);
	else if (*verified.difference)
		snprintf(words, size, "the journal does not yield the tables: %s",
		         verified.difference);
	ok = ok && !*verified.difference;
	book_close(book);
	return ok;
}

bool trial_print(const char *path, bool upgrades, uint64_t *print, char *words, size_t size)
{
	*print = 0;
	if (access(path, F_OK) != 0)
		return true;
	*print = UINT64_C(0xcbf29ce484222325);
	/* Opening it would bring it up, so an old one is read first. */
	if (upgrades)
		return dump(path, print, words, size) && prove(path, words, size);
	return prove(path, words, size) && dump(path, print, words, size);
}
