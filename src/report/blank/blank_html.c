/* Sheets to write on, for a browser and its printer. */
#include "rodbook/report/blank.h"

#include <string.h>

#include "html/html.h"
#include "report/blank/sheet.h"

/* A line of the book is 8 mm high by hand. */
static const char cell[] = "style=\"height:7.6mm;border:1px solid\"";

static void put_heads(FILE *out, const char *const *heads, enum level_unit unit)
{
	fputs("<table>\n", out);
	for (int i = 0; heads[i]; i++) {
		bool known = strcmp(heads[i], "unit") == 0;
		fputs(i % 2 ? "" : "<tr>", out);
		html_element(out, "th", "scope=\"row\"", heads[i]);
		html_element(out, "td", "style=\"height:7mm;width:40%\"",
		             known ? level_unit_words(unit) : "");
		fputs(i % 2 || !heads[i + 1] ? "</tr>\n" : "", out);
	}
	fputs("</table>\n", out);
}

/* As wide, in parts of the sheet, as the same column of the text. */
static void put_column(FILE *out, const struct blank_sheet *s, int c)
{
	char style[80];
	int all = s->column[0].width;
	for (int i = 1; i < s->columns; i++)
		all += s->column[i].width;
	snprintf(style, sizeof style, "scope=\"col\" style=\"border:1px solid;width:%d%%\"",
	         100 * s->column[c].width / all);
	html_element(out, "th", style, s->column[c].name);
}

void report_blank_html(FILE *out, enum report_blank sheet, enum level_unit unit)
{
	const struct blank_sheet *s = blank_sheet(sheet);
	html_begin(out, s->title);
	put_heads(out, s->heads, unit);
	if (*s->words)
		html_lines(out, "", s->words);
	fputs("<div class=\"wide\"><table style=\"width:100%\">\n<thead><tr>", out);
	for (int c = 0; c < s->columns; c++)
		put_column(out, s, c);
	fputs("</tr></thead>\n<tbody>\n", out);
	for (int row = 0; row < s->rows; row++) {
		fputs("<tr>", out);
		for (int c = 0; c < s->columns; c++)
			html_element(out, "td", cell, c == 0 ? blank_first(s, row) : "");
		fputs("</tr>\n", out);
	}
	fputs("</tbody></table></div>\n", out);
	html_lines(out, "", s->below);
	html_end(out, "a sheet of rodbook " RODBOOK_VERSION ", to write on");
}
