#include "command/command.h"
#include "rodbook/paper.h"

int command_mark(int argc, char **argv)
{
	const char *u = "", *source = "";
	bool csv = false, ok;
	const struct option_word options[] = {{"--u", &u, NULL, NULL},
	                                      {"--source", &source, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	static const char usage[] = "mark BOOK [NAME ELEVATION [--u U] [--source TEXT]] [--csv]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 3, &words, usage))
		return EXIT_USAGE;
	if (words.count == 2) {
		fprintf(stderr, "rodbook: the elevation is missing\nusage: rodbook %s\n", usage);
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = words.count == 3 ? book_mark_set(book, words.word[1], words.word[2], u, source, &why)
	                      : paper_marks(stdout, book, csv, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
