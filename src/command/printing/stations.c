#include "command/command.h"
#include "rodbook/report/stations.h"

int command_stations(int argc, char **argv)
{
	bool csv = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	size_t unreadable;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 2, &words, "stations BOOK [NAME] [--csv]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = words.count == 2 ? report_station(stdout, book, words.word[1], csv, &unreadable, &why)
	                      : report_stations(stdout, book, csv, &unreadable, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return unreadable ? EXIT_UNUSABLE : status;
}
