#include "report/drop/card.h"

#include <math.h>
#include <string.h>

#include "plot/plot_svg.h"
#include "plot/plot_xml.h"

/* Four units are a millimeter. */
#define MM 4.0
#define WIDE (170 * MM)
#define FONT 14.0
/* The pole, a lane for flat and one for round, and where names begin. */
#define POLE 150.0
#define POLE_WIDE (12 * MM)
#define LANE_FLAT_AT 220.0
#define LANE_ROUND_AT 270.0
#define LANE_WIDE 36.0
#define NAMES 340.0
#define TOP 30.0
/* The longest piece of pole that a sheet has room for, A4 or letter, mm, and what stands at least
 * above and below all that is drawn. */
#define PIECE 195.0
#define AROUND 8.0
/* The ruler stands upright at the right, where names end. */
#define RULER 640.0
#define NAMES_END 530.0
/* The largest target that is drawn, mm: beside a pole below the ruler, else below all. */
#define TARGET_BESIDE 33.0
#define TARGET_BELOW 60.0
/* Names stand this far apart at least. */
#define LINE 18.0

struct level_at {
	const char *name;
	double height; /* above the water, m */
	double y;      /* of its name */
};

struct card {
	FILE *out;
	const struct report_plan *plan;
	struct level_at line[3]; /* level line, flat, round */
	double low, high;        /* of the piece that is drawn, m */
	bool cut;                /* the allowance reaches beyond it */
};

static double down(const struct card *c, double height)
{
	return TOP + (c->high - height) * 1000 * MM;
}

static void put_text(const struct card *c, double x, double y, const char *anchor, const char *text,
                     double room)
{
	fprintf(c->out, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">", x, y, anchor);
	xml_put_within(c->out, text, room / FONT);
	fputs("</text>\n", c->out);
}

static void put_line(const struct card *c, double x, double y, double to_x, double to_y,
                     double width)
{
	fprintf(c->out,
	        "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" stroke=\"#000\" "
	        "stroke-width=\"%.2f\"/>\n",
	        x, y, to_x, to_y, width);
}

/* Chooses the piece of the pole; false where the lines lie too far apart for a sheet. */
static bool choose_piece(struct card *c, double allowance)
{
	double low = INFINITY, high = -INFINITY, room;
	for (int i = 0; i < 3; i++) {
		low = fmin(low, c->line[i].height);
		high = fmax(high, c->line[i].height);
	}
	room = (PIECE - 2 * AROUND) / 1000 - (high - low);
	if (room < 0)
		return false;
	c->cut = 2 * allowance > room;
	c->low = low - fmin(allowance, room / 2) - AROUND / 1000;
	c->high = high + fmin(allowance, room / 2) + AROUND / 1000;
	return true;
}

/* Heights above the water along the pole, in the unit of the book. */
static void put_heights(const struct card *c)
{
	struct level_style style = c->plan->style;
	double step = style.unit == LEVEL_M ? 0.01 : style.unit == LEVEL_FT ? 0.03048 : 0.0254;
	style.decimals = style.unit == LEVEL_FT ? 1 : 2;
	style.fraction = 1;
	fprintf(c->out,
	        "<rect x=\"%.1f\" y=\"%.2f\" width=\"%.1f\" height=\"%.2f\" fill=\"#fff\" "
	        "stroke=\"#000\" stroke-width=\"1.5\"/>\n",
	        POLE, down(c, c->high), POLE_WIDE, down(c, c->low) - down(c, c->high));
	for (double i = ceil(c->low / step); i * step <= c->high; i++) {
		char text[LEVEL_LENGTH_BYTES];
		double y = down(c, i * step);
		put_line(c, POLE - 6, y, POLE, y, 1);
		put_text(c, POLE - 10, y + 5, "end",
		         level_format_length(text, level_from_meters(i * step), &style, false),
		         POLE - 20);
	}
}

static void put_allowance(const struct card *c, double x, double height, double allowance,
                          enum plot_pattern pattern)
{
	double top = down(c, fmin(height + allowance, c->high));
	double bottom = down(c, fmax(height - allowance, c->low));
	fprintf(c->out,
	        "<rect class=\"band\" x=\"%.1f\" y=\"%.2f\" width=\"%.1f\" height=\"%.2f\" "
	        "stroke=\"#000\" stroke-width=\"0.75\" fill=\"",
	        x, top, LANE_WIDE, bottom - top);
	svg_put_pattern(c->out, pattern);
	fputs("\"/>\n", c->out);
}

/* The names of the lines, highest first, far enough from each other. */
static void place_names(struct card *c, size_t order[3])
{
	double next = 0;
	for (size_t i = 0; i < 3; i++) {
		order[i] = i;
		for (size_t at = i;
		     at > 0 && c->line[order[at - 1]].height < c->line[order[at]].height; at--) {
			size_t other = order[at];
			order[at] = order[at - 1];
			order[at - 1] = other;
		}
	}
	for (size_t i = 0; i < 3; i++) {
		struct level_at *line = &c->line[order[i]];
		line->y = fmax(down(c, line->height), next);
		next = line->y + LINE;
	}
}

static void put_lines(struct card *c)
{
	size_t order[3];
	place_names(c, order);
	for (size_t i = 0; i < 3; i++) {
		const struct level_at *line = &c->line[order[i]];
		char text[LEVEL_LENGTH_BYTES], whole[LEVEL_LENGTH_BYTES + 40];
		double y = down(c, line->height);
		put_line(c, POLE, y, NAMES - 24, y, 1.5);
		put_line(c, NAMES - 24, y, NAMES - 4, line->y, 0.75);
		report_meters(text, line->height, &c->plan->style, false);
		snprintf(whole, sizeof whole, "%s %s%s", line->name, text,
		         level_unit_after(c->plan->style.unit));
		put_text(c, NAMES, line->y + 5, "start", whole, NAMES_END - NAMES);
	}
}

/* As it is on the pole, in units of the drawing; 0 where there is no room for it. */
static double target_drawn(const struct card *c, double power, bool beside)
{
	double size = level_target_size(c->plan->plan.distance, power) * 1000;
	return size > (beside ? TARGET_BESIDE : TARGET_BELOW) ? 0 : size * MM;
}

static void put_target(const struct card *c, double power, bool beside, double y)
{
	double wide = target_drawn(c, power, beside);
	char text[LEVEL_LENGTH_BYTES], whole[LEVEL_LENGTH_BYTES + 80];
	snprintf(whole, sizeof whole, "the smallest target that %g power shows%s: %s%s", power,
	         wide > 0 && beside ? ", below the ruler" : "",
	         report_meters(text, level_target_size(c->plan->plan.distance, power),
	                       &c->plan->style, false),
	         level_unit_after(c->plan->style.unit));
	put_text(c, 20, y, "start", whole, WIDE - 30);
	if (wide == 0)
		return;
	fprintf(c->out,
	        "<rect class=\"target\" x=\"%.2f\" y=\"%.1f\" width=\"%.2f\" height=\"%.2f\" "
	        "fill=\"#000\"/>\n",
	        beside ? WIDE - 10 - wide : 20, beside ? TOP + 100 * MM + 30 : y + 10, wide, wide);
}

static void put_ruler(const struct card *c)
{
	double end = TOP + 100 * MM;
	fprintf(c->out,
	        "<line class=\"ruler\" x1=\"%.0f\" y1=\"%.1f\" x2=\"%.0f\" y2=\"%.1f\" "
	        "stroke=\"#000\" stroke-width=\"1\"/>\n",
	        RULER, TOP, RULER, end);
	for (int mm = 0; mm <= 100; mm++) {
		double y = end - mm * MM, tick = mm % 10 == 0 ? 14 : mm % 5 == 0 ? 9 : 5;
		char text[16];
		put_line(c, RULER, y, RULER + tick, y, 0.75);
		if (mm % 20)
			continue;
		snprintf(text, sizeof text, "%d", mm);
		put_text(c, RULER - 4, y + 5, "end", text, 36);
	}
	put_text(c, RULER, TOP - 14, "start", "mm", 40);
}

static void put_pole(struct card *c, double allowance)
{
	double y = down(c, c->low);
	put_text(c, 20, 16, "start", "The pole at true scale, heights above the water:", 500);
	put_heights(c);
	put_allowance(c, LANE_FLAT_AT, c->line[1].height, allowance, PLOT_DOTTED);
	put_allowance(c, LANE_ROUND_AT, c->line[2].height, allowance, PLOT_LEANING);
	put_lines(c);
	put_text(c, LANE_FLAT_AT + LANE_WIDE / 2, y + 18, "middle", "flat", 48);
	put_text(c, LANE_ROUND_AT + LANE_WIDE / 2, y + 18, "middle", "round", 48);
}

static void put_allowed(const struct card *c, double allowance, double y)
{
	char text[LEVEL_LENGTH_BYTES], whole[LEVEL_LENGTH_BYTES + 120];
	snprintf(whole, sizeof whole, "bars: the allowance of %s%s to both sides%s",
	         report_meters(text, allowance, &c->plan->style, false),
	         level_unit_after(c->plan->style.unit),
	         c->cut ? ", as far as the pole is drawn" : "");
	put_text(c, 20, y, "start", whole, WIDE - 30);
}

void card_svg(FILE *out, const struct report_plan *plan, const struct level_planned *r,
              double power)
{
	struct card c = {out,
	                 plan,
	                 {{"level line", plan->plan.hi, 0},
	                  {"flat water", r->crosshair_flat, 0},
	                  {"round water", r->crosshair_round, 0}},
	                 0,
	                 0,
	                 false};
	bool reckoned = plan->plan.has_hi && r->bar != LEVEL_PLAN_NO_K;
	bool fits = reckoned && choose_piece(&c, r->allowance.decides);
	double target = target_drawn(&c, power, fits);
	double beside = TOP + 100 * MM + (fits && target > 0 ? 30 + target : 0);
	double end = fmax(fits ? down(&c, c.low) + 24 : 0, beside) + 22;
	double height = end + 60 + (fits ? 0 : target);
	fprintf(out,
	        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" "
	        "style=\"width:170mm;height:%.2fmm\" viewBox=\"0 0 %.0f %.2f\" "
	        "font-family=\"sans-serif\" "
	        "font-size=\"%.0f\">\n<title>the pole at true scale</title>\n"
	        "<rect width=\"%.0f\" height=\"%.2f\" fill=\"#fff\"/>\n",
	        height / MM, WIDE, height, FONT, WIDE, height);
	svg_put_patterns(out);
	if (fits)
		put_pole(&c, r->allowance.decides);
	else if (reckoned)
		put_text(&c, 20, 16, "start",
		         "The lines lie too far apart for a sheet: measure them from the water.",
		         RULER - 30);
	put_ruler(&c);
	if (fits)
		put_allowed(&c, r->allowance.decides, end + 20);
	put_target(&c, power, fits, end + (fits ? 40 : 20));
	put_text(&c, 20, end, "start",
	         "Hold a ruler to the one at the right: where it is not 100 mm long, print at "
	         "100 %.",
	         WIDE - 30);
	fputs("</svg>\n", out);
}
