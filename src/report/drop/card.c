/* A card for the person at the far pole of a planned sight. */
#include "report/drop/card.h"

#include <stdlib.h>

#include "html/html.h"
#include "report/html/written.h"
#include "report/lines.h"
#include "report/quantities.h"

#define LINE "______________"
#define HEADING_BYTES (LEVEL_REMARK_BYTES + LEVEL_NAME_BYTES + 60)

/* Common practice, no source: whoever has others writes them in. */
static const char signals[] =
    "signals, as agreed (strike out what you do not use, fill in what you do):\n"
    "  target up               one arm raised straight\n"
    "  target down             one arm lowered, out from the side\n"
    "  a little only           the hand alone moves\n"
    "  plumb the pole          arm raised and leaned the way it must go\n"
    "  hold, and mark it       both arms out level\n"
    "  seen, go on             arm swung in a circle overhead\n"
    "  stop, come back         both arms crossed overhead\n"
    "  " LINE "          " LINE LINE "\n"
    "  " LINE "          " LINE LINE "\n"
    "  phone or radio          " LINE LINE "\n";

/* What a card is made of. */
struct card_words {
	const struct report_plan *plan;
	struct level_planned planned;
	double power;
};

static void put_top(FILE *out, const struct card_words *c)
{
	char distance[LEVEL_LENGTH_BYTES], size[LEVEL_LENGTH_BYTES],
	    mark[LEVEL_LENGTH_BYTES] = LINE;
	const struct level_style *style = &c->plan->style;
	fprintf(
	    out, "%-24s %12s   from the level to your pole\n", "distance",
	    level_format_distance_unit(distance, level_from_meters(c->plan->plan.distance), style));
	fprintf(out, "%-24s %12s   how to find it: %s\n", "station", LINE, LINE "______");
	if (c->plan->plan.has_target)
		report_meters(mark, c->plan->plan.target, style, false);
	fprintf(out, "%-24s %12s   of the target above the water\n", "height", mark);
	fprintf(
	    out, "%-24s %12s   the smallest that %g power shows\n\n", "target",
	    report_meters(size, level_target_size(c->plan->plan.distance, c->power), style, false),
	    c->power);
}

static bool is_reckoned(const struct card_words *c)
{
	return c->plan->plan.has_hi && c->planned.bar != LEVEL_PLAN_NO_K;
}

static void put_heights(FILE *out, const struct card_words *c)
{
	const struct level_style *style = &c->plan->style;
	if (!is_reckoned(c)) {
		fprintf(out,
		        "rodbook cannot work out where the cross-hair meets your pole: the plan "
		        "has no %s\n\n",
		        c->plan->plan.has_hi ? "k" : "height of the line");
		return;
	}
	fprintf(out, "where the cross-hair meets your pole, above the water (%s):\n",
	        level_unit_words(style->unit));
	lines_length(out, "  level line", c->plan->plan.hi, style, false, "neither curve nor air");
	lines_length(out, "  flat water", c->planned.crosshair_flat, style, false,
	             "in the plan's air");
	lines_length(out, "  round water", c->planned.crosshair_round, style, false, "likewise");
}

static void put_advice(FILE *out, const struct card_words *c)
{
	if (is_reckoned(c))
		fputs(
		    "Look for it about there, but set the target where the observer signals: what\n"
		    "is found must not hang on this card.\n\n",
		    out);
}

static void put_readings(FILE *out, const struct card_words *c)
{
	fprintf(out,
	        "what to read:\n"
	        "  the water at the pole, stilled, %d times over some minutes, as it is read on\n"
	        "  the other shore; then the target above the water, by tape, each time the\n"
	        "  observer signals hold; then the water again. Write the time of each.\n\n",
	        c->plan->plan.waters > 0 ? c->plan->plan.waters : 10);
}

static void put_form(FILE *out, const struct card_words *c)
{
	(void)c;
	fprintf(out, "  %-12s %-14s %-14s %s\n", "time", "water", "target", "remark");
	for (int i = 0; i < 6; i++)
		fprintf(out, "  ____________ %-14s %-14s %s\n", LINE, LINE, LINE LINE);
	fputc('\n', out);
}

static void put_signals(FILE *out, const struct card_words *c)
{
	(void)c;
	fprintf(out, "%s\n", signals);
}

static void put_cautions(FILE *out, const struct card_words *c)
{
	(void)c;
	lines_cautions(out);
	fputs("A pole of metal stays away from power lines, and down when thunder is heard.\n",
	      out);
}

/* In their order; prose is a paragraph in a browser. */
static const struct {
	void (*write)(FILE *out, const struct card_words *c);
	bool is_prose;
} parts[] = {{put_top, false},  {put_heights, false}, {put_advice, true},  {put_readings, true},
             {put_form, false}, {put_signals, false}, {put_cautions, true}};
#define PARTS (sizeof parts / sizeof *parts)

static struct card_words words_of(const struct report_plan *plan, double power)
{
	return (struct card_words){plan, level_plan_of(&plan->plan), power};
}

static void card_heading(const char *title, const char *name, char *text, size_t size)
{
	snprintf(text, size, "%s%scard for the far pole, plan %s", title, *title ? ", " : "", name);
}

void report_card(FILE *out, const struct report_plan *plan, const char *title, const char *name,
                 double power)
{
	const struct card_words words = words_of(plan, power);
	char heading[HEADING_BYTES];
	card_heading(title, name, heading, sizeof heading);
	fprintf(out, "%s\n\n", heading);
	for (size_t i = 0; i < PARTS; i++)
		parts[i].write(out, &words);
}

static bool put_part(FILE *out, size_t i, const struct card_words *words, struct fault *why)
{
	char *text = NULL;
	size_t size;
	FILE *part = open_memstream(&text, &size);
	if (part)
		parts[i].write(part, words);
	text = written(part, &text, true, why);
	if (!text)
		return false;
	if (*text && parts[i].is_prose)
		html_prose(out, "", text);
	else
		html_lines(out, "", text);
	free(text);
	return true;
}

static bool put_drawing(FILE *out, const struct card_words *words, struct fault *why)
{
	char *svg = NULL;
	size_t size;
	FILE *drawing = open_memstream(&svg, &size);
	if (drawing)
		card_svg(drawing, words->plan, &words->planned, words->power);
	svg = written(drawing, &svg, true, why);
	if (!svg)
		return false;
	fputs("<div class=\"true sheet\">\n", out);
	html_drawing(out, svg);
	fputs("</div>\n", out);
	free(svg);
	return true;
}

bool report_card_html(FILE *out, struct book *book, const struct report_plan *plan,
                      const char *title, const char *name, double power, struct fault *why)
{
	const struct card_words words = words_of(plan, power);
	char heading[HEADING_BYTES], foot[REPORT_FOOT_BYTES];
	card_heading(title, name, heading, sizeof heading);
	html_begin(out, heading);
	for (size_t i = 0; i < PARTS; i++)
		if (!put_part(out, i, &words, why))
			return false;
	if (!put_drawing(out, &words, why))
		return false;
	html_end(out, report_foot(book, foot));
	return true;
}
