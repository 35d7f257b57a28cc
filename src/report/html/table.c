/* The rows of a page as an HTML table. */
#include <stdlib.h>
#include <string.h>

#include "html/html.h"
#include "report/html/papers.h"
#include "report/lines.h"
#include "report/page/layout.h"

/* The columns of figures that have one in some row. */
struct shown {
	bool column[COLUMNS];
};

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

/* An offset stands in the column of IS. */
static const char *text_in(const struct texts *texts, int column)
{
	return column == IS && *texts->offset ? texts->offset : texts->cell[column];
}

static void put_cells(FILE *out, const struct shown *shown, const struct texts *texts, bool struck)
{
	for (int i = 0; i < COLUMNS; i++)
		if (shown->column[i])
			put_cell(out, text_in(texts, i), struck);
}

/* Corrected elevations are in the closing. */
static struct shown shown_of(const struct work_run *run)
{
	struct shown out = {0};
	for (size_t i = 0; i < run->page.count; i++) {
		const struct page_line line = layout_line(run, i);
		struct texts texts;
		layout_texts(run, &line, &texts);
		for (int j = 0; j < COLUMNS; j++)
			out.column[j] =
			    j != CORRECTED && (out.column[j] || *text_in(&texts, j) != '\0');
		i = layout_last(&line);
	}
	return out;
}

/* Remarks of a row; NULL where memory is short. */
static char *remark_of(const struct work_run *run, const struct page_line *line)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	if (!out)
		return NULL;
	lines_remark(out, run, line->at, "", LINES_HOUR);
	/* Only then the size is known. */
	fflush(out);
	if (line->also != SIZE_MAX)
		lines_remark(out, run, line->also, size ? "; " : "", LINES_HOUR);
	return fclose(out) == 0 ? text : NULL;
}

static bool put_line(FILE *out, const struct work_run *run, const struct shown *shown,
                     const struct page_line *line)
{
	const struct level_sight *s = &run->book.run.sight[line->at];
	bool struck = !level_counted(s);
	struct texts texts;
	char *remark = remark_of(run, line);
	if (!remark)
		return false;
	layout_texts(run, line, &texts);
	fprintf(out, "<tr><th scope=\"row\">%s", struck ? "<del>" : "");
	html_text(out, s->station);
	fprintf(out, "%s</th>", struck ? "</del>" : "");
	put_cells(out, shown, &texts, struck);
	fputs("<td class=\"remark\">", out);
	html_text(out, remark);
	fputs("</td></tr>\n", out);
	free(remark);
	return true;
}

static void put_sums(FILE *out, const struct work_run *run, const struct shown *shown)
{
	const struct level_closing *c = &run->closing;
	const struct layout plain = {.decimals = run->settings.style.decimals};
	struct texts texts;
	layout_sums(run, &plain, &texts);
	if (c->offsets)
		level_format_length(texts.cell[IS], c->sum_offsets, &run->settings.style, true);
	fputs("<tfoot><tr><th scope=\"row\">sums</th>", out);
	put_cells(out, shown, &texts, false);
	fprintf(out, "<td>page check %s</td></tr></tfoot>\n",
	        !c->setups      ? "not known yet"
	        : c->page_holds ? "holds"
	                        : "does not hold");
}

static void put_heads(FILE *out, const struct work_run *run, const struct shown *shown)
{
	char bs[LEVEL_LENGTH_BYTES + 3], fs[LEVEL_LENGTH_BYTES + 3], distance[LEVEL_LENGTH_BYTES];
	const char *const heads[COLUMNS] = {
	    [BS] = "BS",           [HI] = "HI",
	    [FS] = "FS",           [IS] = run->closing.offsets ? "IS, offset" : "IS",
	    [STEP] = "rise, fall", [ELEVATION] = "elevation",
	    [BACK] = bs,           [FORE] = fs};
	level_distance_title(distance, "dist.", &run->settings.style);
	snprintf(bs, sizeof bs, "%s BS", distance);
	snprintf(fs, sizeof fs, "%s FS", distance);
	fputs("<thead><tr><th scope=\"col\">station</th>", out);
	for (int i = 0; i < COLUMNS; i++)
		if (shown->column[i])
			html_element(out, "th", "class=\"n\" scope=\"col\"", heads[i]);
	fputs("<th scope=\"col\">remark</th></tr></thead>\n", out);
}

/* When each struck row was struck, to the second: the rows have the hour alone. */
static void put_struck(FILE *out, const struct work_run *run)
{
	bool any = false;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *s = &run->book.run.sight[i];
		if (!*run->book.note[i].struck)
			continue;
		fprintf(out, "%s%s ", any ? "; " : "<p>Struck: ", level_kind_name(s->kind));
		html_text(out, s->station);
		fprintf(out, " %s", run->book.note[i].struck);
		any = true;
	}
	fputs(any ? ".</p>\n" : "", out);
}

bool papers_table(FILE *out, const struct work_run *run)
{
	const struct shown shown = shown_of(run);
	fputs("<div class=\"wide\"><table>\n", out);
	put_heads(out, run, &shown);
	put_sums(out, run, &shown);
	fputs("<tbody>\n", out);
	for (size_t i = 0; i < run->page.count;) {
		struct page_line line = layout_line(run, i);
		if (!put_line(out, run, &shown, &line))
			return false;
		i = layout_last(&line) + 1;
	}
	fputs("</tbody></table></div>\n", out);
	put_struck(out, run);
	return true;
}
