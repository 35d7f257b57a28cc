#include "command/command.h"
#include "rodbook/paper.h"

struct export
{
	struct book *book;
	const struct paper_run *run;
};

static bool write_export(FILE *out, void *context, struct fault *why)
{
	const struct export *export = context;
	return paper_export(out, export->book, export->run, why);
}

int command_export(int argc, char **argv)
{
	const char *path = NULL;
	const struct option_word options[] = {{"-o", &path, NULL, NULL}, {0}};
	struct words words;
	struct fault why = {0};
	struct paper_run run;
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 2, 2, &words, "export BOOK RUN [-o FILE]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	ok = paper_load(book, words.word[1], NULL, &run, &why);
	if (ok) {
		if (run.closing.setups && !run.closing.page_holds)
			fprintf(stderr,
			        "rodbook: the line of this run is broken: import will not take "
			        "it back before it is mended\n");
		ok = path ? command_write(path, write_export, &(struct export){book, &run}, &why)
		          : paper_export(stdout, book, &run, &why);
		paper_free(&run);
	}
	status = ok ? command_flush() : command_fail(&why);
	book_close(book);
	return status;
}
