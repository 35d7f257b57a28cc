/* Drawings of curves and measured points: in characters for the screen, and as SVG for paper.
 *
 * What is not a number, or lies beyond +-1e300, is left out; a curve is broken there. The drawing
 * reaches from round figure to round figure around all that is left; a range narrower than a
 * millionth of its values is drawn flat. Numbers are printed as the C locale has them. Pointers to
 * text may be NULL. */
#ifndef PLOT_PLOT_H
#define PLOT_PLOT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Samples joined by straight lines, in their order. */
struct plot_curve {
	const char *name;
	char sign; /* what draws it among characters: printable ASCII, not used by the others */
	size_t count;
	const double *x, *y;
};

/* What a point can be: each kind has a sign of its own among characters, and a shape of its own on
 * paper. */
enum plot_shape {
	PLOT_CIRCLE,
	PLOT_TRIANGLE,
	PLOT_SQUARE,
	PLOT_DIAMOND,
	PLOT_CROSS,
	PLOT_STAND, /* a triangle on its tip, with a line over it */
};
#define PLOT_SHAPES 6
struct plot_kind {
	const char *name; /* in the legend, where a point of that kind is drawn */
	char sign;
	enum plot_shape shape;
};

/* error: half the length of its error bar; 0 for none, INFINITY for one without ends. */
struct plot_point {
	double x, y, error;
	const char *name;
	size_t kind; /* index into the plot's kinds */
	bool quiet;  /* its name is only told where a pointer rests on it, in SVG */
};

/* How the area between two lines over the same samples is filled. The patterns also differ in gray.
 * The axes take in curves and points only; an area that goes beyond the axes is cut off. */
enum plot_pattern {
	PLOT_LEANING, /* lines that lean to the right, on a darker ground */
	PLOT_DOTTED,  /* dots on a light ground */
	PLOT_PLAIN,   /* light, without a pattern */
};
#define PLOT_PATTERNS 3
struct plot_band {
	const char *name; /* in the legend */
	enum plot_pattern pattern;
	size_t count;
	const double *x, *low, *high; /* broken where one is no number */
};

#define PLOT_SUBTITLE_BYTES 600 /* of a line of it */
struct plot {
	const char *title, *x_name, *y_name; /* names of the axes: with units */
	const char *subtitle;                /* lines below the title of an SVG; or NULL */
	const struct plot_band *band;        /* in an SVG, below all else */
	size_t bands;
	const struct plot_curve *curve;
	size_t curves;
	const struct plot_point *point;
	size_t points;
	const struct plot_kind *kind; /* of the points; without any they are 'o' and circles */
	size_t kinds;
	const double *mark; /* values of x marked by an upright ... */
	const char *const *mark_name;
	size_t marks;
	bool zero_line; /* draw y = 0, and reach to it */
	bool one_unit;  /* x and y are in one unit: the title says how many times larger y is drawn,
	                   a character being taken as twice as high as it is wide */
	double x_reach; /* the x axis reaches from 0 to this at least, where it is above 0 */
	double y_reach; /* the y axis reaches from this below 0 to this above at least; 0: as far as
	                   the values do */
	bool headroom;  /* an SVG leaves room for a name above the highest point */
	bool numbered;  /* points come from left to right, and an SVG has their numbers, from 1 on,
	                   in a row above the field, each above its point; where they are dense, as
	                   many as have room */
	bool x_whole;   /* ticks of x are whole numbers */
	size_t counted; /* x counts so many things, which alone have ticks; 0: x is a quantity */
	const char *notes; /* lines below an SVG; among characters they are the caller's */
};

/* Draws in characters. The grid holds rows x (columns + 1) bytes: every row is printable ASCII,
 * exactly as long as there are columns, and ends in NUL; other characters of names become '?', and
 * what is cut ends in '~'. Error bars are '|' ('^' and 'v' where they have no end), marks ':'.
 * Where curves share cells their signs take turns, and where points of several kinds share one it
 * is '&'; the legend says so. A name stands nearer to its own point than to any other; one without
 * such a place is left out, and only where points are few a name covers a piece of a curve. Below 8
 * rows the title is left out, and below 7 the name of the x axis too. False below 20 x 6, where
 * nothing is written. */
bool plot_text(const struct plot *plot, int columns, int rows, char *grid);

/* Draws as one SVG 1.1 file, 800 units wide, and as high as its titles and notes need.
 * Bands have class "band". Curves (class "curve"), points ("point", moved to their place by a
 * transform) and marks ("mark") carry what they show in data-x, data-y and data-error, points their
 * shape in data-shape, ticks
 * ("x-tick", "y-tick") what they stand for in data-value, with all digits. */
void plot_svg(FILE *out, const struct plot *plot);

/* What both drawings stand on. */

bool plot_drawable(double value);
/* The point's error bar: 0 also for one that is no number, INFINITY also for one that is too long
 * to be drawn. */
double plot_error(const struct plot_point *point);
bool plot_is_drawn(const struct plot_point *point);
/* What a point is: a circle without a name where the plot has no such kind. */
struct plot_kind plot_kind_of(const struct plot *plot, const struct plot_point *point);
/* Whether the legend has this kind: it has a name, and a point of it is drawn. */
bool plot_shows(const struct plot *plot, size_t kind);

/* An axis from one tick to another, a step of 1, 2 or 5 times a power of ten apart. */
struct plot_axis {
	double low, high;
	int intervals;       /* between ticks; at least 1 */
	double first;        /* low, in steps */
	int digit, exponent; /* the step is digit x 10^exponent */
};
#define PLOT_FIGURE_BYTES 24

/* The axes around all that is to be drawn, with at most so many intervals (2 at least). */
struct plot_axis plot_x_axis(const struct plot *plot, int intervals);
struct plot_axis plot_y_axis(const struct plot *plot, int intervals);
/* How many times larger y is drawn than x in a field of that size, for the title; empty where the
 * two are not in one unit, or so far apart that no number says it. */
void plot_exaggeration(const struct plot *plot, const struct plot_axis *x,
                       const struct plot_axis *y, double width, double height, char text[40]);
/* The tick number i, from 0 to intervals, and its figure with the decimals that the step asks for.
 */
double plot_tick(const struct plot_axis *axis, int i);
/* Whether the x axis has a tick there: where it counts, only what is counted has. */
bool plot_has_x_tick(const struct plot *plot, double value);
void plot_figure(const struct plot_axis *axis, int i, char text[PLOT_FIGURE_BYTES]);
/* The length of the longest figure. */
int plot_figure_width(const struct plot_axis *axis);
/* Where a value stands between low (0) and high (1). */
double plot_place(const struct plot_axis *axis, double value);

#endif
