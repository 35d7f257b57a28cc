#include <inttypes.h>

#include "command/command.h"
#include "rodbook/book/rescue.h"

static void tell(const char *what, const char *why, void *context)
{
	(void)context;
	printf("%s: %s\n", what, why);
}

int command_rescue(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct book_rescued out;
	char shown[400];
	int status;
	bool whole;

	if (!command_words(argc, argv, NULL, 2, 2, &words, "rescue BROKEN NEW"))
		return EXIT_USAGE;
	if (!book_rescue(words.word[0], words.word[1], command_clock, tell, NULL, &out, &why))
		return command_fail(&why);
	level_show_text(shown, sizeof shown, words.word[1], false);
	printf("made %s: %zu rows; ", shown, out.rows);
	if (out.whole)
		printf("%" PRId64 " entries of the journal, without a gap\n", out.entries);
	else
		printf("%" PRId64 " entries of the journal up to %" PRId64
		       " were read, %zu rows left out\nthe new book begins a journal of its own\n",
		       out.entries, out.last, out.lost);
	if (out.differ)
		printf("%zu rows are otherwise in table and journal: those of the %s were taken\n",
		       out.differ, out.whole ? "journal" : "tables");
	if (out.whole && !out.certain)
		puts("whether entries came after them, the file does not tell");
	whole = out.whole && out.certain && !out.differ;
	puts(whole ? "nothing is lost" : "keep the old file");
	status = command_flush();
	return status == EXIT_DONE && !whole ? EXIT_NO : status;
}
