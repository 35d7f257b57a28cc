/* A new book of what can be read in a damaged one: its journal first. */
#include "book/rescue/rescue.h"

#include <limits.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "rodbook/book/files.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/tables.h"

#define NAME_BYTES (BOOK_PATH_BYTES + 32)

struct rescue {
	const char *broken, *path;
	book_clock *clock;
	struct replica replica;
	char copy[NAME_BYTES], made[NAME_BYTES]; /* files beside the new book, while it is made */
	book_rescue_teller *tell;
	void *context;
	struct book_rescued *out;
};

/* What SQLite may keep beside a book. */
static const char *const beside[] = {"", "-journal", "-wal", "-shm"};

static bool copy_file(const char *from, const char *to, struct fault *why)
{
	char bytes[65536];
	int in = open(from, O_RDONLY | O_CLOEXEC), out;
	ssize_t size = 1;
	if (in < 0)
		return fault_say(why, FAULT_FILE, "%.300s: %s", from, strerror(errno));
	out = open(to, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
	while (out >= 0 && size > 0) {
		size = read(in, bytes, sizeof bytes);
		if (size > 0 && write(out, bytes, (size_t)size) != size)
			size = -1;
	}
	if (out < 0 || size < 0)
		fault_say(why, FAULT_FILE, "%.300s cannot be copied to %.200s: %s", from, to,
		          strerror(errno));
	close(in);
	if (out >= 0)
		close(out);
	return out >= 0 && size == 0;
}

/* The file and what stands beside it: SQLite may have to end a change that was cut off, and does so
 * in the copy. */
static bool copy_broken(struct rescue *r, struct fault *why)
{
	struct stat info;
	if (stat(r->broken, &info) == 0 && !S_ISREG(info.st_mode))
		return fault_say(why, FAULT_FILE, "%.300s is no regular file", r->broken);
	if (!copy_file(r->broken, r->copy, why))
		return false;
	for (size_t i = 1; i < 3; i++) {
		char from[NAME_BYTES + 16], to[NAME_BYTES + 16];
		snprintf(from, sizeof from, "%.*s%s", PATH_MAX, r->broken, beside[i]);
		snprintf(to, sizeof to, "%s%s", r->copy, beside[i]);
		if (stat(from, &info) == 0 && S_ISREG(info.st_mode) && !copy_file(from, to, why))
			return false;
	}
	return true;
}

/* A file that is shorter than its header says was cut off: SQLite reads the rest of such a one only
 * where blank pages stand for what is gone. */
static bool pad_copy(struct rescue *r)
{
	unsigned char head[100];
	struct stat info;
	off_t wanted;
	bool cut = false;
	int fd = open(r->copy, O_RDWR | O_CLOEXEC);
	if (fd >= 0 && fstat(fd, &info) == 0 && read(fd, head, sizeof head) == sizeof head) {
		off_t page = head[16] << 8 | head[17], pages = 0;
		for (int i = 28; i < 32; i++)
			pages = pages << 8 | head[i];
		wanted = pages * (page == 1 ? 65536 : page);
		cut = info.st_size < wanted && wanted < ((off_t)1 << 36);
		if (cut && ftruncate(fd, wanted) != 0)
			cut = true;
	}
	if (fd >= 0)
		close(fd);
	return cut;
}

static void remove_all(const char *name)
{
	for (size_t i = 0; *name && i < sizeof beside / sizeof *beside; i++) {
		char file[NAME_BYTES + 16];
		snprintf(file, sizeof file, "%s%s", name, beside[i]);
		unlink(file);
	}
}

/* The copy, if SQLite takes it for a file of its own; NULL where not. */
static sqlite3 *open_copy(struct rescue *r)
{
	char *literal = file_literally(r->copy);
	sqlite3 *db = NULL;
	bool ok =
	    literal && sqlite3_open_v2(literal, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK;
	free(literal);
	if (ok) {
		sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
		sqlite3_db_config(db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
		sqlite3_db_config(db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
		sqlite3_db_config(db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
		return db;
	}
	sqlite3_close(db);
	return NULL;
}

/* Puts the rows of all entries, in order. */
static bool put_entries(struct replica *from, struct replica *to, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(&from->book, why, "SELECT tbl, after FROM journal ORDER BY seq", "");
	if (!statement)
		return false;
	while (ok && sql_row(&from->book, statement, &ok, why)) {
		const char *table = (const char *)sqlite3_column_text(statement, 0);
		const char *after = (const char *)sqlite3_column_text(statement, 1);
		struct fault refused;
		ok = table && after ? true : fault_memory(why);
		/* What the table's own checks refuse is no row of a book. */
		if (ok)
			replica_put(to, table, after, &refused);
	}
	return sql_done(&from->book, statement, ok, why);
}

static bool copy_journal(struct replica *from, struct replica *to, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *put = rescue_put_entry(to, why);
	sqlite3_stmt *statement =
	    put ? sql_query(
	              &from->book, why,
	              "SELECT seq, action, time, act, run, tbl, row, before, after, undoes FROM "
	              "journal ORDER BY seq",
	              "")
	        : NULL;
	while (ok && statement && sql_row(&from->book, statement, &ok, why)) {
		for (int i = 0; i < 10; i++)
			sqlite3_bind_value(put, i + 1, sqlite3_column_value(statement, i));
		ok = sqlite3_step(put) == SQLITE_DONE || sql_fault(&to->book, why);
		sqlite3_reset(put);
	}
	sqlite3_finalize(put);
	return statement && sql_done(&from->book, statement, ok, why);
}

/* The book as its journal has it, entry for entry. *whole: it can be read, and nothing differs. */
static bool make_whole(struct rescue *r, bool *whole, struct fault *why)
{
	struct replica file = {.book = {.path = r->made, .clock = r->clock}};
	struct book_verified verified = {0};
	struct book *book = NULL;
	struct fault unread = {0};
	char *literal = file_literally(r->made);
	int fd = open(r->made, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
	bool ok = fd >= 0 && close(fd) == 0 && create_tables(r->made, why);
	if (fd < 0)
		fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", r->made,
		          strerror(errno));
	ok = ok && (literal || fault_memory(why)) &&
	     (sqlite3_open_v2(literal, &file.book.db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK ||
	      sql_fault(&file.book, why));
	free(literal);
	if (ok) {
		sqlite3_db_config(file.book.db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
		ok = (sqlite3_exec(file.book.db, "PRAGMA synchronous=EXTRA; BEGIN", NULL, NULL,
		                   NULL) == SQLITE_OK ||
		      sql_fault(&file.book, why)) &&
		     copy_journal(&r->replica, &file, why) &&
		     put_entries(&r->replica, &file, why) &&
		     (sqlite3_exec(file.book.db, "COMMIT", NULL, NULL, NULL) == SQLITE_OK ||
		      sql_fault(&file.book, why));
	}
	replica_end(&file);
	if (!ok)
		return false;
	book = book_open(r->made, r->clock, &unread);
	*whole = book && book_verify(book, 0, &verified, &unread) && !*verified.difference;
	r->out->rows = verified.rows;
	book_close(book);
	return true;
}

static bool take_tables(struct rescue *r, struct book *book, struct fault *why)
{
	size_t count = book_table_count();
	struct book_table *tables = calloc(count, sizeof *tables);
	const char *slash = strrchr(r->broken, '/');
	char origin[200];
	bool ok = true;
	if (!tables)
		return fault_memory(why);
	for (size_t i = 0; ok && i < count; i++) {
		ok = book_table_read(&r->replica.book, i, &tables[i], why);
		r->out->rows += tables[i].rows;
	}
	level_show_text(origin, sizeof origin, slash ? slash + 1 : r->broken, false);
	ok = ok && book_take_tables(book, tables, count, origin, why);
	for (size_t i = 0; i < count; i++)
		book_table_free(&tables[i]);
	free(tables);
	return ok;
}

/* A book of the rows that can stand in one, taken as an import takes them. */
static bool make_of_rows(struct rescue *r, struct fault *why)
{
	struct book *book = NULL;
	bool ok;
	remove_all(r->made);
	r->out->rows = 0;
	r->replica.book.reading_back = true;
	ok = rescue_sift(&r->replica, r->tell, r->context, &r->out->lost, why) &&
	     book_create(r->made, LEVEL_M, "", r->clock, why);
	book = ok ? book_open(r->made, r->clock, why) : NULL;
	ok = book && take_tables(r, book, why);
	book_close(book);
	return ok;
}

static bool count_entries(struct rescue *r, struct fault *why)
{
	return sql_integer(&r->replica.book, "SELECT count(*) FROM journal", &r->out->entries,
	                   why) &&
	       sql_integer(&r->replica.book, "SELECT coalesce(max(seq), 0) FROM journal",
	                   &r->out->last, why);
}

static bool make(struct rescue *r, struct fault *why)
{
	bool cut = pad_copy(r), more = false;
	sqlite3 *copy = open_copy(r);
	struct book_rescued *out = r->out;
	bool ok = !copy || rescue_entries(copy, &r->replica, &out->certain, why);
	out->certain = out->certain && !cut;
	/* Pages that nothing leads to may hold what was never kept: only where the way is lost. */
	ok = ok && (out->certain || rescue_pages(r->copy, &r->replica, why)) &&
	     count_entries(r, why) && put_entries(&r->replica, &r->replica, why) &&
	     (!copy ||
	      rescue_rows(copy, &r->replica, r->tell, r->context, &out->differ, &more, why));
	/* Where the end of the journal is lost, the tables know more; where it is not, it knows
	 * better. */
	if (ok && out->entries && out->entries == out->last && !more &&
	    (out->certain || !out->differ))
		ok = make_whole(r, &out->whole, why);
	if (ok && !out->whole)
		ok = make_of_rows(r, why);
	if (ok && !out->entries && !out->rows)
		ok = fault_say(why, FAULT_FILE, "nothing of a book is in %.300s: nothing was made",
		               r->broken);
	sqlite3_close(copy);
	return ok;
}

bool book_rescue(const char *broken, const char *path, book_clock *clock, book_rescue_teller *tell,
                 void *context, struct book_rescued *out, struct fault *why)
{
	struct rescue r = {.broken = broken,
	                   .path = path,
	                   .clock = clock,
	                   .tell = tell,
	                   .context = context,
	                   .out = out};
	bool ok;
	*out = (struct book_rescued){0};
	if (!book_place_is_free(path, why))
		return false;
	snprintf(r.copy, sizeof r.copy, "%.*s.%ld.copy", PATH_MAX, path, (long)getpid());
	snprintf(r.made, sizeof r.made, "%.*s.%ld.made", PATH_MAX, path, (long)getpid());
	ok = copy_broken(&r, why) &&
	     replica_begin(&r.replica, &(struct book){.path = r.made, .clock = clock}, why) &&
	     make(&r, why) && book_file_end(r.made, path, false, why);
	if (r.replica.book.db)
		replica_end(&r.replica);
	remove_all(r.copy);
	remove_all(r.made);
	return ok;
}
