/* The first page as text. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/front/front.h"
#include "report/front/ruler.h"
#include "text/cells.h"
#include "text/wrap.h"

#define ROW_BYTES 200
#define LABEL 10
#define NAME 20
#define VALUE 12
#define NOTE (NAME + VALUE + 4)

static int column_of(const struct ruler *ruler, int columns, double value)
{
	return (int)lround((value - ruler->from) / (ruler->to - ruler->from) * (columns - 1));
}

static void put(char *row, int at, char sign)
{
	/* What meets on one cell is one sign for all. */
	row[at] = row[at] == ' ' || row[at] == '-' || row[at] == '=' ? sign : '&';
}

static void put_numbers(FILE *out, const struct front *front, const struct ruler *ruler,
                        int columns)
{
	struct ruler_numbers all = ruler_numbers_of(ruler, &front->style);
	char marks[ROW_BYTES], numbers[ROW_BYTES];
	int last = -1;
	memset(marks, ' ', sizeof marks);
	memset(numbers, ' ', sizeof numbers);
	for (int i = 0; i < all.count; i++) {
		int column = column_of(ruler, columns, all.at[i]), size = (int)strlen(all.text[i]);
		int begin = column - size / 2 > 0 ? column - size / 2 : 0;
		marks[column] = '\'';
		if (begin <= last)
			continue;
		memcpy(numbers + begin, all.text[i], (size_t)size);
		last = begin + size;
	}
	marks[columns] = '\0';
	fprintf(out, "  %s\n  %.*s%s\n", marks, last > 0 ? last : 0, numbers,
	        level_unit_after(front->style.unit));
}

void front_scale(FILE *out, const struct front *front, int columns)
{
	const struct front_scale *s = &front->scale;
	struct ruler ruler = ruler_of(s);
	char row[ROW_BYTES];
	int wide = columns - 12, low = column_of(&ruler, wide, s->low),
	    high = column_of(&ruler, wide, s->high);
	memset(row, ' ', sizeof row);
	row[wide] = '\0';
	memset(row + low, '=', (size_t)(high - low));
	row[low] = '[';
	row[high] = ']';
	put(row, column_of(&ruler, wide, s->flat), isnan(s->round) ? '0' : 'F');
	if (!isnan(s->round))
		put(row, column_of(&ruler, wide, s->round), 'R');
	put(row, column_of(&ruler, wide, s->seen), 'o');
	fprintf(out, "  %s\n", row);
	put_numbers(out, front, &ruler, wide);
}

static void put_labeled(FILE *out, const char *label, const char *text, int columns)
{
	const char *rest = text;
	for (const char *line = text; *line; line = rest) {
		size_t fits = wrap_fit(line, columns - LABEL, &rest);
		fprintf(out, "%-*s%.*s\n", LABEL, line == text ? label : "", (int)fits, line);
	}
}

/* The note in lines of its own column; a name too long for its column has a line of its own. */
static void put_row(FILE *out, const struct front_row *row, int columns)
{
	const char *rest = row->note;
	int name = cells_of(row->name);
	fprintf(out, "%s%s", row->name, name > NAME ? "\n" : "");
	fprintf(out, "%*s %*s", name > NAME ? NAME : NAME - name, "", VALUE, row->value);
	do {
		const char *line = rest;
		size_t fits = wrap_fit(line, columns - NOTE, &rest);
		fprintf(out, "%*s%.*s\n", line == row->note ? (*line ? 3 : 0) : NOTE, "", (int)fits,
		        line);
	} while (*rest);
}

void front_text(FILE *out, const struct front *front, int columns)
{
	put_labeled(out, "question", front->question, columns);
	put_labeled(out, "place", front->where, columns);
	put_labeled(out, "when", front->when, columns);
	put_labeled(out, "who", front->who, columns);
	put_labeled(out, "level", front->level, columns);
	put_labeled(out, "rods", front->rods, columns);
	fputc('\n', out);
	put_labeled(out, "answer", front->answer, columns);
	fputc('\n', out);
	if (front->scale.has) {
		front_scale(out, front, columns);
		fputs(
		    isnan(front->scale.round)
		        ? "  o misclosure   [==] what is allowed   & several of these\n\n"
		        : "  F flat   R round   o seen   [==] seen, with the errors   & several of "
		          "these\n\n",
		    out);
	}
	for (size_t i = 0; i < front->rows; i++)
		put_row(out, &front->row[i], columns);
	if (front->doubts)
		fputs("\nWhat could make this wrong, the largest first, and what would tell:\n",
		      out);
	for (size_t i = 0; i < front->doubts; i++) {
		const struct front_doubt *doubt = &front->doubt[i];
		fprintf(out, "  %zu. %s%s%s\n      would tell: %s\n", i + 1, doubt->what,
		        *doubt->size ? ": " : "", doubt->size, doubt->tells);
	}
	if (*front->sum)
		fprintf(out, "%s\n", front->sum);
}
