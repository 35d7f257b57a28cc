/* The long sight of a crossing as SVG. Heights are drops below the line of sight where it meets the
 * far pole; they are those of the statement's first page, whose scale this is. */
#include <math.h>
#include <string.h>

#include "plot/plot_svg.h"
#include "plot/plot_xml.h"
#include "report/front/ruler.h"
#include "report/picture/longsight.h"

/* The field where drops grow over the distance, and behind it a lane for each figure. */
#define LEFT 100.0
#define FAR 440.0
#define LANE 112.0
#define RIGHT (FAR + 3 * LANE)
#define TALL 300.0
/* Below the field: the break, then the water, then the strip at true scale. */
#define BREAK 44.0
#define WATER 78.0
#define STRIP 128.0
#define BELOW 176.0
/* A line of the legend. */
#define LEGEND 20.0

enum lane { LANE_FLAT, LANE_SEEN, LANE_ROUND };

struct sheet {
	FILE *out;
	const struct work_run *run;
	const struct front *front;
	struct sight_line line;
	struct ruler ruler;
	double reach; /* of the sight that is drawn, m */
	double top, bottom;
};

static double down(const struct sheet *s, double drop)
{
	return s->top + (drop - s->ruler.from) / (s->ruler.to - s->ruler.from) * TALL;
}

static double across(const struct sheet *s, double distance)
{
	return LEFT + distance / s->reach * (FAR - LEFT);
}

static double middle_of(enum lane lane)
{
	return FAR + LANE * ((int)lane + 0.5);
}

static void put_text(const struct sheet *s, double x, double y, const char *anchor,
                     const char *text, double room)
{
	fprintf(s->out, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">", x, y, anchor);
	xml_put_within(s->out, text, room / SVG_FONT);
	fputs("</text>\n", s->out);
}

static void put_line(const struct sheet *s, double x, double y, double to_x, double to_y,
                     const char *stroke)
{
	fprintf(s->out, "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" %s/>\n", x, y, to_x,
	        to_y, stroke);
}

/* How far all errors could carry what a surface shows towards what was seen. */
static double carried(const struct front_scale *scale, double from, double allowed)
{
	return from + copysign(allowed, scale->seen - from);
}

static struct ruler reach_of(const struct work_run *run, const struct front_scale *scale)
{
	double ends[] = {carried(scale, scale->flat, run->closing.allowance.decides),
	                 carried(scale, scale->round, run->closing.finding.allowed)};
	struct front_scale all = *scale;
	for (int i = 0; i < 2; i++) {
		all.low = fmin(all.low, ends[i]);
		all.high = fmax(all.high, ends[i]);
	}
	return ruler_of(&all);
}

/* Ticks of heights with their figures, as many as do not touch. */
static void put_heights(const struct sheet *s)
{
	struct ruler_numbers numbers = ruler_numbers_of(&s->ruler, &s->front->style);
	double y = s->top + TALL / 2;
	char name[120];
	for (int i = 0; i < numbers.count; i++) {
		double at = down(s, numbers.at[i]);
		fprintf(s->out,
		        "<line class=\"y-tick\" data-value=\"%.17g\" x1=\"%.0f\" y1=\"%.3f\" "
		        "x2=\"%.0f\" y2=\"%.3f\" stroke=\"#ccc\" stroke-width=\"0.75\"/>\n",
		        numbers.at[i], LEFT, at, RIGHT, at);
		put_text(s, LEFT - 8, at + 4, "end", numbers.text[i], LEFT - 34);
	}
	snprintf(name, sizeof name, "below the line of sight%s%s",
	         s->front->style.unit == LEVEL_FTIN ? "" : ", ",
	         s->front->style.unit == LEVEL_FTIN ? "" : level_unit_name(s->front->style.unit));
	fprintf(s->out,
	        "<text x=\"18\" y=\"%.1f\" text-anchor=\"middle\" transform=\"rotate(-90 18 "
	        "%.1f)\">",
	        y, y);
	xml_put_within(s->out, name, TALL / SVG_FONT);
	fputs("</text>\n", s->out);
	fprintf(s->out,
	        "<path d=\"M%.0f %.1fV%.1fM%.0f %.1fV%.1f\" fill=\"none\" stroke=\"#000\"/>\n",
	        LEFT, s->top, s->bottom, FAR, s->top, s->bottom);
}

/* A drop as it grows: with the square of the distance, up to what is stated of the run. */
static void put_growth(const struct sheet *s, double drop, size_t stroke)
{
	enum { SAMPLES = 60 };
	fputs("<polyline class=\"curve\" fill=\"none\" ", s->out);
	svg_put_stroke(s->out, stroke);
	fputs(" points=\"", s->out);
	for (int i = 0; i <= SAMPLES; i++) {
		double share = (double)i / SAMPLES;
		fprintf(s->out, "%s%.2f,%.2f", i ? " " : "", across(s, share * s->reach),
		        down(s, share * share * drop));
	}
	fputs("\"/>\n", s->out);
}

static void put_lane(const struct sheet *s, enum lane lane, const char *name, double drop,
                     enum plot_shape shape)
{
	double x = middle_of(lane);
	char value[LEVEL_LENGTH_BYTES];
	put_line(s, FAR, down(s, drop), x, down(s, drop),
	         "stroke=\"#000\" stroke-width=\"0.75\" stroke-dasharray=\"1 3\"");
	svg_begin_shape(s->out, shape, x, down(s, drop));
	fprintf(s->out, " class=\"point\" data-y=\"%.17g\"/>\n", drop);
	put_text(s, x, s->bottom + 16, "middle", name, LANE - 4);
	put_text(s, x, s->bottom + 32, "middle", front_length(value, s->front, drop, false),
	         LANE - 4);
}

/* What errors could make of a surface, from its own figure towards what was seen. */
static void put_reach(const struct sheet *s, enum lane lane, double from, double allowed,
                      enum plot_pattern pattern)
{
	double to = carried(&s->front->scale, from, allowed);
	double y = fmin(down(s, from), down(s, to)), height = fabs(down(s, from) - down(s, to));
	fprintf(s->out,
	        "<rect class=\"band\" x=\"%.1f\" y=\"%.2f\" width=\"32\" height=\"%.2f\" "
	        "data-from=\"%.17g\" data-to=\"%.17g\" stroke=\"#000\" stroke-width=\"0.75\" "
	        "fill=\"",
	        middle_of(lane) - 16, y, height, from, to);
	svg_put_pattern(s->out, pattern);
	fputs("\"/>\n", s->out);
}

/* All errors together, and before them the air alone. */
static void put_allowed(const struct sheet *s, enum lane lane, double from, double allowed,
                        double air, enum plot_pattern pattern)
{
	put_reach(s, lane, from, allowed, PLOT_PLAIN);
	if (air > 0)
		put_reach(s, lane, from, air, pattern);
}

/* What was seen with its interval. */
static void put_seen(const struct sheet *s)
{
	const struct front_scale *scale = &s->front->scale;
	double x = middle_of(LANE_SEEN);
	fprintf(s->out,
	        "<path class=\"error\" fill=\"none\" stroke=\"#000\" stroke-width=\"1.5\" "
	        "data-low=\"%.17g\" data-high=\"%.17g\" "
	        "d=\"M%.1f %.2fV%.2fM%.1f %.2fh20M%.1f %.2fh20\"/>\n",
	        scale->low, scale->high, x, down(s, scale->low), down(s, scale->high), x - 10,
	        down(s, scale->low), x - 10, down(s, scale->high));
	put_lane(s, LANE_SEEN, "seen", scale->seen, PLOT_CIRCLE);
}

static double flat_air(const struct sheet *s)
{
	return level_air_alone(&s->run->closing.allowance, s->run->terms.terms.decides);
}

static void put_field(const struct sheet *s)
{
	const struct front_scale *scale = &s->front->scale;
	const struct level_closing *c = &s->run->closing;
	put_heights(s);
	put_line(s, LEFT, down(s, 0), FAR, down(s, 0), "stroke=\"#000\" stroke-width=\"0.75\"");
	put_growth(s, scale->flat, 1);
	put_growth(s, scale->round, 0);
	put_allowed(s, LANE_FLAT, scale->flat, c->allowance.decides, flat_air(s), PLOT_DOTTED);
	put_allowed(s, LANE_ROUND, scale->round, c->finding.allowed, c->finding.air, PLOT_LEANING);
	put_lane(s, LANE_FLAT, "flat", scale->flat, PLOT_DIAMOND);
	put_lane(s, LANE_ROUND, "round", scale->round, PLOT_SQUARE);
	put_seen(s);
	svg_begin_shape(s->out, PLOT_STAND, LEFT, down(s, 0));
	fputs(" class=\"point\" data-y=\"0\"/>\n", s->out);
}

/* Two strokes across a pole: heights below them are not to the scale above. */
static void put_break(const struct sheet *s, double x)
{
	double y = s->bottom + BREAK - 16;
	fprintf(s->out,
	        "<path class=\"break\" d=\"M%.1f %.1fl6 -5l-12 -4l6 -5M%.1f %.1fl6 -5l-12 -4l6 "
	        "-5\" fill=\"none\" stroke=\"#000\"/>\n",
	        x, y + 7, x, y + 13);
	put_line(s, x, s->bottom, x, y - 7, "stroke=\"#000\"");
	put_line(s, x, y + 13, x, s->bottom + WATER, "stroke=\"#000\"");
}

/* Below the break: the water, or the far mark where no water was read there. */
static void put_water(const struct sheet *s)
{
	const struct level_sight *far = s->line.far;
	double y = s->bottom + WATER;
	char text[LEVEL_STATION_BYTES + LEVEL_LENGTH_BYTES + 80], height[LEVEL_LENGTH_BYTES];
	level_nm below = far->reading + (far->water_count ? far->water : 0);
	put_break(s, LEFT);
	put_break(s, FAR);
	fprintf(s->out, "<path d=\"M%.0f %.1f", LEFT, y);
	for (int i = 0; i < 17; i++)
		fputs("q5 -4 10 0t10 0", s->out);
	fputs("\" fill=\"none\" stroke=\"#14508c\"/>\n", s->out);
	level_format_length(height, below, &s->run->settings.style, false);
	snprintf(text, sizeof text, "%s %s%s below the line of sight",
	         far->water_count ? "water" : "mark", height,
	         level_unit_after(s->run->settings.style.unit));
	put_text(s, FAR + 10, y - 10, "start", text, SVG_EDGE - FAR - 10);
	snprintf(text, sizeof text, "not to the scale above; at %s", far->station);
	put_text(s, FAR + 10, y + 5, "start", text, SVG_EDGE - FAR - 10);
	put_text(s, LEFT, y + 18, "start", "instrument", FAR - LEFT - 110);
	level_format_distance_unit(height, far->distance, &s->run->settings.style);
	put_text(s, FAR, y + 18, "end", height, 100);
}

/* Everything once more with heights as large as distances. */
static void put_strip(const struct sheet *s)
{
	const struct level_closing *c = &s->run->closing;
	double y = s->bottom + STRIP, width = SVG_EDGE - SVG_MARGIN;
	double scale = width / s->reach, below = level_to_meters(s->line.far->reading);
	char text[400], apart[LEVEL_LENGTH_BYTES], of[40] = "";
	put_line(s, SVG_MARGIN, y, SVG_EDGE, y,
	         "class=\"sight\" stroke=\"#000\" stroke-width=\"0.5\"");
	put_line(s, SVG_MARGIN, y + below * scale, SVG_EDGE, y + below * scale,
	         "class=\"ground\" stroke=\"#14508c\" stroke-width=\"0.5\"");
	if (c->separation > 0)
		snprintf(of, sizeof of, ", 1 in %.0f", s->reach / c->separation);
	snprintf(text, sizeof text,
	         "true scale, 1:1, heights as large as distances: flat and round lie %s apart%s, "
	         "less than the line is thick",
	         front_length(apart, s->front, c->separation, false), of);
	if (c->separation * scale > 0.5)
		text[strlen(text) - strlen(", less than the line is thick")] = '\0';
	put_text(s, SVG_MARGIN, y - 8, "start", text, width);
}

/* A piece of a bar with what it is; returns where the next may stand. */
static double put_key(const struct sheet *s, double x, double y, enum plot_pattern pattern,
                      const char *text)
{
	fprintf(s->out,
	        "<rect class=\"key\" x=\"%.1f\" y=\"%.1f\" width=\"22\" height=\"11\" "
	        "stroke=\"#000\" stroke-width=\"0.75\" fill=\"",
	        x, y - 10);
	svg_put_pattern(s->out, pattern);
	fputs("\"/>\n", s->out);
	put_text(s, x + 28, y, "start", text, SVG_EDGE - x - 28);
	return x + 28 + SVG_FONT * xml_width(text) + 14;
}

/* The bars: what the air alone makes of them, and all of it. */
static void put_keys(const struct sheet *s, double y)
{
	char air[LEVEL_LENGTH_BYTES], text[LEVEL_LENGTH_BYTES + 40];
	double x = SVG_MARGIN;
	snprintf(text, sizeof text, "the air alone at flat: %s",
	         front_length(air, s->front, flat_air(s), false));
	x = put_key(s, x, y, PLOT_DOTTED, text);
	snprintf(text, sizeof text, "the air alone at round: %s",
	         front_length(air, s->front, s->run->closing.finding.air, false));
	x = put_key(s, x, y, PLOT_LEANING, text);
	put_key(s, x, y, PLOT_PLAIN, "all errors together");
}

static void put_legend(const struct sheet *s, double y)
{
	static const char *const names[] = {"round surface", "flat surface"};
	double x = SVG_MARGIN;
	for (size_t i = 0; i < 2; i++) {
		fprintf(s->out, "<line x1=\"%.0f\" y1=\"%.1f\" x2=\"%.0f\" y2=\"%.1f\" ", x, y - 4,
		        x + 28, y - 4);
		svg_put_stroke(s->out, i);
		fputs("/>\n", s->out);
		put_text(s, x + 34, y, "start", names[i], 100);
		x += 140;
	}
	svg_begin_shape(s->out, PLOT_STAND, x + 6, y - 4);
	fputs("/>\n", s->out);
	put_text(s, x + 18, y, "start", "line of sight, from the instrument on", 300);
}

static const char notes[] =
    "Bars at flat and round: how far all errors together, the air among them, could carry what "
    "that surface shows towards what was seen; with a pattern, how far the air alone could. A bar "
    "that ends before the circle rules its surface "
    "out. The bar through the circle holds the same errors, not further ones: it reaches to the "
    "surfaces that could have shown what was seen.\n"
    "Between instrument and far mark drops are drawn as the square of the distance.\n";

bool longsight_svg(FILE *out, const struct work_run *run, const struct picture *picture,
                   struct fault *why)
{
	struct front front;
	struct sheet s = {.out = out, .run = run, .front = &front};
	double end;
	if (!longsight_setup(run, &s.line, why))
		return false;
	front_of(run, &front);
	s.reach = s.line.far_x;
	s.ruler = reach_of(run, &front.scale);
	s.top = svg_top(picture->subtitle) + 10;
	s.bottom = s.top + TALL;
	end = svg_put_notes(NULL, picture->notes,
	                    svg_put_notes(NULL, notes, s.bottom + BELOW + LEGEND + 14));
	svg_begin(out, picture->title, "", picture->subtitle, ceil(end + 12));
	svg_put_patterns(out);
	put_field(&s);
	put_water(&s);
	put_strip(&s);
	put_legend(&s, s.bottom + BELOW);
	put_keys(&s, s.bottom + BELOW + LEGEND);
	svg_put_notes(out, picture->notes,
	              svg_put_notes(out, notes, s.bottom + BELOW + LEGEND + 14));
	fputs("</svg>\n", out);
	return true;
}
