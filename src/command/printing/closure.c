#include "command/command.h"
#include "rodbook/report/report.h"

int command_closure(int argc, char **argv)
{
	bool csv = false;
	const char *set_name = NULL, *html = NULL;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL},
	                                      {"--tolerance", &set_name, NULL, NULL},
	                                      {"--html", &html, NULL, NULL},
	                                      {0}};
	const char usage[] = "closure BOOK RUN [--tolerance SET] [--csv | --html FILE]";
	struct level_tolerance set;
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, usage))
		return EXIT_USAGE;
	if (!command_one_form(csv + (html != NULL), "either --csv or --html", usage))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if ((!set_name || book_tolerance_find(book, set_name, &set, &why)) &&
	    work_run_load(book, words.word[1], set_name ? &set : NULL, &run, &why)) {
		bool closes = run.closing.closes == LEVEL_YES && !run.closing.provisional;
		bool ok = true;
		if (html)
			ok = command_html(html, book, &run, REPORT_PAPER_CLOSING, &why);
		else
			report_closure(stdout, &run, csv);
		work_run_free(&run);
		status = ok ? command_flush() : command_fail(&why);
		if (status == EXIT_DONE && !closes)
			status = EXIT_NO;
	} else {
		status = command_fail(&why);
	}
	book_close(book);
	return status;
}
