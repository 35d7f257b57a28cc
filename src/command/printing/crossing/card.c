#include <stdlib.h>

#include "command/command.h"
#include "rodbook/report/report.h"

static bool card(struct book *book, const char *name, const char *power, struct fault *why)
{
	struct book_settings settings;
	struct book_figures figures;
	struct book_plan kept;
	struct report_plan plan;
	char *end = "";
	double times;
	if (!book_settings(book, &settings, why))
		return false;
	times = power ? strtod(power, &end) : settings.power;
	if (*end || !(times >= 1 && times <= 1000))
		return fault_say(why, FAULT_INPUT, "--power is a number from 1 to 1000, not %.40s",
		                 power);
	plan.style = settings.style;
	if (!book_settings_figures(book, &figures, why) ||
	    !book_plan_find(book, name, &kept, why) ||
	    !book_plan_of(&figures, settings.rod_length, &kept.figures, &plan.plan, &plan.figures,
	                  why) ||
	    !level_plan_check(&plan.plan, why))
		return false;
	report_card(stdout, &plan, settings.title, name, times);
	return true;
}

int command_card(int argc, char **argv)
{
	const char *power = NULL;
	const struct option_word options[] = {{"--power", &power, NULL, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 2, &words, "card BOOK PLAN [--power N]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = card(book, words.word[1], power, &why);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
