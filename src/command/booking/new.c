
#include "command/command.h"

int command_new(int argc, char **argv)
{
	const char *unit_name = "m", *title = "";
	const struct option_word options[] = {
	    {"--unit", &unit_name, NULL, NULL}, {"--title", &title, NULL, NULL}, {0}};
	static const char usage[] = "new BOOK [--unit m|ft|ftin|in] [--title TEXT]";
	struct words words;
	struct fault why = {0};
	enum level_unit unit;
	char shown[400];

	if (!command_words(argc, argv, options, 1, 1, &words, usage))
		return EXIT_USAGE;
	if (!level_unit_find(unit_name, &unit)) {
		command_wrong(usage, "a unit is m, ft, ftin or in, not %s",
		              level_show_text(shown, sizeof shown, unit_name, false));
		return EXIT_USAGE;
	}
	if (!book_create(words.word[0], unit, title, command_clock, &why))
		return command_fail(&why);
	printf("made %s, in %s\n", level_show_text(shown, sizeof shown, words.word[0], false),
	       unit_name);
	return command_flush();
}
