#include "command/command.h"
#include "rodbook/report/report.h"

#include <stdlib.h>
#include <string.h>

/* Another elevation keeps the mark's source, and its uncertainty, unless they are given too. */
static bool set_mark(struct book *book, const char *name, const char *elevation, const char *u,
                     const char *source, struct fault *why)
{
	struct book_mark *list;
	size_t count, i = 0;
	struct book_settings settings;
	char own_u[BOOK_TYPED_BYTES + 8] = "";
	bool ok;
	if (!book_settings(book, &settings, why) || !book_marks(book, &list, &count, why))
		return false;
	while (i < count && strcmp(list[i].name, name) != 0)
		i++;
	if (i < count)
		level_carry_text(own_u, sizeof own_u, list[i].u_typed, list[i].unit,
		                 settings.style.unit);
	ok = book_mark_set(book, name, elevation, u ? u : own_u,
	                   source      ? source
	                   : i < count ? list[i].source
	                               : "",
	                   why);
	free(list);
	return ok;
}

int command_mark(int argc, char **argv)
{
	const char *u = NULL, *source = NULL;
	bool csv = false, ok;
	const struct option_word options[] = {{"--u", &u, NULL, NULL},
	                                      {"--source", &source, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	static const char usage[] = "mark BOOK [NAME ELEVATION [--u U] [--source TEXT]] [--csv]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 3, &words, usage))
		return EXIT_USAGE;
	if (words.count == 2) {
		fprintf(stderr, "rodbook: the elevation is missing\nusage: rodbook %s\n", usage);
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = words.count == 3 ? set_mark(book, words.word[1], words.word[2], u, source, &why)
	                      : report_marks(stdout, book, csv, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
