#include "command/command.h"
#include "rodbook/report/changes.h"

static const char usage[] =
    "changes BOOK --first RUN[,RUN...] --second RUN[,RUN...]\n"
    "                [--then RUN[,RUN...]]... [--hold MARK[,MARK...]]\n"
    "                [--by distance|setups] [--sd LENGTH] [--svg FILE] [--csv | --html FILE]";

struct given {
	struct report_changes how;
	struct many first, second, then, hold;
	const char *by_name, *svg, *html;
	enum level_by by;
	bool csv, agree;
	struct book *book;
};

static bool write_svg(FILE *out, void *context, struct fault *why)
{
	const struct given *given = context;
	bool agree;
	return report_changes(out, given->book, &given->how, REPORT_AS_SVG, &agree, why);
}

static bool write_html(FILE *out, void *context, struct fault *why)
{
	struct given *given = context;
	return report_changes(out, given->book, &given->how, REPORT_AS_HTML, &given->agree, why);
}

/* What the options say; the book is not asked yet. */
static bool take(struct given *given, struct fault *why)
{
	struct report_changes *how = &given->how;
	if (!given->first.count || !given->second.count)
		return fault_say(why, FAULT_INPUT,
		                 "two epochs are compared: name the runs of each by --first and "
		                 "--second");
	if (given->then.count > REPORT_EPOCHS_MOST - 2)
		return fault_say(why, FAULT_INPUT,
		                 "there are at most %d epochs: the first and %d "
		                 "later ones",
		                 REPORT_EPOCHS_MOST, REPORT_EPOCHS_MOST - 1);
	if (given->csv && given->then.count)
		return fault_say(why, FAULT_INPUT,
		                 "--csv has the first two epochs only: leave --then out, and name "
		                 "each later epoch by --second in turn");
	if (given->by_name && !level_by_find(given->by_name, &given->by))
		return fault_say(why, FAULT_INPUT, "--by is distance or setups, not %.40s",
		                 given->by_name);
	how->by = given->by_name ? &given->by : NULL;
	how->epoch[0] = (struct report_names){given->first.value, (size_t)given->first.count};
	how->epoch[1] = (struct report_names){given->second.value, (size_t)given->second.count};
	for (int i = 0; i < given->then.count; i++)
		how->epoch[i + 2] = (struct report_names){&given->then.value[i], 1};
	how->epochs = 2 + (size_t)given->then.count;
	how->hold = (struct report_names){given->hold.value, (size_t)given->hold.count};
	return true;
}

static int compare(const char *path, struct given *given)
{
	struct fault why = {0};
	int status = EXIT_DONE;
	bool ok;
	given->book = command_open(path, &status);
	if (!given->book)
		return status;
	ok = given->html
	         ? command_write(given->html, write_html, given, &why)
	         : report_changes(stdout, given->book, &given->how,
	                          given->csv ? REPORT_AS_CSV : REPORT_AS_TEXT, &given->agree, &why);
	ok = ok && (!given->svg || command_write(given->svg, write_svg, given, &why));
	book_close(given->book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return status == EXIT_DONE && !given->agree ? EXIT_NO : status;
}

int command_changes(int argc, char **argv)
{
	struct given given = {0};
	const struct option_word options[] = {
	    {"--first", NULL, NULL, &given.first}, {"--second", NULL, NULL, &given.second},
	    {"--then", NULL, NULL, &given.then},   {"--hold", NULL, NULL, &given.hold},
	    {"--by", &given.by_name, NULL, NULL},  {"--sd", &given.how.sd, NULL, NULL},
	    {"--svg", &given.svg, NULL, NULL},     {"--csv", NULL, &given.csv, NULL},
	    {"--html", &given.html, NULL, NULL},   {0}};
	struct words words;
	struct fault why = {0};
	if (!command_words(argc, argv, options, 1, 1, &words, usage))
		return EXIT_USAGE;
	if (!command_one_form(given.csv + (given.html != NULL), "either --csv or --html", usage))
		return EXIT_USAGE;
	return take(&given, &why) ? compare(words.word[0], &given) : command_fail(&why);
}
