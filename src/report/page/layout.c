#include "report/page/layout.h"

#include <string.h>

#include "text/cells.h"

#define INDENT 4        /* setup */
#define LONGEST_CELL 20 /* no figure that is computed is longer */
#define LEAST_REMARK 16 /* columns; with fewer, remarks stand below their row */
#define MOST_STATION 16

static const char *const names[COLUMNS] = {"BS",    "HI",    "IS", "FS", "rise",
                                           "elev.", "corr.", "",   ""};

const char *layout_name(const struct layout *l, int column)
{
	return column == BACK ? l->back : column == FORE ? l->fore : names[column];
}

int layout_width(const struct layout *l, int column)
{
	return l->head[column] + l->tail[column];
}

/* Typed texts may be longer than what they say. */
static void put(char cell[REPORT_CELL_BYTES], const char *text, level_nm value,
                const struct level_style *style)
{
	struct level_style fine = *style;
	fine.decimals = 6;
	if (strlen(text) > LONGEST_CELL)
		level_format_length(cell, value, &fine, false);
	else
		snprintf(cell, REPORT_CELL_BYTES, "%s", text);
}

struct page_line layout_line(const struct work_run *run, size_t at)
{
	const struct level_sight *sight = run->book.run.sight;
	struct page_line out = {at, SIZE_MAX};
	if (sight[at].kind == LEVEL_FS && at + 1 < run->book.run.count &&
	    sight[at + 1].kind == LEVEL_BS && level_counted(&sight[at]) &&
	    level_counted(&sight[at + 1]) && strcmp(sight[at].station, sight[at + 1].station) == 0)
		out.also = at + 1;
	return out;
}

size_t layout_last(const struct page_line *line)
{
	return line->also != SIZE_MAX ? line->also : line->at;
}

static void put_sight(const struct work_run *run, size_t i, struct texts *out)
{
	const struct level_sight *s = &run->book.run.sight[i];
	const struct level_row *row = &run->page.row[i];
	const struct level_style *style = &run->settings.style;
	const struct level_style own = level_distance_style(style);
	int distance = s->kind == LEVEL_BS ? BACK : FORE;
	struct report_cells cells;
	report_cells(s, &run->book.note[i], row, style, &cells);
	snprintf(out->setup, sizeof out->setup, "%s", s->state == LEVEL_STRUCK ? "x" : cells.setup);
	snprintf(out->offset, sizeof out->offset, "%s", cells.offset);
	if (s->kind == LEVEL_BS) {
		put(out->cell[BS], cells.bs, s->reading, style);
		put(out->cell[HI], cells.hi, row->hi, style);
	}
	put(out->cell[distance], cells.distance, s->distance, &own);
}

void layout_texts(const struct work_run *run, const struct page_line *line, struct texts *out)
{
	const struct level_sight *s = &run->book.run.sight[line->at];
	const struct level_row *row = &run->page.row[line->at];
	const struct level_style *style = &run->settings.style;
	struct report_cells cells;
	*out = (struct texts){0};
	put_sight(run, line->at, out);
	if (line->also != SIZE_MAX)
		put_sight(run, line->also, out);
	report_cells(s, &run->book.note[line->at], row, style, &cells);
	put(out->cell[IS], cells.is, s->reading, style);
	put(out->cell[FS], cells.fs, s->reading, style);
	put(out->cell[STEP], cells.step, row->step, style);
	put(out->cell[ELEVATION], cells.elevation, row->elevation, style);
	put(out->cell[CORRECTED], cells.corrected, row->corrected, style);
}

void layout_carried(const struct work_run *run, const struct layout *l, size_t row,
                    struct texts *out)
{
	const struct level_row *at = &run->page.row[row];
	struct level_style style = run->settings.style;
	level_nm bs = at->sums.bs;
	if (at->line.bs_row != SIZE_MAX)
		bs += run->book.run.sight[at->line.bs_row].reading;
	style.decimals = l->decimals;
	*out = (struct texts){0};
	level_format_length(out->cell[BS], bs, &style, false);
	level_format_length(out->cell[FS], at->sums.fs, &style, false);
}

void layout_sums(const struct work_run *run, const struct layout *l, struct texts *out)
{
	const struct level_closing *c = &run->closing;
	const struct level_style own = level_distance_style(&run->settings.style);
	struct level_style style = run->settings.style;
	style.decimals = l->decimals;
	*out = (struct texts){0};
	level_format_length(out->cell[BS], c->sum_bs, &style, false);
	level_format_length(out->cell[FS], c->sum_fs, &style, false);
	if (c->has_end)
		level_format_length(out->cell[STEP], c->end - c->start, &style, true);
	if (c->has_length) {
		level_format_length(out->cell[BACK], (c->length + c->imbalance) / 2, &own, false);
		level_format_length(out->cell[FORE], (c->length - c->imbalance) / 2, &own, false);
	}
}

static void widen(struct layout *l, const struct texts *texts)
{
	for (int i = 0; i < COLUMNS; i++) {
		int tail = report_tail(texts->cell[i]);
		int head = (int)strlen(texts->cell[i]) - tail;
		l->tail[i] = tail > l->tail[i] ? tail : l->tail[i];
		l->head[i] = head > l->head[i] ? head : l->head[i];
	}
}

int layout_clamp(int value, int least, int most)
{
	return value < least ? least : value > most ? most : value;
}

/* What stands over the columns up to FIRST_RIGHT has so much room. */
int layout_room(const struct layout *l)
{
	int room = -1;
	for (int i = BS; i < FIRST_RIGHT; i++)
		room += l->shown[i] ? 1 + layout_width(l, i) : 0;
	return room;
}

/* The first of three that fits: a line a row with its remark, a line a row with remarks below, two
 * lines a row. */
static void fit(struct layout *l)
{
	int used = l->indent + l->station, right = l->indent;
	for (int i = 0; i < COLUMNS; i++) {
		int name = (int)strlen(layout_name(l, i));
		if (layout_width(l, i) < name)
			l->head[i] = name - l->tail[i];
	}
	if (layout_room(l) < l->offset)
		l->head[BS] += l->offset - layout_room(l);
	for (int i = 0; i < COLUMNS; i++) {
		used += l->shown[i] ? 1 + layout_width(l, i) : 0;
		right += l->shown[i] && i >= FIRST_RIGHT ? 1 + layout_width(l, i) : 0;
	}
	l->two = used > SHEET_COLUMNS;
	if (l->two)
		l->station = layout_clamp(SHEET_COLUMNS - right, 1, 40);
	else if (SHEET_COLUMNS - used - 2 >= LEAST_REMARK)
		l->remark = SHEET_COLUMNS - used - 2;
}

void layout_measure(const struct work_run *run, struct layout *l)
{
	struct texts texts;
	const struct level_style *style = &run->settings.style;
	bool own = style->distance != style->unit;
	const char *unit = own ? level_unit_name(style->distance) : "";
	*l = (struct layout){.station = LEAST_STATION,
	                     .indent = INDENT + (run->closing.offsets > 0)};
	snprintf(l->back, sizeof l->back, "to BS%s%s", own ? " " : "", unit);
	snprintf(l->fore, sizeof l->fore, "to FS%s%s", own ? " " : "", unit);
	for (int i = 0; i < COLUMNS; i++)
		l->shown[i] = i != CORRECTED;
	for (size_t i = 0; i < run->page.count; i++) {
		const struct page_line line = layout_line(run, i);
		int name = cells_of(run->book.run.sight[i].station);
		l->station = layout_clamp(name, l->station, MOST_STATION);
		layout_texts(run, &line, &texts);
		widen(l, &texts);
		if ((int)strlen(texts.offset) > l->offset)
			l->offset = (int)strlen(texts.offset);
		l->shown[CORRECTED] = l->shown[CORRECTED] ||
		                      (*texts.cell[CORRECTED] &&
		                       strcmp(texts.cell[CORRECTED], texts.cell[ELEVATION]) != 0);
		i = layout_last(&line);
	}
	l->decimals = layout_clamp((l->tail[BS] > l->tail[FS] ? l->tail[BS] : l->tail[FS]) - 1,
	                           run->settings.style.decimals, 6);
	layout_sums(run, l, &texts);
	widen(l, &texts);
	fit(l);
}
