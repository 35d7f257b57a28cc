/* Drawings as SVG: the numbers read back from the file, and where they are drawn. */
#include "plot/plot.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "plot/plot_xml.h"
#include "suite.h"

#define POINT(at_x, at_y, half, called)                                                            \
	{                                                                                          \
		.x = (at_x), .y = (at_y), .error = (half), .name = (called)                        \
	}

static char *svg_of(const struct plot *plot)
{
	char *text = NULL;
	size_t size = 0;
	FILE *out = open_memstream(&text, &size);
	plot_svg(out, plot);
	ck_assert_int_eq(fclose(out), 0);
	return text;
}

/* The next element of a class from here on; NULL where there is none. */
static const char *element(const char *from, const char *class)
{
	char wanted[40];
	const char *at;
	snprintf(wanted, sizeof wanted, "class=\"%s\"", class);
	at = strstr(from, wanted);
	return at ? at + strlen(wanted) : NULL;
}

/* The text of an attribute of the element; what follows the text is not cut off. */
static const char *attribute(const char *element_text, const char *name)
{
	char wanted[40];
	const char *at, *end = strchr(element_text, '>');
	snprintf(wanted, sizeof wanted, " %s=\"", name);
	at = strstr(element_text, wanted);
	ck_assert_msg(at && at < end, "no%s in %.60s", wanted, element_text);
	return at + strlen(wanted);
}

static double number(const char *element_text, const char *name)
{
	return strtod(attribute(element_text, name), NULL);
}

/* Where a point is moved to: 0 across, 1 down. */
static double moved(const char *element_text, int which)
{
	const char *at = element_text, *end;
	double place[2];
	while (*at != '<')
		at--;
	at = strstr(at, "translate(") + strlen("translate(");
	place[0] = strtod(at, (char **)&end);
	place[1] = strtod(end, NULL);
	return place[which];
}

/* What the ticks say of an axis: a straight scale through the first and the last of them. */
struct scale {
	double value, place, per_unit;
};

static struct scale read_scale(const char *svg, const char *class, const char *coordinate)
{
	const char *first = element(svg, class), *last = first, *at;
	struct scale scale = {number(first, "data-value"), number(first, coordinate), 0};
	for (at = first; (at = element(at, class));)
		last = at;
	scale.per_unit =
	    (number(last, "data-value") - scale.value) / (number(last, coordinate) - scale.place);
	/* ticks between lie on it, to the thousandth that is written */
	for (at = first; (at = element(at, class));)
		ck_assert_double_eq_tol(scale.value +
		                            (number(at, coordinate) - scale.place) * scale.per_unit,
		                        number(at, "data-value"), fabs(0.002 * scale.per_unit));
	return scale;
}

static void check_place(const struct scale *scale, double place, double value)
{
	double shown = scale->value + (place - scale->place) * scale->per_unit;
	ck_assert_msg(fabs(shown - value) <= fabs(0.002 * scale->per_unit) + 1e-12 * fabs(value),
	              "%.17g is drawn at %.17g", value, shown);
}

/* Asserts that the numbers from here are the values, and that they are drawn where the ticks say.
 */
static void check_curve(const char *polyline, const struct scale *x, const struct scale *y,
                        const struct plot_curve *curve, size_t from, size_t count)
{
	const char *data_x = attribute(polyline, "data-x"), *data_y = attribute(polyline, "data-y");
	const char *points = attribute(polyline, "points");
	for (size_t i = from; i < from + count; i++) {
		ck_assert_double_eq(strtod(data_x, (char **)&data_x), curve->x[i]);
		ck_assert_double_eq(strtod(data_y, (char **)&data_y), curve->y[i]);
		check_place(x, strtod(points, (char **)&points), curve->x[i]);
		ck_assert_int_eq(*points++, ',');
		check_place(y, strtod(points, (char **)&points), curve->y[i]);
	}
	ck_assert_int_eq(*data_x, '"');
	ck_assert_int_eq(*data_y, '"');
	ck_assert_int_eq(*points, '"');
}

START_TEST(test_svg_read_back)
{
	static const double x[] = {0, 100, 1.0 / 3, 800, 640, 1200.5};
	static const double y[] = {0, -7.25, NAN, 49.7, 0.1, 90};
	static const double marks[] = {333, INFINITY};
	static const char *const names[] = {"planned", "never"};
	static const struct plot_curve curve = {"c", '*', 6, x, y};
	static const struct plot_point points[] = {POINT(801.1, 43.3, 6.1, "p"),
	                                           POINT(450, 20, INFINITY, NULL),
	                                           POINT(20, 30, 0, "q"), POINT(1, NAN, 1, "r")};
	static const struct plot plot = {.curve = &curve,
	                                 .curves = 1,
	                                 .point = points,
	                                 .points = 4,
	                                 .mark = marks,
	                                 .mark_name = names,
	                                 .marks = 2};
	char *svg = svg_of(&plot);
	struct scale across = read_scale(svg, "x-tick", "x1"), up = read_scale(svg, "y-tick", "y1");
	const char *at = element(svg, "curve");
	ck_assert_double_gt(across.per_unit, 0);
	ck_assert_double_lt(up.per_unit, 0);
	check_curve(at, &across, &up, &curve, 0, 2);
	check_curve(at = element(at, "curve"), &across, &up, &curve, 3, 3);
	ck_assert_ptr_null(element(at, "curve"));
	at = svg;
	for (int i = 0; i < 3; i++) {
		at = element(at, "point");
		ck_assert_double_eq(number(at, "data-x"), points[i].x);
		ck_assert_double_eq(number(at, "data-y"), points[i].y);
		ck_assert_double_eq(number(at, "data-error"), points[i].error);
		check_place(&across, moved(at, 0), points[i].x);
		check_place(&up, moved(at, 1), points[i].y);
	}
	ck_assert_ptr_null(element(at, "point"));
	at = element(svg, "mark");
	ck_assert_double_eq(number(at, "data-x"), 333);
	check_place(&across, number(at, "x1"), 333);
	ck_assert_ptr_null(element(at, "mark"));
	/* the error bar of the first point */
	at = strstr(attribute(element(svg, "error"), "d"), " ") + 1;
	check_place(&up, strtod(at, (char **)&at), 43.3 + 6.1);
	ck_assert_int_eq(*at++, 'V');
	check_place(&up, strtod(at, NULL), 43.3 - 6.1);
	free(svg);
}
END_TEST

START_TEST(test_svg_escape)
{
	static const struct plot_point points[] = {POINT(0, 0, 0, "A & B <\"C\">"),
	                                           POINT(1, 1, 0, "a\tb\xff")};
	static const struct plot plot = {
	    .title = "S\xc3\xb8r", .x_name = "\xc3\xb8\x01", .point = points, .points = 2};
	char *svg = svg_of(&plot);
	ck_assert_ptr_nonnull(strstr(svg, ">A &amp; B &lt;&quot;C&quot;&gt;</text>"));
	ck_assert_ptr_nonnull(strstr(svg, ">A &amp; B &lt;&quot;C&quot;&gt;</title>"));
	ck_assert_ptr_nonnull(strstr(svg, ">S\xc3\xb8r<"));
	ck_assert_ptr_nonnull(strstr(svg, ">a?b?<"));
	ck_assert_ptr_nonnull(strstr(svg, ">?\?\?<"));
	free(svg);
}
END_TEST

/* Long names are cut between letters; a curve's goes on on the next line, at a blank. */
START_TEST(test_svg_long_names)
{
	static const double one[] = {1, 2};
	static const struct plot_curve curve = {"predicted drop of the far shore", '*', 2, one,
	                                        one};
	char title[3 * 100 + 1] = "";
	const struct plot plot = {.y_name = title, .curve = &curve, .curves = 1};
	char *svg;
	for (int i = 0; i < 100; i++)
		strcat(title, "\xe2\x80\x94");
	svg = svg_of(&plot);
	ck_assert_ptr_nonnull(strstr(svg, "\xe2\x80\x94...<"));
	ck_assert_ptr_nonnull(strstr(svg, ">predicted drop of<"));
	ck_assert_ptr_nonnull(strstr(svg, ">the far shore<"));
	free(svg);
}
END_TEST

/* Names of marks that stand close: each a line higher than that of the next mark to the right. */
START_TEST(test_svg_close_marks)
{
	static const double marks[] = {660, 0, 690, 620, 1200};
	static const char *const names[] = {"second", "left", "third", "first", "right"};
	static const struct plot plot = {.mark = marks, .mark_name = names, .marks = 5};
	char *svg = svg_of(&plot);
	double y[5];
	for (int i = 0; i < 5; i++) {
		char text[20];
		const char *at;
		snprintf(text, sizeof text, ">%s</text>", names[i]);
		for (at = strstr(svg, text); *at != '<';)
			at--;
		y[i] = number(at, "y");
	}
	ck_assert_double_eq(y[1], y[2]);
	ck_assert_double_eq(y[4], y[2]);
	ck_assert_double_le(y[0], y[2] - 12);
	ck_assert_double_le(y[3], y[0] - 12);
	free(svg);
}
END_TEST

/* Each kind has its shape, in the drawing and in the legend; a kind without points is not in it.
 * Notes stand below, and the drawing grows with them: 40 lines of 15 units and more. */
START_TEST(test_svg_kinds_and_notes)
{
	static const struct plot_kind kinds[] = {
	    {"seen", 'o', PLOT_CIRCLE}, {"meant", 'x', PLOT_CROSS}, {"absent", '?', PLOT_SQUARE}};
	static const struct plot_point points[] = {{.x = 1, .y = 1, .name = "p"},
	                                           {.x = 2, .y = 3, .name = "q", .kind = 1}};
	char notes[40 * 12 + 1] = "";
	struct plot plot = {.point = points, .points = 2, .kind = kinds, .kinds = 3};
	char *svg = svg_of(&plot);
	const char *at;
	double height = number(strstr(svg, "<svg"), "height");
	free(svg);
	plot.notes = notes;
	for (int i = 0; i < 40; i++)
		sprintf(notes + strlen(notes), "n\xc3\xb8te %d\n", i);
	svg = svg_of(&plot);
	ck_assert_int_eq(strncmp(attribute(element(svg, "point"), "data-shape"), "circle", 6), 0);
	at = element(element(svg, "point"), "point");
	ck_assert_int_eq(strncmp(attribute(at, "data-shape"), "cross", 5), 0);
	ck_assert_ptr_nonnull(strstr(svg, ">seen</text>"));
	ck_assert_ptr_nonnull(strstr(svg, ">meant</text>"));
	ck_assert_ptr_null(strstr(svg, "absent"));
	ck_assert_ptr_nonnull(strstr(svg, ">n\xc3\xb8te 39</text>"));
	ck_assert_double_ge(number(strstr(svg, "<svg"), "height"), height + 40 * 15);
	free(svg);
}
END_TEST

/* Of points in one place not all names can be read: no two are written over each other. */
START_TEST(test_svg_close_points)
{
	struct plot_point points[12];
	const struct plot plot = {.point = points, .points = 12};
	double y[12];
	int written = 0;
	char *svg;
	for (int i = 0; i < 12; i++)
		points[i] = (struct plot_point)POINT(5, 5, 0, "near");
	svg = svg_of(&plot);
	for (const char *at = svg; (at = strstr(at, ">near</text>")); at++) {
		const char *text = at;
		while (*text != '<')
			text--;
		y[written] = number(text, "y");
		/* one name to each side */
		for (int i = 0; i < written - 1; i++)
			ck_assert(fabs(y[i] - y[written]) >= 12 || i % 2 != written % 2);
		written++;
	}
	ck_assert_int_ge(written, 2);
	ck_assert_int_lt(written, 12);
	free(svg);
}
END_TEST

/* Widths in ems that a browser measured of DejaVu Sans, the default of many systems, and of the
 * widest letters: no text is set wider than it is taken for. A name in Chinese letters is as many
 * ems wide as it has letters. */
START_TEST(test_svg_widths)
{
	static const struct {
		const char *text;
		double width;
	} measured[] = {{"0123456789", 6.36}, {"W", 0.989},        {"m", 0.974},
	                {"%", 1.076},         {"@", 1.0},          {"MWMW", 3.704},
	                {" ", 0.318},         {"\xe6\xb0\xb4", 1}, {"\xc7\x84", 1.422}};
	for (size_t i = 0; i < sizeof measured / sizeof *measured; i++)
		ck_assert_double_ge(xml_width(measured[i].text), measured[i].width);
	ck_assert_uint_eq(xml_fit("WWWW", 2.1), 2);
	ck_assert_uint_eq(xml_fit("\xe6\xb0\xb4\xe6\xb0\xb4", 1.5), 3);
	ck_assert_uint_eq(xml_fit("", 0), 0);
}
END_TEST

/* A line below the title has the lines that it is given, and a band is broken where it is no
 * number. */
START_TEST(test_svg_subtitle_and_bands)
{
	static const double x[] = {0, 1, 2, 3, 4, 5}, low[] = {0, 0, 0, NAN, 0, 0};
	static const double high[] = {1, 2, 3, 3, 2, 1};
	static const struct plot_band bands[] = {{"cut", PLOT_LEANING, 6, x, low, high}};
	static const struct plot_curve curve = {"c", '*', 6, x, high};
	static const struct plot plot = {.title = "t",
	                                 .subtitle = "Long Water\nshown",
	                                 .band = bands,
	                                 .bands = 1,
	                                 .curve = &curve,
	                                 .curves = 1};
	char *svg = svg_of(&plot);
	const char *first = element(svg, "band"), *second = element(first, "band");
	ck_assert_ptr_nonnull(strstr(svg, ">Long Water</text>"));
	ck_assert_ptr_nonnull(strstr(svg, ">shown</text>"));
	ck_assert_int_eq(strncmp(attribute(first, "fill"), "url(#leaning)", 13), 0);
	ck_assert_ptr_nonnull(second);
	ck_assert_ptr_null(element(second, "band"));
	ck_assert_ptr_nonnull(strstr(svg, ">cut</text>"));
	free(svg);
}
END_TEST

/* Numbered points have their numbers in a row above the field, each straight above its point and
 * none over another one; of a dense row as many as have room, the first among them. */
START_TEST(test_svg_numbers)
{
	struct plot_point points[60];
	for (size_t count = 10; count <= 60; count += 25) {
		struct plot plot = {.point = points, .points = count, .numbered = true};
		double before = -1, row = -1;
		size_t numbers = 0;
		char *svg;
		for (size_t i = 0; i < count; i++)
			points[i] = (struct plot_point)POINT((double)i, 1, 1, "a point");
		svg = svg_of(&plot);
		for (const char *at = svg; (at = element(at, "number"));) {
			size_t which = (size_t)strtoul(strchr(at, '>') + 1, NULL, 10);
			const char *point = svg;
			double x = number(at - 1, "x"), y = number(at - 1, "y");
			ck_assert(numbers > 0 || which == 1);
			for (size_t i = 0; i < which; i++)
				point = element(point, "point");
			ck_assert_double_eq_tol(moved(point, 0), x, 0.001);
			ck_assert_double_lt(y, moved(point, 1));
			ck_assert(numbers == 0 || y == row);
			ck_assert(numbers == 0 || x - before > 7.5 * (which > 10 ? 2 : 1));
			before = x;
			row = y;
			numbers++;
		}
		ck_assert(count > 10 ? numbers > 20 && numbers <= count : numbers == count);
		free(svg);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("plot SVG", test_svg_read_back, test_svg_escape, test_svg_long_names,
	                 test_svg_close_marks, test_svg_close_points, test_svg_kinds_and_notes,
	                 test_svg_widths, test_svg_subtitle_and_bands, test_svg_numbers);
}
