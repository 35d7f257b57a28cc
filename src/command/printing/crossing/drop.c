#include "command/command.h"
#include "rodbook/report/report.h"

int command_drop(int argc, char **argv)
{
	bool csv = false, ok = true;
	const char *html = NULL;
	const struct option_word options[] = {
	    {"--csv", NULL, &csv, NULL}, {"--html", &html, NULL, NULL}, {0}};
	const char usage[] = "drop BOOK RUN [--csv | --html FILE]";
	struct words words;
	struct fault why = {0};
	struct work_run run;
	struct book *book;
	char text[600];
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, usage))
		return EXIT_USAGE;
	if (!command_one_form(csv + (html != NULL), "either --csv or --html", usage))
		return EXIT_USAGE;
	book = command_load(words.word[0], words.word[1], &run, &status);
	if (!book)
		return status;
	/* A run that says nothing yet is an answer, not a slip of the command line. */
	if (report_no_drop(&run, text, sizeof text)) {
		fprintf(stderr, "rodbook: %s\n", text);
		status = EXIT_NO;
	} else {
		ok = html ? command_html(html, book, &run, REPORT_PAPER_DROP, &why)
		          : report_drop(stdout, book, &run, csv, &why);
	}
	work_run_free(&run);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	return status == EXIT_DONE ? command_flush() : status;
}
