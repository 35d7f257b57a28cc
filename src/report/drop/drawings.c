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
	    {"flat to round", '*', SAMPLES, x, drop},
	    {"allowance, if all add up", '#', SAMPLES, x, bound},
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

/* Whether one curve is that of every crossing: 1 or 0. */
static size_t share_terms(const struct crossings *c)
{
	for (size_t i = 1; i < c->count; i++)
		if (c->row[i].k.k != c->row[0].k.k || c->row[i].radius != c->row[0].radius)
			return 0;
	return 1;
}

void drawing_drops(FILE *out, const struct crossings *c, bool svg)
{
	enum { COLUMNS = 78, ROWS = 22 };
	enum level_unit unit = c->style.unit, along = c->style.distance;
	static const struct plot_kind kinds[] = {
	    {"observed, with the allowance", 'o', PLOT_CIRCLE},
	    {"predicted of that crossing", 'x', PLOT_CROSS},
	    {"flat in the air of that crossing", 'f', PLOT_DIAMOND},
	};
	double x[SAMPLES], y[SAMPLES], flat[SAMPLES], farthest = 0;
	char curve_name[80], flat_name[80], predicted[LEVEL_COMBINE_MOST][LEVEL_NAME_BYTES + 20],
	    flats[LEVEL_COMBINE_MOST][LEVEL_NAME_BYTES + 20];
	const struct plot_curve curves[] = {{curve_name, '*', SAMPLES, x, y},
	                                    {flat_name, '-', SAMPLES, x, flat}};
	struct plot_point point[3 * LEVEL_COMBINE_MOST];
	char x_name[40], y_name[40], grid[ROWS * (COLUMNS + 1)];
	struct plot plot = {.title = svg ? "Drops over distance" : NULL,
	                    .curve = curves,
	                    .curves = 2 * share_terms(c),
	                    .point = point,
	                    .points = 3 * c->count,
	                    .kind = kinds,
	                    .kinds = 3,
	                    .zero_line = true};

	for (size_t i = 0; i < c->count; i++) {
		const struct crossing_row *row = &c->row[i];
		farthest = fmax(farthest, row->reach);
		snprintf(predicted[i], sizeof predicted[i], "%s, predicted", row->run);
		point[i] = (struct plot_point){.x = picture_unit(row->reach, along),
		                               .y = picture_unit(row->observed * row->turn, unit),
		                               .error = picture_unit(row->allowance, unit),
		                               .name = row->run};
		point[c->count + i] =
		    (struct plot_point){.x = picture_unit(row->reach, along),
		                        .y = picture_unit(row->predicted * row->turn, unit),
		                        .name = predicted[i],
		                        .kind = 1,
		                        .quiet = true};
	}
	for (size_t i = 0; i < c->count; i++) {
		snprintf(flats[i], sizeof flats[i], "%s, flat", c->row[i].run);
		point[2 * c->count + i] =
		    (struct plot_point){.x = picture_unit(c->row[i].reach, along),
		                        .y = picture_unit(c->row[i].flat * c->row[i].turn, unit),
		                        .name = flats[i],
		                        .kind = 2,
		                        .quiet = true};
	}
	plot.x_reach = picture_unit(1.1 * farthest, along);
	snprintf(curve_name, sizeof curve_name, "predicted with k %.3g, R %.0f km", c->row[0].k.k,
	         c->row[0].radius / 1000);
	snprintf(flat_name, sizeof flat_name, "flat, in the same air");
	for (int i = 0; i < SAMPLES; i++) {
		double distance = 1.1 * farthest * i / (SAMPLES - 1);
		x[i] = picture_unit(distance, along);
		y[i] = picture_unit(level_visible_drop(distance, c->row[0].radius, c->row[0].k.k),
		                    unit);
		flat[i] = picture_unit(-level_refraction(distance, c->row[0].k.k), unit);
	}
	name_axes(&plot, &c->style, x_name, y_name);
	if (svg) {
		plot_svg(out, &plot);
	} else if (plot_text(&plot, COLUMNS, ROWS, grid)) {
		fputc('\n', out);
		for (int row = 0; row < ROWS; row++)
			fprintf(out, "%s\n", grid + row * (COLUMNS + 1));
	}
}
