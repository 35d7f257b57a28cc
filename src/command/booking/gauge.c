#include "command/command.h"
#include "rodbook/book/gauge.h"

int command_gauge(int argc, char **argv)
{
	const char *remark = "", *reason = "", *time = "";
	bool strike = false, ok;
	const struct option_word options[] = {{"--remark", &remark, NULL, NULL},
	                                      {"--time", &time, NULL, NULL},
	                                      {"--strike", NULL, &strike, NULL},
	                                      {"--why", &reason, NULL, NULL},
	                                      {0}};
	static const char usage[] = "gauge BOOK RUN STATION READING [--time TIME] [--remark TEXT]\n"
	                            "gauge BOOK RUN STATION --strike --why TEXT";
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_run_info info;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 3, 4, &words, usage))
		return EXIT_USAGE;
	if (strike == (words.count == 4)) {
		command_wrong(usage, "give a reading, or --strike");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_run_find(book, words.word[1], &info, &why);
	if (ok && strike)
		ok = book_gauge_strike_at(book, info.id, words.word[2], reason, &why);
	else if (ok)
		ok =
		    book_gauge_add(book, info.id, words.word[2], words.word[3], time, remark, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
