#include <string.h>

#include "command/command.h"
#include "rodbook/report/report.h"

static const char usage[] =
    "head BOOK RUN [--day 2026-05-04] [--party TEXT] [--weather TEXT] [--instrument TEXT]\n"
    "  [--rods TEXT] [--datum TEXT] [--place TEXT] [--purpose TEXT] [--checked-by TEXT] [--csv]";

/* What is given, and all else that its page shows. */
static bool set(struct book *book, int64_t run, const char *day,
                const char *const text[BOOK_HEAD_TEXTS], struct fault *why)
{
	struct work_head head;
	if (!work_head(book, run, day, &head, why))
		return false;
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++) {
		if (!text[t])
			continue;
		if (strlen(text[t]) >= sizeof head.text[t])
			return fault_say(why, FAULT_INPUT, "the %s is too long: write it shorter",
			                 report_head_word((enum book_head_text)t));
		strcpy(head.text[t], text[t]);
	}
	return work_head_set(book, run, &head, why);
}

static bool show(struct book *book, const char *name, const char *day, bool csv, struct fault *why)
{
	struct work_run run;
	struct work_head head;
	if (!work_run_load(book, name, NULL, &run, why))
		return false;
	if (!day) {
		report_heads(stdout, &run, csv);
	} else if (work_head(book, run.book.info.id, day, &head, why)) {
		if (csv)
			puts("day,text,value,carried");
		if (work_head_says(&head))
			report_head(stdout, &head, csv);
		else if (!csv)
			printf("no head is written for run %s on %s yet\n", name, day);
	}
	work_run_free(&run);
	return why->kind == FAULT_NONE;
}

int command_head(int argc, char **argv)
{
	const char *day = NULL, *text[BOOK_HEAD_TEXTS] = {NULL};
	bool csv = false, gives = false, ok;
	const struct option_word options[] = {
	    {"--day", &day, NULL, NULL},
	    {"--party", &text[BOOK_HEAD_PARTY], NULL, NULL},
	    {"--weather", &text[BOOK_HEAD_WEATHER], NULL, NULL},
	    {"--instrument", &text[BOOK_HEAD_INSTRUMENT], NULL, NULL},
	    {"--rods", &text[BOOK_HEAD_RODS], NULL, NULL},
	    {"--datum", &text[BOOK_HEAD_DATUM], NULL, NULL},
	    {"--place", &text[BOOK_HEAD_PLACE], NULL, NULL},
	    {"--purpose", &text[BOOK_HEAD_PURPOSE], NULL, NULL},
	    {"--checked-by", &text[BOOK_HEAD_CHECKED], NULL, NULL},
	    {"--csv", NULL, &csv, NULL},
	    {0}};
	char today[BOOK_DAY_BYTES];
	struct words words;
	struct fault why = {0};
	struct book_run_info info;
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, options, 2, 2, &words, usage))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		gives = gives || text[t];
	book_today(book, today);
	ok = book_run_find(book, words.word[1], &info, &why);
	/* What is printed after a change could fail, and the change stand all the same. */
	if (ok && gives)
		ok = set(book, info.id, day ? day : today, text, &why);
	else
		ok = ok && show(book, words.word[1], day, csv, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
