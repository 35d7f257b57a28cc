/* Drawings in characters: where ticks and values land, worked by hand. */
#include "plot/plot.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "suite.h"

#define POINT(at_x, at_y, half, called)                                                            \
	{                                                                                          \
		.x = (at_x), .y = (at_y), .error = (half), .name = (called)                        \
	}

static struct plot_axis axis_around(double low, double high, int intervals)
{
	double x[] = {low, high}, y[] = {0, 0};
	struct plot_curve curve = {.count = 2, .x = x, .y = y};
	return plot_x_axis(&(struct plot){.curve = &curve, .curves = 1}, intervals);
}

/* Asserts the figures of an axis, joined by blanks. */
static void check_figures(double low, double high, int intervals, const char *expected)
{
	struct plot_axis axis = axis_around(low, high, intervals);
	char joined[400] = "", figure[PLOT_FIGURE_BYTES];
	for (int i = 0; i <= axis.intervals; i++) {
		plot_figure(&axis, i, figure);
		strcat(strcat(joined, i ? " " : ""), figure);
		ck_assert_msg(plot_tick(&axis, i) == strtod(figure, NULL), "tick %.17g, figure %s",
		              plot_tick(&axis, i), figure);
	}
	ck_assert_str_eq(joined, expected);
}

/* Steps of 1, 2 and 5 times a power of ten, the smallest that needs no more intervals. */
START_TEST(test_ticks)
{
	check_figures(0, 1200, 10, "0 200 400 600 800 1000 1200");
	check_figures(0, 1000, 10, "0 100 200 300 400 500 600 700 800 900 1000");
	check_figures(0, 1001, 10, "0 200 400 600 800 1000 1200");
	check_figures(-14.2, 101, 8, "-20 0 20 40 60 80 100 120");
	check_figures(-14.2, 101, 4, "-50 0 50 100 150");
	check_figures(0, 0.7, 7, "0.0 0.1 0.2 0.3 0.4 0.5 0.6 0.7");
	/* 0.6/0.2 is less than 3 among doubles */
	check_figures(0.6, 1.4, 4, "0.6 0.8 1.0 1.2 1.4");
	check_figures(0.98, 1.03, 5, "0.98 0.99 1.00 1.01 1.02 1.03");
	check_figures(-0.5, 0.5, 2, "-0.5 0.0 0.5");
	check_figures(-0.5, 0.6, 2, "-1 0 1");
	/* 1 is too few intervals for a range with 0 inside */
	check_figures(-0.5, 0.6, 1, "-1 0 1");
	check_figures(100.1234, 100.1238, 4, "100.1234 100.1235 100.1236 100.1237 100.1238");
	check_figures(0, 3e-8, 3, "0 1e-08 2e-08 3e-08");
	check_figures(1.5e9, 1.7e9, 4, "1.50e+09 1.55e+09 1.60e+09 1.65e+09 1.70e+09");
	check_figures(-1e300, 1e300, 2, "-1e+300 0 1e+300");
}
END_TEST

/* All alike: a tenth to each side; nothing at all or only 0: 1 to each side. */
START_TEST(test_flat_ranges)
{
	check_figures(5, 5, 4, "4.5 5.0 5.5");
	check_figures(5, 5.000001, 2, "4 5 6");
	check_figures(0, 0, 2, "-1 0 1");
	check_figures(1e-310, 0, 2, "-1 0 1");
	check_figures(NAN, INFINITY, 2, "-1 0 1");
	check_figures(7e300, 10, 2, "9 10 11");
}
END_TEST

/* The axis reaches to the ends of error bars that have some, and to 0 where that is drawn. */
START_TEST(test_reach)
{
	struct plot_point points[] = {POINT(5, 1, 3, NULL), POINT(5, 2, INFINITY, NULL),
	                              POINT(5, 2, -9, NULL)};
	struct plot plot = {.point = points, .points = 3};
	struct plot_axis axis = plot_y_axis(&plot, 3);
	ck_assert_double_eq(axis.low, -2);
	ck_assert_double_eq(axis.high, 4);
	points[0].y = 104;
	plot.points = 1;
	ck_assert_double_eq(plot_y_axis(&plot, 6).low, 101);
	ck_assert_double_eq(plot_y_axis(&plot, 6).high, 107);
	plot.zero_line = true;
	ck_assert_double_eq(plot_y_axis(&plot, 6).low, 0);
}
END_TEST

/* Asserts a whole drawing, row by row. */
static void check_text(const struct plot *plot, int columns, int rows, const char *const *expected)
{
	char *grid = malloc((size_t)(rows * (columns + 1)));
	ck_assert(plot_text(plot, columns, rows, grid));
	for (int row = 0; row < rows; row++)
		ck_assert_str_eq(grid + row * (columns + 1), expected[row]);
	free(grid);
}

/* Figures of one letter leave columns 3 to 23 for x from 0 to 10, two each, and rows 2 to 6 for y
 * from 4 to 0, one each. The curve climbs from (0,0) to (4,4): rows change at every second column.
 */
START_TEST(test_cells)
{
	static const double x[] = {0, 4, 10}, y[] = {0, 4, 4}, mark = 6;
	static const char *const mark_name = "m";
	static const struct plot_curve curve = {"c", '*', 3, x, y};
	static const struct plot_point point = {.x = 8, .y = 1, .error = 1, .name = "p"};
	static const struct plot_kind kind = {"points", 'o', PLOT_CIRCLE};
	static const struct plot plot = {.title = "title",
	                                 .x_name = "x",
	                                 .y_name = "y",
	                                 .curve = &curve,
	                                 .curves = 1,
	                                 .point = &point,
	                                 .points = 1,
	                                 .kind = &kind,
	                                 .kinds = 1,
	                                 .mark = &mark,
	                                 .mark_name = &mark_name,
	                                 .marks = 1,
	                                 .zero_line = true};
	static const char *const expected[] = {
	    "title                   ", "y                       ", "4 >        *************",
	    "         **    : m      ", "2 >    **      :   |    ", "     **        :   o p  ",
	    "0 >**--^---^---:---|---^", "   0   2   4   6   8  10", "             x          ",
	    "* c   o points          ",
	};
	check_text(&plot, 24, 10, expected);
}
END_TEST

/* A curve is broken where it is no number; an error bar without end reaches through the field, and
 * one that is no number is none; the zero line runs where 0 is, here row 3 of 1 to 5. */
START_TEST(test_breaks)
{
	static const double x[] = {0, 1, 2, 3, 4}, y[] = {2, 2, NAN, -2, -2};
	static const struct plot_curve curve = {NULL, '#', 5, x, y};
	static const struct plot_point points[] = {
	    POINT(1, -1, INFINITY, NULL), POINT(3, 1, NAN, "q"), POINT(INFINITY, 9, 1, "out"),
	    POINT(20, NAN, 1, "out")};
	static const struct plot plot = {.y_name = "up, mm",
	                                 .curve = &curve,
	                                 .curves = 1,
	                                 .point = points,
	                                 .points = 4,
	                                 .zero_line = true};
	static const char *const expected[] = {
	    "up, mm              ", " 2 >####^           ", "        |      o q  ",
	    " 0 >----|-----------", "        o           ", "-2 >^---v---^--#####",
	    "    0   1   2  3   4",
	};
	check_text(&plot, 20, 7, expected);
}
END_TEST

/* Two lines along y = 1 from x = 0 to 10, columns 2 to 22 in row 0 of the field: the second takes
 * each other cell. A third that runs one row below all the way stays whole. */
START_TEST(test_lines_take_turns)
{
	static const double x[] = {0, 10}, high[] = {1, 1}, low[] = {0.5, 0.5};
	static const struct plot_curve curves[] = {
	    {"a", '*', 2, x, high}, {"b", '#', 2, x, high}, {"c", '-', 2, x, low}};
	static const struct plot plot = {.curve = curves, .curves = 3, .zero_line = true};
	static const char *const expected[] = {
	    "1.0 >*#*#*#*#*#*#*#*#*#*#*#*#*#*#*#*", "                                    ",
	    "0.5 >-------------------------------", "                                    ",
	    "0.0 >^-----^-----^-----^-----^-----^", "     0     2     4     6     8    10",
	    "* a   # b   - c                     ",
	};
	char grid[7 * 37], wide[10 * 81];
	ck_assert(plot_text(&plot, 36, 7, grid));
	for (int row = 0; row < 7; row++)
		ck_assert_str_eq(grid + row * 37, expected[row]);
	ck_assert(plot_text(&plot, 80, 10, wide));
	ck_assert_str_eq(wide + 9 * 81, "* a   # b   - c   where lines coincide their signs take "
	                                "turns                   ");
}
END_TEST

/* Kinds of points have signs of their own, and where two share a cell it says so; a name stands
 * nearer to its own point than to another, and may cover a line where points are few. Columns 2 to
 * 22 for x from 0 to 10, rows 0 to 4 for y from 4 to 0. */
START_TEST(test_kinds_and_names)
{
	static const double x[] = {0, 10}, y[] = {2, 2};
	static const struct plot_curve curve = {NULL, '*', 2, x, y};
	static const struct plot_kind kinds[] = {
	    {"seen", 'o', PLOT_CIRCLE}, {"meant", 'x', PLOT_CROSS}, {"unseen", '?', PLOT_SQUARE}};
	static const struct plot_point points[] = {
	    {.x = 2, .y = 2, .name = "on"},
	    {.x = 6, .y = 4, .name = "both"},
	    {.x = 6, .y = 4, .name = "quiet", .kind = 1, .quiet = true},
	    {.x = 8, .y = 0.95, .name = "under", .kind = 1},
	};
	static const struct plot plot = {.curve = &curve,
	                                 .curves = 1,
	                                 .point = points,
	                                 .points = 4,
	                                 .kind = kinds,
	                                 .kinds = 3,
	                                 .zero_line = true};
	static const char *const expected[] = {
	    "4 >            & both   ", "         on             ", "2 >****o****************",
	    "             under x    ", "0 >^---^---^---^---^---^", "   0   2   4   6   8  10",
	    "o seen   x meant   & s~ ",
	};
	char grid[7 * 25];
	ck_assert(plot_text(&plot, 24, 7, grid));
	for (int row = 0; row < 6; row++)
		ck_assert_str_eq(grid + row * 25, expected[row]);
	ck_assert(strncmp(grid + 6 * 25, "o seen   x meant", 16) == 0);
	ck_assert_ptr_null(strstr(grid + 6 * 25, "unseen"));
}
END_TEST

/* What is counted has ticks of its own, and no others: not 0 and 4, nor halves. Columns 4 to 31 for
 * 0 to 4: 4 + 27/4, 4 + 27/2 and 4 + 81/4, rounded. */
START_TEST(test_counted)
{
	static const struct plot_point points[] = {{.x = 1, .y = 1}, {.x = 3, .y = -1}};
	static const struct plot plot = {
	    .point = points, .points = 2, .counted = 3, .y_reach = 2, .zero_line = true};
	char grid[8 * 33];
	ck_assert(plot_text(&plot, 32, 8, grid));
	ck_assert_str_eq(grid + 7 * 33, "           1      2     3       ");
	ck_assert(strncmp(grid, " 2 ", 3) == 0);
}
END_TEST

/* Both axes in one unit: 5 steps of rows, each as high as 2 columns, for 2 units of y, 36 steps of
 * columns for 20 of x: 2 x 5/2 / (36/20) = 2.78. Where no number says it, nothing does. */
START_TEST(test_factor)
{
	static const struct plot_point points[] = {{.x = 0, .y = 0}, {.x = 20, .y = 2}};
	static const struct plot_point far[] = {{.x = 0, .y = 0}, {.x = 1e300, .y = 1e-280}};
	struct plot plot = {.title = "t", .point = points, .points = 2, .one_unit = true};
	char grid[8 * 41];
	ck_assert(plot_text(&plot, 40, 8, grid));
	ck_assert_str_eq(grid, "t; heights x 2.78                       ");
	plot.point = far;
	ck_assert(plot_text(&plot, 40, 8, grid));
	ck_assert_str_eq(grid, "t                                       ");
}
END_TEST

START_TEST(test_too_small)
{
	static const struct plot plot = {.title = "t"};
	char grid[20 * 21], before[sizeof grid];
	memset(grid, '?', sizeof grid);
	memcpy(before, grid, sizeof grid);
	ck_assert(!plot_text(&plot, 19, 20, grid));
	ck_assert(!plot_text(&plot, 20, 5, grid));
	ck_assert(!plot_text(&plot, 0, -1, grid));
	ck_assert_mem_eq(grid, before, sizeof grid);
}
END_TEST

/* What 20 columns do not hold is cut, and letters are counted, not bytes. */
START_TEST(test_names_cut)
{
	static const struct plot_curve curves[] = {{"first of all curves here", '*', 0, NULL, NULL},
	                                           {"second", '+', 0, NULL, NULL}};
	static const struct plot plot = {.title = "a title of 21 letters",
	                                 .y_name = "h\xc3\xb6he\t\xe2\x80\x94 20 letters..",
	                                 .curve = curves,
	                                 .curves = 2};
	char grid[8 * 21];
	ck_assert(plot_text(&plot, 20, 8, grid));
	ck_assert_str_eq(grid, "a title of 21 lette~");
	ck_assert_str_eq(grid + 21, "h?he?? 20 letters.. ");
	/* one row for signs at this height */
	ck_assert_str_eq(grid + 7 * 21, "* first of all curv~");
}
END_TEST

int main(void)
{
	return RUN_TESTS("plot", test_ticks, test_flat_ranges, test_reach, test_cells, test_breaks,
	                 test_lines_take_turns, test_kinds_and_names, test_counted, test_factor,
	                 test_too_small, test_names_cut);
}
