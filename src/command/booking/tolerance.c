#include <stdlib.h>

#include "command/command.h"
#include "rodbook/report/report.h"
#include "text/cells.h"

/* All sets: the program's own, then the book's. */
static bool list(struct book *book, struct fault *why)
{
	size_t known, own;
	const struct level_tolerance *sets = level_tolerances(&known);
	struct book_tolerance *list;
	if (!book_tolerances(book, &list, &own, why))
		return false;
	for (size_t i = 0; i < known; i++)
		printf("%-16s %s: %s\n", sets[i].name, sets[i].title, sets[i].source);
	for (size_t i = 0; i < own; i++) {
		cells_put(stdout, list[i].set.name, 16);
		printf(" %s\n", list[i].figures);
	}
	free(list);
	return true;
}

int command_tolerance(int argc, char **argv)
{
	static const char usage[] = "tolerance BOOK [NAME \"section=12 mm; sight=90 m; ...\"]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, NULL, 1, 3, &words, usage))
		return EXIT_USAGE;
	if (words.count == 2) {
		command_wrong(usage, "the figures are missing");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = words.count == 3 ? book_tolerance_set(book, words.word[1], words.word[2], &why)
	                      : list(book, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
