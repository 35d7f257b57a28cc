/* A card for the person at the far pole of a planned sight. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "html/html.h"
#include "report/drop/card.h"
#include "report/lines.h"
#include "report/quantities.h"

#define LINE "______________"

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

static void put_heights(FILE *out, const struct report_plan *p, const struct level_planned *r)
{
	const struct level_style *style = &p->style;
	if (!p->plan.has_hi || r->bar == LEVEL_PLAN_NO_K) {
		fprintf(out,
		        "rodbook cannot work out where the cross-hair meets your pole: the plan "
		        "has no %s\n",
		        p->plan.has_hi ? "k" : "height of the line");
		return;
	}
	fprintf(out, "where the cross-hair meets your pole, above the water (%s):\n",
	        level_unit_words(style->unit));
	lines_length(out, "  level line", p->plan.hi, style, false, "neither curve nor air");
	lines_length(out, "  flat water", r->crosshair_flat, style, false, "in the plan's air");
	lines_length(out, "  round water", r->crosshair_round, style, false, "likewise");
	fprintf(out,
	        "Look for it about there, but set the target where the observer signals: what\n"
	        "is found must not hang on this card.\n");
}

static void put_target(FILE *out, const struct report_plan *p, double power)
{
	char size[LEVEL_LENGTH_BYTES], mark[LEVEL_LENGTH_BYTES] = LINE;
	if (p->plan.has_target)
		report_meters(mark, p->plan.target, &p->style, false);
	fprintf(out, "%-24s %12s   of the target above the water\n", "height", mark);
	fprintf(out, "%-24s %12s   the smallest that %g power shows\n", "target",
	        report_meters(size, level_target_size(p->plan.distance, power), &p->style, false),
	        power);
}

static void put_readings(FILE *out, const struct level_plan *plan)
{
	fprintf(out,
	        "what to read:\n"
	        "  the water at the pole, stilled, %d times over some minutes, as it is read on\n"
	        "  the other shore; then the target above the water, by tape, each time the\n"
	        "  observer signals hold; then the water again. Write the time of each.\n\n"
	        "  %-12s %-14s %-14s %s\n",
	        plan->waters > 0 ? plan->waters : 10, "time", "water", "target", "remark");
	for (int i = 0; i < 6; i++)
		fprintf(out, "  ____________ %-14s %-14s %s\n", LINE, LINE, LINE LINE);
}

void report_card(FILE *out, const struct report_plan *plan, const char *title, const char *name,
                 double power)
{
	struct level_planned planned = level_plan_of(&plan->plan);
	char distance[LEVEL_LENGTH_BYTES];
	fprintf(out, "%s%scard for the far pole, plan %s\n\n", title, *title ? ", " : "", name);
	fprintf(out, "%-24s %12s   from the level to your pole\n", "distance",
	        level_format_distance_unit(distance, level_from_meters(plan->plan.distance),
	                                   &plan->style));
	fprintf(out, "%-24s %12s   how to find it: %s\n", "station", LINE, LINE "______");
	put_target(out, plan, power);
	fputc('\n', out);
	put_heights(out, plan, &planned);
	fputc('\n', out);
	put_readings(out, &plan->plan);
	fputc('\n', out);
	fputs(signals, out);
	fputc('\n', out);
	lines_cautions(out);
	fputs("A pole of metal stays away from power lines, and down when thunder is heard.\n",
	      out);
}

/* What is written into memory; NULL where that is short. */
static char *text_of(const struct report_plan *plan, const char *title, const char *name,
                     double power, bool drawing)
{
	struct level_planned planned = level_plan_of(&plan->plan);
	char *text = NULL;
	size_t size;
	FILE *out = open_memstream(&text, &size);
	if (!out)
		return NULL;
	if (drawing)
		card_svg(out, plan, &planned, power);
	else
		report_card(out, plan, title, name, power);
	if (fclose(out) == 0)
		return text;
	free(text);
	return NULL;
}

bool report_card_html(FILE *out, struct book *book, const struct report_plan *plan,
                      const char *title, const char *name, double power, struct fault *why)
{
	char heading[LEVEL_REMARK_BYTES + LEVEL_NAME_BYTES + 60], foot[REPORT_FOOT_BYTES];
	char *words = text_of(plan, title, name, power, false);
	char *svg = text_of(plan, title, name, power, true);
	bool ok = words && svg;
	if (ok) {
		/* The first line of the words is the heading. */
		size_t first = strcspn(words, "\n");
		snprintf(heading, sizeof heading, "%.*s", (int)first, words);
		html_begin(out, heading);
		html_lines(out, "", words + first + strspn(words + first, "\n"));
		fputs("<div class=\"true sheet\">\n", out);
		html_drawing(out, svg);
		fputs("</div>\n", out);
		html_end(out, report_foot(book, foot));
	}
	free(words);
	free(svg);
	return ok || fault_memory(why);
}
