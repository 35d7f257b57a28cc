#include "command/command.h"
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

struct export
{
	struct book *book;
	const char *run; /* NULL: the marks, or the whole book */
	bool marks;
};

static bool write_export(FILE *out, void *context, struct fault *why)
{
	const struct export *export = context;
	struct work_run run;
	char left[300];
	bool ok;
	if (!export->run)
		return export->marks ? csv_export_marks(out, export->book, why)
		                     : csv_export_whole(out, export->book, why);
	if (!work_run_load(export->book, export->run, NULL, &run, why))
		return false;
	if (run.closing.setups && !run.closing.page_holds)
		fprintf(stderr, "rodbook: the line of this run is broken: import will not take it "
		                "back before it is mended\n");
	if (*report_left_behind(&run, left, sizeof left))
		fprintf(stderr, "rodbook: not in the CSV: %s\n", left);
	ok = csv_export(out, export->book, &run, why);
	work_run_free(&run);
	return ok;
}

int command_export(int argc, char **argv)
{
	static const char usage[] = "export BOOK RUN|--marks|--whole [-o FILE]";
	const char *path = NULL;
	bool whole = false;
	struct export export = {0};
	const struct option_word options[] = {{"-o", &path, NULL, NULL},
	                                      {"--marks", NULL, &export.marks, NULL},
	                                      {"--whole", NULL, &whole, NULL},
	                                      {0}};
	struct words words;
	struct fault why = {0};
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, options, 1, 2, &words, usage))
		return EXIT_USAGE;
	if ((words.count == 2) + export.marks + whole != 1) {
		command_wrong(usage, "give a run, or --marks, or --whole");
		return EXIT_USAGE;
	}
	export.book = command_open(words.word[0], &status);
	if (!export.book)
		return status;
	export.run = words.count == 2 ? words.word[1] : NULL;
	ok = path ? command_write(path, write_export, &export, &why)
	          : write_export(stdout, &export, &why);
	status = ok ? command_flush() : command_fail(&why);
	book_close(export.book);
	return status;
}
