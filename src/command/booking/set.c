#include "command/command.h"
#include "rodbook/report/report.h"

int command_set(int argc, char **argv)
{
	bool csv = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	static const char usage[] = "set BOOK [NAME VALUE] [--csv]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 3, &words, usage))
		return EXIT_USAGE;
	if (words.count == 2) {
		command_wrong(usage, "the value is missing");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = words.count == 3 ? book_set(book, words.word[1], words.word[2], &why)
	                      : report_settings(stdout, book, csv, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
