#include "report/html/sheet.h"

#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "html/html.h"
#include "report/html/written.h"
#include "report/lines.h"

/* What a writer writes, which the caller frees; NULL with the fault. */
static char *part_of(sheet_writer *write, void *of, enum sheet_part part, struct fault *why)
{
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	return written(out, &text, out && write(out, of, part, why), why);
}

/* Whether it reads as a number, which stands to the right. */
static bool is_number(const char *text)
{
	char *end;
	strtod(text, &end);
	return *text && !*end;
}

/* A row, of which numbers stand to the right. */
static void put_row(FILE *out, const struct csv_record *record)
{
	fputs("<tr>", out);
	for (size_t i = 0; i < record->count; i++)
		html_element(out, "td", is_number(record->field[i]) ? "class=\"n\"" : "",
		             record->field[i]);
	fputs("</tr>\n", out);
}

/* Reads one record after the other of a copy, and marks the columns that have a number. */
static bool find_numbers(const char *csv, bool number[CSV_FIELDS], struct fault *why)
{
	char *copy = strdup(csv);
	struct csv_reader reader = {.text = copy, .at = copy, .path = "", .line = 1};
	struct csv_record record;
	bool head = true;
	if (!copy)
		return fault_memory(why);
	for (; csv_read(&reader, &record, why); head = false)
		for (size_t i = 0; !head && i < record.count; i++)
			number[i] = number[i] || is_number(record.field[i]);
	free(copy);
	return why->kind == FAULT_NONE;
}

/* The names of the columns, each over its figures: to the right where a row has a number. */
static void put_head(FILE *out, const struct csv_record *head, const bool number[CSV_FIELDS])
{
	fputs("<tr>", out);
	for (size_t i = 0; i < head->count; i++)
		html_element(out, "th", number[i] ? "class=\"n\" scope=\"col\"" : "scope=\"col\"",
		             head->field[i]);
	fputs("</tr>\n", out);
}

/* CSV as a table; samples of curves are left out, which only the drawing needs. */
static bool put_figures(FILE *out, char *csv, struct fault *why)
{
	struct csv_reader reader = {.text = csv, .at = csv, .path = "", .line = 1};
	struct csv_record head, record = {0};
	bool curves = false, number[CSV_FIELDS] = {false};
	why->kind = FAULT_NONE;
	if (!find_numbers(csv, number, why))
		return false;
	if (!csv_read(&reader, &head, why))
		return why->kind == FAULT_NONE;
	html_element(out, "h2", "", "All figures");
	fputs("<div class=\"wide\"><table>\n<thead>", out);
	put_head(out, &head, number);
	fputs("</thead><tbody>\n", out);
	while (csv_read(&reader, &record, why)) {
		bool curve = strcmp(record.field[0], "curve") == 0;
		curves = curves || curve;
		if (!curve)
			put_row(out, &record);
	}
	fputs("</tbody></table></div>\n", out);
	if (curves)
		html_element(out, "p", "", "The samples of the curves are in the CSV.");
	return why->kind == FAULT_NONE;
}

bool sheet_cautions(FILE *out, struct fault *why)
{
	char *text = NULL;
	size_t size;
	FILE *lines = open_memstream(&text, &size);
	if (lines)
		lines_cautions(lines);
	text = written(lines, &text, true, why);
	if (!text)
		return false;
	html_prose(out, "Cautions", text);
	free(text);
	return true;
}

bool sheet_html(FILE *out, struct book *book, const char *title, sheet_writer *write, void *of,
                struct fault *why)
{
	char foot[REPORT_FOOT_BYTES];
	struct fault drawing = {0};
	char *svg = part_of(write, of, SHEET_DRAWING, &drawing);
	bool drawn = svg || drawing.kind == FAULT_EMPTY;
	char *words = drawn ? part_of(write, of, SHEET_WORDS, why) : NULL;
	char *figures = words ? part_of(write, of, SHEET_FIGURES, why) : NULL;
	bool ok = words && figures;
	if (!drawn)
		fault_say(why, drawing.kind, "%s", drawing.text);
	if (ok) {
		html_begin(out, title);
		if (svg && *svg)
			html_drawing(out, svg);
		if (*words)
			html_lines(out, "", words);
		ok = put_figures(out, figures, why) && sheet_cautions(out, why);
		html_end(out, report_foot(book, foot));
	}
	free(svg);
	free(words);
	free(figures);
	return ok;
}

bool sheet_title(struct book *book, const char *what, char *text, size_t size, struct fault *why)
{
	struct book_settings settings;
	if (!book_settings(book, &settings, why))
		return false;
	snprintf(text, size, "%s%s%s", settings.title, *settings.title ? ", " : "", what);
	return true;
}
