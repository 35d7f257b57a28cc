#include "rodbook/book/second.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/store.h"

/* Where the copy stands: in a folder by the book's own name. */
static bool place_of(const struct book *book, const char *where, char path[BOOK_PATH_BYTES],
                     struct fault *why)
{
	const char *slash = strrchr(book->path, '/');
	const char *name = slash ? slash + 1 : book->path;
	struct stat there;
	bool folder = stat(where, &there) == 0 && S_ISDIR(there.st_mode);
	bool parted = *where && where[strlen(where) - 1] == '/';
	int size = snprintf(path, BOOK_PATH_BYTES, "%s%s%s", where, folder && !parted ? "/" : "",
	                    folder ? name : "");
	if (!*where)
		return fault_say(why, FAULT_FILE, "name a folder or a new file for the copy");
	if (parted && !folder)
		return fault_say(why, FAULT_FILE, "there is no folder %.300s", where);
	return size < BOOK_PATH_BYTES - 32 ||
	       fault_say(why, FAULT_FILE, "the name of the copy is too long");
}

static bool is_itself(const struct book *book, const struct stat *there)
{
	struct stat here;
	return stat(book->path, &here) == 0 && here.st_dev == there->st_dev &&
	       here.st_ino == there->st_ino;
}

/* Whether what stands there may be replaced: nothing, or an earlier state of this book. */
static bool may_stand(struct book *book, struct book_second *out, struct fault *why)
{
	struct book_witness older, then;
	struct book *other;
	struct stat there;
	bool ok;
	if (lstat(out->path, &there) != 0)
		return book_place_is_free(out->path, why);
	if (stat(out->path, &there) == 0 && is_itself(book, &there))
		return fault_say(why, FAULT_FILE,
		                 "%.300s is the book itself: name another folder or file",
		                 out->path);
	if (!book_file_is_book(out->path))
		return fault_say(why, FAULT_FILE, "%.300s exists already and is no book",
		                 out->path);
	other = book_open(out->path, book->clock, why);
	if (!other)
		return false;
	ok = book_witness(other, &older, why);
	book_close(other);
	if (!ok || !book_witness_at(book, older.seq, &then, why))
		return false;
	out->replaced =
	    older.seq > 0 && then.seq == older.seq && strcmp(then.digest, older.digest) == 0;
	return out->replaced ||
	       fault_say(why, FAULT_FILE,
	                 "%.300s is another book, or holds what this one lacks: it stays as it is; "
	                 "choose another name",
	                 out->path);
}

static bool failed(const char *path, int code, struct fault *why)
{
	return fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", path,
	                 code == SQLITE_FULL || errno == ENOSPC || errno == EFBIG
	                     ? "no room is left"
	                     : sqlite3_errstr(code));
}

/* Page by page. Nobody has the copy open. */
static bool fill(struct book *book, const char *partial, struct fault *why)
{
	char *literal = file_literally(partial);
	sqlite3_backup *backup = NULL;
	sqlite3 *db = NULL;
	int code;
	if (!literal)
		return fault_memory(why);
	errno = 0;
	code = sqlite3_open_v2(literal, &db, SQLITE_OPEN_READWRITE, NULL);
	/* A copy that is cut short is thrown away, so it needs no journal beside it. */
	if (code == SQLITE_OK)
		code = sqlite3_exec(db, "PRAGMA journal_mode=MEMORY", NULL, NULL, NULL);
	if (code == SQLITE_OK)
		backup = sqlite3_backup_init(db, "main", book->db, "main");
	if (backup) {
		code = sqlite3_backup_step(backup, -1);
		sqlite3_backup_finish(backup);
		if (code == SQLITE_DONE)
			code = sqlite3_exec(db, "DELETE FROM editor", NULL, NULL, NULL);
	} else if (code == SQLITE_OK) {
		code = sqlite3_errcode(db);
	}
	sqlite3_close(db);
	free(literal);
	return code == SQLITE_OK || failed(partial, code, why);
}

/* On disk, and out of the cache as far as the system lets go of it, so that what is read next is
 * what was written. */
static bool put_on_disk(const char *partial, struct fault *why)
{
	int fd = open(partial, O_RDONLY | O_CLOEXEC);
	bool ok = fd >= 0 && fsync(fd) == 0;
	if (ok)
		posix_fadvise(fd, 0, 0, POSIX_FADV_DONTNEED);
	else
		fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", partial,
		          strerror(errno));
	if (fd >= 0)
		close(fd);
	return ok;
}

static bool is_whole(struct book *book, const char *partial, const struct book_witness *whole,
                     struct book_witness *out, struct fault *why)
{
	struct book *copy = book_open(partial, book->clock, why);
	bool ok = copy && book_check(copy, why) && book_witness(copy, out, why);
	book_close(copy);
	return ok && ((out->seq == whole->seq && strcmp(out->digest, whole->digest) == 0) ||
	              fault_say(why, FAULT_FILE,
	                        "the copy does not read back as it was written: the medium is not "
	                        "to be trusted"));
}

static void remove_partial(const char *partial)
{
	char journal[BOOK_PATH_BYTES + 16];
	unlink(partial);
	snprintf(journal, sizeof journal, "%s-journal", partial);
	unlink(journal);
}

bool book_second_copy(struct book *book, const char *where, struct book_second *out,
                      struct fault *why)
{
	char partial[BOOK_PATH_BYTES];
	struct book_witness whole;
	bool ok;
	int fd;
	*out = (struct book_second){0};
	if (!place_of(book, where, out->path, why) || !book_hold(book, why))
		return false;
	ok = may_stand(book, out, why) && book_witness(book, &whole, why) &&
	     book_file_begin(out->path, 0600, partial, &fd, why);
	if (!ok) {
		book_release(book);
		return false;
	}
	close(fd);
	ok = fill(book, partial, why);
	book_release(book);
	ok = ok && put_on_disk(partial, why) && is_whole(book, partial, &whole, &out->witness, why);
	if (ok)
		return book_file_end(partial, out->path, out->replaced, why);
	remove_partial(partial);
	return false;
}
