/* The names of marks and curves in an SVG drawing, and the numbers of points: each where it covers
 * as little as can be. */
#include "plot/plot_svg.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "plot/plot_xml.h"

/* Lines for the names of marks, and how far such a name may reach; lines for the name of a curve,
 * and its room. */
#define MARK_LINES 4
#define MARK_WIDTH (170 / SVG_FONT)
#define NAME_LINES 4
#define NAME_WIDTH (130 / SVG_FONT)

/* What is to be named, in order of its place; of more than MOST_NAMES the rest stays unnamed, since
 * nobody could read it. */
#define MOST_NAMES 40
struct names {
	size_t count, index[MOST_NAMES];
	double place[MOST_NAMES];
};

static void add_name(struct names *names, double place, size_t index)
{
	size_t at = names->count;
	if (at == MOST_NAMES)
		return;
	for (; at > 0 && names->place[at - 1] > place; at--) {
		names->place[at] = names->place[at - 1];
		names->index[at] = names->index[at - 1];
	}
	names->place[at] = place;
	names->index[at] = index;
	names->count++;
}

/* The line above the field for a mark's name that begins at its upright: above those of all marks
 * to the right that the name would run into, so that no upright runs through a name. lines: those
 * of the marks after it, -1 for none. */
static int line_of(const struct names *marks, size_t mark, double width, const int *lines)
{
	int line = 0;
	for (size_t i = mark + 1; i < marks->count; i++)
		if (marks->place[i] < marks->place[mark] + width && lines[i] >= line)
			line = lines[i] + 1;
	return line < MARK_LINES && width > 4 ? line : -1;
}

/* The marks in order, and the line of each name. */
static void place_marks(const struct plot *plot, const struct svg_axes *axes, struct names *marks,
                        int lines[MOST_NAMES])
{
	*marks = (struct names){0};
	for (size_t i = 0; i < plot->marks; i++)
		if (plot_drawable(plot->mark[i]))
			add_name(marks, svg_x(axes, plot->mark[i]), i);
	for (size_t i = marks->count; i-- > 0;) {
		const char *name = plot->mark_name ? plot->mark_name[marks->index[i]] : NULL;
		double width = SVG_FONT * fmin(xml_width(name), MARK_WIDTH) + 4;
		lines[i] = line_of(marks, i, width, lines);
	}
}

int svg_mark_lines(const struct plot *plot, const struct svg_axes *axes)
{
	struct names marks;
	int lines[MOST_NAMES], most = 0;
	place_marks(plot, axes, &marks, lines);
	for (size_t i = 0; i < marks.count; i++)
		most = lines[i] >= most ? lines[i] + 1 : most;
	return most;
}

void svg_put_marks(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct names marks;
	int lines[MOST_NAMES];
	place_marks(plot, axes, &marks, lines);
	for (size_t i = marks.count; i-- > 0;) {
		size_t index = marks.index[i];
		const char *name = plot->mark_name ? plot->mark_name[index] : NULL;
		double x = marks.place[i], top = axes->top - SVG_LINE * (lines[i] + 1);
		fprintf(out,
		        "<line class=\"mark\" data-x=\"%.17g\" x1=\"%.3f\" y1=\"%.3f\" x2=\"%.3f\" "
		        "y2=\"%.3f\" stroke=\"#000\" stroke-width=\"0.75\" "
		        "stroke-dasharray=\"1 3\"><title>",
		        plot->mark[index], x, top, x, axes->bottom);
		xml_put(out, name);
		fputs("</title></line>\n", out);
		if (lines[i] < 0)
			continue;
		fprintf(out, "<text x=\"%.3f\" y=\"%.3f\">", x + 4, top + 10);
		xml_put_within(out, name, MARK_WIDTH);
		fputs("</text>\n", out);
	}
}

void svg_put_numbers(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	double next = 0;
	for (size_t i = 0; plot->numbered && i < plot->points; i++) {
		const struct plot_point *point = &plot->point[i];
		double x = svg_x(axes, point->x), half, end;
		char number[24];
		snprintf(number, sizeof number, "%zu", i + 1);
		half = SVG_FONT * xml_width(number) / 2;
		if (!plot_is_drawn(point) || x - half < next)
			continue;
		end = fmax(svg_y(axes, point->y + plot_error(point)), axes->top);
		fprintf(out,
		        "<line x1=\"%.3f\" y1=\"%.3f\" x2=\"%.3f\" y2=\"%.3f\" stroke=\"#000\" "
		        "stroke-width=\"0.75\" stroke-dasharray=\"1 3\"/>\n"
		        "<text class=\"number\" x=\"%.3f\" y=\"%.3f\" "
		        "text-anchor=\"middle\">%s</text>\n",
		        x, axes->top, x, end, x, axes->top - 4, number);
		next = x + half + 1;
	}
}

/* Writes a curve's name, with a piece of its line before it; returns the height of that. Without a
 * file it is only measured. */
static double put_curve_name(FILE *out, const char *name, size_t index, double y)
{
	const char *rest = name ? name : "";
	int lines = 1;
	if (out) {
		fprintf(out, "<line x1=\"%.0f\" y1=\"%.3f\" x2=\"%.0f\" y2=\"%.3f\" ",
		        SVG_RIGHT + 6, y, SVG_RIGHT + 34, y);
		svg_put_stroke(out, index);
		fputs("/>\n", out);
	}
	for (; *rest; lines++, y += SVG_LINE) {
		bool last = lines == NAME_LINES;
		const char *next = "";
		size_t bytes = last ? 0 : xml_break(rest, NAME_WIDTH, &next);
		if (out) {
			fprintf(out, "<text x=\"%.0f\" y=\"%.3f\">", SVG_RIGHT + 40, y + 4);
			if (last)
				xml_put_within(out, rest, NAME_WIDTH);
			else
				xml_put_bytes(out, rest, bytes);
			fputs("</text>\n", out);
		}
		rest = next;
		if (!*rest)
			break;
	}
	return SVG_LINE * lines + 4;
}

void svg_put_curve_names(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct names names = {0};
	double needed = 0, next = axes->top + 8;
	for (size_t i = 0; i < plot->curves; i++) {
		const struct plot_curve *curve = &plot->curve[i];
		size_t end = curve->count;
		while (end > 0 && !svg_is_drawn(curve->x[end - 1], curve->y[end - 1]))
			end--;
		if (end > 0)
			add_name(&names, svg_y(axes, curve->y[end - 1]), i);
	}
	for (size_t i = 0; i < names.count; i++)
		needed += put_curve_name(NULL, plot->curve[names.index[i]].name, 0, 0);
	for (size_t i = 0; i < names.count; i++) {
		const char *name = plot->curve[names.index[i]].name;
		double y = fmax(fmin(names.place[i], axes->bottom + SVG_LINE - needed), next);
		double height = put_curve_name(out, name, names.index[i], y);
		next = y + height;
		needed -= height;
	}
}
