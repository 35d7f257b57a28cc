/* Making and opening a book. A book from elsewhere is untrusted. */
#include "book/file/schema.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Up to this size a book is checked whole. */
#define QUICK_CHECK_BYTES (32 << 20)

#define STORED_SCHEMA                                                                              \
	"SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name"

static bool pragma_integer(struct book *book, const char *sql, int64_t *value, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	bool read = sqlite3_prepare_v2(book->db, sql, -1, &statement, NULL) == SQLITE_OK &&
	            sqlite3_step(statement) == SQLITE_ROW;
	if (read)
		*value = sqlite3_column_int64(statement, 0);
	else
		sql_fault(book, why);
	sqlite3_finalize(statement);
	return read;
}

/* The first text of a statement's first row. */
static bool pragma_says(struct book *book, const char *sql, const char *wanted, bool *says,
                        struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	const char *text = NULL;
	if (sqlite3_prepare_v2(book->db, sql, -1, &statement, NULL) == SQLITE_OK &&
	    sqlite3_step(statement) == SQLITE_ROW)
		text = (const char *)sqlite3_column_text(statement, 0);
	if (text)
		*says = strcmp(text, wanted) == 0;
	else
		sql_fault(book, why);
	sqlite3_finalize(statement);
	return text != NULL;
}

static bool apply_guards(struct book *book, struct fault *why)
{
	int64_t synchronous = 0, keys = 0;
	sqlite3_db_config(book->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
	sqlite3_db_config(book->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
	sqlite3_limit(book->db, SQLITE_LIMIT_LENGTH, 1000000);
	sqlite3_limit(book->db, SQLITE_LIMIT_ATTACHED, 0);
	sqlite3_limit(book->db, SQLITE_LIMIT_TRIGGER_DEPTH, 10);
	sqlite3_busy_timeout(book->db, 2000);
	if (sqlite3_exec(
	        book->db,
	        "PRAGMA foreign_keys=ON; PRAGMA cell_size_check=ON; PRAGMA synchronous=EXTRA", NULL,
	        NULL, NULL) != SQLITE_OK)
		return sql_fault(book, why);
	/* A pragma that is not obeyed says nothing. */
	return pragma_integer(book, "PRAGMA synchronous", &synchronous, why) &&
	       pragma_integer(book, "PRAGMA foreign_keys", &keys, why) &&
	       ((synchronous == 3 && keys == 1) ||
	        fault_say(why, FAULT_FILE,
	                  "this SQLite library refuses a setting that rodbook needs"));
}

/* A book is one whole file after each change: no write-ahead log beside it. */
static bool keep_whole(struct book *book, struct fault *why)
{
	bool whole = false;
	struct fault words = {0};
	if (pragma_says(book, "PRAGMA journal_mode=DELETE", "delete", &whole, &words) && whole)
		return true;
	if (sqlite3_errcode(book->db) == SQLITE_NOMEM)
		return fault_memory(why);
	return fault_say(why, FAULT_FILE,
	                 "another program keeps part of %.300s in a file beside it: leave that "
	                 "program first",
	                 book->path);
}

static bool is_text(sqlite3_stmt *row, int column, const char *text, size_t size)
{
	const char *said = (const char *)sqlite3_column_text(row, column);
	return said && (size_t)sqlite3_column_bytes(row, column) == size &&
	       memcmp(said, text, size) == 0;
}

/* Whether the file says of its schema, row by row, what SQLite keeps of ours. What SQLite cannot
 * even read is not ours. */
static bool schema_is_ours(struct book *book, const char *schema, bool *ours, struct fault *why)
{
	struct stored list[STORED_MOST];
	size_t count = schema_stored(schema, list), i = 0;
	sqlite3_stmt *rows = NULL;
	int code = sqlite3_prepare_v2(book->db, STORED_SCHEMA, -1, &rows, NULL);
	*ours = count && code == SQLITE_OK;
	while (*ours && (code = sqlite3_step(rows)) == SQLITE_ROW) {
		*ours = i < count && is_text(rows, 0, list[i].type, strlen(list[i].type)) &&
		        is_text(rows, 1, list[i].name, strlen(list[i].name)) &&
		        is_text(rows, 2, list[i].table, strlen(list[i].table)) &&
		        is_text(rows, 3, list[i].sql, list[i].size);
		i++;
	}
	*ours = *ours && code == SQLITE_DONE && i == count;
	/* A text that memory was short for reads as NULL. */
	if (code == SQLITE_NOMEM || sqlite3_errcode(book->db) == SQLITE_NOMEM) {
		sqlite3_finalize(rows);
		return fault_memory(why);
	}
	sqlite3_finalize(rows);
	return true;
}

/* Whether the drive can lock at all: without locks two programs would write over each other. The
 * byte is one that SQLite never locks. */
static bool keeps_locks(int fd)
{
	struct flock lock = {
	    .l_type = F_RDLCK, .l_whence = SEEK_SET, .l_start = (off_t)1 << 40, .l_len = 1};
	return fcntl(fd, F_SETLK, &lock) == 0 || errno == EACCES || errno == EAGAIN;
}

/* What can be told from the file before SQLite touches it. */
static bool check_file(const char *path, struct stat *file, struct fault *why)
{
	char head[16] = "";
	int fd;
	ssize_t size;
	bool locked;

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
	locked = keeps_locks(fd);
	close(fd);
	if (!locked)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s lies on a drive that keeps no locks, as some network drives: "
		    "copy the book to this machine, and work there",
		    path);
	if (size != sizeof head || memcmp(head, "SQLite format 3", 16) != 0)
		return fault_say(why, FAULT_FILE, "%.300s is no rodbook book%s", path,
		                 size == 0 ? ": it is empty" : "");
	return true;
}

bool book_check(struct book *book, struct fault *why)
{
	struct stat file;
	bool sound = true;
	if (stat(book->path, &file) != 0)
		return fault_say(why, FAULT_FILE, "%.300s: %s", book->path, strerror(errno));
	if (file.st_size > QUICK_CHECK_BYTES)
		return book->checked = true;
	book->checked = pragma_says(book, "PRAGMA quick_check(1)", "ok", &sound, why) &&
	                (sound || sql_damaged(book, why));
	return book->checked;
}

static bool check_book(struct book *book, struct fault *why)
{
	int64_t version = 0, application = 0;
	bool ours = true;
	if (!pragma_integer(book, "PRAGMA user_version", &version, why) ||
	    !pragma_integer(book, "PRAGMA application_id", &application, why))
		return false;
	if (application != BOOK_APPLICATION_ID)
		return fault_say(why, FAULT_FILE, "%.300s is no rodbook book", book->path);
	if (version > BOOK_VERSION)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s was written by a newer rodbook (version %lld of the book, this "
		    "program knows %d): use that program",
		    book->path, (long long)version, BOOK_VERSION);
	/* An older book is looked at as it was, before anything is written to it. */
	if (schema_of(version) && !schema_is_ours(book, schema_of(version), &ours, why))
		return false;
	if (!schema_of(version) || !ours)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s is not laid out as a rodbook book: somebody altered its tables",
		    book->path);
	if (!book->read_only && !keep_whole(book, why))
		return false;
	if (version == BOOK_VERSION)
		return true;
	if (book->read_only)
		return fault_say(
		    why, FAULT_FILE,
		    "%.300s was written by an older rodbook, and is read-only: make it "
		    "writable once, so that it can be brought up to this one",
		    book->path);
	return book_check(book, why) && upgrade(book, version, why);
}

char *file_literally(const char *path)
{
	size_t size = strlen(path) + 3;
	char *out = malloc(size);
	if (out)
		snprintf(out, size, "%s%s", *path == '/' ? "" : "./", path);
	return out;
}

static bool open_file(struct book *book, int flags, struct fault *why)
{
	char *path = file_literally(book->path);
	bool ok = path ? sqlite3_open_v2(path, &book->db,
	                                 flags | SQLITE_OPEN_PRIVATECACHE | SQLITE_OPEN_NOMUTEX,
	                                 NULL) == SQLITE_OK ||
	                     sql_fault(book, why)
	               : fault_memory(why);
	free(path);
	return ok;
}

struct book *book_open(const char *path, book_clock *clock, struct fault *why)
{
	struct stat file;
	struct book *book;

	if (!check_file(path, &file, why))
		return NULL;
	book = calloc(1, sizeof *book);
	if (!book || !(book->path = strdup(path))) {
		free(book);
		fault_memory(why);
		return NULL;
	}
	book->clock = clock;
	/* The superuser may write anything; a book marked read-only is meant to stay so. */
	book->read_only = access(path, W_OK) != 0 || (file.st_mode & 0222) == 0;
	if (!open_file(book, book->read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE, why) ||
	    !apply_guards(book, why) || !check_book(book, why)) {
		book_close(book);
		return NULL;
	}
	return book;
}

void book_close(struct book *book)
{
	if (!book)
		return;
	sql_drop_kept(book);
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
