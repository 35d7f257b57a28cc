#include "report/drop/drawings.h"

#include <math.h>
#include <string.h>

#include "report/picture/picture.h"

#define SAMPLES 200

static void name_axes(struct plot *plot, const struct level_style *style, char x[40], char y[40])
{
	snprintf(x, 40, "distance, %s", picture_unit_name(style->distance));
	snprintf(y, 40, "drop, %s", picture_unit_name(style->unit));
	plot->x_name = x;
	plot->y_name = y;
}

void drawing_plan(const struct report_plan *plan, double from, double to, int columns, int rows,
                  char *grid)
{
	enum level_unit unit = plan->style.unit, along = plan->style.distance;
	struct level_planned whole = level_plan_of(&plan->plan);
	double x[SAMPLES], drop[SAMPLES], bound[SAMPLES], u95[SAMPLES];
	const struct plot_curve curves[] = {
	    {"flat to round", 'd', SAMPLES, x, drop},
	    {"allowance, if all add up", '=', SAMPLES, x, bound},
	    {"at 95 %", '-', SAMPLES, x, u95},
	};
	double mark[2];
	const char *mark_name[2];
	char x_name[40], y_name[40];
	struct plot plot = {
	    .curve = curves, .curves = 3, .mark = mark, .mark_name = mark_name, .zero_line = true};

	for (int i = 0; i < SAMPLES; i++) {
		double distance = from + (to - from) * i / (SAMPLES - 1);
		struct level_weighing w = level_plan_weigh(&plan->plan, distance);
		x[i] = picture_unit(distance, along);
		drop[i] = picture_unit(w.separation, unit);
		bound[i] = picture_unit(w.allowance.total_bound, unit);
		u95[i] = picture_unit(w.allowance.total_u95, unit);
	}
	if (whole.shortest_bound >= from && whole.shortest_bound <= to) {
		mark_name[plot.marks] = "tells";
		mark[plot.marks++] = picture_unit(whole.shortest_bound, along);
	}
	if (whole.shortest_u95 >= from && whole.shortest_u95 <= to) {
		mark_name[plot.marks] = "tells at 95 %";
		mark[plot.marks++] = picture_unit(whole.shortest_u95, along);
	}
	name_axes(&plot, &plan->style, x_name, y_name);
	if (!plot_text(&plot, columns, rows, grid))
		memset(grid, 0, (size_t)rows * ((size_t)columns + 1));
}
