/* The page of a run. */
#include "rodbook/report/report.h"

#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "report/lines.h"
#include "report/page/sections.h"
#include "text/cells.h"
#include "text/wrap.h"

static void put_number(char *cell, bool has, level_nm value, const struct level_style *style)
{
	cell[0] = '\0';
	if (has)
		level_format_exact(cell, value, style);
}

static void csv_row(FILE *out, const struct work_run *run, size_t i)
{
	const struct level_sight *s = &run->book.run.sight[i];
	const struct book_kept *n = &run->book.note[i];
	const struct level_row *r = &run->page.row[i];
	const struct level_style *style = &run->settings.style;
	const struct level_style own = level_distance_style(style);
	char setup[12] = "", number[12][LEVEL_LENGTH_BYTES];
	level_nm design = 0, cut = 0;
	bool has_cut = report_cut(&run->book.info, n, r, &design, &cut);
	const char *fields[] = {setup,
	                        level_kind_name(s->kind),
	                        s->station,
	                        number[0],
	                        number[1],
	                        number[2],
	                        number[3],
	                        number[4],
	                        number[5],
	                        number[6],
	                        number[7],
	                        number[8],
	                        level_method_name(s->method),
	                        n->time,
	                        n->remark,
	                        n->struck,
	                        level_file_unit(style->unit),
	                        n->along,
	                        number[9],
	                        number[10],
	                        NULL,
	                        NULL};
	size_t count = sizeof fields / sizeof *fields - 2;

	if (r->setup)
		snprintf(setup, sizeof setup, "%d", r->setup);
	put_number(number[0], s->kind == LEVEL_BS, s->reading, style);
	put_number(number[1], r->has_hi, r->hi, style);
	put_number(number[2], s->kind == LEVEL_IS, s->reading, style);
	put_number(number[3], s->kind == LEVEL_FS, s->reading, style);
	put_number(number[4], r->has_step && r->step >= 0, r->step, style);
	put_number(number[5], r->has_step && r->step < 0, -r->step, style);
	put_number(number[6], r->has_elevation, r->elevation, style);
	put_number(number[7], r->has_corrected, r->corrected, style);
	put_number(number[8], s->distance != 0, s->distance, &own);
	put_number(number[9], has_cut, design, style);
	put_number(number[10], has_cut, cut, style);
	put_number(number[11], s->kind == LEVEL_OFF, s->reading, style);
	if (run->closing.offsets)
		fields[count++] = number[11];
	if (own.unit != style->unit)
		fields[count++] = level_file_unit(own.unit);
	csv_write(out, fields, count, "\n");
}

/* Right-aligned so that decimal points stand below each other. */
static void put_cell(FILE *out, const char *text, int width, int tail)
{
	int after = *text ? tail - report_tail(text) : 0;
	if (after < 0)
		after = 0;
	fprintf(out, " %*s%*s", width - after, text, after, "");
}

struct widths {
	int number, tail, station, kind;
	bool corrected; /* the corrected elevation shows another figure somewhere */
};

static struct widths measure(const struct work_run *run)
{
	struct widths w = {.number = 8, .station = 12, .kind = run->closing.offsets ? 3 : 2};
	for (size_t i = 0; i < run->page.count; i++) {
		struct report_cells cells;
		const char *texts[] = {cells.bs, cells.hi, cells.is, cells.fs, cells.elevation};
		int head = 0, name = cells_of(run->book.run.sight[i].station);
		w.station = name > w.station ? name : w.station;
		report_cells(&run->book.run.sight[i], &run->book.note[i], &run->page.row[i],
		             &run->settings.style, &cells);
		for (size_t j = 0; j < sizeof texts / sizeof *texts; j++) {
			int tail = report_tail(texts[j]);
			int before = (int)strlen(texts[j]) - tail;
			w.tail = tail > w.tail ? tail : w.tail;
			head = before > head ? before : head;
		}
		w.corrected = w.corrected ||
		              (*cells.corrected && strcmp(cells.corrected, cells.elevation) != 0);
		w.number = head + w.tail > w.number ? head + w.tail : w.number;
	}
	return w;
}

static void put_cells(FILE *out, const struct report_cells *cells, const struct widths *w)
{
	if (*cells->offset) {
		fprintf(out, "   %-*s", 4 * (w->number + 1) - 3, cells->offset);
	} else {
		put_cell(out, cells->bs, w->number, w->tail);
		put_cell(out, cells->hi, w->number, w->tail);
		put_cell(out, cells->is, w->number, w->tail);
		put_cell(out, cells->fs, w->number, w->tail);
	}
	put_cell(out, cells->elevation, w->number, w->tail);
	if (w->corrected)
		put_cell(out, cells->corrected, w->number, w->tail);
	put_cell(out, cells->distance, w->number, w->tail);
}

static void put_row(FILE *out, const struct work_run *run, size_t i, const struct widths *w)
{
	const struct level_sight *s = &run->book.run.sight[i];
	const struct book_kept *n = &run->book.note[i];
	struct report_cells cells;
	report_cells(s, n, &run->page.row[i], &run->settings.style, &cells);
	fprintf(out, "%4s %-*s ", cells.setup, w->kind, level_kind_name(s->kind));
	wrap_put(out, s->station, w->station);
	put_cells(out, &cells, w);
	lines_remark(out, run, i, "  ", LINES_FULL);
}

static bool text_row(FILE *out, const struct work_run *run, size_t i, const struct widths *w)
{
	char *text = NULL;
	size_t size = 0;
	FILE *row = open_memstream(&text, &size);
	bool whole;

	if (!row)
		return false;
	put_row(row, run, i, w);
	whole = fclose(row) == 0 && text;
	while (whole && size && text[size - 1] == ' ')
		text[--size] = '\0';
	if (whole)
		fprintf(out, "%s\n", text);
	free(text);
	return whole;
}

void page_notes(FILE *out, const struct work_run *run)
{
	char tested[REPORT_TESTED_BYTES], verdict[400];
	const struct level_closing *c = &run->closing;
	lines_standings(out, run);
	lines_held(out, run, false);
	if (c->start_assumed)
		fprintf(out, "the elevation of %s is not known: it is taken as 0\n",
		        c->start_station);
	lines_tilts(out, run);
	if (run->tested.state != WORK_TESTED)
		fprintf(out, "%s\n", report_tested(tested, &run->tested, run->closing.set));
	report_verdict(run, verdict, sizeof verdict);
	fprintf(out, "%s\n", verdict);
	sections_marks(out, run);
	report_closings(out, run);
}

static bool text_page(FILE *out, const struct work_run *run, struct fault *why)
{
	struct widths w = measure(run);
	char bs[LEVEL_LENGTH_BYTES], fs[LEVEL_LENGTH_BYTES];
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;

	fprintf(out, "%s%srun %s, %s, in %s\n\n", run->settings.title,
	        *run->settings.title ? ", " : "", run->book.info.name,
	        level_run_kind_name(run->book.run.kind), level_unit_words(style->unit));
	lines_heads(out, run);
	if (run->head_count)
		fputc('\n', out);
	fprintf(out, "%4s %*s %-*s %*s %*s %*s %*s %*s", "", w.kind, "", w.station, "station",
	        w.number, "BS", w.number, "HI", w.number, "IS", w.number, "FS", w.number, "elev.");
	if (w.corrected)
		fprintf(out, " %*s", w.number, "corr.");
	fprintf(out, " %*s  remark\n", w.number, level_distance_title(bs, "dist.", style));
	for (size_t i = 0; i < run->page.count; i++)
		if (!text_row(out, run, i, &w))
			return fault_memory(why);
	fprintf(out, "\n%d %s, sum BS %s, sum FS %s, ", c->setups,
	        c->setups == 1 ? "setup" : "setups",
	        level_format_length(bs, c->sum_bs, style, false),
	        level_format_length(fs, c->sum_fs, style, false));
	if (c->offsets)
		fprintf(out, "sum of offsets %s, ",
		        level_format_length(bs, c->sum_offsets, style, true));
	fprintf(out, "page check %s\n",
	        !c->setups      ? "not known yet"
	        : c->page_holds ? "holds"
	                        : "does not hold");
	page_notes(out, run);
	return true;
}

bool report_page(FILE *out, const struct work_run *run, bool csv, struct fault *why)
{
	if (!csv)
		return text_page(out, run, why);
	fprintf(out,
	        "setup,sight,station,bs,hi,is,fs,rise,fall,elevation,corrected,distance,method,"
	        "time,remark,struck,unit,along,design,cut%s%s\n",
	        run->closing.offsets ? ",offset" : "",
	        run->settings.style.distance == run->settings.style.unit ? "" : ",distance_unit");
	for (size_t i = 0; i < run->page.count; i++)
		csv_row(out, run, i);
	return true;
}
