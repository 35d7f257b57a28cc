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

int command_import(int argc, char **argv)
{
	struct words words;
	struct fault why = {0};
	struct work_taken counts = {0};
	struct book *book;
	int status = EXIT_DONE;
	bool ok;

	if (!command_words(argc, argv, NULL, 2, WORDS_MAX, &words,
	                   "import BOOK FILE.csv|OTHER.rodbook [RUN...]"))
		return EXIT_USAGE;
	book = command_open(words.word[0], &status);
	if (!book)
		return status;
	if (book_file_is_book(words.word[1]))
		ok = copy(book, &words, &counts, &why);
	else if (words.count > 2)
		ok = fault_say(&why, FAULT_INPUT,
		               "runs are chosen from another book; a CSV file is "
		               "taken whole");
	else
		ok = csv_import(book, words.word[1], &counts, &why);
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
	return command_flush();
}
