/* Files that are whole or not there. */
#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "command/command.h"
#include "rodbook/book/files.h"

static bool cannot(const char *path, struct fault *why)
{
	return fault_say(why, FAULT_FILE, "%.300s cannot be written: %s", path, strerror(errno));
}

static bool write_partial(int fd, command_writer *write, void *context, const char *path,
                          struct fault *why)
{
	FILE *file = fdopen(fd, "wb");
	bool ok, written;
	if (!file) {
		close(fd);
		return cannot(path, why);
	}
	ok = write(file, context, why);
	written = fflush(file) == 0 && !ferror(file) && fsync(fileno(file)) == 0;
	written = fclose(file) == 0 && written;
	return ok && (written || cannot(path, why));
}

bool command_write(const char *path, command_writer *write, void *context, struct fault *why)
{
	char partial[BOOK_PATH_BYTES], real[PATH_MAX];
	struct stat info;
	FILE *file;
	int fd;

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
	if (book_file_is_book(path))
		return fault_say(why, FAULT_FILE,
		                 "%.300s is a book: choose another name for the file", path);
	/* Through a link the file it leads to is written, and the link stays. */
	if (realpath(path, real))
		path = real;
	if (!book_file_begin(path, 0666, partial, &fd, why))
		return false;
	if (write_partial(fd, write, context, path, why))
		return book_file_end(partial, path, true, why);
	unlink(partial);
	return false;
}

struct html_paper {
	struct book *book;
	const struct work_run *run;
	enum report_paper paper;
};

static bool write_html(FILE *out, void *context, struct fault *why)
{
	const struct html_paper *of = context;
	return report_html(out, of->book, of->run, of->paper, why);
}

bool command_html(const char *path, struct book *book, const struct work_run *run,
                  enum report_paper paper, struct fault *why)
{
	struct html_paper of = {book, run, paper};
	return command_write(path, write_html, &of, why);
}
