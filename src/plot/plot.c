/* The axes of a drawing. */
#include "plot/plot.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Beyond this the sums of two values would come near what a double holds. */
#define GREATEST 1e300
/* Less than this is as good as nothing; a range of less than FINEST of its values is drawn flat. */
#define LEAST 1e-290
#define FINEST 1e-6

struct range {
	double low, high;
};

bool plot_drawable(double value)
{
	return fabs(value) <= GREATEST;
}

double plot_error(const struct plot_point *point)
{
	if (!(point->error > 0))
		return 0;
	return plot_drawable(point->error) ? point->error : INFINITY;
}

bool plot_is_drawn(const struct plot_point *point)
{
	return plot_drawable(point->x) && plot_drawable(point->y);
}

struct plot_kind plot_kind_of(const struct plot *plot, const struct plot_point *point)
{
	return point->kind < plot->kinds ? plot->kind[point->kind]
	                                 : (struct plot_kind){NULL, 'o', PLOT_CIRCLE};
}

bool plot_shows(const struct plot *plot, size_t kind)
{
	if (!plot->kind[kind].name || !*plot->kind[kind].name)
		return false;
	for (size_t i = 0; i < plot->points; i++)
		if (plot->point[i].kind == kind && plot_is_drawn(&plot->point[i]))
			return true;
	return false;
}

static void include(struct range *range, double value)
{
	if (!plot_drawable(value))
		return;
	range->low = fmin(range->low, value);
	range->high = fmax(range->high, value);
}

static double power(int exponent)
{
	return pow(10, abs(exponent));
}

/* steps x digit x 10^exponent, as close as a double can be: powers of ten above 1 are exact. */
static double steps(const struct plot_axis *axis, double count)
{
	double units = count * axis->digit;
	return axis->exponent < 0 ? units / power(axis->exponent) : units * power(axis->exponent);
}

/* The ticks around the range at this step. A value may stand out by a billionth of a step, so that
 * rounding costs no interval. */
static void span(struct plot_axis *axis, const struct range *range)
{
	double step = steps(axis, 1), last;
	axis->first = floor(range->low / step + 1e-9);
	last = fmax(ceil(range->high / step - 1e-9), axis->first + 1);
	axis->intervals = (int)fmin(last - axis->first, 1e6);
	axis->low = steps(axis, axis->first);
	axis->high = steps(axis, last);
}

/* least: the exponent of the smallest step. */
static struct plot_axis round_axis(struct range range, int intervals, int least)
{
	static const int next[] = {[1] = 2, [2] = 5, [5] = 10};
	struct plot_axis axis = {.digit = 1};
	double most;
	intervals = intervals < 2 ? 2 : intervals;
	if (range.low > range.high)
		range = (struct range){0, 0};
	most = fmax(fabs(range.low), fabs(range.high));
	if (most < LEAST) {
		range = (struct range){-1, 1};
	} else if (range.high - range.low < FINEST * most) {
		range.low -= most / 10;
		range.high += most / 10;
	}
	axis.exponent = (int)floor(log10((range.high - range.low) / intervals));
	axis.exponent = axis.exponent < least ? least : axis.exponent;
	/* Two intervals are enough for any range, at a step of its length. */
	for (span(&axis, &range); axis.intervals > intervals; span(&axis, &range)) {
		axis.digit = next[axis.digit];
		if (axis.digit == 10) {
			axis.digit = 1;
			axis.exponent++;
		}
	}
	return axis;
}

struct plot_axis plot_x_axis(const struct plot *plot, int intervals)
{
	struct range range = {INFINITY, -INFINITY};
	for (size_t i = 0; i < plot->curves; i++)
		for (size_t j = 0; j < plot->curve[i].count; j++)
			if (plot_drawable(plot->curve[i].y[j]))
				include(&range, plot->curve[i].x[j]);
	for (size_t i = 0; i < plot->points; i++)
		if (plot_drawable(plot->point[i].y))
			include(&range, plot->point[i].x);
	for (size_t i = 0; i < plot->marks; i++)
		include(&range, plot->mark[i]);
	if (plot->x_reach > 0) {
		include(&range, 0);
		include(&range, plot->x_reach);
	}
	if (!plot->counted)
		return round_axis(range, intervals, plot->x_whole ? 0 : INT_MIN);
	include(&range, 0);
	include(&range, (double)plot->counted + 1);
	return round_axis(range, intervals, 0);
}

struct plot_axis plot_y_axis(const struct plot *plot, int intervals)
{
	struct range range = {INFINITY, -INFINITY};
	for (size_t i = 0; i < plot->curves; i++)
		for (size_t j = 0; j < plot->curve[i].count; j++)
			if (plot_drawable(plot->curve[i].x[j]))
				include(&range, plot->curve[i].y[j]);
	for (size_t i = 0; i < plot->points; i++) {
		const struct plot_point *point = &plot->point[i];
		if (!plot_is_drawn(point))
			continue;
		include(&range, point->y);
		include(&range, point->y - plot_error(point));
		include(&range, point->y + plot_error(point));
	}
	if (plot->zero_line)
		include(&range, 0);
	if (plot->y_reach > 0) {
		include(&range, -plot->y_reach);
		include(&range, plot->y_reach);
	}
	return round_axis(range, intervals, INT_MIN);
}

double plot_tick(const struct plot_axis *axis, int i)
{
	return steps(axis, axis->first + i);
}

bool plot_has_x_tick(const struct plot *plot, double value)
{
	return !plot->counted || (value >= 1 && value <= (double)plot->counted);
}

void plot_figure(const struct plot_axis *axis, int i, char text[PLOT_FIGURE_BYTES])
{
	double most = fmax(fabs(axis->low), fabs(axis->high)), value = plot_tick(axis, i);
	int decimals = axis->exponent < 0 ? -axis->exponent : 0;
	if (most < 1e7 && (most >= 1e-3 || decimals <= 6))
		snprintf(text, PLOT_FIGURE_BYTES, "%.*f", decimals, value);
	else if (value == 0)
		snprintf(text, PLOT_FIGURE_BYTES, "0");
	else
		snprintf(text, PLOT_FIGURE_BYTES, "%.*e", (int)floor(log10(most)) - axis->exponent,
		         value);
}

int plot_figure_width(const struct plot_axis *axis)
{
	int width = 0;
	for (int i = 0; i <= axis->intervals; i++) {
		char figure[PLOT_FIGURE_BYTES];
		plot_figure(axis, i, figure);
		width = (int)strlen(figure) > width ? (int)strlen(figure) : width;
	}
	return width;
}

double plot_place(const struct plot_axis *axis, double value)
{
	return fmin(fmax((value - axis->low) / (axis->high - axis->low), 0), 1);
}

void plot_exaggeration(const struct plot *plot, const struct plot_axis *x,
                       const struct plot_axis *y, double width, double height, char text[40])
{
	double times = height / (y->high - y->low) / (width / (x->high - x->low));
	text[0] = '\0';
	if (plot->one_unit && isfinite(times) && times > 0)
		snprintf(text, 40, "; heights x %.3g", times);
}
