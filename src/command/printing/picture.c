/* Pictures: of a run, of a long sight, of the closures of several runs. */
#include "command/command.h"
#include "rodbook/report/report.h"

struct wish {
	struct book *book;
	enum report_picture which;
	const char *const *names;
	size_t count;
};

static bool write_svg(FILE *out, void *context, struct fault *why)
{
	const struct wish *wish = context;
	return report_picture(out, wish->book, wish->which, wish->names, wish->count, REPORT_AS_SVG,
	                      why);
}

static bool write_html(FILE *out, void *context, struct fault *why)
{
	const struct wish *wish = context;
	return report_picture(out, wish->book, wish->which, wish->names, wish->count,
	                      REPORT_AS_HTML, why);
}

static int draw(int argc, char **argv, enum report_picture which, const char *usage)
{
	const char *path = NULL, *html = NULL;
	bool csv = false, ok;
	const struct option_word options[] = {{"--svg", &path, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {"--html", &html, NULL, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	struct wish wish = {.which = which, .names = words.word + 1};
	int status = EXIT_DONE, least = which == REPORT_CLOSURES ? 1 : 2;

	if (!command_words(argc, argv, options, least, which == REPORT_CLOSURES ? WORDS_MAX : 2,
	                   &words, usage))
		return EXIT_USAGE;
	if (!command_one_form(csv + (html != NULL), "either --csv or --html", usage))
		return EXIT_USAGE;
	wish.count = (size_t)words.count - 1;
	wish.book = command_open(words.word[0], &status);
	if (!wish.book)
		return status;
	ok = html ? command_write(html, write_html, &wish, &why)
	          : report_picture(stdout, wish.book, which, wish.names, wish.count,
	                           csv ? REPORT_AS_CSV : REPORT_AS_TEXT, &why);
	ok = ok && (!path || command_write(path, write_svg, &wish, &why));
	book_close(wish.book);
	return ok ? command_flush() : command_fail(&why);
}

int command_profile(int argc, char **argv)
{
	return draw(argc, argv, REPORT_PROFILE,
	            "profile BOOK RUN [--svg FILE] [--csv | --html FILE]");
}

int command_longsight(int argc, char **argv)
{
	return draw(argc, argv, REPORT_LONGSIGHT,
	            "longsight BOOK RUN [--svg FILE] [--csv | --html FILE]");
}

int command_closures(int argc, char **argv)
{
	return draw(argc, argv, REPORT_CLOSURES,
	            "closures BOOK [RUN...] [--svg FILE] [--csv | --html FILE]");
}
