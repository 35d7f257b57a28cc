#include <string.h>
#include <time.h>
#include <unistd.h>

#include "command/command.h"
#include "rodbook/report/adjustment.h"

static const char usage[] =
    "adjust BOOK RUN [--by distance|setups] [--sd LENGTH] [--keep] [--csv]\n"
    "       rodbook adjust BOOK --net [RUN...] [--by distance|setups] [--sd LENGTH] [--keep]\n"
    "                [--csv]";

/* Progress is shown on a terminal once half a second has gone. */
#define PATIENCE 0.5

struct shown {
	double from;
	int percent; /* on the screen; 0: none yet */
};

static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void show(void *context, double fraction)
{
	struct shown *shown = context;
	int percent = (int)(100 * fraction);
	if (percent == shown->percent || seconds() - shown->from < PATIENCE)
		return;
	fprintf(stderr, "\radjusting: %3d %%", percent);
	fflush(stderr);
	shown->percent = percent;
}

static int adjust(const char *path, const struct report_adjust *wish)
{
	struct report_adjust how = *wish;
	struct fault why = {0};
	struct shown shown = {.from = seconds()};
	int status = EXIT_DONE;
	bool passes = false, ok;
	struct book *book = command_open(path, &status);
	if (!book)
		return status;
	if (isatty(STDERR_FILENO)) {
		how.progress = show;
		how.context = &shown;
	}
	ok = report_adjust(stdout, book, &how, &passes, &why);
	if (shown.percent)
		fputs("\r                \r", stderr);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	status = command_flush();
	return status == EXIT_DONE && !passes ? EXIT_NO : status;
}

int command_adjust(int argc, char **argv)
{
	struct report_adjust how = {0};
	const char *by_name = NULL;
	enum level_by by;
	const struct option_word options[] = {
	    {"--net", NULL, &how.net, NULL}, {"--by", &by_name, NULL, NULL},
	    {"--sd", &how.sd, NULL, NULL},   {"--keep", NULL, &how.keep, NULL},
	    {"--csv", NULL, &how.csv, NULL}, {0}};
	struct words words;
	struct fault why = {0};

	if (!command_words(argc, argv, options, 1, WORDS_MAX, &words, usage))
		return EXIT_USAGE;
	if (!how.net && words.count != 2) {
		fault_say(
		    &why, FAULT_INPUT,
		    "one run is adjusted by itself, several by --net: adjust BOOK --net RUN...");
		return command_fail(&why);
	}
	if (by_name && !level_by_find(by_name, &by)) {
		fault_say(&why, FAULT_INPUT, "--by is distance or setups, not %.40s", by_name);
		return command_fail(&why);
	}
	how.by = by_name ? &by : NULL;
	how.runs = words.word + 1;
	how.count = (size_t)words.count - 1;
	return adjust(words.word[0], &how);
}
