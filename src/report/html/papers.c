/* Papers of a run as one HTML file each. */
#include "report/html/papers.h"

#include <stdlib.h>
#include <string.h>

#include "html/html.h"
#include "report/front/front.h"
#include "report/html/sheet.h"
#include "report/html/written.h"
#include "report/lines.h"
#include "report/page/sections.h"
#include "report/picture/picture.h"
#include "report/statement/stated.h"

typedef bool writer(FILE *out, struct book *book, const struct work_run *run, struct fault *why);

/* What a writer writes, which the caller frees; NULL with the fault. */
static char *text_of(writer *write, struct book *book, const struct work_run *run,
                     struct fault *why)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	return written(out, &text, out && write(out, book, run, why), why);
}

static bool put_lines(FILE *out, const char *heading, writer *write, struct book *book,
                      const struct work_run *run, struct fault *why)
{
	char *text = text_of(write, book, run, why);
	if (!text)
		return false;
	if (*text)
		html_lines(out, heading, text);
	free(text);
	return true;
}

static bool write_heads(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	(void)book;
	(void)why;
	lines_observed(out, run);
	lines_heads(out, run);
	return true;
}

static bool write_notes(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	(void)book;
	(void)why;
	page_notes(out, run);
	return true;
}

static bool write_closure(FILE *out, struct book *book, const struct work_run *run,
                          struct fault *why)
{
	(void)book;
	(void)why;
	report_closure(out, run, false);
	return true;
}

static bool write_drop(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	return report_drop(out, book, run, false, why);
}

static bool put_picture(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	char *svg;
	if (!picture_of_run(book, run, &svg, why))
		return false;
	if (svg)
		html_drawing(out, svg);
	free(svg);
	return true;
}

static bool put_page(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	return put_lines(out, "", write_heads, book, run, why) &&
	       (papers_table(out, run) || fault_memory(why)) &&
	       put_lines(out, "How it closes", write_notes, book, run, why) &&
	       put_lines(out, "Water, air and seal", stated_crossing, book, run, why) &&
	       put_picture(out, book, run, why);
}

/* The workings, which the caller frees, with the proof that they end with; NULL with the fault. */
static char *workings_of(struct book *book, const struct work_run *run,
                         struct book_verified *verified, struct fault *why)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	return written(out, &text, out && stated_workings(out, book, run, verified, why), why);
}

static void put_front(FILE *out, const struct work_run *run, const struct book_verified *verified)
{
	struct front front;
	front_of(run, &front);
	front_proven(&front, verified);
	front_html(out, &front);
}

/* One proof of the book serves both the first page and the workings. */
static bool put_statement(FILE *out, struct book *book, const struct work_run *run,
                          struct fault *why)
{
	struct book_verified verified;
	char *workings = workings_of(book, run, &verified, why);
	bool ok;
	if (!workings)
		return false;
	put_front(out, run, &verified);
	fputs("<div class=\"sheet\">\n", out);
	html_element(out, "h2", "", "The page");
	ok = (papers_table(out, run) || fault_memory(why)) && put_picture(out, book, run, why);
	if (ok)
		html_lines(out,
		           "All workings, so that each figure can be found again with a calculator",
		           workings);
	free(workings);
	if (ok)
		fputs("</div>\n", out);
	return ok;
}

bool report_html(FILE *out, struct book *book, const struct work_run *run, enum report_paper paper,
                 struct fault *why)
{
	static const enum lines_paper papers[] = {[REPORT_PAPER_PAGE] = LINES_PAGE,
	                                          [REPORT_PAPER_CLOSING] = LINES_CLOSING,
	                                          [REPORT_PAPER_DROP] = LINES_DROP,
	                                          [REPORT_PAPER_STATEMENT] = LINES_STATEMENT};
	char title[LEVEL_REMARK_BYTES + LEVEL_NAME_BYTES + 60], foot[REPORT_FOOT_BYTES];
	bool ok = false;
	lines_heading(run, papers[paper], title, sizeof title);
	html_begin(out, title);
	switch (paper) {
	case REPORT_PAPER_PAGE:
		ok = put_page(out, book, run, why);
		break;
	case REPORT_PAPER_CLOSING:
		ok = put_lines(out, "", write_closure, book, run, why);
		break;
	case REPORT_PAPER_DROP:
		ok = put_lines(out, "", write_drop, book, run, why);
		break;
	case REPORT_PAPER_STATEMENT:
		ok = put_statement(out, book, run, why);
		break;
	}
	if (!ok)
		return false;
	/* A statement's workings end with them. */
	if (paper != REPORT_PAPER_STATEMENT)
		ok = sheet_cautions(out, why);
	html_end(out, report_foot(book, foot));
	return ok;
}
