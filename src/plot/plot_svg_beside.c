/* The names beside the points of an SVG drawing: each where it covers as little as can be, and
 * where nobody takes it for the name of another point. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "plot/plot_svg.h"
#include "plot/plot_xml.h"

/* Of more names the rest stays unwritten, since nobody could read them. */
#define MOST_NAMES 40
/* No more are tried: long before, there is no room. */
#define MOST_TRIED 200

struct box {
	double left, top, right, bottom;
};

/* What is drawn, and the names that are written so far. */
struct field {
	const struct plot *plot;
	const struct svg_axes *axes;
	struct box taken[MOST_NAMES];
	size_t count;
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

/* Of bands with a pattern, on which letters are hard to read; taken wider than they are, by the
 * upright boxes around their pieces. */
static bool meets_band(const struct box *box, const struct field *field)
{
	const struct svg_axes *axes = field->axes;
	for (size_t i = 0; i < field->plot->bands; i++) {
		const struct plot_band *band = &field->plot->band[i];
		for (size_t j = 1; band->pattern != PLOT_PLAIN && j < band->count; j++) {
			double low = fmin(band->low[j - 1], band->low[j]);
			double high = fmax(band->high[j - 1], band->high[j]);
			struct box piece = {svg_x(axes, band->x[j - 1]), svg_y(axes, high),
			                    svg_x(axes, band->x[j]), svg_y(axes, low)};
			if (high > low && overlap(box, &piece))
				return true;
		}
	}
	return false;
}

static bool meets_curve(const struct box *box, const struct field *field)
{
	const struct plot *plot = field->plot;
	const struct svg_axes *axes = field->axes;
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
	if (meets_band(box, field))
		return true;
	return plot->zero_line && box->top < svg_y(axes, 0) && svg_y(axes, 0) < box->bottom;
}

/* What a point takes, with its error bar. */
static struct box taken_by(const struct field *field, const struct plot_point *point)
{
	double x = svg_x(field->axes, point->x), y = svg_y(field->axes, point->y);
	double error = plot_error(point);
	return (struct box){x - 6, fmin(y - 6, svg_y(field->axes, point->y + error)), x + 6,
	                    fmax(y + 6, svg_y(field->axes, point->y - error))};
}

static bool meets_point(const struct box *box, const struct field *field)
{
	for (size_t i = 0; i < field->plot->points; i++) {
		const struct plot_point *point = &field->plot->point[i];
		struct box taken = taken_by(field, point);
		if (plot_is_drawn(point) && overlap(box, &taken))
			return true;
	}
	return false;
}

static bool is_clear(const struct box *box, const struct field *field)
{
	if (box->left < field->axes->left || box->right > SVG_RIGHT ||
	    box->top < field->axes->top || box->bottom > field->axes->bottom ||
	    meets_point(box, field))
		return false;
	for (size_t i = 0; i < field->count; i++)
		if (overlap(box, &field->taken[i]))
			return false;
	return true;
}

static double far_from(const struct box *box, double x, double y)
{
	return hypot(fmax(fmax(box->left - x, x - box->right), 0),
	             fmax(fmax(box->top - y, y - box->bottom), 0));
}

/* Whether the box is clearly nearer to its own point than to every other named point. */
static bool is_nearest(const struct box *box, const struct field *field,
                       const struct plot_point *own)
{
	double own_x = svg_x(field->axes, own->x), own_y = svg_y(field->axes, own->y);
	double near = far_from(box, own_x, own_y);
	for (size_t i = 0; i < field->plot->points; i++) {
		const struct plot_point *other = &field->plot->point[i];
		double x = svg_x(field->axes, other->x), y = svg_y(field->axes, other->y);
		if (!other->quiet && plot_is_drawn(other) && hypot(x - own_x, y - own_y) > 2 &&
		    far_from(box, x, y) < near + 2)
			return false;
	}
	return true;
}

/* Where a line leads from a box to a point: from the middle of the nearer end. */
static void leader(const struct box *box, double x, double *from_x, double *from_y)
{
	*from_x = x < box->left ? box->left - 2 : x > box->right ? box->right + 2 : x;
	*from_y = (box->top + box->bottom) / 2;
}

/* Whether a line to the point runs through no name and past no other point, and no other named
 * point stands so near to the box that the line is overlooked. */
static bool can_lead(const struct box *box, const struct field *field, double x, double y)
{
	double from_x, from_y;
	leader(box, x, &from_x, &from_y);
	if (from_x == x)
		return false;
	for (size_t i = 0; i < field->count; i++)
		if (runs_through(&field->taken[i], from_x, from_y, x, y))
			return false;
	for (size_t i = 0; i < field->plot->points; i++) {
		const struct plot_point *other = &field->plot->point[i];
		double at_x = svg_x(field->axes, other->x), at_y = svg_y(field->axes, other->y);
		struct box taken = taken_by(field, other);
		if (!plot_is_drawn(other) || hypot(at_x - x, at_y - y) <= 2)
			continue;
		if (runs_through(&taken, from_x, from_y, x, y) ||
		    (!other->quiet && far_from(box, at_x, at_y) < 14))
			return false;
	}
	return true;
}

/* Writes as much of it as has room into the box; x, y: its point. */
static void put_name(FILE *out, const struct box *box, const char *name, double room, bool over,
                     bool led, double x, double y)
{
	double from_x, from_y, length;
	if (led) {
		leader(box, x, &from_x, &from_y);
		length = hypot(from_x - x, from_y - y);
		fprintf(out,
		        "<path class=\"leader\" d=\"M%.3f %.3fL%.3f %.3f\" stroke=\"#000\" "
		        "stroke-width=\"0.5\"/>\n",
		        from_x, from_y, x + (from_x - x) * 6 / length,
		        y + (from_y - y) * 6 / length);
	}
	if (over)
		fprintf(out,
		        "<rect x=\"%.3f\" y=\"%.3f\" width=\"%.3f\" height=\"13\" fill=\"#fff\" "
		        "fill-opacity=\"0.75\"/>\n",
		        box->left, box->top, box->right - box->left);
	/* Letters are narrower than they are taken for: towards the point no gap is left. */
	fprintf(out, "<text class=\"name\" x=\"%.3f\" y=\"%.3f\" text-anchor=\"%s\">",
	        box->left > x    ? box->left
	        : box->right < x ? box->right
	                         : (box->left + box->right) / 2,
	        box->top + 10,
	        box->left > x    ? "start"
	        : box->right < x ? "end"
	                         : "middle");
	xml_put_within(out, name, room);
	fputs("</text>\n", out);
}

/* Places of a name around its point: where its side is (-1 left of it, 0 over the middle, 1 right),
 * how far off it begins, how far down its line is, and from where: the point, or the upper (-1) or
 * lower end of its bar. */
static const struct place {
	int side;
	double off, down;
	int end;
} places[] = {
    {1, 8, 4, 0},
    {-1, 8, 4, 0},
    {1, 6, -8, 0},
    {1, 6, 17, 0},
    {-1, 6, -8, 0},
    {-1, 6, 17, 0},
    {0, 0, -10, 0},
    {0, 0, 20, 0},
    {0, 0, -4, -1},
    {0, 0, 13, 1},
    /* with a line that leads there */
    {1, 20, -22, 0},
    {-1, 20, -22, 0},
    {1, 20, 30, 0},
    {-1, 20, 30, 0},
    {1, 34, -38, 0},
    {-1, 34, -38, 0},
    {1, 34, 46, 0},
    {-1, 34, 46, 0},
    {1, 44, 4, 0},
    {-1, 44, 4, 0},
    {1, 34, 62, 0},
    {-1, 34, 62, 0},
    {1, 34, -54, 0},
    {-1, 34, -54, 0},
};
#define PLACES (sizeof places / sizeof *places)
#define PLACES_BESIDE 10
/* Only a number stands at the end of a bar: a wider name would reach over the next one. */
#define NUMBER_WIDTH 26.0
/* A name that has no place in full is cut to this. */
#define SHORT_NAME (84 / SVG_FONT)

/* Whether the name may stand in the box, by itself at a place of that kind. */
static bool may_stand(const struct box *box, const struct field *field,
                      const struct plot_point *point, const struct place *place, bool over)
{
	double x = svg_x(field->axes, point->x), y = svg_y(field->axes, point->y);
	if (!is_clear(box, field) || (!over && meets_curve(box, field)))
		return false;
	if (place->end)
		return true;
	return place >= places + PLACES_BESIDE ? can_lead(box, field, x, y)
	                                       : is_nearest(box, field, point);
}

/* Writes the name at the first of some places that covers no point and no other name: beside its
 * point or led to it, over no curve; then the same over curves. */
static bool name_point(FILE *out, struct field *field, const struct plot_point *point, double room)
{
	double x = svg_x(field->axes, point->x), y = svg_y(field->axes, point->y);
	double width = SVG_FONT * fmin(xml_width(point->name), room), error = plot_error(point);
	for (size_t i = 0; i < 2 * PLACES; i++) {
		/* Over curves first above and below its side: there it covers less of them. */
		const struct place *place = &places[i < PLACES ? i : (i + 2) % PLACES];
		bool over = i >= PLACES, led = place >= places + PLACES_BESIDE;
		double left = place->side == 0  ? x - width / 2
		              : place->side > 0 ? x + place->off
		                                : x - place->off - width;
		double from = svg_y(field->axes, point->y - place->end * error);
		double line = (place->end ? from : y) + place->down;
		struct box box = {left, line - 10, left + width, line + 3};
		if ((place->end && (!(error > 0) || isinf(error) || width > NUMBER_WIDTH)) ||
		    !may_stand(&box, field, point, place, over))
			continue;
		put_name(out, &box, point->name, room, over, led, x, y);
		field->taken[field->count++] = box;
		return true;
	}
	return false;
}

/* Whether all that is to be written stands above the field: nothing, or its number. */
static bool is_written(const struct plot *plot, size_t i)
{
	char number[24];
	snprintf(number, sizeof number, "%zu", i + 1);
	return plot->point[i].quiet || !xml_letters(plot->point[i].name) ||
	       (plot->numbered && strcmp(plot->point[i].name, number) == 0);
}

void svg_put_point_names(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct field field = {.plot = plot, .axes = axes};
	size_t tried = 0;
	for (size_t i = 0; i < plot->points && field.count < MOST_NAMES && tried < MOST_TRIED;
	     i++) {
		const struct plot_point *point = &plot->point[i];
		if (!plot_is_drawn(point) || is_written(plot, i))
			continue;
		if (!name_point(out, &field, point, 1e9) && xml_width(point->name) > SHORT_NAME)
			name_point(out, &field, point, SHORT_NAME);
		tried++;
	}
}
