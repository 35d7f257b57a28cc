/* Whatever is drawn, nothing breaks. */
#include "plot/plot.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "chance.h"
#include "suite.h"

#define MOST 40

static double any_value(uint64_t *state)
{
	static const double odd[] = {NAN,     INFINITY, -INFINITY, 0,      -0.0,    1e300, -1e300,
	                             1.5e300, 1.7e308,  5e-324,    1e-310, -1e-305, 1,     1e15};
	double size;
	switch (chance(state, 0, 5)) {
	case 0:
		return odd[chance(state, 0, sizeof odd / sizeof *odd - 1)];
	case 1:
		return (double)chance(state, -3, 3);
	case 2:
		return 1e15 + (double)chance(state, 0, 1000) / 8;
	case 3:
		size = pow(10, (double)chance(state, -320, 308));
		return size * (double)chance(state, -1000, 1000) / 1000;
	default:
		return (double)chance(state, -1000000, 1000000) / 1000;
	}
}

/* Without n, so that nan and inf in a file come from numbers. */
static const char *any_name(uint64_t *state, char *name, size_t size)
{
	size_t count = (size_t)chance(state, 0, (int64_t)size - 1);
	if (chance(state, 0, 9) == 0)
		return NULL;
	for (size_t i = 0; i < count; i++)
		name[i] =
		    (char)(chance(state, 0, 4) ? chance(state, ' ', '~') : chance(state, 1, 255));
	name[count] = '\0';
	for (char *n = name; (n = strchr(n, 'n'));)
		*n = 'm';
	return name;
}

struct any_plot {
	struct plot plot;
	struct plot_curve curve[MOST];
	struct plot_point point[MOST];
	double values[2 * MOST][MOST], mark[MOST];
	const char *mark_name[MOST];
	struct plot_kind kind[MOST];
	char names[4 * MOST + 4][90];
};

static size_t any_count(uint64_t *state)
{
	return (size_t)(chance(state, 0, 3) ? chance(state, 0, 4) : chance(state, 0, MOST));
}

static void fill(uint64_t *state, struct any_plot *any)
{
	size_t name = 0;
	any->plot = (struct plot){.curve = any->curve,
	                          .curves = any_count(state),
	                          .point = any->point,
	                          .points = any_count(state),
	                          .mark = any->mark,
	                          .mark_name = chance(state, 0, 4) ? any->mark_name : NULL,
	                          .marks = any_count(state),
	                          .zero_line = chance(state, 0, 1)};
	any->plot.title = any_name(state, any->names[name++], 90);
	any->plot.x_name = any_name(state, any->names[name++], 90);
	any->plot.y_name = any_name(state, any->names[name++], 90);
	any->plot.x_reach = any_value(state);
	any->plot.y_reach = any_value(state);
	any->plot.counted = chance(state, 0, 3) ? 0 : (size_t)chance(state, 1, 300);
	any->plot.one_unit = chance(state, 0, 1);
	any->plot.x_whole = chance(state, 0, 1);
	any->plot.notes = any_name(state, any->names[name++], 90);
	any->plot.kind = any->kind;
	any->plot.kinds = any_count(state);
	for (size_t i = 0; i < MOST; i++) {
		any->curve[i] = (struct plot_curve){any_name(state, any->names[name++], 90),
		                                    (char)chance(state, 0, 127), any_count(state),
		                                    any->values[2 * i], any->values[2 * i + 1]};
		for (size_t j = 0; j < MOST; j++) {
			any->values[2 * i][j] = any_value(state);
			any->values[2 * i + 1][j] = any_value(state);
		}
		any->point[i] = (struct plot_point){any_value(state),
		                                    any_value(state),
		                                    any_value(state),
		                                    any_name(state, any->names[name++], 90),
		                                    (size_t)chance(state, 0, 6),
		                                    chance(state, 0, 3) == 0};
		any->kind[i] = (struct plot_kind){
		    any_name(state, any->names[name++], 90), (char)chance(state, 0, 127),
		    (enum plot_shape)chance(state, 0, PLOT_SHAPES - 1)};
		any->mark[i] = any_value(state);
		any->mark_name[i] = any_name(state, any->names[name++], 90);
	}
}

static void check_any_text(uint64_t *state, const struct plot *plot)
{
	int columns = (int)chance(state, 20, chance(state, 0, 1) ? 40 : 300);
	int rows = (int)chance(state, 6, chance(state, 0, 1) ? 12 : 100);
	size_t size = (size_t)(rows * (columns + 1));
	char *grid = malloc(size + 1);
	grid[size] = '#';
	ck_assert(plot_text(plot, columns, rows, grid));
	for (int row = 0; row < rows; row++) {
		const char *text = grid + row * (columns + 1);
		ck_assert_uint_eq(strlen(text), (size_t)columns);
		for (; *text; text++)
			ck_assert(*text >= ' ' && *text <= '~');
	}
	ck_assert_int_eq(grid[size], '#');
	free(grid);
}

/* Asserts that elements are closed in order, that nothing is left unescaped, and that every number
 * that places something is one. */
static void check_any_svg(const struct plot *plot)
{
	char *svg = NULL, *at;
	const char *open[9];
	size_t depth = 0, size = 0;
	FILE *out = open_memstream(&svg, &size);
	plot_svg(out, plot);
	ck_assert_int_eq(fclose(out), 0);
	ck_assert_ptr_null(strstr(svg, "nan"));
	for (at = svg; *at; at++) {
		ck_assert(*at == '\n' || ((unsigned char)*at >= ' ' && *at != 0x7f));
		if (strncmp(at, "inf", 3) == 0)
			ck_assert_int_eq(strncmp(at - 12, "data-error=\"", 12), 0);
		if (*at == '&')
			ck_assert(!strncmp(at, "&amp;", 5) || !strncmp(at, "&lt;", 4) ||
			          !strncmp(at, "&gt;", 4) || !strncmp(at, "&quot;", 6));
		if (*at != '<')
			continue;
		if (at[1] == '/') {
			ck_assert_uint_gt(depth--, 0);
			ck_assert_int_eq(strncmp(at + 2, open[depth], strcspn(at + 2, ">")), 0);
		} else {
			size_t length = strcspn(at, ">");
			ck_assert(at[length - 1] == '/' || at[1] == '?' || depth < 9);
			if (at[length - 1] != '/' && at[1] != '?')
				open[depth++] = at + 1;
			at += length;
		}
	}
	ck_assert_uint_eq(depth, 0);
	free(svg);
}

START_TEST(test_anything)
{
	uint64_t state = chance_seed("anything drawn");
	struct any_plot *any = malloc(sizeof *any);
	for (int i = 0; i < 100; i++) {
		fill(&state, any);
		check_any_text(&state, &any->plot);
		check_any_svg(&any->plot);
	}
	free(any);
}
END_TEST

/* Any range: all of it is on the axis, which has no more intervals than wanted, and its step is a
 * round one. */
START_TEST(test_any_range)
{
	uint64_t state = chance_seed("any range");
	for (int i = 0; i < 20000; i++) {
		double a = any_value(&state), b = any_value(&state);
		int wanted = (int)chance(&state, 2, 12);
		const double x[] = {a, b}, y[] = {0, 0};
		const struct plot_curve curve = {.count = 2, .x = x, .y = y};
		const struct plot plot = {.curve = &curve, .curves = 1};
		struct plot_axis axis = plot_x_axis(&plot, wanted);
		double slack = 1e-8 * (axis.high - axis.low);
		ck_assert_int_ge(axis.intervals, 1);
		ck_assert_msg(axis.intervals <= wanted, "%.17g to %.17g: %d of %d", a, b,
		              axis.intervals, wanted);
		ck_assert(axis.digit == 1 || axis.digit == 2 || axis.digit == 5);
		for (int side = 0; side < 2; side++, a = b)
			ck_assert_msg(!plot_drawable(a) ||
			                  (axis.low <= a + slack && a - slack <= axis.high),
			              "%.17g from %.17g to %.17g", a, axis.low, axis.high);
		for (int tick = 0; tick < axis.intervals; tick++)
			ck_assert_double_lt(plot_tick(&axis, tick), plot_tick(&axis, tick + 1));
		ck_assert_double_eq(plot_tick(&axis, 0), axis.low);
		ck_assert_double_eq(plot_tick(&axis, axis.intervals), axis.high);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("plot property", test_anything, test_any_range);
}
