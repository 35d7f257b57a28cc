/* What goes out of the book: a run as CSV, its page, its closing, its statement, what its drop
 * says. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "rodbook/book/files.h"
#include "rodbook/csv/csv.h"
#include "screen/editor.h"
#include "screen/view/views.h"

#define LEFT_BYTES 400

enum paper { PAPER_CSV, PAPER_PAGE, PAPER_CLOSING, PAPER_STATEMENT, PAPER_DROP, PAPERS };

static const struct {
	struct list_line line;
	const char *ending; /* of the file's name behind the run's */
} papers[PAPERS] = {
    [PAPER_CSV] = {{"CSV", "",
                    "The sights, as rodbook import takes them back; a crossing with all "
                    "that it hangs on."},
                   ".csv"},
    [PAPER_PAGE] = {{"Page", "", "On sheets to print, with sums, closing and lines to sign."},
                    "-page.txt"},
    [PAPER_CLOSING] = {{"Closing", "", "Misclosure, allowable, sections, limits."}, "-closing.txt"},
    [PAPER_STATEMENT] = {{"Statement", "", "All that the run says, to reckon it again."},
                         "-statement.txt"},
    [PAPER_DROP] = {{"Drop", "", "What a crossing showed, and what could fake it."}, "-drop.txt"},
};

static bool write_paper(FILE *out, struct book *book, const struct work_run *run, enum paper paper,
                        struct fault *why)
{
	switch (paper) {
	case PAPER_CSV:
		return csv_export(out, book, run, why);
	case PAPER_PAGE:
		return report_page_print(out, book, run, why);
	case PAPER_STATEMENT:
		return report_statement(out, book, run, REPORT_STATEMENT_TEXT, why);
	case PAPER_DROP:
		return report_drop(out, book, run, false, why);
	default:
		report_closure(out, run, false);
		return true;
	}
}

/* Whole or not there, and never in place of a file that is there. left: what it does not carry. */
static bool write_file(struct book *book, const struct book_run_info *info, enum paper paper,
                       const char *path, char left[LEFT_BYTES], struct fault *why)
{
	char partial[BOOK_PATH_BYTES];
	struct work_run run;
	FILE *out;
	int fd;
	bool ok;
	if (access(path, F_OK) == 0)
		return fault_say(why, FAULT_INPUT,
		                 "there is a file %.300s already: give another name", path);
	if (!work_run_load(book, info->name, NULL, &run, why))
		return false;
	if (!book_file_begin(path, 0666, partial, &fd, why)) {
		work_run_free(&run);
		return false;
	}
	out = fdopen(fd, "wb");
	ok = out ? write_paper(out, book, &run, paper, why)
	         : fault_say(why, FAULT_FILE, "%.300s cannot be written", path);
	if (out && (fflush(out) != 0 || fsync(fd) != 0 || ferror(out)))
		ok = fault_say(why, FAULT_FILE, "%.300s cannot be written", path);
	if (out)
		fclose(out);
	else
		close(fd);
	left[0] = '\0';
	if (paper == PAPER_CSV)
		report_left_behind(&run, left, LEFT_BYTES);
	work_run_free(&run);
	if (ok)
		return book_file_end(partial, path, false, why);
	unlink(partial);
	return false;
}

void view_papers(struct book *book, const struct book_run_info *info, char *message, size_t size)
{
	struct list_line lines[PAPERS];
	struct question where = {"File", "A new file, in this folder or by its path.", "", 400,
	                         NULL};
	char title[LEVEL_NAME_BYTES + 20], left[LEFT_BYTES];
	struct fault why = {0};
	size_t at = 0;
	for (int i = 0; i < PAPERS; i++)
		lines[i] = papers[i].line;
	snprintf(title, sizeof title, "Papers of %s", info->name);
	message[0] = '\0';
	if (list_choose(title, lines, info->kind == LEVEL_CROSSING ? PAPERS : PAPER_DROP, &at, "",
	                " Up Down choose  Enter write it to a file  Esc turn back",
	                "") != KEY_ENTER)
		return;
	snprintf(where.text, sizeof where.text, "%.300s%s", info->name, papers[at].ending);
	while (ask(title, &where, 1, NULL, message)) {
		if (write_file(book, info, (enum paper)at, where.text, left, &why)) {
			snprintf(message, size, "written: %.400s%s%s", where.text,
			         *left ? "; it does not carry " : "", left);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}
