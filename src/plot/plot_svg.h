/* What the parts of an SVG drawing share. */
#ifndef PLOT_PLOT_SVG_H
#define PLOT_PLOT_SVG_H

#include "plot/plot.h"

/* The field where values are drawn, in user units: it begins where the figures of the y axis end,
 * below the title, the lines under it, and the names of marks. Names of curves stand to the right
 * of it. */
#define SVG_RIGHT 625.0
#define SVG_HEIGHT 328.0
/* Titles and notes reach from here to there. */
#define SVG_MARGIN 20.0
#define SVG_EDGE 790.0
/* A line of text, the size of its font, and a digit. */
#define SVG_LINE 15.0
#define SVG_FONT 12.0
#define SVG_DIGIT (0.67 * SVG_FONT)

struct svg_axes {
	struct plot_axis x, y;
	double left, top, bottom;
};

/* Begins a file of that height with its title, `more` behind it however long the title is, and the
 * lines below it (may be NULL). */
void svg_begin(FILE *out, const char *title, const char *more, const char *subtitle, double height);
/* Where the title and its lines end. */
double svg_top(const char *subtitle);

/* Where a value stands, in user units. */
double svg_x(const struct svg_axes *axes, double x);
double svg_y(const struct svg_axes *axes, double y);
bool svg_is_drawn(double x, double y);
/* Writes the stroke of the curve of that index: dashes tell the curves apart, and where those are
 * used up, thickness does. Colors only help: each is dark enough on white, and no two need to be
 * told apart by them. */
void svg_put_stroke(FILE *out, size_t index);

/* Uprights with their names above the field; a name that has no place there is in the title. */
int svg_mark_lines(const struct plot *plot, const struct svg_axes *axes); /* of those names */
void svg_put_marks(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Numbers above the field where points are numbered, each with a line down to its bar. */
void svg_put_numbers(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Names to the right of the field, each as near as can be to where its curve ends. */
void svg_put_curve_names(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Areas between two lines, each with a pattern of its own. */
void svg_put_bands(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* The patterns, which a drawing defines once; and one of them as a fill. */
void svg_put_patterns(FILE *out);
void svg_put_pattern(FILE *out, enum plot_pattern pattern);
/* Points, each with the shape of its kind and with its error bar. */
void svg_put_points(FILE *out, const struct plot *plot, const struct svg_axes *axes);
/* Begins the element of a shape at a place, up to where its other attributes go. */
void svg_begin_shape(FILE *out, enum plot_shape shape, double x, double y);
/* Writes lines of notes below y, broken where they are too long, or without a file only measures
 * them; returns where they end. */
double svg_put_notes(FILE *out, const char *notes, double y);
/* Below the field: what the shapes mean, then the notes; and the height of a drawing that has room
 * for them. */
void svg_put_below(FILE *out, const struct plot *plot, const struct svg_axes *axes);
double svg_height(const struct plot *plot, const struct svg_axes *axes);
/* Names beside the points, each nearer to its own than to any other, or with a line that leads
 * there: one without such a place is still in the point's title. */
void svg_put_point_names(FILE *out, const struct plot *plot, const struct svg_axes *axes);

#endif
