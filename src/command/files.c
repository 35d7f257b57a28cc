/* Files that are whole or not there. */
#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "command/command.h"

bool command_is_book(const char *path)
{
	char head[16] = "";
	FILE *file = fopen(path, "rb");
	size_t size = file ? fread(head, 1, sizeof head, file) : 0;
	if (file)
		fclose(file);
	return size == sizeof head && memcmp(head, "SQLite format 3", 16) == 0;
}

static bool cannot(const char *path, struct fault *why)
{
	return fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", path, strerror(errno));
}

static bool finish_file(FILE *file, const char *partial, const char *path, bool ok,
                        struct fault *why)
{
	bool written = fflush(file) == 0 && !ferror(file) && fsync(fileno(file)) == 0;
	written = fclose(file) == 0 && written;
	if (ok && (!written || rename(partial, path) != 0))
		ok = cannot(path, why);
	if (!ok)
		unlink(partial);
	return ok;
}

bool command_write(const char *path, command_writer *write, void *context, struct fault *why)
{
	char partial[PATH_MAX + 32], real[PATH_MAX];
	struct stat info;
	FILE *file;

	if (stat(path, &info) == 0 && !S_ISREG(info.st_mode)) {
		/* A device or a pipe takes the text as it comes. */
		if (S_ISDIR(info.st_mode)) {
			errno = EISDIR;
			return cannot(path, why);
		}
		file = fopen(path, "wb");
		if (!file)
			return cannot(path, why);
		bool ok = write(file, context, why);
		bool written = !ferror(file);
		written = fclose(file) == 0 && written;
		return written ? ok : cannot(path, why);
	}
	/* One slip of the hand must not replace a book by a CSV. */
	if (command_is_book(path))
		return fault_say(why, FAULT_FILE,
		                 "%.300s is a book: choose another name for the file", path);
	/* Through a link the file it leads to is written, and the link stays. */
	if (realpath(path, real))
		path = real;
	if (snprintf(partial, sizeof partial, "%s.%ld.part", path, (long)getpid()) >=
	    (int)sizeof partial) {
		errno = ENAMETOOLONG;
		return cannot(path, why);
	}
	file = fopen(partial, "wbx");
	if (!file)
		return cannot(path, why);
	return finish_file(file, partial, path, write(file, context, why), why);
}
