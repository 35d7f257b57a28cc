/* A drawing as SVG. */
#include "plot/plot_svg.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "plot/plot_xml.h"

#define TITLE_FONT 16
/* What a name above a point needs. */
#define NAME_ROOM 20

double svg_x(const struct svg_axes *axes, double x)
{
	return axes->left + plot_place(&axes->x, x) * (SVG_RIGHT - axes->left);
}

double svg_y(const struct svg_axes *axes, double y)
{
	return axes->bottom - plot_place(&axes->y, y) * SVG_HEIGHT;
}

bool svg_is_drawn(double x, double y)
{
	return plot_drawable(x) && plot_drawable(y);
}

static void put_ticks(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	char figure[PLOT_FIGURE_BYTES];
	fputs("<g stroke=\"#888\" stroke-width=\"0.75\">\n", out);
	for (int i = 0; i <= axes->x.intervals; i++)
		if (plot_has_x_tick(plot, plot_tick(&axes->x, i)))
			fprintf(
			    out,
			    "<line class=\"x-tick\" data-value=\"%.17g\" x1=\"%.3f\" y1=\"%.3f\" "
			    "x2=\"%.3f\" y2=\"%.3f\"/>\n",
			    plot_tick(&axes->x, i), svg_x(axes, plot_tick(&axes->x, i)),
			    axes->bottom, svg_x(axes, plot_tick(&axes->x, i)), axes->bottom + 6);
	for (int i = 0; i <= axes->y.intervals; i++)
		fprintf(out,
		        "<line class=\"y-tick\" data-value=\"%.17g\" x1=\"%.3f\" y1=\"%.3f\" "
		        "x2=\"%.3f\" y2=\"%.3f\"/>\n",
		        plot_tick(&axes->y, i), axes->left - 6, svg_y(axes, plot_tick(&axes->y, i)),
		        axes->left, svg_y(axes, plot_tick(&axes->y, i)));
	fputs("</g>\n<g class=\"figures\">\n", out);
	for (int i = 0; i <= axes->x.intervals; i++) {
		if (!plot_has_x_tick(plot, plot_tick(&axes->x, i)))
			continue;
		plot_figure(&axes->x, i, figure);
		fprintf(out, "<text x=\"%.3f\" y=\"%.3f\" text-anchor=\"middle\">%s</text>\n",
		        svg_x(axes, plot_tick(&axes->x, i)), axes->bottom + 20, figure);
	}
	for (int i = 0; i <= axes->y.intervals; i++) {
		plot_figure(&axes->y, i, figure);
		fprintf(out, "<text x=\"%.3f\" y=\"%.3f\" text-anchor=\"end\">%s</text>\n",
		        axes->left - 9, svg_y(axes, plot_tick(&axes->y, i)) + 4, figure);
	}
	fputs("</g>\n", out);
}

/* Axes and their names. */
static void put_frame(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	double middle = axes->top + SVG_HEIGHT / 2;
	fprintf(out, "<text x=\"%.1f\" y=\"%.0f\" text-anchor=\"middle\">",
	        (axes->left + SVG_RIGHT) / 2, axes->bottom + 42);
	xml_put_within(out, plot->x_name, 600 / SVG_FONT);
	fprintf(out,
	        "</text>\n<text x=\"18\" y=\"%.1f\" text-anchor=\"middle\" "
	        "transform=\"rotate(-90 18 %.1f)\">",
	        middle, middle);
	xml_put_within(out, plot->y_name, 400 / SVG_FONT);
	fputs("</text>\n", out);
	put_ticks(out, plot, axes);
	fprintf(out,
	        "<rect x=\"%.3f\" y=\"%.0f\" width=\"%.3f\" height=\"%.0f\" fill=\"none\" "
	        "stroke=\"#888\"/>\n",
	        axes->left, axes->top, SVG_RIGHT - axes->left, SVG_HEIGHT);
	if (plot->zero_line)
		fprintf(out,
		        "<line class=\"zero\" x1=\"%.3f\" y1=\"%.3f\" x2=\"%.0f\" y2=\"%.3f\" "
		        "stroke=\"#888\" stroke-width=\"0.75\"/>\n",
		        axes->left, svg_y(axes, 0), SVG_RIGHT, svg_y(axes, 0));
}

void svg_put_stroke(FILE *out, size_t index)
{
	static const struct {
		const char *color, *dash;
	} strokes[] = {{"#000", "none"},        {"#14508c", "9 4"},  {"#8a3c00", "2 3"},
	               {"#3c1e6e", "12 3 2 3"}, {"#4a4a00", "16 6"}, {"#00544a", "6 3 1 3 1 3"}};
	size_t count = sizeof strokes / sizeof *strokes, rounds = index / count;
	fprintf(out, "stroke=\"%s\" stroke-width=\"%.1f\" stroke-dasharray=\"%s\"",
	        strokes[index % count].color, 1.5 + (double)rounds, strokes[index % count].dash);
}

static void put_numbers(FILE *out, const char *name, const double *values, size_t count)
{
	fprintf(out, " %s=\"", name);
	for (size_t i = 0; i < count; i++)
		fprintf(out, "%s%.17g", i ? " " : "", values[i]);
	fputc('"', out);
}

/* A curve, as many pieces as there are breaks in it. */
static void put_curve(FILE *out, const struct svg_axes *axes, const struct plot_curve *curve,
                      size_t index)
{
	for (size_t from = 0, to; from < curve->count; from = to + 1) {
		for (to = from; to < curve->count && svg_is_drawn(curve->x[to], curve->y[to]);)
			to++;
		if (to == from)
			continue;
		fputs("<polyline class=\"curve\" fill=\"none\" ", out);
		svg_put_stroke(out, index);
		put_numbers(out, "data-x", curve->x + from, to - from);
		put_numbers(out, "data-y", curve->y + from, to - from);
		fputs(" points=\"", out);
		for (size_t i = from; i < to; i++)
			fprintf(out, "%s%.3f,%.3f", i > from ? " " : "", svg_x(axes, curve->x[i]),
			        svg_y(axes, curve->y[i]));
		fputs("\"/>\n", out);
	}
}

/* One interval more where the highest point stands so near to the top that no name has room. */
static void leave_headroom(const struct plot *plot, struct plot_axis *y)
{
	double highest = 0;
	for (size_t i = 0; i < plot->points; i++)
		if (plot_is_drawn(&plot->point[i]))
			highest = fmax(highest, plot_place(y, plot->point[i].y));
	if ((1 - highest) * SVG_HEIGHT < NAME_ROOM)
		y->high = plot_tick(y, ++y->intervals);
}

static struct svg_axes axes_of(const struct plot *plot)
{
	struct svg_axes axes = {.y = plot_y_axis(plot, 8)};
	if (plot->headroom)
		leave_headroom(plot, &axes.y);
	axes.left = 35 + SVG_DIGIT * fmax(plot_figure_width(&axes.y), 5);

	for (int intervals = plot->counted ? (int)fmin((double)plot->counted + 1, 100) : 9;
	     intervals >= 2; intervals--) {
		axes.x = plot_x_axis(plot, intervals);
		if ((SVG_RIGHT - axes.left) / axes.x.intervals >=
		    SVG_DIGIT * (plot_figure_width(&axes.x) + 2))
			break;
	}
	axes.top = svg_top(plot->subtitle) + 8 +
	           SVG_LINE * (svg_mark_lines(plot, &axes) + (plot->numbered ? 1 : 0));
	axes.bottom = axes.top + SVG_HEIGHT;
	return axes;
}

/* The next line of a text of several; false at its end. */
static bool next_line(const char **text, char line[PLOT_SUBTITLE_BYTES])
{
	size_t size = *text ? strcspn(*text, "\n") : 0;
	if (!*text || !**text)
		return false;
	snprintf(line, PLOT_SUBTITLE_BYTES, "%.*s", (int)size, *text);
	*text += size + ((*text)[size] == '\n');
	return true;
}

double svg_top(const char *subtitle)
{
	char line[PLOT_SUBTITLE_BYTES];
	double top = 34;
	while (next_line(&subtitle, line))
		top += SVG_LINE + 1;
	return top;
}

void svg_begin(FILE *out, const char *title, const char *more, const char *subtitle, double height)
{
	double room = (SVG_EDGE - SVG_MARGIN) / TITLE_FONT - xml_width(more), y = 26;
	char line[PLOT_SUBTITLE_BYTES];
	fprintf(out,
	        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
	        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"800\" "
	        "height=\"%.0f\" viewBox=\"0 0 800 %.0f\" font-family=\"sans-serif\" "
	        "font-size=\"%.0f\">\n<title>",
	        height, height, SVG_FONT);
	xml_put(out, title);
	fprintf(out,
	        "%s</title>\n<rect width=\"800\" height=\"%.0f\" fill=\"#fff\"/>\n"
	        "<text x=\"%.0f\" y=\"%.0f\" font-size=\"%d\">",
	        more, height, SVG_MARGIN, y, TITLE_FONT);
	xml_put_within(out, title, room);
	fprintf(out, "%s</text>\n", more);
	while (next_line(&subtitle, line)) {
		y += SVG_LINE + 1;
		fprintf(out, "<text x=\"%.0f\" y=\"%.0f\">", SVG_MARGIN, y);
		xml_put_within(out, line, (SVG_EDGE - SVG_MARGIN) / SVG_FONT);
		fputs("</text>\n", out);
	}
}

void plot_svg(FILE *out, const struct plot *plot)
{
	struct svg_axes axes = axes_of(plot);
	char more[40];
	plot_exaggeration(plot, &axes.x, &axes.y, SVG_RIGHT - axes.left, SVG_HEIGHT, more);
	svg_begin(out, plot->title, more, plot->subtitle, svg_height(plot, &axes));
	put_frame(out, plot, &axes);
	svg_put_bands(out, plot, &axes);
	svg_put_marks(out, plot, &axes);
	svg_put_numbers(out, plot, &axes);
	for (size_t i = 0; i < plot->curves; i++)
		put_curve(out, &axes, &plot->curve[i], i);
	svg_put_curve_names(out, plot, &axes);
	svg_put_points(out, plot, &axes);
	svg_put_point_names(out, plot, &axes);
	svg_put_below(out, plot, &axes);
	fputs("</svg>\n", out);
}
