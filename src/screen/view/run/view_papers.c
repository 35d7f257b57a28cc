/* Papers: of a run its CSV, page, closing, statement and drop; of the book its changes and drops.
 */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "rodbook/book/files.h"
#include "rodbook/csv/csv.h"
#include "rodbook/report/changes.h"
#include "screen/editor.h"
#include "screen/view/views.h"

#define LEFT_BYTES 400

enum paper {
	PAPER_CSV,
	PAPER_PAGE,
	PAPER_TABLE,
	PAPER_CLOSING,
	PAPER_STATEMENT,
	PAPER_CHANGES,
	PAPER_DROP,
	PAPER_DROPS,
	PAPERS
};

/* Those from PAPER_DROP on are of a crossing alone. */
static const struct {
	struct list_line line;
	const char *file; /* its name, behind that of the run where it begins with - or . */
	bool browser;     /* it is written for a browser too, as this: */
	enum report_paper as;
} papers[PAPERS] = {
    [PAPER_CSV] = {{"CSV", "the sights, as rodbook import takes them back",
                    "Of a crossing also all that its drop hangs on: water, air, plan, level."},
                   ".csv",
                   false,
                   0},
    [PAPER_PAGE] = {{"Page", "sheets to print, with sums, closing, lines to sign", NULL},
                    "-page.txt",
                    true,
                    REPORT_PAPER_PAGE},
    [PAPER_TABLE] = {{"Table", "the page for a spreadsheet: HI, elevations, rise and fall", NULL},
                     "-page.csv",
                     false,
                     0},
    [PAPER_CLOSING] = {{"Closing", "misclosure, allowable, sections, limits", NULL},
                       "-closing.txt",
                       true,
                       REPORT_PAPER_CLOSING},
    [PAPER_STATEMENT] = {{"Statement", "all that the run says, to reckon it again", NULL},
                         "-statement.txt",
                         true,
                         REPORT_PAPER_STATEMENT},
    [PAPER_CHANGES] = {{"Changes", "how far marks moved between two epochs",
                        "You name the runs of the first epoch, then those of the second."},
                       "changes.txt",
                       false,
                       0},
    [PAPER_DROP] = {{"Drop", "what this crossing showed, and what could fake it", NULL},
                    "-drop.txt",
                    true,
                    REPORT_PAPER_DROP},
    [PAPER_DROPS] = {{"All drops", "what all crossings of this book show together", NULL},
                     "drops.txt",
                     false,
                     0},
};

struct wanted {
	struct book *book;
	const struct book_run_info *info;
	enum paper paper;
	bool html;                 /* for a browser */
	struct question epochs[3]; /* of changes: first runs, second runs, marks held */
	char left[LEFT_BYTES];     /* what is not in the CSV */
};

static bool write_changes(FILE *out, const struct wanted *wanted, struct fault *why)
{
	const char *texts[3];
	struct report_changes how = {.epochs = 2};
	bool agree;
	for (int i = 0; i < 3; i++)
		texts[i] = wanted->epochs[i].text;
	how.epoch[0] = (struct report_names){&texts[0], 1};
	how.epoch[1] = (struct report_names){&texts[1], 1};
	how.hold = (struct report_names){&texts[2], *texts[2] != '\0'};
	return report_changes(out, wanted->book, &how, REPORT_AS_TEXT, &agree, why);
}

static bool write_of_run(FILE *out, struct wanted *wanted, struct fault *why)
{
	struct work_run run;
	bool ok = true;
	if (!work_run_load(wanted->book, wanted->info->name, NULL, &run, why))
		return false;
	if (wanted->html) {
		ok = report_html(out, wanted->book, &run, papers[wanted->paper].as, why);
		work_run_free(&run);
		return ok;
	}
	switch (wanted->paper) {
	case PAPER_CSV:
		ok = csv_export(out, wanted->book, &run, why);
		report_left_behind(&run, wanted->left, LEFT_BYTES);
		break;
	case PAPER_PAGE:
		ok = report_page_print(out, wanted->book, &run, why);
		break;
	case PAPER_TABLE:
		ok = report_page(out, &run, true, why);
		break;
	case PAPER_STATEMENT:
		ok = report_statement(out, wanted->book, &run, REPORT_STATEMENT_TEXT, why);
		break;
	case PAPER_DROP:
		ok = report_drop(out, wanted->book, &run, false, why);
		break;
	default:
		report_closure(out, &run, false);
	}
	work_run_free(&run);
	return ok;
}

static bool write_paper(FILE *out, struct wanted *wanted, struct fault *why)
{
	wanted->left[0] = '\0';
	if (wanted->paper == PAPER_CHANGES)
		return write_changes(out, wanted, why);
	if (wanted->paper == PAPER_DROPS)
		return report_drops(out, wanted->book, NULL, 0, REPORT_AS_TEXT, why);
	return write_of_run(out, wanted, why);
}

/* False where the user turned back. */
static bool ask_epochs(struct wanted *wanted, const char *message)
{
	static const struct question asked[3] = {
	    {"First epoch", "The runs of the first leveling, parted by commas.", "", 400, NULL},
	    {"Second epoch", "The runs of the second leveling, parted by commas.", "", 400, NULL},
	    {"Marks held", "Marks taken as unmoved; empty: the known marks of both.", "", 400,
	     NULL}};
	if (!wanted->epochs[0].label) {
		memcpy(wanted->epochs, asked, sizeof asked);
		snprintf(wanted->epochs[0].text, sizeof wanted->epochs[0].text, "%.300s",
		         wanted->info->name);
	}
	return ask("Changes between two epochs", wanted->epochs, 3, NULL, message);
}

/* The paper whole, which the caller frees; NULL where the user turned back, or with the fault in
 * words. */
static char *paper_of(struct wanted *wanted, size_t *used, char *message, size_t size)
{
	message[0] = '\0';
	while (wanted->paper != PAPER_CHANGES || ask_epochs(wanted, message)) {
		struct fault why = {0};
		char *text = NULL;
		FILE *out = open_memstream(&text, used);
		bool ok = out ? write_paper(out, wanted, &why) : fault_memory(&why);
		if (out && fclose(out) != 0)
			ok = fault_memory(&why);
		message[0] = '\0';
		if (ok)
			return text;
		free(text);
		snprintf(message, size, "%s", why.text);
		if (wanted->paper != PAPER_CHANGES)
			return NULL;
	}
	message[0] = '\0';
	return NULL;
}

/* Whole or not there, and never in place of a file that is there. */
static bool write_file(const char *path, const char *text, size_t used, struct fault *why)
{
	char partial[BOOK_PATH_BYTES];
	FILE *out;
	int fd;
	bool ok;
	if (access(path, F_OK) == 0)
		return fault_say(why, FAULT_INPUT,
		                 "there is a file %.300s already: give another name", path);
	if (!book_file_begin(path, 0666, partial, &fd, why))
		return false;
	out = fdopen(fd, "wb");
	ok = out && fwrite(text, 1, used, out) == used && fflush(out) == 0 && fsync(fd) == 0;
	if (out)
		fclose(out);
	else
		close(fd);
	if (ok)
		return book_file_end(partial, path, false, why);
	unlink(partial);
	return fault_say(why, FAULT_FILE, "%.300s cannot be written", path);
}

static void write_named(const struct wanted *wanted, const char *text, size_t used, char *message,
                        size_t size)
{
	struct question where = {"File", "A new file, in this folder or by its path.", "", 400,
	                         NULL};
	const char *file = papers[wanted->paper].file;
	struct fault why = {0};
	snprintf(where.text, sizeof where.text, "%.300s%s",
	         *file == '-' || *file == '.' ? wanted->info->name : "", file);
	if (wanted->html)
		strcpy(strrchr(where.text, '.'), ".html");
	while (ask(papers[wanted->paper].line.name, &where, 1, NULL, message)) {
		if (write_file(where.text, text, used, &why)) {
			snprintf(message, size, "written: %.400s%s%s", where.text,
			         *wanted->left ? "; not in it: " : "", wanted->left);
			return;
		}
		snprintf(message, size, "%s", why.text);
	}
	message[0] = '\0';
}

void view_papers(struct book *book, const struct book_run_info *info, char *message, size_t size)
{
	struct wanted wanted = {.book = book, .info = info};
	struct list_line lines[PAPERS];
	char title[LEVEL_NAME_BYTES + 20];
	size_t at = 0, used;
	int key = 0;
	for (int i = 0; i < PAPERS; i++)
		lines[i] = papers[i].line;
	snprintf(title, sizeof title, "Papers of %s", info->name);
	message[0] = '\0';
	while (key != TERM_KEY_ESCAPE) {
		char *text;
		key = list_choose(title, lines, info->kind == LEVEL_CROSSING ? PAPERS : PAPER_DROP,
		                  &at, "vb",
		                  " Up Down choose  v view  Enter to a text file  b for a browser  "
		                  "Esc turn back",
		                  message);
		message[0] = '\0';
		wanted.paper = (enum paper)at;
		wanted.html = key == 'b';
		if (wanted.html && !papers[at].browser) {
			snprintf(message, size, "%s is written as text only", papers[at].line.name);
			continue;
		}
		text = key == TERM_KEY_ESCAPE ? NULL : paper_of(&wanted, &used, message, size);
		if (text && key != 'v')
			write_named(&wanted, text, used, message, size);
		else if (text)
			view_text(papers[at].line.name, text);
		free(text);
	}
	message[0] = '\0';
}
