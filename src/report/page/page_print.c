/* The page of a run on sheets of paper. */
#include <stdlib.h>
#include <string.h>

#include "report/lines.h"
#include "report/page/layout.h"
#include "report/page/sheets.h"
#include "report/statement/stated.h"
#include "text/cells.h"
#include "text/wrap.h"

/* Right-aligned so that decimal points stand below each other. */
static void put_columns(FILE *out, const struct layout *l, const struct texts *texts, int from,
                        int to)
{
	if (*texts->offset && from < FIRST_RIGHT) {
		fprintf(out, " %-*s", layout_room(l), texts->offset);
		from = FIRST_RIGHT;
	}
	for (int i = from; i < to; i++) {
		const char *text = texts->cell[i];
		int after = *text ? layout_clamp(l->tail[i] - report_tail(text), 0, l->tail[i]) : 0;
		if (l->shown[i])
			fprintf(out, " %*s%*s", layout_width(l, i) - after, text, after, "");
	}
}

static void put_filled(FILE *out, const char *text, size_t size, int width)
{
	char part[LEVEL_REMARK_BYTES * 4];
	snprintf(part, sizeof part, "%.*s", (int)size, text);
	cells_put(out, part, width);
}

/* A text that is being written. */
struct row_text {
	char *text;
	size_t size;
	FILE *out;
};

static bool begin(struct row_text *row)
{
	*row = (struct row_text){0};
	row->out = open_memstream(&row->text, &row->size);
	return row->out != NULL;
}

/* The text, blanks at its end taken off; free() it. NULL where memory is short. */
static char *finish(struct row_text *row)
{
	if (fclose(row->out) != 0)
		return NULL;
	while (row->text && row->size && row->text[row->size - 1] == ' ')
		row->text[--row->size] = '\0';
	return row->text;
}

static void add(struct sheets *sheets, struct row_text *row, enum sheet_tie tie,
                const char *carried)
{
	char *text = finish(row);
	if (text)
		sheets_row(sheets, text, tie, carried);
	else
		sheets->failed = true;
	free(text);
}

/* Sums in their columns behind the word "carried", or "sums". */
static char *sums_line(const struct layout *l, const struct texts *sums, const char *offsets)
{
	struct row_text row;
	if (!begin(&row))
		return NULL;
	if (!l->two)
		fprintf(row.out, "%*s", l->station - LEAST_STATION, "");
	put_columns(row.out, l, sums, BS, l->two ? FIRST_RIGHT : COLUMNS);
	fputs(offsets, row.out);
	return finish(&row);
}

/* What the columns add up to behind a row. */
static char *carried_line(const struct work_run *run, const struct layout *l, size_t i)
{
	const struct level_sums *sums = &run->page.row[i].sums;
	struct level_style style = run->settings.style;
	char offsets[LEVEL_LENGTH_BYTES + 16] = "  offsets ";
	struct texts texts;
	style.decimals = l->decimals;
	layout_carried(run, l, i, &texts);
	level_format_length(offsets + strlen(offsets), sums->offsets, &style, true);
	return sums_line(l, &texts, sums->offset_count ? offsets : "");
}

/* The sums below the last row, of complete setups alone. */
static void add_sums(struct sheets *sheets, const struct work_run *run, const struct layout *l)
{
	struct texts texts;
	struct row_text row;
	char *sums;
	layout_sums(run, l, &texts);
	sums = sums_line(l, &texts, "");
	if (!sums || !begin(&row)) {
		sheets->failed = true;
		free(sums);
		return;
	}
	fprintf(row.out, "%*s%-7s%s", l->two ? 0 : l->indent, "", "sums", sums);
	if (level_page_line(&run->page)->bs_row != SIZE_MAX)
		fputs("  open setup left out", row.out);
	add(sheets, &row, SHEET_BLOCK, NULL);
	free(sums);
}

static char *remark_of(const struct work_run *run, const struct page_line *line)
{
	const size_t clock = strlen("struck 2026-05-09");
	const size_t i = line->at;
	struct row_text row;
	char *text;
	if (!begin(&row))
		return NULL;
	lines_remark(row.out, run, i, "", LINES_FULL);
	/* Only then the size is known. */
	fflush(row.out);
	if (line->also != SIZE_MAX)
		lines_remark(row.out, run, line->also, row.size ? "; " : "", LINES_FULL);
	text = finish(&row);
	/* A day and its time may stand in two lines of a narrow column. */
	if (text && *run->book.note[i].struck && row.size > clock && text[clock] == 'T')
		text[clock] = ' ';
	return text;
}

/* What did not fit beside the figures: more of the station's name, more of the remark. */
static void add_rest(struct sheets *sheets, const struct layout *l, const char *station,
                     const char *remark, const char *carried)
{
	int middle = 2;
	for (int i = 0; i < COLUMNS; i++)
		middle += l->shown[i] ? 1 + layout_width(l, i) : 0;
	while (*station || *remark) {
		const char *name = station, *said = remark;
		size_t name_size = wrap_fit(station, l->station, &station), said_size = 0;
		struct row_text row;
		if (l->remark)
			said_size = wrap_fit(remark, l->remark, &remark);
		else if (!name_size)
			said_size = wrap_fit(remark, SHEET_COLUMNS - l->indent, &remark);
		if (!begin(&row)) {
			sheets->failed = true;
			return;
		}
		fprintf(row.out, "%*s", l->indent, "");
		if (l->remark || name_size)
			put_filled(row.out, name, name_size, l->station);
		fprintf(row.out, "%*s%.*s", l->remark ? middle : 0, "", (int)said_size, said);
		add(sheets, &row, SHEET_ROW, carried);
	}
}

static void add_sight(struct sheets *sheets, const struct work_run *run, const struct layout *l,
                      const struct page_line *at, const char *remark)
{
	const struct level_sight *s = &run->book.run.sight[at->at];
	const struct level_line *line = &run->page.row[layout_last(at)].line;
	bool begins = at->at == 0 || at->also != SIZE_MAX ||
	              line->first_row != run->page.row[at->at - 1].line.first_row;
	char *carried = carried_line(run, l, layout_last(at));
	const char *station = s->station;
	size_t size = wrap_fit(station, l->station, &station);
	struct row_text row;
	struct texts texts;
	if (!carried || !begin(&row)) {
		sheets->failed = true;
		free(carried);
		return;
	}
	layout_texts(run, at, &texts);
	fprintf(row.out, "%*s ", l->indent - 1, texts.setup);
	put_filled(row.out, s->station, size, l->station);
	put_columns(row.out, l, &texts, l->two ? FIRST_RIGHT : BS, COLUMNS);
	if (l->remark) {
		const char *said = remark;
		size = wrap_fit(remark, l->remark, &remark);
		fprintf(row.out, "  %.*s", (int)size, said);
	}
	add(sheets, &row, begins ? SHEET_FREE : SHEET_BLOCK, carried);
	if (l->two && begin(&row)) {
		fprintf(row.out, "%*s", l->indent, "");
		put_columns(row.out, l, &texts, BS, FIRST_RIGHT);
		add(sheets, &row, SHEET_ROW, carried);
	}
	add_rest(sheets, l, station, remark, carried);
	free(carried);
}

static char *head_of(const struct layout *l)
{
	struct row_text row;
	int from = l->two ? FIRST_RIGHT : BS;
	if (!begin(&row))
		return NULL;
	fprintf(row.out, "%*s%-*.*s", l->indent, "", l->station, l->station, "station");
	for (int i = from; i < COLUMNS; i++)
		if (l->shown[i])
			fprintf(row.out, " %*s", layout_width(l, i), layout_name(l, i));
	if (l->remark)
		fputs("  remark", row.out);
	if (l->two) {
		fprintf(row.out, "\n%*s", l->indent, "");
		for (int i = BS; i < FIRST_RIGHT; i++)
			fprintf(row.out, " %*s", layout_width(l, i), layout_name(l, i));
	}
	fputc('\n', row.out);
	return finish(&row);
}

/* When, by which level and rod, the heads of its days, and a blank line; NULL where memory is
 * short. */
static char *first_of(const struct work_run *run)
{
	struct row_text lines, wrapped;
	char *text;
	if (!begin(&lines))
		return NULL;
	lines_observed(lines.out, run);
	lines_heads(lines.out, run);
	text = finish(&lines);
	if (!text || !begin(&wrapped)) {
		free(text);
		return NULL;
	}
	wrap_text(wrapped.out, text, SHEET_COLUMNS);
	fputc('\n', wrapped.out);
	free(text);
	return finish(&wrapped);
}

/* What stands below the last row. */
static bool put_end(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	char foot[REPORT_FOOT_BYTES];
	fputs("\n", out);
	lines_standings(out, run);
	lines_held(out, run, false);
	lines_tilts(out, run);
	lines_closure(out, run);
	if (run->book.run.kind == LEVEL_CROSSING)
		fputs("\n", out);
	if (!stated_crossing(out, book, run, why))
		return false;
	fputs("\n", out);
	if (!stated_instruments(out, book, run, why))
		return false;
	fputs("\n", out);
	lines_cautions(out);
	fputs("\n", out);
	lines_signatures(out);
	fprintf(out, "\n%s\n", report_foot(book, foot));
	return true;
}

bool report_page_print(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	char heading[LEVEL_REMARK_BYTES + LEVEL_NAME_BYTES + 60];
	struct layout layout;
	struct sheets sheets = {.heading = heading};
	struct row_text end;
	char *head, *first, *text;
	bool ok;

	layout_measure(run, &layout);
	head = head_of(&layout);
	if (!head || !begin(&end)) {
		free(head);
		return fault_memory(why);
	}
	lines_heading(run, LINES_RUN, heading, sizeof heading);
	first = first_of(run);
	sheets.failed = !first;
	sheets.first = first;
	sheets.head = head;
	sheets.indent = layout.two ? 0 : layout.indent;
	for (size_t i = 0; i < run->page.count;) {
		const struct page_line line = layout_line(run, i);
		char *remark = remark_of(run, &line);
		sheets.failed = sheets.failed || !remark;
		add_sight(&sheets, run, &layout, &line, remark ? remark : "");
		free(remark);
		i = layout_last(&line) + 1;
	}
	if (run->closing.setups)
		add_sums(&sheets, run, &layout);
	ok = put_end(end.out, book, run, why);
	text = finish(&end);
	if (ok && text)
		sheets_text(&sheets, text);
	if (ok && (!text || !sheets_put(out, &sheets)))
		ok = fault_memory(why);
	free(text);
	free(first);
	free(head);
	sheets_free(&sheets);
	return ok;
}
