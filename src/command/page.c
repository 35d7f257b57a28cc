#include "command/command.h"
#include "rodbook/paper.h"

int command_page(int argc, char **argv)
{
	bool csv = false;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct paper_run run;
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, "page BOOK RUN [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (paper_load(book, words.word[1], NULL, &run, &why)) {
		paper_page(stdout, &run, csv);
		paper_free(&run);
		status = command_flush();
	} else {
		status = command_fail(&why);
	}
	book_close(book);
	return status;
}
