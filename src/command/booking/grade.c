#include "command/command.h"
#include "rodbook/report/report.h"

int command_grade(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct book *book;
	struct book_run_info info;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, NULL, 2, 3, &words,
	                   "grade BOOK RUN [\"ELEVATION; FROM; SLOPE\"]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = book_run_find(book, words.word[1], &info, &why);
	if (ok && words.count == 3)
		ok = book_run_set_grade(book, info.id, words.word[2], &why);
	else if (ok)
		puts(*info.grade ? info.grade : "no design grade is given");
	book_close(book);
	return ok ? command_flush() : command_fail(&why);
}
