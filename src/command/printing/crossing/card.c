#include <stdlib.h>

#include "command/command.h"
#include "rodbook/report/report.h"

struct card {
	struct book *book;
	const char *name, *power;
	bool html;
};

static bool write_card(FILE *out, void *context, struct fault *why)
{
	const struct card *card = context;
	struct book *book = card->book;
	const char *name = card->name, *power = card->power;
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
	if (card->html)
		return report_card_html(out, book, &plan, settings.title, name, times, why);
	report_card(out, &plan, settings.title, name, times);
	return true;
}

int command_card(int argc, char **argv)
{
	const char *html = NULL;
	struct card card = {0};
	const struct option_word options[] = {
	    {"--power", &card.power, NULL, NULL}, {"--html", &html, NULL, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 2, &words,
	                   "card BOOK PLAN [--power N] [--html FILE]"))
		return EXIT_USAGE;
	card.book = command_open(words.word[0], &status);
	if (!card.book)
		return status;
	card.name = words.word[1];
	card.html = html != NULL;
	ok = html ? command_write(html, write_card, &card, &why) : write_card(stdout, &card, &why);
	book_close(card.book);
	return ok ? command_flush() : command_fail(&why);
}
