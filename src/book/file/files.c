#include "rodbook/book/files.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/file/rename_fresh.h"

bool book_file_is_book(const char *path)
{
	char head[16] = "";
	struct stat info;
	/* What comes through a pipe must not be read twice. */
	bool is_file = stat(path, &info) == 0 && S_ISREG(info.st_mode);
	int fd = is_file ? open(path, O_RDONLY | O_CLOEXEC) : -1;
	ssize_t size = fd >= 0 ? read(fd, head, sizeof head) : -1;
	if (fd >= 0)
		close(fd);
	return size == sizeof head && memcmp(head, "SQLite format 3", 16) == 0;
}

static bool cannot(const char *path, struct fault *why)
{
	return fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", path, strerror(errno));
}

/* Names beside a book that SQLite reads as the book's own (sqlite.org, File Format, sections 3 and
 * 4: the rollback journal, the write-ahead log and its index). */
static const char *const beside[] = {"-journal", "-wal", "-shm"};

bool book_file_name_is_free(const char *path, struct fault *why)
{
	size_t size = strlen(path);
	for (size_t i = 0; i < sizeof beside / sizeof *beside; i++) {
		size_t end = strlen(beside[i]);
		if (size > end && strcmp(path + size - end, beside[i]) == 0)
			return fault_say(
			    why, FAULT_FILE,
			    "%.300s is the name of a journal that SQLite keeps beside a "
			    "book: choose another name",
			    path);
	}
	return true;
}

bool book_file_begin(const char *path, unsigned mode, char partial[BOOK_PATH_BYTES], int *fd,
                     struct fault *why)
{
	struct stat there;
	bool has = stat(path, &there) == 0;
	if (!book_file_name_is_free(path, why))
		return false;
	if (snprintf(partial, BOOK_PATH_BYTES, "%s.%ld.part", path, (long)getpid()) >=
	    BOOK_PATH_BYTES) {
		errno = ENAMETOOLONG;
		return cannot(path, why);
	}
	*fd = open(partial, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, has ? 0600 : mode);
	if (*fd < 0)
		return cannot(path, why);
	if (!has || fchmod(*fd, there.st_mode & 07777) == 0)
		return true;
	cannot(path, why);
	close(*fd);
	unlink(partial);
	return false;
}

/* Never over what is there. Not every file system knows the one way, or the other. */
static bool move_fresh(const char *partial, const char *path)
{
	int fd;
	if (rename_fresh(partial, path))
		return true;
	if (errno != EINVAL && errno != ENOSYS)
		return false;
	if (link(partial, path) == 0)
		return unlink(partial) == 0;
	if (errno == EEXIST)
		return false;
	/* A place taken first is ours, and may be moved over. */
	fd = open(path, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
	if (fd < 0)
		return false;
	close(fd);
	if (rename(partial, path) == 0)
		return true;
	unlink(path);
	return false;
}

bool book_file_sync_folder(const char *path)
{
	const char *slash = strrchr(path, '/');
	char *folder = slash ? strndup(path, (size_t)(slash - path) + 1) : strdup(".");
	int fd = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
	/* Some drives sync no folders, and say so. */
	bool ok =
	    fd >= 0 && (fsync(fd) == 0 || errno == EINVAL || errno == ENOTSUP || errno == ENOSYS);
	if (fd >= 0)
		close(fd);
	free(folder);
	return ok;
}

bool book_file_end(const char *partial, const char *path, bool replace, struct fault *why)
{
	if (replace ? rename(partial, path) == 0 : move_fresh(partial, path)) {
		/* A folder that cannot be synced keeps the name as it can. */
		book_file_sync_folder(path);
		return true;
	}
	if (errno == EEXIST)
		fault_say(why, FAULT_FILE,
		          "%.300s exists already: a book is never overwritten; choose another name",
		          path);
	else
		cannot(path, why);
	unlink(partial);
	return false;
}
