/* The rows of a page as an HTML table. */
#include <stdlib.h>
#include <string.h>

#include "html/html.h"
#include "report/html/papers.h"
#include "report/lines.h"
#include "report/page/layout.h"

static void put_cell(FILE *out, const char *text, bool struck)
{
	fputs("<td class=\"n\">", out);
	if (struck && *text)
		fputs("<del>", out);
	html_text(out, text);
	if (struck && *text)
		fputs("</del>", out);
	fputs("</td>", out);
}

/* Remarks of a row; NULL where memory is short. */
static char *remark_of(const struct work_run *run, const struct page_line *line)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	if (!out)
		return NULL;
	lines_remark(out, run, line->at, "");
	/* Only then the size is known. */
	fflush(out);
	if (line->also != SIZE_MAX)
		lines_remark(out, run, line->also, size ? "; " : "");
	return fclose(out) == 0 ? text : NULL;
}

static bool put_line(FILE *out, const struct work_run *run, const struct page_line *line)
{
	const struct level_sight *s = &run->book.run.sight[line->at];
	const struct level_style *style = &run->settings.style;
	bool struck = !level_counted(s);
	struct report_cells cells, bs = {0};
	char *remark = remark_of(run, line);
	if (!remark)
		return false;
	report_cells(s, &run->book.note[line->at], &run->page.row[line->at], style, &cells);
	if (line->also != SIZE_MAX)
		report_cells(&run->book.run.sight[line->also], &run->book.note[line->also],
		             &run->page.row[line->also], style, &bs);
	if (s->kind == LEVEL_BS) {
		bs = cells;
		cells.distance[0] = '\0';
	}
	fprintf(out, "<tr><th scope=\"row\">%s", struck ? "<del>" : "");
	html_text(out, s->station);
	fprintf(out, "%s</th>", struck ? "</del>" : "");
	put_cell(out, bs.bs, struck);
	put_cell(out, bs.hi, struck);
	put_cell(out, *cells.offset ? cells.offset : cells.is, struck);
	put_cell(out, cells.fs, struck);
	put_cell(out, cells.step, struck);
	put_cell(out, cells.elevation, struck);
	put_cell(out, s->kind == LEVEL_BS || line->also != SIZE_MAX ? bs.distance : "", struck);
	put_cell(out, cells.distance, struck);
	fputs("<td class=\"remark\">", out);
	html_text(out, remark);
	fputs("</td></tr>\n", out);
	free(remark);
	return true;
}

static void put_sums(FILE *out, const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	struct level_style distance = level_distance_style(style);
	char text[LEVEL_LENGTH_BYTES];
	fputs("<tfoot><tr><th scope=\"row\">sums</th>", out);
	put_cell(out, level_format_length(text, c->sum_bs, style, false), false);
	fputs("<td></td>", out);
	put_cell(out, c->offsets ? level_format_length(text, c->sum_offsets, style, true) : "",
	         false);
	put_cell(out, level_format_length(text, c->sum_fs, style, false), false);
	put_cell(out, c->has_end ? level_format_length(text, c->end - c->start, style, true) : "",
	         false);
	fputs("<td></td>", out);
	put_cell(out,
	         c->has_length
	             ? level_format_length(text, (c->length + c->imbalance) / 2, &distance, false)
	             : "",
	         false);
	put_cell(out,
	         c->has_length
	             ? level_format_length(text, (c->length - c->imbalance) / 2, &distance, false)
	             : "",
	         false);
	fprintf(out, "<td>page check %s</td></tr></tfoot>\n",
	        !c->setups      ? "not known yet"
	        : c->page_holds ? "holds"
	                        : "does not hold");
}

bool papers_table(FILE *out, const struct work_run *run)
{
	char bs[LEVEL_LENGTH_BYTES + 3], fs[LEVEL_LENGTH_BYTES + 3], distance[LEVEL_LENGTH_BYTES];
	const char *heads[] = {"BS", "HI",         run->closing.offsets ? "IS, offset" : "IS",
	                       "FS", "rise, fall", "elevation"};
	level_distance_title(distance, "dist.", &run->settings.style);
	snprintf(bs, sizeof bs, "%s BS", distance);
	snprintf(fs, sizeof fs, "%s FS", distance);
	fputs("<div class=\"wide\"><table>\n<thead><tr><th scope=\"col\">station</th>", out);
	for (size_t i = 0; i < sizeof heads / sizeof *heads; i++)
		html_element(out, "th", "class=\"n\" scope=\"col\"", heads[i]);
	html_element(out, "th", "class=\"n\" scope=\"col\"", bs);
	html_element(out, "th", "class=\"n\" scope=\"col\"", fs);
	fputs("<th scope=\"col\">remark</th></tr></thead>\n", out);
	put_sums(out, run);
	fputs("<tbody>\n", out);
	for (size_t i = 0; i < run->page.count;) {
		struct page_line line = layout_line(run, i);
		if (!put_line(out, run, &line))
			return false;
		i = layout_last(&line) + 1;
	}
	fputs("</tbody></table></div>\n", out);
	return true;
}
