/* The first page as HTML. */
#include <math.h>
#include <string.h>

#include "html/html.h"
#include "report/front/front.h"
#include "report/front/ruler.h"

static void put_pair(FILE *out, const char *name, const char *text)
{
	if (!*text)
		return;
	html_element(out, "dt", "", name);
	html_element(out, "dd", "", text);
}

/* A row a figure: its name, its place on the scale, its value. So no name meets another. */
#define LEFT 84.0
#define WIDTH 270.0
#define ROW 24
#define TOP 8

static double place(const struct ruler *ruler, double value)
{
	return LEFT + (value - ruler->from) / (ruler->to - ruler->from) * WIDTH;
}

static void put_name(FILE *out, int row, const char *name, const char *value)
{
	int y = TOP + ROW * row + 17;
	fprintf(out, "<text x=\"4\" y=\"%d\">", y);
	html_text(out, name);
	fprintf(out, "</text>\n<text x=\"%.0f\" y=\"%d\">", LEFT + WIDTH + 10, y);
	html_text(out, value);
	fputs("</text>\n", out);
}

static void put_numbers(FILE *out, const struct front *front, const struct ruler *ruler, int rows)
{
	struct ruler_numbers numbers = ruler_numbers_of(ruler, &front->style);
	int bottom = TOP + ROW * rows;
	/* Letters 9 units wide: every number, or every second one. */
	int every = 1;
	for (int i = 1; i < numbers.count; i++)
		if (place(ruler, numbers.at[i]) - place(ruler, numbers.at[i - 1]) <
		    9.0 * (double)(strlen(numbers.text[i]) + 1))
			every = 2;
	for (int i = 0; i < numbers.count; i++) {
		double x = place(ruler, numbers.at[i]);
		fprintf(out,
		        "<line x1=\"%.1f\" y1=\"%d\" x2=\"%.1f\" y2=\"%d\" "
		        "stroke=\"#bbb\"/>\n",
		        x, TOP, x, bottom + 4);
		if (i % every)
			continue;
		fprintf(out, "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\">", x, bottom + 20);
		html_text(out, numbers.text[i]);
		fputs("</text>\n", out);
	}
}

/* Draws the interval as a bar, in the row "seen" or "allowed". */
static void put_bar(FILE *out, const struct ruler *ruler, const struct front_scale *s, int row)
{
	double from = place(ruler, s->low), to = place(ruler, s->high);
	fprintf(out,
	        "<rect x=\"%.1f\" y=\"%d\" width=\"%.1f\" height=\"14\" fill=\"#cfe3f5\" "
	        "stroke=\"#1a5a96\"/>\n",
	        from, TOP + ROW * row + 5, to - from);
}

static void put_sign(FILE *out, const struct ruler *ruler, const struct front *front, int row,
                     const char *name, double value, bool open)
{
	char text[LEVEL_LENGTH_BYTES];
	put_name(out, row, name, front_length(text, front, value, isnan(front->scale.round)));
	fprintf(out,
	        "<circle cx=\"%.1f\" cy=\"%d\" r=\"5\" fill=\"%s\" stroke=\"#000\" "
	        "stroke-width=\"1.5\"/>\n",
	        place(ruler, value), TOP + ROW * row + 12, open ? "#fff" : "#000");
}

void front_scale_svg(FILE *out, const struct front *front)
{
	const struct front_scale *s = &front->scale;
	struct ruler ruler = ruler_of(s);
	bool leveled = isnan(s->round);
	int rows = leveled ? 2 : 3, height = TOP + ROW * rows + 28;
	char text[LEVEL_LENGTH_BYTES];
	fprintf(out,
	        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 470 %d\" width=\"470\" "
	        "height=\"%d\" role=\"img\" "
	        "style=\"font:15px system-ui,sans-serif\">\n<title>%s</title>\n"
	        "<rect width=\"470\" height=\"%d\" fill=\"#fff\"/>\n",
	        height, height,
	        leveled ? "the misclosure and what is allowed, to scale"
	                : "what flat and round would show, and what was seen, to scale",
	        height);
	put_numbers(out, front, &ruler, rows);
	put_bar(out, &ruler, s, leveled ? 0 : 2);
	if (leveled) {
		put_name(out, 0, "allowed", front_length(text, front, s->high, false));
		put_sign(out, &ruler, front, 1, "misclosure", s->seen, false);
	} else {
		put_sign(out, &ruler, front, 0, "flat", s->flat, true);
		put_sign(out, &ruler, front, 1, "round", s->round, true);
		put_sign(out, &ruler, front, 2, "seen", s->seen, false);
	}
	fputs("</svg>\n", out);
}

static void put_table(FILE *out, const struct front *front)
{
	fputs("<div class=\"wide\"><table>\n", out);
	for (size_t i = 0; i < front->rows; i++) {
		fputs("<tr>", out);
		html_element(out, "td", "", front->row[i].name);
		html_element(out, "td", "class=\"n\"", front->row[i].value);
		html_element(out, "td", "", front->row[i].note);
		fputs("</tr>\n", out);
	}
	fputs("</table></div>\n", out);
}

void front_html(FILE *out, const struct front *front)
{
	fputs("<dl>\n", out);
	put_pair(out, "question", front->question);
	put_pair(out, "place", front->where);
	put_pair(out, "when", front->when);
	put_pair(out, "who", front->who);
	put_pair(out, "level", front->level);
	put_pair(out, "rods", front->rods);
	fputs("</dl>\n", out);
	html_element(out, "p", "class=\"answer\"", front->answer);
	if (front->scale.has)
		front_scale_svg(out, front);
	if (front->rows)
		put_table(out, front);
	if (!front->doubts)
		return;
	html_element(out, "h2", "",
	             "What could make this wrong, the largest first, and what would tell");
	fputs("<ol>\n", out);
	for (size_t i = 0; i < front->doubts; i++) {
		const struct front_doubt *doubt = &front->doubt[i];
		fputs("<li>", out);
		html_text(out, doubt->what);
		if (*doubt->size) {
			fputs(": <span class=\"q\">", out);
			html_text(out, doubt->size);
			fputs("</span>", out);
		}
		fputs("<br>would tell: ", out);
		html_text(out, doubt->tells);
		fputs("</li>\n", out);
	}
	fputs("</ol>\n", out);
	if (*front->sum)
		html_element(out, "p", "", front->sum);
}
