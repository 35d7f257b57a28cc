#include <inttypes.h>

#include "command/command.h"
#include "rodbook/rescue.h"

static void tell(const char *what, const char *why, void *context)
{
	(void)context;
	printf("left out: %s: %s\n", what, why);
}

int command_rescue(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct book_rescued out;
	char shown[400];
	int status;

	if (!command_words(argc, argv, NULL, 2, 2, &words, "rescue BROKEN NEW"))
		return EXIT_USAGE;
	if (!book_rescue(words.word[0], words.word[1], command_clock, tell, NULL, &out, &why))
		return command_fail(&why);
	level_show_text(shown, sizeof shown, words.word[1], false);
	if (out.whole)
		printf("made %s: %" PRId64
		       " entries of the journal, without a gap, and the %zu rows "
		       "that they leave\n%s\n",
		       shown, out.entries, out.rows,
		       out.certain ? "nothing is lost"
		                   : "whether entries came after them, the file does not tell");
	else
		printf(
		    "made %s: %zu rows; %" PRId64 " entries of the journal up to %" PRId64
		    " were read, %zu rows left out\nthe new book begins a journal of its own: keep "
		    "the old file\n",
		    shown, out.rows, out.entries, out.last, out.lost);
	status = command_flush();
	return status == EXIT_DONE && !(out.whole && out.certain) ? EXIT_NO : status;
}
