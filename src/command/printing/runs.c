#include "command/command.h"
#include "rodbook/report/report.h"

int command_runs(int argc, char **argv)
{
	bool csv = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	size_t unreadable;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 1, &words, "runs BOOK [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = report_runs(stdout, book, csv, &unreadable, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return unreadable ? EXIT_UNUSABLE : status;
}
