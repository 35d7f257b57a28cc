#include "command/command.h"
#include "rodbook/report/report.h"

int command_journal(int argc, char **argv)
{
	bool csv = false, ok = true;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book_run_info info = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 2, &words, "journal BOOK [RUN] [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (words.count == 2)
		ok = book_run_find(book, words.word[1], &info, &why);
	ok = ok && report_journal(stdout, book, info.id, 0, csv, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
