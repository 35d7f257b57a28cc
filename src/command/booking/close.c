#include "command/command.h"
#include "rodbook/report/report.h"

int command_close(int argc, char **argv)
{
	const char *reason = "";
	const struct option_word options[] = {{"--why", &reason, NULL, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, "close BOOK RUN [--why TEXT]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (!work_run_load(book, words.word[1], NULL, &run, &why)) {
		status = command_fail(&why);
	} else {
		char verdict[400], witness[REPORT_WITNESS_BYTES];
		if (book_run_close(book, &run.book, reason, &why)) {
			run.book.info.closed = true;
			report_verdict(&run, verdict, sizeof verdict);
			printf("closed %s: %s\n%s\n", run.book.info.name, verdict,
			       report_witness(book, witness));
			status = command_flush();
		} else {
			/* The run is there: that it cannot be closed is an answer. */
			status = command_fail(&why);
			status = why.kind == FAULT_INPUT ? EXIT_NO : status;
		}
		work_run_free(&run);
	}
	book_close(book);
	return status;
}

int command_reopen(int argc, char **argv)
{
	const char *reason = "";
	const struct option_word options[] = {{"--why", &reason, NULL, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book_run_info info;
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, "reopen BOOK RUN --why TEXT"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (!book_run_find(book, words.word[1], &info, &why)) {
		status = command_fail(&why);
	} else if (!info.closed) {
		fprintf(stderr, "rodbook: run %s is not closed\n", info.name);
		status = EXIT_NO;
	} else if (book_run_reopen(book, info.id, reason, &why)) {
		printf("reopened %s\n", info.name);
		status = command_flush();
	} else {
		status = command_fail(&why);
	}
	book_close(book);
	return status;
}
