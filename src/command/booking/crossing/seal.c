#include "command/command.h"
#include "rodbook/report/report.h"

int command_seal(int argc, char **argv)
{
	static const struct option_word options[] = {{0}};
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	char witness[REPORT_WITNESS_BYTES];
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 2, &words, "seal BOOK RUN"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = work_run_load(book, words.word[1], NULL, &run, &why);
	if (ok) {
		ok = book_seal(book, &run.book, &why);
		work_run_free(&run);
	}
	if (ok)
		printf("the figures of the allowance are sealed; %s\n",
		       report_witness(book, witness));
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
