#include "command/command.h"
#include "rodbook/report/report.h"

int command_leave(int argc, char **argv)
{
	bool csv = false, blocks = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, WORDS_MAX, &words,
	                   "leave BOOK [RUN...] [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok =
	    report_leave(stdout, book, words.word + 1, (size_t)words.count - 1, csv, &blocks, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return status == EXIT_DONE && blocks ? EXIT_NO : status;
}
