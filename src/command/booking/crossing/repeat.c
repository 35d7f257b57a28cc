#include "command/command.h"
#include "rodbook/work/repeat.h"

int command_repeat(int argc, char **argv)
{
	static const struct option_word options[] = {{0}};
	struct words words;
	struct fault why = {0};
	struct book_run_info info;
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 3, &words, "repeat BOOK RUN [NEW]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = work_repeat(book, words.word[1], words.count == 3 ? words.word[2] : "", &info, &why);
	if (ok)
		printf("begun %s: read its water, its air and both its sights again\n", info.name);
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
