#include <errno.h>
#include <stdlib.h>

#include "command/command.h"
#include "rodbook/report/adjustment.h"

static bool read_number(const char *text, int64_t *out, struct fault *why)
{
	char *end;
	errno = 0;
	*out = strtoll(text, &end, 10);
	return (*text && !*end && !errno && *out > 0) ||
	       fault_say(why, FAULT_INPUT,
	                 "a result goes by its number, not %.40s: rodbook adjusted BOOK lists them",
	                 text);
}

int command_adjusted(int argc, char **argv)
{
	bool csv = false, ok;
	const struct option_word options[] = {{"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	int64_t id = 0;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 2, &words, "adjusted BOOK [N] [--csv]"))
		return EXIT_USAGE;
	if (words.count == 2 && !read_number(words.word[1], &id, &why))
		return command_fail(&why);
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = words.count == 2 ? report_result(stdout, book, id, csv, &why)
	                      : report_results(stdout, book, csv, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
