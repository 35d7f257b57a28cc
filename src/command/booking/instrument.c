#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"

int command_instrument(int argc, char **argv)
{
	const char *tolerance = NULL, *tilt = "", *u = "", *remark = "";
	bool csv = false, ok;
	const struct option_word options[] = {{"--tolerance", &tolerance, NULL, NULL},
	                                      {"--tilt", &tilt, NULL, NULL},
	                                      {"--u", &u, NULL, NULL},
	                                      {"--remark", &remark, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	static const char usage[] =
	    "instrument BOOK [NAME --tolerance T [--tilt G --u U] [--remark TEXT]] [--csv]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_instrument i = {0};
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 2, &words, usage))
		return EXIT_USAGE;
	if (words.count == 2 && !tolerance) {
		command_wrong(usage, "the tolerance is missing");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (words.count == 1) {
		ok = report_instruments(stdout, book, csv, &why);
	} else if (strlen(words.word[1]) >= sizeof i.name ||
	           strlen(tolerance) >= sizeof i.tolerance || strlen(tilt) >= sizeof i.tilt ||
	           strlen(u) >= sizeof i.tilt_u || strlen(remark) >= sizeof i.remark) {
		ok = fault_say(&why, FAULT_INPUT, "a text is too long");
	} else {
		strcpy(i.name, words.word[1]);
		strcpy(i.tolerance, tolerance);
		strcpy(i.tilt, tilt);
		strcpy(i.tilt_u, u);
		strcpy(i.remark, remark);
		ok = book_instrument_set(book, &i, &why);
	}
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
