#include "command/command.h"
#include "rodbook/report/report.h"

#include <stdlib.h>
#include <string.h>

/* A new figure with an old pedigree is worth a word. */
static void say_kept(const struct book_mark_given *given, bool u, bool source)
{
	if (u)
		printf("%s keeps its u, %s; --u gives another\n", given->name, given->u);
	if (source)
		printf("%s keeps its source, %s; --source gives another\n", given->name,
		       given->source);
}

/* Another elevation keeps what the mark has, unless that is given too. */
static bool set_mark(struct book *book, struct book_mark_given given, struct fault *why)
{
	struct book_mark *list;
	size_t count, i = 0;
	struct book_settings settings;
	char own_u[BOOK_TYPED_BYTES + 8] = "";
	bool kept_u, kept_source, ok;
	if (!book_settings(book, &settings, why) || !book_marks(book, &list, &count, why))
		return false;
	while (i < count && strcmp(list[i].name, given.name) != 0)
		i++;
	if (i < count)
		level_carry_text(own_u, sizeof own_u, list[i].u_typed, list[i].unit,
		                 settings.style.unit);
	kept_u = !given.u && *own_u;
	kept_source = !given.source && i < count && *list[i].source;
	given.u = given.u ? given.u : own_u;
	if (!given.source && i < count)
		given.source = list[i].source;
	ok = book_mark_put(book, settings.style.unit, &given, why);
	if (ok)
		say_kept(&given, kept_u, kept_source);
	free(list);
	return ok;
}

int command_mark(int argc, char **argv)
{
	struct book_mark_given given = {0};
	const char *surface = NULL;
	bool csv = false, ok;
	const struct option_word options[] = {{"--u", &given.u, NULL, NULL},
	                                      {"--source", &given.source, NULL, NULL},
	                                      {"--description", &given.description, NULL, NULL},
	                                      {"--reach", &given.reach, NULL, NULL},
	                                      {"--surface", &surface, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	static const char usage[] =
	    "mark BOOK [NAME ELEVATION [--u U] [--source TEXT]] [--csv]\n"
	    "  mark BOOK NAME [ELEVATION] [--description TEXT] [--reach TEXT]\n"
	    "    [--surface yes|no]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, 3, &words, usage))
		return EXIT_USAGE;
	if (words.count == 2 &&
	    (given.u || given.source || !(given.description || given.reach || surface))) {
		command_wrong(usage, "the elevation is missing");
		return EXIT_USAGE;
	}
	if (surface &&
	    (words.count == 1 || (strcmp(surface, "yes") != 0 && strcmp(surface, "no") != 0))) {
		command_wrong(usage, "a surface is yes or no, of one mark");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	given.name = words.word[1];
	given.elevation = words.word[2];
	ok = words.count == 3 ? set_mark(book, given, &why)
	     : words.count == 2
	         ? book_mark_describe(book, given.name, given.description, given.reach, &why)
	         : report_marks(stdout, book, csv, &why);
	if (ok && surface)
		ok = book_mark_surface(book, given.name, strcmp(surface, "yes") == 0, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
