/* Sheets to write on, as text. */
#include "rodbook/report/blank.h"

#include <string.h>

#include "report/blank/sheet.h"

static void put_heads(FILE *out, const char *const *heads, enum level_unit unit)
{
	for (int i = 0; heads[i]; i++) {
		bool known = strcmp(heads[i], "unit") == 0;
		const char *text = known ? level_unit_words(unit) : "____________________________";
		fprintf(out, "%-8s %-28s%s", heads[i], text, i % 2 || !heads[i + 1] ? "\n" : "  ");
	}
}

static void put_rule(FILE *out, const struct blank_sheet *s)
{
	for (int c = 0; c < s->columns; c++) {
		fputs(c ? "+" : "", out);
		for (int i = 0; i < s->column[c].width; i++)
			fputc('-', out);
	}
	fputc('\n', out);
}

static void put_row(FILE *out, const struct blank_sheet *s, const char *first)
{
	for (int c = 0; c < s->columns; c++)
		fprintf(out, "%s%-*s", c ? "|" : "", s->column[c].width, c == 0 ? first : "");
	fputc('\n', out);
	put_rule(out, s);
}

void report_blank(FILE *out, enum report_blank sheet, enum level_unit unit)
{
	const struct blank_sheet *s = blank_sheet(sheet);
	fprintf(out, "%s\n\n", s->title);
	put_heads(out, s->heads, unit);
	fprintf(out, "\n%s", s->words);
	fputc('\n', out);
	for (int c = 0; c < s->columns; c++)
		fprintf(out, "%s%-*s", c ? "|" : "", s->column[c].width, s->column[c].name);
	fputc('\n', out);
	put_rule(out, s);
	for (int row = 0; row < s->rows; row++)
		put_row(out, s, blank_first(s, row));
	fputc('\n', out);
	fputs(s->below, out);
}
