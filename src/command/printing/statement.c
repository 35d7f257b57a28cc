#include "command/command.h"
#include "rodbook/report/report.h"

int command_statement(int argc, char **argv)
{
	bool csv = false, print = false, ok;
	const char *html = NULL;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL},
	                                      {"--print", NULL, &print, NULL},
	                                      {"--html", &html, NULL, NULL},
	                                      {0}};
	const char usage[] = "statement BOOK RUN [--csv | --print | --html FILE]";
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, usage))
		return EXIT_USAGE;
	if (!command_one_form(csv + print + (html != NULL), "one of --csv, --print and --html",
	                      usage))
		return EXIT_USAGE;
	book = command_load(words.word[0], words.word[1], &run, &status);
	if (!book)
		return status;
	ok = html ? command_html(html, book, &run, REPORT_PAPER_STATEMENT, &why)
	          : report_statement(stdout, book, &run,
	                             csv     ? REPORT_STATEMENT_CSV
	                             : print ? REPORT_STATEMENT_PRINT
	                                     : REPORT_STATEMENT_TEXT,
	                             &why);
	work_run_free(&run);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
