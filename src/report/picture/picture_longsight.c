/* The long sight of a crossing: light, level surface and water over the distance, true to scale but
 * for the heights. All heights are above the horizontal plane through the line of sight. */
#include <math.h>
#include <string.h>

#include "report/picture/longsight.h"
#include "report/picture/picture.h"

#define SAMPLES 101

enum { MARK, WATER, OBSERVED, PREDICTED, INSTRUMENT, FLAT };
static const struct plot_kind kinds[] = {
    [MARK] = {"mark", '@', PLOT_TRIANGLE},
    [WATER] = {"water as read", '~', PLOT_SQUARE},
    [OBSERVED] = {"drop observed, +- allowance", 'o', PLOT_CIRCLE},
    [PREDICTED] = {"drop predicted", 'x', PLOT_CROSS},
    [INSTRUMENT] = {"instrument, at HI", 'T', PLOT_STAND},
    [FLAT] = {"drop of a flat surface", 'f', PLOT_DIAMOND},
};

static double light(const struct sight_line *l, double x)
{
	return -level_refraction(fabs(x), l->k);
}

static double level_at(const struct sight_line *l, double x)
{
	return -level_curvature(fabs(x), l->radius);
}

/* The completed setup with the longest sight; of several standings of it the last. */
static void find_longest(const struct work_run *run, const struct level_sight **bs,
                         const struct level_sight **fs)
{
	const struct level_sight *open = NULL;
	level_nm longest = -1;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *s = &run->book.run.sight[i];
		level_nm length;
		if (!level_counted(s))
			continue;
		if (s->kind == LEVEL_BS)
			open = s;
		if (s->kind != LEVEL_FS || !open)
			continue;
		length = s->distance > open->distance ? s->distance : open->distance;
		if (length >= longest) {
			longest = length;
			*bs = open;
			*fs = s;
		}
	}
}

bool longsight_setup(const struct work_run *run, struct sight_line *out, struct fault *why)
{
	const struct level_line *line = level_page_line(&run->page);
	const struct level_sight *bs = NULL, *fs = NULL;
	if (run->book.run.kind != LEVEL_CROSSING)
		return fault_say(why, FAULT_EMPTY,
		                 "run %.160s is no crossing: its picture is its profile",
		                 run->book.info.name);
	if (run->closing.finding.none == LEVEL_NO_LOOK)
		return fault_say(
		    why, FAULT_EMPTY,
		    "what crossing %.160s shows is hidden until its figures are sealed: "
		    "seal them (F11, s; rodbook seal)",
		    run->book.info.name);
	if (line->end_row == SIZE_MAX)
		return fault_say(why, FAULT_EMPTY,
		                 "crossing %.160s has no complete setup yet: a long sight is drawn "
		                 "of a BS and an FS",
		                 run->book.info.name);
	if (!run->closing.has_length)
		return fault_say(why, FAULT_EMPTY,
		                 "crossing %.160s has a sight without its distance: a long sight "
		                 "is drawn once the distances of BS and FS are booked",
		                 run->book.info.name);
	find_longest(run, &bs, &fs);
	*out = (struct sight_line){.radius = run->terms.terms.radius, .k = run->terms.terms.k};
	out->near = bs->distance <= fs->distance ? bs : fs;
	out->far = out->near == bs ? fs : bs;
	out->near_x = -level_to_meters(out->near->distance);
	out->far_x = level_to_meters(out->far->distance);
	out->has_water = out->near->water_count > 0;
	if (out->has_water)
		out->water = light(out, out->near_x) -
		             level_to_meters(out->near->reading + out->near->water) -
		             level_at(out, out->near_x);
	return true;
}

static void draw_curve(struct picture *out, const struct sight_line *l,
                       const struct level_style *style, const char *name, char sign,
                       double (*height)(const struct sight_line *, double), double lowered)
{
	picture_curve(out, name, sign);
	for (int i = 0; i < SAMPLES; i++) {
		double x = l->near_x + (l->far_x - l->near_x) * i / (SAMPLES - 1);
		picture_sample(out, picture_unit(x, style->distance),
		               picture_unit(height(l, x) + lowered, style->unit));
	}
}

/* What is read in the light stands that much below it. */
static void draw_mark(struct picture *out, const struct sight_line *l,
                      const struct level_style *style, const struct level_sight *s, double x)
{
	double mark = light(l, x) - level_to_meters(s->reading);
	char name[LEVEL_STATION_BYTES + 40];
	picture_point(out, MARK, picture_unit(x, style->distance), picture_unit(mark, style->unit),
	              0, s->station);
	if (!s->water_count)
		return;
	snprintf(name, sizeof name, "water at %s", s->station);
	out->quiet = true;
	picture_point(out, WATER, picture_unit(x, style->distance),
	              picture_unit(mark - level_to_meters(s->water), style->unit), 0, name);
	out->quiet = false;
}

static double straight(const struct sight_line *l, double x)
{
	(void)l;
	(void)x;
	return 0;
}

static double lowest_clearance(const struct sight_line *l)
{
	double least = INFINITY;
	for (int i = 0; i < SAMPLES; i++) {
		double x = l->near_x + (l->far_x - l->near_x) * i / (SAMPLES - 1);
		least = fmin(least, light(l, x) - level_at(l, x) - l->water);
	}
	return least;
}

/* On the line of sight, with its HI where the elevation of the start is known. */
static void draw_instrument(const struct work_run *run, struct picture *out)
{
	const struct level_line *line = level_page_line(&run->page);
	char name[LEVEL_LENGTH_BYTES + 20] = "instrument", hi[LEVEL_LENGTH_BYTES];
	out->quiet = run->closing.start_assumed || !run->page.row[line->first_row].has_hi;
	if (!out->quiet)
		snprintf(name, sizeof name, "HI %s",
		         level_format_length(hi, run->page.row[line->first_row].hi,
		                             &run->settings.style, false));
	picture_point(out, INSTRUMENT, 0, 0, 0, name);
	out->quiet = false;
	picture_mark(out, 0, "instrument");
}

/* -1 where the long sight is the BS. */
static double turn_of(const struct work_run *run)
{
	return level_drop_s(&level_page_sums(&run->page)->drop) < 0 ? -1 : 1;
}

static void put_notes(const struct work_run *run, const struct sight_line *l, struct picture *out)
{
	const struct level_style *style = &run->settings.style;
	const struct level_closing *c = &run->closing;
	char a[LEVEL_LENGTH_BYTES], b[LEVEL_LENGTH_BYTES], d[LEVEL_LENGTH_BYTES],
	    f[LEVEL_LENGTH_BYTES];
	double turn = turn_of(run);
	picture_note(out, "drop: flat would show %s, predicted %s%s%s; allowance %s",
	             report_meters(f, c->flat * turn, style, false),
	             report_meters(a, c->predicted * turn, style, false),
	             c->has_observed ? ", observed " : "",
	             c->has_observed ? report_meters(d, c->observed * turn, style, false) : "",
	             report_meters(b, c->allowance.decides, style, false));
	picture_note(out, "the level surface is the one of the prediction, R %.0f km; k %.3g",
	             l->radius / 1000, l->k);
	if (c->setups > 1)
		picture_note(out,
		             "of %d setups the one with the longest sight is drawn; what was seen "
		             "is of the whole run",
		             c->setups);
	if (l->has_water)
		picture_note(out, "the light clears that water by %s at its lowest",
		             report_meters(a, lowest_clearance(l), style, false));
}

bool picture_longsight(const struct work_run *run, struct picture *out, struct fault *why)
{
	const struct level_closing *c = &run->closing;
	const struct level_style *style = &run->settings.style;
	struct sight_line l = {0};
	if (!longsight_setup(run, &l, why))
		return false;
	snprintf(out->title, sizeof out->title, "Long sight of %.160s", run->book.info.name);
	picture_state(out, run);
	snprintf(out->x_name, sizeof out->x_name, "distance from the instrument, %s",
	         picture_unit_name(style->distance));
	snprintf(out->y_name, sizeof out->y_name, "height, %s", picture_unit_name(style->unit));
	out->plot.one_unit =
	    strcmp(picture_unit_name(style->unit), picture_unit_name(style->distance)) == 0;
	out->plot.kind = kinds;
	out->plot.kinds = sizeof kinds / sizeof *kinds;
	draw_curve(out, &l, style, "straight line of sight", '-', straight, 0);
	draw_curve(out, &l, style, "light", '.', light, 0);
	draw_curve(out, &l, style, "level surface, predicted", 's', level_at, 0);
	if (l.has_water)
		draw_curve(out, &l, style, "water, predicted", '=', level_at, l.water);
	draw_mark(out, &l, style, l.near, l.near_x);
	draw_mark(out, &l, style, l.far, l.far_x);
	/* The legend says what these are. The drop is how far the level surface lies below where
	 * the light arrives. */
	out->quiet = true;
	if (c->has_observed)
		picture_point(
		    out, OBSERVED, picture_unit(l.far_x, style->distance),
		    picture_unit(light(&l, l.far_x) - c->observed * c->finding.turn, style->unit),
		    picture_unit(c->allowance.decides, style->unit), "drop observed");
	picture_point(out, PREDICTED, picture_unit(l.far_x, style->distance),
	              picture_unit(level_at(&l, l.far_x), style->unit), 0, "drop predicted");
	picture_point(out, FLAT, picture_unit(l.far_x, style->distance),
	              picture_unit(light(&l, l.far_x) - c->flat * turn_of(run), style->unit), 0,
	              "drop of a flat surface");
	out->quiet = false;
	draw_instrument(run, out);
	put_notes(run, &l, out);
	return true;
}
