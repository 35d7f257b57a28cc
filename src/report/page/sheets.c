#include "report/page/sheets.h"

#include <stdlib.h>
#include <string.h>

#include "text/cells.h"
#include "text/wrap.h"

#define NUMBER_COLUMNS 18 /* "  page 123 of 456" */
#define BELONGS 6         /* columns deep: to the line before */

static bool add(struct sheets *sheets, const struct sheet_line *line)
{
	if (sheets->count == sheets->room) {
		size_t room = sheets->room ? 2 * sheets->room : 128;
		struct sheet_line *more = realloc(sheets->line, room * sizeof *more);
		if (!more)
			return false;
		sheets->line = more;
		sheets->room = room;
	}
	sheets->line[sheets->count++] = *line;
	return true;
}

static void add_text(struct sheets *sheets, const char *text, size_t size, bool row,
                     enum sheet_tie tie, const char *carried)
{
	struct sheet_line line = {
	    .text = strndup(text, size), .row = row, .begins = sheets->breaks, .tie = tie};
	sheets->breaks = false;
	if (carried)
		line.carried = strdup(carried);
	if (!line.text || (carried && !line.carried) || !add(sheets, &line)) {
		sheets->failed = true;
		free(line.text);
		free(line.carried);
	}
}

void sheets_row(struct sheets *sheets, const char *text, enum sheet_tie tie, const char *carried)
{
	const char *next;
	size_t size = wrap_fit(text, SHEET_COLUMNS, &next);
	add_text(sheets, text, size, true, tie, carried);
	for (text = next; *text; text = next) {
		size = wrap_fit(text, SHEET_COLUMNS, &next);
		add_text(sheets, text, size, true, SHEET_ROW, carried);
	}
}

/* Whether a line of text ends in a colon, so that what it announces must follow. */
static bool announces(const char *text, size_t size)
{
	return size && text[size - 1] == ':';
}

void sheets_text(struct sheets *sheets, const char *text)
{
	char *wrapped = NULL;
	size_t size = 0;
	bool announced = false;
	FILE *stream = open_memstream(&wrapped, &size);
	if (!stream) {
		sheets->failed = true;
		return;
	}
	wrap_text(stream, text, SHEET_COLUMNS);
	if (fclose(stream) != 0)
		sheets->failed = true;
	for (const char *at = wrapped; at && *at;) {
		size_t length = strcspn(at, "\n");
		bool belongs = announced || strspn(at, " ") >= BELONGS;
		if (*at == '\f') {
			sheets->breaks = true;
			at += length + 1;
			continue;
		}
		add_text(sheets, at, length, false, belongs ? SHEET_BLOCK : SHEET_FREE, NULL);
		announced = announces(at, length);
		at += length + 1;
	}
	free(wrapped);
}

/* A page: the lines from `from` to `to`, that one not included. */
struct sheet {
	size_t from, to;
	bool carries; /* the table goes on on the next page */
};

static int lines_of(const char *text)
{
	int count = 0;
	for (; *text; text++)
		count += *text == '\n';
	return count;
}

static bool goes_on(const struct sheets *s, size_t at)
{
	return at > 0 && at < s->count && s->line[at - 1].row && s->line[at].row;
}

/* Where a page ends that has room for so many lines: behind a whole block, or where none fits
 * behind as much of it as there is room for, in whole rows if it may be. A line is kept for what is
 * carried. */
static size_t end_of(const struct sheets *s, size_t from, size_t room)
{
	size_t last[SHEET_ROW + 1] = {0}, at;
	for (at = from + 1; at <= s->count; at++) {
		if (at < s->count && s->line[at].begins && at - from <= room)
			return at;
		enum sheet_tie tie = at < s->count ? s->line[at].tie : SHEET_FREE;
		if (at - from > room)
			break;
		if (at - from + goes_on(s, at) > room)
			continue;
		for (int i = (int)tie; i <= (int)SHEET_ROW; i++)
			last[i] = at;
	}
	for (int i = 0; i <= (int)SHEET_ROW; i++)
		if (last[i])
			return last[i];
	return from + 1;
}

static struct sheet sheet_from(const struct sheets *s, size_t from, int heading)
{
	struct sheet out = {.from = from};
	int used = heading + 1 + (from == 0 && s->first ? lines_of(s->first) : 0);
	/* No page begins with a blank line. */
	while (out.from < s->count && !*s->line[out.from].text)
		out.from++;
	if (out.from == s->count)
		return (struct sheet){s->count, s->count, false};
	if (s->line[out.from].row)
		used += lines_of(s->head) + goes_on(s, out.from);
	out.to = end_of(s, out.from, (size_t)(used < SHEET_LINES ? SHEET_LINES - used : 1));
	out.carries = goes_on(s, out.to);
	return out;
}

/* The heading, wrapped beside the number; how many lines it takes. */
static int put_heading(FILE *out, const char *text, int page, int pages)
{
	char number[40];
	int lines = 0;
	snprintf(number, sizeof number, "page %d of %d", page, pages);
	do {
		const char *next;
		size_t size = wrap_fit(text, SHEET_COLUMNS - NUMBER_COLUMNS, &next);
		char part[SHEET_COLUMNS * 4 + 1];
		snprintf(part, sizeof part, "%.*s", (int)size, text);
		if (out && lines == 0)
			fprintf(out, "%s%*s\n", part, SHEET_COLUMNS - cells_of(part), number);
		else if (out)
			fprintf(out, "%s\n", part);
		lines++;
		text = next;
	} while (*text);
	return lines;
}

/* What the sums at the foot of a page are, and at the head of the next. */
static void put_sums(FILE *out, const struct sheets *s, const char *word, const char *sums)
{
	fprintf(out, "%*s%s%s\n", s->indent, "", word, sums);
}

static void put_sheet(FILE *out, const struct sheets *s, const struct sheet *sheet, bool first)
{
	size_t to = sheet->to;
	fputc('\n', out);
	if (first && s->first)
		fputs(s->first, out);
	if (s->line[sheet->from].row)
		fputs(s->head, out);
	if (goes_on(s, sheet->from))
		put_sums(out, s, "brought", s->line[sheet->from - 1].carried);
	while (!sheet->carries && to > sheet->from && !*s->line[to - 1].text)
		to--;
	for (size_t i = sheet->from; i < to; i++)
		fprintf(out, "%s\n", s->line[i].text);
	if (sheet->carries)
		put_sums(out, s, "carried", s->line[to - 1].carried);
}

bool sheets_put(FILE *out, const struct sheets *s)
{
	int heading = put_heading(NULL, s->heading, 0, 0), pages = 0, page = 0;
	struct sheet sheet;
	if (s->failed)
		return false;
	for (sheet = sheet_from(s, 0, heading); sheet.from < s->count;
	     sheet = sheet_from(s, sheet.to, heading))
		pages++;
	for (sheet = sheet_from(s, 0, heading); sheet.from < s->count;
	     sheet = sheet_from(s, sheet.to, heading)) {
		if (page)
			fputc('\f', out);
		put_heading(out, s->heading, ++page, pages);
		put_sheet(out, s, &sheet, page == 1);
	}
	return true;
}

void sheets_free(struct sheets *s)
{
	for (size_t i = 0; i < s->count; i++) {
		free(s->line[i].text);
		free(s->line[i].carried);
	}
	free(s->line);
	s->line = NULL;
	s->count = s->room = 0;
}
