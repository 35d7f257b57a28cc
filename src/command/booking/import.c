#include <stdlib.h>

#include "command/command.h"
#include "rodbook/book/files.h"
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

/* Runs of another book, or its marks. */
static bool copy(struct book *book, const struct words *words, struct work_taken *counts,
                 struct fault *why)
{
	struct book *other = book_open(words->word[1], command_clock, why);
	bool ok = other && work_copy_runs(book, other, words->word[1], words->word + 2,
	                                  (size_t)words->count - 2, counts, why);
	book_close(other);
	return ok;
}

/* The last run begun: those behind it are new. */
static int64_t last_run(struct book *book)
{
	struct book_run_info *runs;
	size_t count;
	int64_t last = 0;
	if (!book_runs(book, &runs, &count, NULL))
		return INT64_MAX;
	for (size_t i = 0; i < count; i++)
		last = runs[i].id > last ? runs[i].id : last;
	free(runs);
	return last;
}

/* Says which runs the other book has, of which none was named. */
static void say_runs(const char *path)
{
	struct book *other = book_open(path, command_clock, NULL);
	struct book_run_info *runs;
	size_t count;
	if (other && book_runs(other, &runs, &count, NULL)) {
		for (size_t i = 0; i < count; i++)
			printf("%s%s%s", i ? "" : path, i ? ", " : " has the runs ", runs[i].name);
		fputs(count ? ": only marks are taken unless a run is named\n" : "", stdout);
		free(runs);
	}
	book_close(other);
}

/* Says of a crossing that it shows what no water can. */
static void question(struct book *book, const char *name)
{
	struct level_warned warned = {0};
	struct report_warned about = {.warned = &warned};
	struct work_run run;
	char words[600];
	size_t end;
	if (!work_run_load(book, name, NULL, &run, NULL))
		return;
	end = level_page_line(&run.page)->end_row;
	about.settings = &run.settings;
	level_warn_curvature(&run.book.run, &run.closing, &run.terms.terms, &warned);
	if (end < run.book.run.count && warned.set) {
		about.sight = &run.book.run.sight[end];
		report_warnings(&about, words, sizeof words);
		fprintf(stderr, "rodbook: run %s was taken with a warning: %s\n", name, words);
	}
	work_run_free(&run);
}

static void question_new(struct book *book, int64_t before)
{
	struct book_run_info *runs;
	size_t count;
	if (!book_runs(book, &runs, &count, NULL))
		return;
	for (size_t i = 0; i < count; i++)
		if (runs[i].id > before && runs[i].kind == LEVEL_CROSSING)
			question(book, runs[i].name);
	free(runs);
}

int command_import(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct work_taken counts = {0};
	struct book *book;
	int status = EXIT_DONE;
	int64_t before;
	bool ok;

	if (!command_words(argc, argv, NULL, 2, WORDS_MAX, &words,
	                   "import BOOK FILE.csv|OTHER.rodbook [RUN...]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	before = last_run(book);
	if (book_file_is_book(words.word[1]))
		ok = copy(book, &words, &counts, &why);
	else if (words.count > 2)
		ok = fault_say(&why, FAULT_INPUT,
		               "runs are chosen from another book; a CSV file is "
		               "taken whole");
	else
		ok = csv_import(book, words.word[1], &counts, &why);
	if (ok)
		question_new(book, before);
	book_close(book);
	if (!ok) {
		/* Whatever is wrong with the file's rows, the file could not be used. */
		command_fail(&why);
		return EXIT_UNUSABLE;
	}
	if (counts.below)
		fprintf(stderr,
		        "rodbook: booked with a warning: %zu %s below zero, where the station "
		        "stands above the line of sight\n",
		        counts.below, counts.below == 1 ? "reading is" : "readings are");
	printf("took %zu %s with %zu %s and %zu new %s\n", counts.runs,
	       counts.runs == 1 ? "run" : "runs", counts.sights,
	       counts.sights == 1 ? "sight" : "sights", counts.marks,
	       counts.marks == 1 ? "mark" : "marks");
	if (words.count == 2 && book_file_is_book(words.word[1]))
		say_runs(words.word[1]);
	return command_flush();
}
