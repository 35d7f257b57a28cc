#include <stdlib.h>

#include "command/command.h"
#include "rodbook/report/report.h"

/* A reading that is likely a slip is booked all the same, with a word. */
static void question(struct book *book, int64_t run, const char *station, const char *typed)
{
	struct book_settings settings;
	struct book_water *list;
	struct work_water_doubt doubt;
	size_t count;
	char one[LEVEL_SET_READING_BYTES], text[300];
	if (!book_settings(book, &settings, NULL) || !book_waters(book, run, &list, &count, NULL))
		return;
	doubt = work_doubt_waters(list, count, station, typed, settings.style.unit, one);
	report_water_doubt(&doubt, one, station, &settings.style, text, sizeof text);
	if (*text)
		fprintf(stderr, "rodbook: booked with a warning: %s\n", text);
	free(list);
}

static bool add(struct book *book, int64_t run, const struct words *words, int i, const char *time,
                const char *remark, struct fault *why)
{
	question(book, run, words->word[2], words->word[i]);
	return book_water_add_set(book, run, words->word[2], words->word[i], time, remark, why);
}

int command_water(int argc, char **argv)
{
	const char *remark = "", *time = "";
	bool csv = false;
	const struct option_word options[] = {{"--remark", &remark, NULL, NULL},
	                                      {"--time", &time, NULL, NULL},
	                                      {"--csv", NULL, &csv, NULL},
	                                      {0}};
	static const char usage[] =
	    "water BOOK RUN [STATION READING...] [--time TIME] [--remark TEXT]\n  [--csv]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_run_info info;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, WORDS_MAX, &words, usage))
		return EXIT_USAGE;
	if (words.count == 3) {
		command_wrong(usage, "the reading is missing");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_run_find(book, words.word[1], &info, &why);
	if (ok && words.count == 2) {
		ok = report_waters(stdout, book, &info, csv, &why);
	} else if (ok) {
		/* All of them, or none. */
		ok = book_begin(book, &why);
		if (ok) {
			for (int i = 3; ok && i < words.count; i++)
				ok = add(book, info.id, &words, i, time, remark, &why);
			ok = book_finish(book, ok, &why) && ok;
		}
	}
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
