/* Making and opening a book. A book from elsewhere is untrusted. */
#include "book/store.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Up to this size a book is checked whole each time it is opened. */
#define QUICK_CHECK_BYTES (32 << 20)

#define EXPECTED_SCHEMA                                                                            \
	"SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name"

static void apply_guards(sqlite3 *db)
{
	sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
	sqlite3_db_config(db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
	sqlite3_limit(db, SQLITE_LIMIT_LENGTH, 1000000);
	sqlite3_limit(db, SQLITE_LIMIT_ATTACHED, 0);
	sqlite3_limit(db, SQLITE_LIMIT_TRIGGER_DEPTH, 10);
	sqlite3_busy_timeout(db, 2000);
	sqlite3_exec(db,
	             "PRAGMA foreign_keys=ON; PRAGMA cell_size_check=ON; PRAGMA synchronous=EXTRA",
	             NULL, NULL, NULL);
}

static bool same_text(sqlite3_stmt *a, sqlite3_stmt *b, int column)
{
	const char *x = (const char *)sqlite3_column_text(a, column);
	const char *y = (const char *)sqlite3_column_text(b, column);
	return x && y && strcmp(x, y) == 0;
}

/* Compares the schema with that of an empty book made in memory. */
static bool schema_is_ours(sqlite3 *db, const char *schema)
{
	sqlite3 *fresh = NULL;
	sqlite3_stmt *a = NULL, *b = NULL;
	bool same = sqlite3_open(":memory:", &fresh) == SQLITE_OK &&
	            sqlite3_exec(fresh, schema, NULL, NULL, NULL) == SQLITE_OK &&
	            sqlite3_prepare_v2(fresh, EXPECTED_SCHEMA, -1, &a, NULL) == SQLITE_OK &&
	            sqlite3_prepare_v2(db, EXPECTED_SCHEMA, -1, &b, NULL) == SQLITE_OK;
	while (same) {
		int x = sqlite3_step(a), y = sqlite3_step(b);
		same = x == y && (x == SQLITE_ROW || x == SQLITE_DONE);
		if (x != SQLITE_ROW)
			break;
		for (int i = 0; i < 4; i++)
			same = same && same_text(a, b, i);
	}
	sqlite3_finalize(a);
	sqlite3_finalize(b);
	sqlite3_close(fresh);
	return same;
}

static int64_t pragma_integer(sqlite3 *db, const char *sql)
{
	sqlite3_stmt *statement = NULL;
	int64_t value = -1;
	if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK &&
	    sqlite3_step(statement) == SQLITE_ROW)
		value = sqlite3_column_int64(statement, 0);
	sqlite3_finalize(statement);
	return value;
}

static bool is_sound(sqlite3 *db)
{
	sqlite3_stmt *statement = NULL;
	bool sound =
	    sqlite3_prepare_v2(db, "PRAGMA quick_check(1)", -1, &statement, NULL) == SQLITE_OK &&
	    sqlite3_step(statement) == SQLITE_ROW &&
	    strcmp((const char *)sqlite3_column_text(statement, 0), "ok") == 0;
	sqlite3_finalize(statement);
	return sound;
}

/* What can be told from the file before SQLite touches it. */
static bool check_file(const char *path, struct stat *file, struct fault *why)
{
	char head[16] = "";
	int fd;
	ssize_t size;

	if (stat(path, file) != 0)
		return fault_say(why, FAULT_FILE, "%.300s: %s%s", path, strerror(errno),
		                 errno == ENOENT ? "; make a book with: rodbook new BOOK" : "");
	if (!S_ISREG(file->st_mode))
		return fault_say(why, FAULT_FILE, "%.300s is %s, not a book", path,
		                 S_ISDIR(file->st_mode) ? "a directory" : "no regular file");
	fd = open(path, O_RDONLY | O_CLOEXEC);
	if (fd < 0)
		return fault_say(why, FAULT_FILE, "%.300s: %s", path, strerror(errno));
	size = read(fd, head, sizeof head);
	close(fd);
	if (size != sizeof head || memcmp(head, "SQLite format 3", 16) != 0)
		return fault_say(why, FAULT_FILE, "%.300s is no rodbook book%s", path,
		                 size == 0 ? ": it is empty" : "");
	return true;
}

static bool check_book(struct book *book, off_t size, struct fault *why)
{
	int64_t version = pragma_integer(book->db, "PRAGMA user_version");
	if (version < 0)
		return sql_fault(book, why);
	if (pragma_integer(book->db, "PRAGMA application_id") != BOOK_APPLICATION_ID)
		return fault_say(why, FAULT_FILE, "%.300s is no rodbook book", book->path);
	if (version > BOOK_VERSION)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s was written by a newer rodbook (version %lld of the book, this "
		    "program knows %d): use that program",
		    book->path, (long long)version, BOOK_VERSION);
	/* An older book is looked at as it was, before anything is written to it. */
	if (!schema_of(version) || !schema_is_ours(book->db, schema_of(version)))
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s is not laid out as a rodbook book: somebody altered its tables",
		    book->path);
	if (size <= QUICK_CHECK_BYTES && !is_sound(book->db))
		return fault_say(why, FAULT_FILE,
		                 "%.300s is damaged: work on a copy, and take the last good one",
		                 book->path);
	if (version == BOOK_VERSION)
		return true;
	if (book->read_only)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s was written by an older rodbook, and is read-only: make it "
		    "writable once, so that it can be brought up to this one",
		    book->path);
	return upgrade(book, version, why);
}

struct book *book_open(const char *path, book_clock *clock, struct fault *why)
{
	struct stat file;
	struct book *book;
	int flags;

	if (!check_file(path, &file, why))
		return NULL;
	book = calloc(1, sizeof *book);
	if (!book || !(book->path = strdup(path))) {
		free(book);
		fault_say(why, FAULT_FILE, "out of memory");
		return NULL;
	}
	book->clock = clock;
	/* The superuser may write anything; a book marked read-only is meant to stay so. */
	book->read_only = access(path, W_OK) != 0 || (file.st_mode & 0222) == 0;
	flags = book->read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE;
	if (sqlite3_open_v2(path, &book->db, flags | SQLITE_OPEN_PRIVATECACHE, NULL) != SQLITE_OK) {
		sql_fault(book, why);
		book_close(book);
		return NULL;
	}
	apply_guards(book->db);
	if (!check_book(book, file.st_size, why)) {
		book_close(book);
		return NULL;
	}
	if (!book->read_only)
		sqlite3_exec(book->db, "PRAGMA journal_mode=DELETE", NULL, NULL, NULL);
	return book;
}

void book_close(struct book *book)
{
	if (!book)
		return;
	for (size_t i = 0; i < BOOK_STATEMENTS && book->kept[i].sql; i++)
		sqlite3_finalize(book->kept[i].statement);
	sqlite3_close(book->db);
	free(book->path);
	free(book);
}

int book_brought_up(const struct book *book)
{
	return book->brought_up;
}

bool book_read_only(const struct book *book)
{
	return book->read_only;
}

static bool fill_new(const char *path, enum level_unit unit, const char *title, book_clock *clock,
                     struct fault *why)
{
	char sql[200];
	struct book *book = NULL;
	sqlite3 *db = NULL;
	bool ok;

	snprintf(sql, sizeof sql, "PRAGMA application_id=%d; PRAGMA user_version=%d",
	         BOOK_APPLICATION_ID, BOOK_VERSION);
	ok = sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, "PRAGMA synchronous=EXTRA; BEGIN", NULL, NULL, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, rodbook_schema, NULL, NULL, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK;
	if (!ok)
		fault_say(why, FAULT_FILE, "%.300s cannot be made: %.200s", path,
		          db ? sqlite3_errmsg(db) : "out of memory");
	sqlite3_close(db);
	if (!ok)
		return false;
	book = book_open(path, clock, why);
	ok = book && book_begin(book, why);
	if (ok) {
		ok = book_set(book, "unit", level_unit_name(unit), why) &&
		     (!title || !*title || book_set(book, "title", title, why));
		ok = book_finish(book, ok, why) && ok;
	}
	book_close(book);
	return ok;
}

bool book_create(const char *path, enum level_unit unit, const char *title, book_clock *clock,
                 struct fault *why)
{
	int fd = open(path, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
	if (fd < 0)
		return fault_say(
		    why, FAULT_FILE,
		    errno == EEXIST
		        ? "%.300s exists already: a book is never overwritten; choose another name"
		        : "%.300s cannot be made: %s",
		    path, strerror(errno));
	close(fd);
	if (fill_new(path, unit, title, clock, why))
		return true;
	unlink(path);
	return false;
}
