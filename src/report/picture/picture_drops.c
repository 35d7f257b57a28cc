/* Several crossings over distance. What flat would show in the air of a crossing is taken off each,
 * so that crossings in any air stand on one scale: flat is 0, and only curvature is left. */
#include <math.h>
#include <string.h>

#include "plot/plot_xml.h"
#include "report/lines.h"
#include "report/picture/picture.h"

#define SAMPLES 200
/* Crossings over nearly one distance stand this part of the whole distance apart, or their bars
 * would cover each other. */
#define APART 0.045
/* Of more crossings, and of longer names, names would stand nearer to a neighbor: they have only
 * their numbers. */
#define CROSSINGS_NAMED 6
#define NAME_WIDTH 10.0

static const struct plot_kind kinds[] = {
    {"seen, +- the allowance of that crossing", 'o', PLOT_CIRCLE},
};

/* What a surface of that curvature shows over a distance, m. */
static double shown_at(double curvature, double distance)
{
	return curvature == 0 ? 0
	                      : copysign(level_curvature(distance, 1 / fabs(curvature)), curvature);
}

static const char numbered[] = "Crossings are numbered from left to right.";

struct place {
	size_t index;
	double x;
};

/* Moves places in order aside, by as little as can be, so that each stands at least so far behind
 * the one before: those that are too near to each other become a row about their middle. */
static void move_aside(struct place *place, size_t count, double apart)
{
	struct {
		size_t count;
		double begin; /* of the row */
	} row[LEVEL_COMBINE_MOST];
	size_t rows = 0, at = 0;
	for (size_t i = 0; i < count; i++) {
		size_t size = 1;
		double begin = place[i].x;
		while (rows > 0 &&
		       begin < row[rows - 1].begin + apart * (double)row[rows - 1].count) {
			double before = (double)row[rows - 1].count, all = before + (double)size;
			begin = (row[rows - 1].begin * before +
			         (begin - apart * before) * (double)size) /
			        all;
			size += row[--rows].count;
		}
		row[rows].count = size;
		row[rows++].begin = begin;
	}
	for (size_t r = 0; r < rows; r++)
		for (size_t i = 0; i < row[r].count; i++)
			place[at++].x = row[r].begin + apart * (double)i;
}

/* In the order of their distances, those over one distance in the order of the table. */
static void place_all(const struct crossings *c, struct place place[LEVEL_COMBINE_MOST], double far)
{
	for (size_t i = 0; i < c->count; i++) {
		double x = sqrt(fabs(c->ready[i].span));
		size_t at = i;
		for (; at > 0 && place[at - 1].x > x; at--)
			place[at] = place[at - 1];
		place[at] = (struct place){i, x};
	}
	move_aside(place, c->count, fmin(APART, 0.8 / (double)c->count) * far);
}

static void draw_curve(struct picture *out, const struct level_style *style, double curvature,
                       double far)
{
	for (int i = 0; i < SAMPLES; i++) {
		double distance = far * i / (SAMPLES - 1);
		picture_sample(out, picture_unit(distance, style->distance),
		               picture_unit(shown_at(curvature, distance), style->unit));
	}
}

/* Those between the ends of the interval of 1/R. */
static void draw_together(const struct crossings *c, const struct level_combined *r, double far,
                          struct picture *out)
{
	if (r->finding.none)
		return;
	picture_band(out,
	             c->decides == LEVEL_BY_ALL ? "all together, if all errors add up"
	                                        : "all together, at 95 %",
	             PLOT_PLAIN);
	for (int i = 0; i < SAMPLES; i++) {
		double distance = far * i / (SAMPLES - 1);
		picture_edge(out, picture_unit(distance, c->style.distance),
		             picture_unit(shown_at(r->finding.low, distance), c->style.unit),
		             picture_unit(shown_at(r->finding.high, distance), c->style.unit));
	}
	picture_curve(out, "all together", 't');
	draw_curve(out, &c->style, r->finding.middle, far);
}

static bool are_named(const struct crossings *c)
{
	for (size_t i = 0; i < c->count; i++)
		if (xml_width(c->row[i].run) > NAME_WIDTH)
			return false;
	return c->count <= CROSSINGS_NAMED;
}

static void note_crossing(const struct crossing_row *row, const struct crossings *c, size_t number,
                          struct picture *out)
{
	char seen[LEVEL_LENGTH_BYTES], flat[LEVEL_LENGTH_BYTES], round[LEVEL_LENGTH_BYTES],
	    allowance[LEVEL_LENGTH_BYTES];
	picture_note(out, "%zu %s, %s: seen %s, flat %s, round %s; allowance %s%s: %s", number,
	             row->run, row->day,
	             report_meters(seen, row->observed * row->turn, &c->style, false),
	             report_meters(flat, row->flat * row->turn, &c->style, false),
	             report_meters(round, row->predicted * row->turn, &c->style, false),
	             report_meters(allowance, row->allowance, &c->style, false),
	             level_unit_after(c->style.unit), level_answer_code(row->answer));
}

static void draw_crossings(const struct crossings *c, const struct place *place,
                           struct picture *out)
{
	for (size_t i = 0; i < c->count; i++) {
		const struct crossing_row *row = &c->row[place[i].index];
		char number[24];
		snprintf(number, sizeof number, "%zu", i + 1);
		picture_point(out, 0, picture_unit(place[i].x, c->style.distance),
		              picture_unit((row->observed - row->flat) * row->turn, c->style.unit),
		              picture_unit(row->allowance, c->style.unit),
		              are_named(c) ? row->run : number);
	}
}

/* Which crossing has which number, where they have no names; what each says is in the table above.
 */
static void note_numbers(const struct crossings *c, const struct place *place, struct picture *out)
{
	if (are_named(c))
		return;
	picture_note(out, "%s", numbered);
	for (size_t i = 0; i < c->count; i++)
		picture_note(out, "%zu %s", i + 1, c->row[place[i].index].run);
}

/* Where and when, and what all of them say. */
static void put_headline(const struct crossings *c, const struct level_combined *r,
                         const char *where, struct picture *out)
{
	const char *first = c->row[0].day, *last = first;
	const struct level_closing none = {.finding = r->finding};
	char answer[240], days[40];
	for (size_t i = 1; i < c->count; i++) {
		first = strcmp(c->row[i].day, first) < 0 ? c->row[i].day : first;
		last = strcmp(c->row[i].day, last) > 0 ? c->row[i].day : last;
	}
	snprintf(days, sizeof days, strcmp(first, last) ? "%s to %s" : "%s", first, last);
	if (r->finding.none)
		report_no_answer(&none, answer, sizeof answer);
	else
		picture_answer(&r->finding, answer, sizeof answer);
	snprintf(out->subtitle, sizeof out->subtitle, "%zu crossing%s, %s%s%.300s\n%s", c->count,
	         c->count == 1 ? "" : "s", days, *where ? "; " : "", where, answer);
}

void picture_drops(const struct crossings *c, const struct level_combined *r, const char *where,
                   bool alone, struct picture *out)
{
	struct place place[LEVEL_COMBINE_MOST];
	double far = 0;
	for (size_t i = 0; i < c->count; i++)
		far = fmax(far, sqrt(fabs(c->ready[i].span)));
	far *= 1.15;
	strcpy(out->title, alone ? "Drops over distance" : "");
	snprintf(out->x_name, sizeof out->x_name, "distance of one sight, %s",
	         picture_unit_name(c->style.distance));
	snprintf(out->y_name, sizeof out->y_name, "drop less what flat would show, %s",
	         picture_unit_name(c->style.unit));
	out->plot.kind = kinds;
	out->plot.kinds = sizeof kinds / sizeof *kinds;
	out->plot.x_reach = picture_unit(far, c->style.distance);
	picture_curve(out, "round, the prediction", 'r');
	draw_curve(out, &c->style, r->prediction, far);
	picture_curve(out, "flat", '-');
	draw_curve(out, &c->style, 0, far);
	draw_together(c, r, far, out);
	place_all(c, place, far);
	draw_crossings(c, place, out);
	out->plot.numbered = true;
	if (!alone) {
		note_numbers(c, place, out);
		return;
	}
	put_headline(c, r, where, out);
	picture_note(out, "A bar that does not reach the line of flat rules flat out for that "
	                  "crossing. The air of each is taken off, with what it would make flat "
	                  "show.");
	picture_note(out, "Distances are those of one sight that would show as much; crossings "
	                  "over nearly one distance stand beside each other.");
	picture_note(out, "%s", numbered);
	for (size_t i = 0; i < c->count; i++)
		note_crossing(&c->row[place[i].index], c, i + 1, out);
}
