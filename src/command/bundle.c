#include "command/command.h"
#include "rodbook/report/bundle.h"

int command_bundle(int argc, char **argv)
{
	const char *folder = NULL;
	const struct option_word options[] = {{"-o", &folder, NULL, NULL}, {0}};
	const char usage[] = "bundle BOOK RUN... -o FOLDER";
	struct words words;
	struct fault why = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;
	if (!command_words(argc, argv, options, 2, WORDS_MAX, &words, usage))
		return EXIT_USAGE;
	if (!folder) {
		command_wrong(usage, "-o names the new folder");
		return EXIT_USAGE;
	}
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = report_bundle(book, words.word + 1, (size_t)words.count - 1, folder, &why);
	book_close(book);
	if (!ok)
		return command_fail(&why);
	printf("made %s: begin with its README.txt\n", folder);
	return command_flush();
}
