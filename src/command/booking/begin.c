#include <stdio.h>

#include "command/command.h"
#include "rodbook/book/crossing.h"

int command_begin(int argc, char **argv)
{
	const char *plan = NULL, *turn = NULL;
	const struct option_word options[] = {
	    {"--plan", &plan, NULL, NULL}, {"--turn", &turn, NULL, NULL}, {0}};
	static const char usage[] =
	    "begin BOOK RUN loop|link|open|crossing [--plan NAME] [--turn MARK]";
	struct words words;
	struct fault why = {0};
	struct book *book;
	enum level_run_kind kind;
	int64_t run = 0;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 3, 3, &words, usage))
		return EXIT_USAGE;
	if (!level_run_kind_find(words.word[2], &kind)) {
		char shown[200];
		fprintf(stderr, "rodbook: a run is a loop, link, open or crossing, not %s\n",
		        level_show_text(shown, sizeof shown, words.word[2], false));
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_begin(book, &why);
	if (ok) {
		ok = book_run_add(book, words.word[1], kind, &run, &why) &&
		     (!plan || book_run_set_plan(book, run, plan, &why)) &&
		     (!turn || book_run_set_turn(book, run, turn, &why));
		ok = book_finish(book, ok, &why) && ok;
	}
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
