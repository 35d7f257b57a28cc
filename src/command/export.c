#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "command/command.h"
#include "rodbook/paper.h"

/* Whether there is a book, or another SQLite file, at path: one slip of the hand must not replace
 * it by a CSV. */
static bool is_database(const char *path)
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

/* Writes beside the file and renames, so that it is whole or not there. */
static bool export_file(struct book *book, const struct paper_run *run, const char *path,
                        struct fault *why)
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
		bool ok = paper_export(file, book, run, why);
		bool written = !ferror(file);
		written = fclose(file) == 0 && written;
		return written ? ok : cannot(path, why);
	}
	if (is_database(path))
		return fault_say(why, FAULT_FILE,
		                 "%.300s is a book: choose another name for the CSV file", path);
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
	return finish_file(file, partial, path, paper_export(file, book, run, why), why);
}

int command_export(int argc, char **argv)
{
	const char *path = NULL;
	const struct option_word options[] = {{"-o", &path, NULL}, {NULL, NULL, NULL}};
	struct words words;
	struct fault why = {0};
	struct paper_run run;
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 2, &words, "export BOOK RUN [-o FILE]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = paper_load(book, words.word[1], NULL, &run, &why);
	if (ok) {
		if (run.closing.setups && !run.closing.page_holds)
			fprintf(stderr,
			        "rodbook: the line of this run is broken: import will not take "
			        "it back before it is mended\n");
		ok = path ? export_file(book, &run, path, &why)
		          : paper_export(stdout, book, &run, &why);
		paper_free(&run);
	}
	status = ok ? command_flush() : command_fail(&why);
	book_close(book);
	return status;
}
