#include "command/command.h"
#include "rodbook/report/report.h"

int command_check(int argc, char **argv)
{
	bool aside = false, hold = false;
	const char *reason = "";
	const struct option_word options[] = {{"--aside", NULL, &aside, NULL},
	                                      {"--hold", NULL, &hold, NULL},
	                                      {"--why", &reason, NULL, NULL},
	                                      {0}};
	static const char usage[] = "check BOOK RUN MARK --aside --why TEXT\n"
	                            "check BOOK RUN MARK --hold [--why TEXT]";
	struct words words;
	struct work_run run;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 3, 3, &words, usage))
		return EXIT_USAGE;
	if (aside == hold) {
		fprintf(stderr, "rodbook: say --aside or --hold\n");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (!work_run_load(book, words.word[1], NULL, &run, &why)) {
		status = command_fail(&why);
	} else {
		if (!book_aside_set(book, &run.book, words.word[2], aside, reason, &why))
			status = command_fail(&why);
		work_run_free(&run);
	}
	book_close(book);
	return status == EXIT_DONE ? command_flush() : status;
}
