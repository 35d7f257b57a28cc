#include "command/command.h"
#include "rodbook/report/finds.h"

int command_find(int argc, char **argv)
{
	bool csv = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	size_t found, unreadable;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, "find BOOK TEXT [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = report_finds(stdout, book, words.word[1], csv, &found, &unreadable, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	if (status == EXIT_DONE && !found)
		status = EXIT_NO;
	return unreadable ? EXIT_UNUSABLE : status;
}
