#include "command/command.h"
#include "rodbook/report/report.h"

int command_slips(int argc, char **argv)
{
	bool csv = false, explained = false;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 2, &words, "slips BOOK RUN [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = work_run_load(book, words.word[1], NULL, &run, &why);
	if (ok) {
		ok = report_slips(stdout, &run, csv, &explained, &why);
		work_run_free(&run);
	}
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return status == EXIT_DONE && !explained ? EXIT_NO : status;
}
