/* The points of an SVG drawing, and what stands below it. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "plot/plot_svg.h"
#include "plot/plot_xml.h"

/* Shapes around 0, about as large as each other. */
static const struct {
	const char *name, *path;
} shapes[PLOT_SHAPES] = {
    [PLOT_CIRCLE] = {"circle", "M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z"},
    [PLOT_TRIANGLE] = {"triangle", "M0 -5.5L5 4H-5z"},
    [PLOT_SQUARE] = {"square", "M-4 -4H4V4H-4z"},
    [PLOT_DIAMOND] = {"diamond", "M0 -5L5 0L0 5L-5 0z"},
    [PLOT_CROSS] = {"cross", "M-4.5 -4.5L4.5 4.5M-4.5 4.5L4.5 -4.5"},
    [PLOT_STAND] = {"stand", "M0 5L4.5 -3H-4.5zM-6 -3H6"},
};

void svg_begin_shape(FILE *out, enum plot_shape shape, double x, double y)
{
	fprintf(out,
	        "<path transform=\"translate(%.3f %.3f)\" d=\"%s\" fill=\"#fff\" stroke=\"#000\" "
	        "stroke-width=\"1.5\"",
	        x, y, shapes[shape].path);
}

static void put_error(FILE *out, const struct svg_axes *axes, const struct plot_point *point)
{
	double x = svg_x(axes, point->x), error = plot_error(point);
	double ends[] = {svg_y(axes, point->y + error), svg_y(axes, point->y - error)};
	if (!(error > 0))
		return;
	fprintf(out, "<path class=\"error\" fill=\"none\" stroke=\"#000\" d=\"M%.3f %.3fV%.3f", x,
	        ends[0], ends[1]);
	for (int i = 0; i < 2 && !isinf(error); i++)
		fprintf(out, "M%.3f %.3fh8", x - 4, ends[i]);
	fputs("\"/>\n", out);
}

void svg_put_points(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	for (size_t i = 0; i < plot->points; i++)
		if (plot_is_drawn(&plot->point[i]))
			put_error(out, axes, &plot->point[i]);
	for (size_t i = 0; i < plot->points; i++) {
		const struct plot_point *point = &plot->point[i];
		enum plot_shape shape = plot_kind_of(plot, point).shape;
		if (!plot_is_drawn(point))
			continue;
		svg_begin_shape(out, shape, svg_x(axes, point->x), svg_y(axes, point->y));
		fprintf(out,
		        " class=\"point\" data-shape=\"%s\" data-x=\"%.17g\" data-y=\"%.17g\" "
		        "data-error=\"%.17g\"><title>",
		        shapes[shape].name, point->x, point->y, plot_error(point));
		xml_put(out, point->name);
		fputs("</title></path>\n", out);
	}
}

/* A sign before its name, and the most room for a name, in ems. */
#define SIGN_WIDTH 20.0
#define KIND_WIDTH 60.0
#define BELOW_WIDTH ((SVG_EDGE - SVG_MARGIN) / SVG_FONT)

/* Writes a line of the notes, broken where it is too long, or without a file only measures it;
 * returns where it ends. */
static double put_note(FILE *out, const char *line, double y)
{
	while (*line) {
		const char *next;
		size_t bytes = xml_break(line, BELOW_WIDTH, &next);
		y += SVG_LINE;
		if (out) {
			fprintf(out, "<text class=\"note\" x=\"%.0f\" y=\"%.1f\">", SVG_MARGIN, y);
			xml_put_bytes(out, line, bytes);
			fputs("</text>\n", out);
		}
		line = next;
	}
	return y;
}

double svg_put_notes(FILE *out, const char *notes, double y)
{
	char line[2000];
	while (notes && *notes) {
		size_t whole = strcspn(notes, "\n"), size = whole;
		while (size >= sizeof line || (size < whole && (notes[size] & 0xc0) == 0x80))
			size--;
		memcpy(line, notes, size);
		line[size] = '\0';
		y = put_note(out, line, y);
		notes += whole + (notes[whole] == '\n');
	}
	return y;
}

/* Where the legend stands that far. */
struct legend {
	FILE *out; /* NULL: it is only measured */
	double x, y;
};

/* Room for a sign and its name, on the next line where this one is full. */
static void next_sign(struct legend *legend, const char *name)
{
	double width = SIGN_WIDTH + SVG_FONT * fmin(xml_width(name), KIND_WIDTH);
	if (legend->x > SVG_MARGIN && legend->x + width > SVG_EDGE) {
		legend->x = SVG_MARGIN;
		legend->y += SVG_LINE + 2;
	}
}

static void put_sign_name(struct legend *legend, const char *name)
{
	if (legend->out) {
		fprintf(legend->out, "<text x=\"%.1f\" y=\"%.1f\">", legend->x + SIGN_WIDTH,
		        legend->y);
		xml_put_within(legend->out, name, KIND_WIDTH);
		fputs("</text>\n", legend->out);
	}
	legend->x += SIGN_WIDTH + SVG_FONT * fmin(xml_width(name), KIND_WIDTH) + 16;
}

/* What shapes and patterns mean; returns where that ends. */
static double put_kinds(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	struct legend legend = {out, SVG_MARGIN, axes->bottom + 68};
	for (size_t i = 0; i < plot->kinds; i++) {
		if (!plot_shows(plot, i))
			continue;
		next_sign(&legend, plot->kind[i].name);
		if (out) {
			svg_begin_shape(out, plot->kind[i].shape, legend.x + 8, legend.y - 4);
			fputs("/>\n", out);
		}
		put_sign_name(&legend, plot->kind[i].name);
	}
	for (size_t i = 0; i < plot->bands; i++) {
		next_sign(&legend, plot->band[i].name);
		if (out) {
			fprintf(out,
			        "<rect class=\"sign\" x=\"%.1f\" y=\"%.1f\" width=\"16\" "
			        "height=\"11\" stroke=\"#000\" stroke-width=\"0.75\" fill=\"",
			        legend.x, legend.y - 9.5);
			svg_put_pattern(out, plot->band[i].pattern);
			fputs("\"/>\n", out);
		}
		put_sign_name(&legend, plot->band[i].name);
	}
	return legend.y;
}

void svg_put_below(FILE *out, const struct plot *plot, const struct svg_axes *axes)
{
	svg_put_notes(out, plot->notes, put_kinds(out, plot, axes) + 5);
}

double svg_height(const struct plot *plot, const struct svg_axes *axes)
{
	double end = svg_put_notes(NULL, plot->notes, put_kinds(NULL, plot, axes) + 5);
	return ceil(end + 12);
}
