/* The names in an SVG drawing: each where it covers as little as can be. */
#include "paper/plot_svg.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "paper/plot_xml.h"

/* Lines for the names of marks, lines and letters for the name of a curve. */
#define MARK_LINES 4
#define MARK_LETTERS 24
#define NAME_LINES 3
#define NAME_LETTERS 19

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
	return line < MARK_LINES && width > 0 ? line : -1;
}

void svg_put_marks(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct names marks = {0};
	int lines[MOST_NAMES];
	for (size_t i = 0; i < plot->marks; i++)
		if (plot_drawable(plot->mark[i]))
			add_name(&marks, svg_x(axes, plot->mark[i]), i);
	for (size_t i = marks.count; i-- > 0;) {
		size_t index = marks.index[i];
		const char *name = plot->mark_name ? plot->mark_name[index] : NULL;
		double x = marks.place[i], top;
		lines[i] = line_of(&marks, i, SVG_LETTER * (double)xml_letters(name), lines);
		top = SVG_TOP - SVG_LINE * (lines[i] + 1);
		fprintf(out,
		        "<line class=\"mark\" data-x=\"%.17g\" x1=\"%.3f\" y1=\"%.3f\" x2=\"%.3f\" "
		        "y2=\"%.3f\" stroke=\"#000\" stroke-width=\"0.75\" "
		        "stroke-dasharray=\"1 3\"><title>",
		        plot->mark[index], x, top, x, SVG_BOTTOM);
		xml_put(out, name, SIZE_MAX);
		fputs("</title></line>\n", out);
		if (lines[i] < 0)
			continue;
		fprintf(out, "<text x=\"%.3f\" y=\"%.3f\">", x + 4, top + 10);
		xml_put(out, name, MARK_LETTERS);
		fputs("</text>\n", out);
	}
}

/* How many bytes of a curve's name go on the next line. */
static size_t first_line(const char *name)
{
	size_t letters, bytes = xml_bytes(name, NAME_LETTERS, &letters);
	for (size_t at = bytes; letters > NAME_LETTERS && at > 0; at--)
		if (name[at] == ' ')
			return at;
	return bytes;
}

/* Writes a curve's name, with a piece of its line before it; returns the height of that. Without a
 * file it is only measured. */
static double put_curve_name(FILE *out, const char *name, size_t index, double y)
{
	const char *rest = name ? name : "";
	int lines = 1;
	if (out) {
		fprintf(out,
		        "<line x1=\"%.0f\" y1=\"%.3f\" x2=\"%.0f\" y2=\"%.3f\" stroke=\"#000\" ",
		        SVG_RIGHT + 6, y, SVG_RIGHT + 34, y);
		svg_put_stroke(out, index);
		fputs("/>\n", out);
	}
	for (; *rest; lines++, y += SVG_LINE) {
		bool last = lines == NAME_LINES;
		size_t bytes = last ? strlen(rest) : first_line(rest);
		if (out) {
			fprintf(out, "<text x=\"%.0f\" y=\"%.3f\">", SVG_RIGHT + 40, y + 4);
			if (last)
				xml_put(out, rest, NAME_LETTERS);
			else
				xml_put_bytes(out, rest, bytes);
			fputs("</text>\n", out);
		}
		rest += bytes + strspn(rest + bytes, " ");
		if (!*rest)
			break;
	}
	return SVG_LINE * lines + 4;
}

void svg_put_curve_names(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct names names = {0};
	double needed = 0, next = SVG_TOP + 8;
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
		double y = fmax(fmin(names.place[i], SVG_BOTTOM + SVG_LINE - needed), next);
		double height = put_curve_name(out, name, names.index[i], y);
		next = y + height;
		needed -= height;
	}
}

struct box {
	double left, top, right, bottom;
};

static bool overlap(const struct box *a, const struct box *b)
{
	return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}

/* Whether a straight line from one place to another runs through the box: what is left of it after
 * each edge has cut it off. */
static bool runs_through(const struct box *box, double x, double y, double to_x, double to_y)
{
	double from = 0, to = 1;
	double way[] = {to_x - x, x - to_x, to_y - y, y - to_y};
	double room[] = {box->right - x, x - box->left, box->bottom - y, y - box->top};
	for (int i = 0; i < 4; i++)
		if (way[i] > 0)
			to = fmin(to, room[i] / way[i]);
		else if (way[i] < 0)
			from = fmax(from, room[i] / way[i]);
		else if (room[i] < 0)
			return false;
	return from < to;
}

static bool meets_curve(const struct box *box, const struct plot *plot, const struct svg_axes *axes)
{
	for (size_t i = 0; i < plot->curves; i++) {
		const double *x = plot->curve[i].x, *y = plot->curve[i].y;
		for (size_t j = 1; j < plot->curve[i].count; j++)
			if (svg_is_drawn(x[j - 1], y[j - 1]) && svg_is_drawn(x[j], y[j]) &&
			    runs_through(box, svg_x(axes, x[j - 1]), svg_y(axes, y[j - 1]),
			                 svg_x(axes, x[j]), svg_y(axes, y[j])))
				return true;
	}
	for (size_t i = 0; i < plot->marks; i++)
		if (plot_drawable(plot->mark[i]) && box->left < svg_x(axes, plot->mark[i]) &&
		    svg_x(axes, plot->mark[i]) < box->right)
			return true;
	return false;
}

static bool meets_point(const struct box *box, const struct plot *plot, const struct svg_axes *axes)
{
	for (size_t i = 0; i < plot->points; i++) {
		const struct plot_point *point = &plot->point[i];
		double x = svg_x(axes, point->x), y = svg_y(axes, point->y);
		double error = plot_error(point);
		struct box taken = {x - 5, fmin(y - 5, svg_y(axes, point->y + error)), x + 5,
		                    fmax(y + 5, svg_y(axes, point->y - error))};
		if (svg_is_drawn(point->x, point->y) && overlap(box, &taken))
			return true;
	}
	return false;
}

static bool is_clear(const struct box *box, const struct plot *plot, const struct svg_axes *axes,
                     const struct box *taken, size_t count)
{
	if (box->left < axes->left || box->right > SVG_RIGHT || box->top < SVG_TOP ||
	    box->bottom > SVG_BOTTOM || meets_point(box, plot, axes))
		return false;
	for (size_t i = 0; i < count; i++)
		if (overlap(box, &taken[i]))
			return false;
	return true;
}

/* Writes the name at the first of some places that covers no point and no other name, and if
 * possible no curve; says where. */
static bool put_point_name(FILE *out, const struct plot *plot, const struct svg_axes *axes,
                           const struct plot_point *point, struct box *taken, size_t count)
{
	static const double down[] = {-6, 4, 14, -20, 28};
	double width = SVG_LETTER * (double)xml_letters(point->name);
	for (int place = 0; place < 20; place++) {
		bool left = place % 2, over_curves = place >= 10;
		double x = svg_x(axes, point->x) + (left ? -8 : 8);
		double y = svg_y(axes, point->y) + down[place % 10 / 2];
		struct box box = {left ? x - width : x, y - 10, left ? x : x + width, y + 3};
		if (!is_clear(&box, plot, axes, taken, count) ||
		    (!over_curves && meets_curve(&box, plot, axes)))
			continue;
		if (over_curves)
			fprintf(out,
			        "<rect x=\"%.3f\" y=\"%.3f\" width=\"%.3f\" height=\"13\" "
			        "fill=\"#fff\" fill-opacity=\"0.75\"/>\n",
			        box.left, box.top, width);
		fprintf(out, "<text x=\"%.3f\" y=\"%.3f\" text-anchor=\"%s\">", x, y,
		        left ? "end" : "start");
		xml_put(out, point->name, SIZE_MAX);
		fputs("</text>\n", out);
		taken[count] = box;
		return true;
	}
	return false;
}

void svg_put_point_names(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct box taken[MOST_NAMES];
	size_t count = 0;
	for (size_t i = 0; i < plot->points && count < MOST_NAMES; i++) {
		const struct plot_point *point = &plot->point[i];
		if (svg_is_drawn(point->x, point->y) && xml_letters(point->name))
			count += put_point_name(out, plot, axes, point, taken, count);
	}
}
