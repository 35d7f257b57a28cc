#include "command/command.h"
#include "rodbook/report/blank.h"

struct blank {
	enum report_blank sheet;
	enum level_unit unit;
};

static bool write_html(FILE *out, void *context, struct fault *why)
{
	const struct blank *blank = context;
	(void)why;
	report_blank_html(out, blank->sheet, blank->unit);
	return true;
}

int command_blank(int argc, char **argv)
{
	const char *unit = "m", *html = NULL;
	bool pegtest = false;
	const struct option_word options[] = {{"--unit", &unit, NULL, NULL},
	                                      {"--html", &html, NULL, NULL},
	                                      {"--pegtest", NULL, &pegtest, NULL},
	                                      {0}};
	static const char usage[] = "blank [--pegtest] [--unit m|ft|ftin|in] [--html FILE]";
	struct blank blank = {REPORT_BLANK_PAGE, LEVEL_M};
	struct words words;
	struct fault why = {0};
	if (!command_words(argc, argv, options, 0, 0, &words, usage))
		return EXIT_USAGE;
	if (!level_unit_find(unit, &blank.unit)) {
		command_wrong(usage, "a unit is m, ft, ftin or in");
		return EXIT_USAGE;
	}
	if (pegtest)
		blank.sheet = REPORT_BLANK_PEGTEST;
	if (!html)
		report_blank(stdout, blank.sheet, blank.unit);
	else if (!command_write(html, write_html, &blank, &why))
		return command_fail(&why);
	return command_flush();
}
