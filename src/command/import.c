#include "command/command.h"
#include "rodbook/paper.h"

int command_import(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct paper_imported counts;
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, NULL, 2, 2, &words, "import BOOK FILE.csv"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = paper_import(book, words.word[1], &counts, &why);
	book_close(book);
	if (!ok) {
		/* Whatever is wrong with the file's rows, the file could not be used. */
		command_fail(&why);
		return EXIT_UNUSABLE;
	}
	printf("took %zu %s with %zu %s and %zu new %s\n", counts.runs,
	       counts.runs == 1 ? "run" : "runs", counts.sights,
	       counts.sights == 1 ? "sight" : "sights", counts.marks,
	       counts.marks == 1 ? "mark" : "marks");
	return command_flush();
}
