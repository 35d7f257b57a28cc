/* The gauges of a book, and its set-outs: lists of one kind. */
#include "command/command.h"
#include "rodbook/report/report.h"

typedef bool reporting(FILE *out, struct book *book, bool csv, size_t *unreadable,
                       struct fault *why);

static int list(int argc, char **argv, reporting *report, const char *usage)
{
	bool csv = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	size_t unreadable;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 1, &words, usage))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = report(stdout, book, csv, &unreadable, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return unreadable ? EXIT_UNUSABLE : status;
}

int command_gauges(int argc, char **argv)
{
	return list(argc, argv, report_gauges, "gauges BOOK [--csv]");
}

int command_setouts(int argc, char **argv)
{
	return list(argc, argv, report_setouts, "setouts BOOK [--csv]");
}
