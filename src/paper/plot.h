/* Drawings of curves and measured points: in characters for the screen, and as SVG for paper.
 *
 * What is not a number, or lies beyond +-1e300, is left out; a curve is broken there. The drawing
 * reaches from round figure to round figure around all that is left; a range narrower than a
 * millionth of its values is drawn flat. Numbers are printed as the C locale has them. Pointers to
 * text may be NULL. */
#ifndef PAPER_PLOT_H
#define PAPER_PLOT_H

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

/* error: half the length of its error bar; 0 for none, INFINITY for one without ends. */
struct plot_point {
	double x, y, error;
	const char *name;
};

struct plot {
	const char *title, *x_name, *y_name; /* names of the axes: with units */
	const struct plot_curve *curve;
	size_t curves;
	const struct plot_point *point;
	size_t points;
	const char *points_name; /* what all the points are */
	const double *mark;      /* values of x marked by an upright ... */
	const char *const *mark_name;
	size_t marks;
	bool zero_line; /* draw y = 0, and reach to it */
};

/* Draws in characters. The grid holds rows x (columns + 1) bytes: every row is printable ASCII,
 * exactly as long as there are columns, and ends in NUL; other characters of names become '?', and
 * what is cut ends in '~'. Points are 'o', error bars '|' ('^' and 'v' where they have no end),
 * marks ':'; a name that fits nowhere beside its point or mark is left out. Below 8 rows the title
 * is left out, and below 7 the name of the x axis too. False below 20 x 6, where nothing is
 * written. */
bool plot_text(const struct plot *plot, int columns, int rows, char *grid);

/* Draws as one SVG 1.1 file of 800 x 500 units. Curves (class "curve"), points ("point") and marks
 * ("mark") carry what they show in data-x, data-y and data-error, ticks ("x-tick", "y-tick") in
 * data-value, with all digits. */
void plot_svg(FILE *out, const struct plot *plot);

/* What both drawings stand on. */

bool plot_drawable(double value);
/* The point's error bar: 0 also for one that is no number, INFINITY also for one that is too long
 * to be drawn. */
double plot_error(const struct plot_point *point);

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
/* The tick number i, from 0 to intervals, and its figure with the decimals that the step asks for.
 */
double plot_tick(const struct plot_axis *axis, int i);
void plot_figure(const struct plot_axis *axis, int i, char text[PLOT_FIGURE_BYTES]);
/* The length of the longest figure. */
int plot_figure_width(const struct plot_axis *axis);
/* Where a value stands between low (0) and high (1). */
double plot_place(const struct plot_axis *axis, double value);

#endif
