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
	return report_drops(out, chosen->book, chosen->names, chosen->count, REPORT_AS_SVG, why);
}

static bool write_html(FILE *out, void *context, struct fault *why)
{
	const struct chosen *chosen = context;
	return report_drops(out, chosen->book, chosen->names, chosen->count, REPORT_AS_HTML, why);
}

int command_drops(int argc, char **argv)
{
	const char *path = NULL, *html = NULL;
	bool csv = false, ok;
	const struct option_word options[] = {{"--svg", &path, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {"--html", &html, NULL, NULL},
	                                      {0}};
	const char usage[] = "drops BOOK [RUN...] [--svg FILE] [--csv | --html FILE]";
	struct words words;
	struct fault why = {0};
	struct chosen chosen = {.names = words.word + 1};
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 1, WORDS_MAX, &words, usage))
		return EXIT_USAGE;
	if (!command_one_form(csv + (html != NULL), "either --csv or --html", usage))
		return EXIT_USAGE;
	chosen.count = (size_t)words.count - 1;
	chosen.book = command_open(words.word[0], &status);
	if (!chosen.book)
		return status;
	ok = html ? command_write(html, write_html, &chosen, &why)
	          : report_drops(stdout, chosen.book, chosen.names, chosen.count,
	                         csv ? REPORT_AS_CSV : REPORT_AS_TEXT, &why);
	ok = ok && (!path || command_write(path, write_svg, &chosen, &why));
	book_close(chosen.book);
	return ok ? command_flush() : command_fail(&why);
}
