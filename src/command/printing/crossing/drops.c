#include "command/command.h"
#include "rodbook/report/report.h"

struct chosen {
	struct book *book;
	const char *const *names;
	size_t count;
};

static bool write_svg(FILE *out, void *context, struct fault *why)
{
	const struct chosen *chosen = context;
	return report_drops(NULL, out, chosen->book, chosen->names, chosen->count, false, why);
}

int command_drops(int argc, char **argv)
{
	const char *path = NULL;
	bool csv = false, ok;
	const struct option_word options[] = {
	    {"--svg", &path, NULL, NULL}, {"--csv", NULL, &csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct chosen chosen = {.names = words.word + 1};
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, WORDS_MAX, &words,
	                   "drops BOOK [RUN...] [--svg FILE] [--csv]"))
		return EXIT_USAGE;
	chosen.count = (size_t)words.count - 1;
	chosen.book = command_open(words.word[0], &status);
	if (!chosen.book)
		return status;
	ok = report_drops(stdout, NULL, chosen.book, chosen.names, chosen.count, csv, &why) &&
	     (!path || command_write(path, write_svg, &chosen, &why));
	book_close(chosen.book);
	return ok ? command_flush() : command_fail(&why);
}
