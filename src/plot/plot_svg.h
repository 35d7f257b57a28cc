/* What the parts of an SVG drawing share. */
#ifndef PLOT_PLOT_SVG_H
#define PLOT_PLOT_SVG_H

#include "plot/plot.h"

/* The field where values are drawn, in user units: it begins where the figures of the y axis end.
 * Names of curves stand to the right of it, those of marks above. */
#define SVG_RIGHT 625.0
#define SVG_TOP 92.0
#define SVG_BOTTOM 420.0
/* A line of text, and a letter: rather too wide, since no font is known here. */
#define SVG_LINE 15.0
#define SVG_LETTER 6.8

struct svg_axes {
	struct plot_axis x, y;
	double left;
};

/* Where a value stands, in user units. */
double svg_x(const struct svg_axes *axes, double x);
double svg_y(const struct svg_axes *axes, double y);
bool svg_is_drawn(double x, double y);
/* Writes the stroke of the curve of that index: dashes tell the curves apart, and where those are
 * used up, thickness does. */
void svg_put_stroke(FILE *out, size_t index);

/* Uprights with their names above the field; a name that has no place there is in the title. */
void svg_put_marks(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Names to the right of the field, each as near as can be to where its curve ends. */
void svg_put_curve_names(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Points, each with the shape of its kind and with its error bar. */
void svg_put_points(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Below the field: what the shapes mean, then the notes; and the height of a drawing that has room
 * for them. */
void svg_put_below(FILE *out, const struct plot *plot, const struct svg_axes *axes);
double svg_height(const struct plot *plot, const struct svg_axes *axes);
/* Names beside the points, each nearer to its own than to any other, or with a line that leads
 * there: one without such a place is still in the point's title. */
void svg_put_point_names(FILE *out, const struct plot *plot, const struct svg_axes *axes);

#endif
