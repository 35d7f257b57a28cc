/* What makes a try quick without making it another one: room that fits, memory that stays, and,
 * where no sanitizer looks on, statements that are prepared once. */
#include <malloc.h>
#include <stdlib.h>
#include <string.h>

#include "shelf.h"

#if defined __SANITIZE_ADDRESS__
#define LOOKED_AT 1
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define LOOKED_AT 1
#endif
#endif

/* An import takes 64 MiB for a file of any size, which takes a sanitizer a twentieth of a second.
 * The linker puts this in place of malloc() (--wrap): a file gets the room that it needs, and
 * whoever reads behind its end is caught. */
#define CSV_ROOM ((size_t)(64L << 20) + 1)
static size_t csv_size;
void *__real_malloc(size_t size);
void *__wrap_malloc(size_t size);

void *__wrap_malloc(size_t size)
{
	return __real_malloc(size == CSV_ROOM ? csv_size + 1 : size);
}

void quick_csv(size_t size)
{
	csv_size = size;
}

/* Memory that a try gives back is not handed to the system, which took half of the time, and SQLite
 * takes no room for a hundred pages for each small table of its own. */
void quick_begin(void)
{
	static bool done;
	if (done)
		return;
	done = true;
	mallopt(M_MMAP_THRESHOLD, 1 << 28);
	mallopt(M_TRIM_THRESHOLD, 1 << 28);
	mallopt(M_TOP_PAD, 16 << 20);
	sqlite3_config(SQLITE_CONFIG_PAGECACHE, NULL, 0, 0);
	sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
	sqlite3_config(SQLITE_CONFIG_SINGLETHREAD);
#ifndef LOOKED_AT
	sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 1200, 128);
#endif
}

/* Statements that the program prepares anew each time and finalizes: of a book that stays open they
 * are put aside instead, and given out again. */
enum { ASIDE = 256 };
static struct aside {
	sqlite3_stmt *statement;
	sqlite3 *db;
	bool out;
} aside[ASIDE];
static size_t put_aside;

int __real_sqlite3_prepare_v2(sqlite3 *db, const char *sql, int size, sqlite3_stmt **statement,
                              const char **tail);
int __wrap_sqlite3_prepare_v2(sqlite3 *db, const char *sql, int size, sqlite3_stmt **statement,
                              const char **tail);
int __real_sqlite3_finalize(sqlite3_stmt *statement);
int __wrap_sqlite3_finalize(sqlite3_stmt *statement);

#ifdef LOOKED_AT

void quick_book(sqlite3 *db)
{
	(void)db;
}

int __wrap_sqlite3_prepare_v2(sqlite3 *db, const char *sql, int size, sqlite3_stmt **statement,
                              const char **tail)
{
	return __real_sqlite3_prepare_v2(db, sql, size, statement, tail);
}

int __wrap_sqlite3_finalize(sqlite3_stmt *statement)
{
	return __real_sqlite3_finalize(statement);
}

#else

/* Whose statements are put aside. */
static sqlite3 *books[64];
static size_t book_count;

void quick_book(sqlite3 *db)
{
	if (book_count < 64)
		books[book_count++] = db;
}

static bool stays_open(const sqlite3 *db)
{
	for (size_t i = 0; i < book_count; i++)
		if (books[i] == db)
			return true;
	return false;
}

int __wrap_sqlite3_prepare_v2(sqlite3 *db, const char *sql, int size, sqlite3_stmt **statement,
                              const char **tail)
{
	int code;
	if (tail || !stays_open(db))
		return __real_sqlite3_prepare_v2(db, sql, size, statement, tail);
	for (size_t i = 0; i < put_aside; i++)
		if (!aside[i].out && aside[i].db == db &&
		    strcmp(sqlite3_sql(aside[i].statement), sql) == 0) {
			aside[i].out = true;
			*statement = aside[i].statement;
			return SQLITE_OK;
		}
	code = __real_sqlite3_prepare_v2(db, sql, size, statement, tail);
	if (code == SQLITE_OK && *statement && put_aside < ASIDE)
		aside[put_aside++] = (struct aside){*statement, db, true};
	return code;
}

int __wrap_sqlite3_finalize(sqlite3_stmt *statement)
{
	for (size_t i = 0; i < put_aside; i++)
		if (aside[i].statement == statement) {
			int code = sqlite3_reset(statement);
			sqlite3_clear_bindings(statement);
			aside[i].out = false;
			return code;
		}
	return __real_sqlite3_finalize(statement);
}

#endif

void quick_end(sqlite3 *db)
{
	size_t left = 0;
	for (size_t i = 0; i < put_aside; i++)
		if (aside[i].db == db)
			__real_sqlite3_finalize(aside[i].statement);
		else
			aside[left++] = aside[i];
	put_aside = left;
#ifndef LOOKED_AT
	for (size_t i = 0; i < book_count; i++)
		if (books[i] == db)
			books[i] = books[--book_count];
#endif
}
