/* The first page as text. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/front/front.h"
#include "text/wrap.h"

#define LABEL 10
#define NAME 20
#define VALUE 12
#define NOTE (NAME + VALUE + 4)

static double decimal_step_of(double range, int most)
{
	double power = pow(10, floor(log10(range / most)));
	double share = range / most / power;
	return power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
}

/* The step between the numbers of a scale that has at most so many: 1, 2 or 5 of a power of ten, of
 * inches a power of two. */
static double step_of(double range, int most, enum level_unit unit)
{
	if (unit > LEVEL_FT)
		return exp2(ceil(log2(range / most)));
	return decimal_step_of(range, most);
}

struct ruler {
	double from, to;
	int columns;
};

static int column_of(const struct ruler *ruler, double value)
{
	return (int)lround((value - ruler->from) / (ruler->to - ruler->from) *
	                   (ruler->columns - 1));
}

static void put(char *row, int at, char sign)
{
	/* What meets on one cell is one sign for all. */
	row[at] = row[at] == ' ' || row[at] == '-' || row[at] == '=' ? sign : '&';
}

static struct ruler ruler_of(const struct front_scale *s, int columns)
{
	struct ruler out = {fmin(fmin(s->flat, s->seen), s->low),
	                    fmax(fmax(s->flat, s->seen), s->high), columns};
	double room;
	if (!isnan(s->round)) {
		out.from = fmin(out.from, s->round);
		out.to = fmax(out.to, s->round);
	}
	out.from = fmin(out.from, 0);
	out.to = fmax(out.to, 0);
	room = (out.to - out.from) / 20;
	out.from -= out.from < 0 ? room : 0;
	out.to += room;
	return out;
}

static void put_numbers(FILE *out, const struct front *front, const struct ruler *ruler)
{
	struct front rounded = *front;
	double unit = front->style.unit == LEVEL_M    ? 1
	              : front->style.unit == LEVEL_FT ? 0.3048
	                                              : 0.0254;
	double step = step_of((ruler->to - ruler->from) / unit, 6, front->style.unit);
	char marks[200], numbers[200], text[LEVEL_LENGTH_BYTES];
	int last = -1;
	memset(marks, ' ', sizeof marks);
	memset(numbers, ' ', sizeof numbers);
	rounded.style.decimals = step >= 1 ? 0 : (int)ceil(-log10(step) - 1e-9);
	for (double at = ceil(ruler->from / unit / step) * step; at * unit <= ruler->to;
	     at += step) {
		int column = column_of(ruler, at * unit), size, begin;
		level_format_length(text, level_from_meters(at * unit), &rounded.style, false);
		size = (int)strlen(text);
		marks[column] = '\'';
		begin = column - size / 2 > 0 ? column - size / 2 : 0;
		if (begin <= last)
			continue;
		memcpy(numbers + begin, text, (size_t)size);
		last = begin + size;
	}
	marks[ruler->columns] = '\0';
	numbers[ruler->columns + 8] = '\0';
	fprintf(out, "  %s\n  %.*s%s\n", marks, last, numbers, level_unit_after(front->style.unit));
}

void front_scale(FILE *out, const struct front *front, int columns)
{
	const struct front_scale *s = &front->scale;
	struct ruler ruler = ruler_of(s, columns - 12);
	char row[200];
	int low = column_of(&ruler, s->low), high = column_of(&ruler, s->high);
	memset(row, ' ', sizeof row);
	row[ruler.columns] = '\0';
	for (int i = low; i <= high; i++)
		row[i] = '=';
	row[low] = '[';
	row[high] = ']';
	put(row, column_of(&ruler, s->flat), isnan(s->round) ? '0' : 'F');
	if (!isnan(s->round))
		put(row, column_of(&ruler, s->round), 'R');
	put(row, column_of(&ruler, s->seen), 'o');
	fprintf(out, "  %s\n", row);
	put_numbers(out, front, &ruler);
}

static void put_labeled(FILE *out, const char *label, const char *text, int columns)
{
	const char *rest = text;
	for (const char *line = text; *line; line = rest) {
		size_t fits = wrap_fit(line, columns - LABEL, &rest);
		fprintf(out, "%-*s%.*s\n", LABEL, line == text ? label : "", (int)fits, line);
	}
}

/* The note in lines of its own column. */
static void put_row(FILE *out, const struct front_row *row, int columns)
{
	const char *rest = row->note;
	fprintf(out, "%-*s %*s", NAME, row->name, VALUE, row->value);
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
		        ? "  o misclosure   [ ] what is allowed   & several of these\n\n"
		        : "  F flat   R round   o seen   [ ] seen, with the errors   & several of "
		          "these\n\n",
		    out);
	}
	for (size_t i = 0; i < front->rows; i++)
		put_row(out, &front->row[i], columns);
	if (front->doubts)
		fputs("\nWhat could make this wrong, the largest first, and what tells it:\n", out);
	for (size_t i = 0; i < front->doubts; i++) {
		const struct front_doubt *doubt = &front->doubt[i];
		fprintf(out, "  %zu. %s%s%s\n      tells: %s\n", i + 1, doubt->what,
		        *doubt->size ? ": " : "", doubt->size, doubt->tells);
	}
}
