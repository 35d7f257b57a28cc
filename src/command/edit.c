#include <errno.h>
#include <unistd.h>

#include "command/command.h"
#include "screen/screen.h"

int command_edit(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;

	if (!command_words(argc, argv, NULL, 1, 2, &words, "BOOK [RUN]"))
		return EXIT_USAGE;
	if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO)) {
		fprintf(stderr,
		        "rodbook: the editor needs a terminal; for one without: rodbook page "
		        "BOOK RUN, rodbook closure BOOK RUN\n");
		return EXIT_USAGE;
	}
	if (words.count == 1 && access(words.word[0], F_OK) != 0 && errno == ENOENT) {
		bool made;
		if (!screen_make(words.word[0], command_clock, &made, &why))
			return command_fail(&why);
		if (!made)
			return EXIT_DONE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (!screen_edit(book, words.count == 2 ? words.word[1] : NULL, &why))
		status = command_fail(&why);
	book_close(book);
	return status;
}
