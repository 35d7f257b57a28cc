/* Making a book: whole, with its unit and its title, or not at all. */
#include <limits.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/store.h"
#include "rodbook/book/files.h"

bool create_tables(const char *path, struct fault *why)
{
	char sql[200], *literal = file_literally(path);
	sqlite3 *db = NULL;
	bool ok;
	if (!literal)
		return fault_memory(why);
	snprintf(sql, sizeof sql, "PRAGMA application_id=%d; PRAGMA user_version=%d",
	         BOOK_APPLICATION_ID, BOOK_VERSION);
	ok = sqlite3_open_v2(literal, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, "PRAGMA synchronous=EXTRA; BEGIN", NULL, NULL, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, rodbook_schema, NULL, NULL, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK &&
	     sqlite3_exec(db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK;
	if (!ok)
		fault_say(why, FAULT_FILE, "%.300s cannot be made: %.200s", path,
		          db ? sqlite3_errmsg(db) : "out of memory");
	sqlite3_close(db);
	free(literal);
	return ok;
}

static bool fill(const char *path, enum level_unit unit, const char *title, book_clock *clock,
                 struct fault *why)
{
	struct book *book = create_tables(path, why) ? book_open(path, clock, why) : NULL;
	bool ok = book && book_begin(book, why);
	if (ok) {
		ok = book_set(book, "unit", level_unit_name(unit), why) &&
		     (!title || !*title || book_set(book, "title", title, why));
		ok = book_finish(book, ok, why);
	}
	book_close(book);
	return ok;
}

/* A journal that was left there by another book would be played back into this one. */
bool book_place_is_free(const char *path, struct fault *why)
{
	static const char *const beside[] = {"", "-journal", "-wal"};
	struct stat there;
	char name[BOOK_PATH_BYTES];
	if (!book_file_name_is_free(path, why))
		return false;
	for (size_t i = 0; i < sizeof beside / sizeof *beside; i++) {
		snprintf(name, sizeof name, "%.*s%s", PATH_MAX, path, beside[i]);
		if (lstat(name, &there) == 0)
			return fault_say(why, FAULT_FILE,
			                 "%.300s exists already: a book is never overwritten; "
			                 "choose another name",
			                 name);
	}
	return true;
}

bool book_create(const char *path, enum level_unit unit, const char *title, book_clock *clock,
                 struct fault *why)
{
	char partial[BOOK_PATH_BYTES], journal[BOOK_PATH_BYTES + 16];
	int fd;
	if (!book_place_is_free(path, why) || !book_file_begin(path, 0600, partial, &fd, why))
		return false;
	close(fd);
	if (fill(partial, unit, title, clock, why))
		return book_file_end(partial, path, false, why);
	unlink(partial);
	snprintf(journal, sizeof journal, "%s-journal", partial);
	unlink(journal);
	return false;
}
