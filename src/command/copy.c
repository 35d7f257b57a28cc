#include "command/command.h"
#include "rodbook/book/second.h"

int command_copy(int argc, char **argv)
{
	char published[BOOK_WITNESS_BYTES];
	struct book_second second;
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, NULL, 2, 2, &words, "copy BOOK WHERE"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_second_copy(book, words.word[1], &second, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	printf("%s %s\nto publish: %s\n", second.replaced ? "brought up to date" : "copied to",
	       second.path, book_witness_text(published, &second.witness));
	return command_flush();
}
