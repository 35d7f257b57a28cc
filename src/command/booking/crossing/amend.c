#include "command/command.h"
#include "rodbook/report/report.h"

int command_amend(int argc, char **argv)
{
	const char *reason = "";
	const struct option_word options[] = {{"--why", &reason, NULL, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 4, 4, &words,
	                   "amend BOOK RUN FIGURE VALUE --why TEXT"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = work_run_load(book, words.word[1], NULL, &run, &why);
	if (ok) {
		ok = book_amend(book, &run.book, words.word[2], words.word[3], reason, &why);
		work_run_free(&run);
	}
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
