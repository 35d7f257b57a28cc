/* The profile of a run: its marks and its lines of sight over the way along it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/picture/picture.h"
#include "report/picture/way.h"

/* More setups than this crowd each other: they are not drawn as uprights. */
#define SETUPS_SHOWN 12

enum { KNOWN, CARRIED, GROUND, INSTRUMENT };
static const struct plot_kind kinds[] = {
    [KNOWN] = {"known elevation", '@', PLOT_TRIANGLE},
    [CARRIED] = {"turning point, mark carried to", 'o', PLOT_CIRCLE},
    [GROUND] = {"IS", 'i', PLOT_DIAMOND},
    [INSTRUMENT] = {"instrument, at HI", 'T', PLOT_STAND},
};

struct profile {
	const struct work_run *run;
	struct way way;
	bool crowded;
	struct picture *out;
};

static double height(const struct profile *p, level_nm value)
{
	return picture_unit(level_to_meters(value), p->run->settings.style.unit);
}

static double along(const struct profile *p, double x)
{
	return p->way.by == WAY_SETUPS ? x : picture_unit(x, p->run->settings.style.distance);
}

struct sample {
	double x, y;
	size_t at; /* two at one place stay in the order of the page */
};

static int by_way(const void *a, const void *b)
{
	const struct sample *one = a, *other = b;
	return one->x != other->x ? (one->x > other->x) - (one->x < other->x)
	                          : (one->at > other->at) - (one->at < other->at);
}

/* Samples of the last curve in the order of the way. */
static void sort_samples(struct picture *out)
{
	struct picture_samples *s = &out->samples[out->plot.curves - 1];
	struct sample *sorted = malloc((s->count + 1) * sizeof *sorted);
	if (!sorted) {
		out->out_of_memory = true;
		return;
	}
	for (size_t i = 0; i < s->count; i++)
		sorted[i] = (struct sample){s->x[i], s->y[i], i};
	qsort(sorted, s->count, sizeof *sorted, by_way);
	for (size_t i = 0; i < s->count; i++) {
		s->x[i] = sorted[i].x;
		s->y[i] = sorted[i].y;
	}
	free(sorted);
}

/* Over places along a line the ground with all that was read on it; else the marks that carry. */
static void draw_marks(const struct profile *p)
{
	const struct work_run *run = p->run;
	bool places = p->way.by == WAY_PLACES;
	double x;
	picture_curve(p->out, places ? "ground" : "line", '.');
	for (size_t i = 0; i < run->book.run.count; i++)
		if (way_is_mark(run, i) && (places || run->book.run.sight[i].kind != LEVEL_IS) &&
		    way_place(run, &p->way, i, &x))
			picture_sample(p->out, along(p, x), height(p, run->page.row[i].elevation));
	if (places)
		sort_samples(p->out);
}

/* The counted FS of the setup that the BS of row i opens; SIZE_MAX where it is not read yet. */
static size_t fs_of(const struct level_run *run, size_t i)
{
	for (i = level_counted_from(run, i + 1); i < run->count; i = level_counted_from(run, i + 1))
		if (run->sight[i].kind != LEVEL_IS)
			return run->sight[i].kind == LEVEL_FS ? i : SIZE_MAX;
	return SIZE_MAX;
}

/* Whether the sight opens a setup whose line of sight has an elevation. */
static bool opens(const struct work_run *run, size_t i)
{
	const struct level_sight *s = &run->book.run.sight[i];
	return level_counted(s) && s->kind == LEVEL_BS && run->page.row[i].setup &&
	       run->page.row[i].has_hi;
}

/* From the rod on the BS mark up to the line of sight, along it, and down the other rod. */
static void draw_sights(const struct profile *p)
{
	const struct work_run *run = p->run;
	bool begun = false;
	for (size_t i = 0; i < run->book.run.count; i++) {
		double from, to, hi = height(p, run->page.row[i].hi);
		size_t fs;
		if (!opens(run, i))
			continue;
		fs = fs_of(&run->book.run, i);
		if (!way_place(run, &p->way, i, &from) || fs == SIZE_MAX ||
		    !way_place(run, &p->way, fs, &to))
			continue;
		if (!begun)
			picture_curve(p->out, "rod, line of sight, rod", '-');
		begun = true;
		picture_sample(p->out, along(p, from), height(p, run->page.row[i].elevation));
		picture_sample(p->out, along(p, from), hi);
		picture_sample(p->out, along(p, to), hi);
		picture_sample(p->out, along(p, to),
		               height(p, run->page.row[i].hi - run->book.run.sight[fs].reading));
		picture_break(p->out);
	}
}

/* Those of known elevation, or the others. */
static void draw_points(const struct profile *p, bool known)
{
	const struct work_run *run = p->run;
	double x;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_row *row = &run->page.row[i];
		const struct level_sight *s = &run->book.run.sight[i];
		char name[LEVEL_STATION_BYTES + 40];
		bool apart = s->has_known && s->known != row->elevation;
		if (!way_is_mark(run, i) || s->has_known != known ||
		    !way_place(run, &p->way, i, &x))
			continue;
		snprintf(name, sizeof name, "%s%s", s->station,
		         apart                 ? ", carried"
		         : s->has_known        ? ", known"
		         : s->kind == LEVEL_IS ? ", IS"
		                               : "");
		picture_point(p->out,
		              s->kind == LEVEL_IS ? GROUND
		              : known && !apart   ? KNOWN
		                                  : CARRIED,
		              along(p, x), height(p, row->elevation), 0, name);
		if (apart) {
			snprintf(name, sizeof name, "%s, known", s->station);
			picture_point(p->out, KNOWN, along(p, x), height(p, s->known), 0, name);
		}
	}
}

/* Where the instrument stood, its HI beside it. */
static void draw_setups(const struct profile *p)
{
	const struct work_run *run = p->run;
	double x;
	for (size_t i = 0; i < run->book.run.count && !p->crowded; i++) {
		char name[LEVEL_LENGTH_BYTES + 20], hi[LEVEL_LENGTH_BYTES];
		if (!opens(run, i) ||
		    !way_instrument(run, &p->way, i, fs_of(&run->book.run, i), &x))
			continue;
		snprintf(name, sizeof name, "HI %s",
		         level_format_length(hi, run->page.row[i].hi, &run->settings.style, false));
		picture_point(p->out, INSTRUMENT, along(p, x), height(p, run->page.row[i].hi), 0,
		              name);
		snprintf(name, sizeof name, "setup %d", run->page.row[i].setup);
		picture_mark(p->out, along(p, x), name);
	}
}

static void draw_grade(const struct profile *p)
{
	const struct work_run *run = p->run;
	struct level_grade grade;
	double least = INFINITY, most = -INFINITY, x;
	if (!*run->book.info.grade ||
	    !level_parse_grade(run->book.info.grade, LEVEL_M, &grade, NULL, NULL))
		return;
	if (p->way.by != WAY_PLACES) {
		picture_note(p->out, "not drawn: the design grade: it needs places along the line; "
		                     "give each sight its own");
		return;
	}
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) && way_place(run, &p->way, i, &x)) {
			least = fmin(least, x);
			most = fmax(most, x);
		}
	picture_curve(p->out, "design grade", '=');
	picture_sample(p->out, along(p, least),
	               height(p, level_grade_at(&grade, level_from_meters(least))));
	picture_sample(p->out, along(p, most),
	               height(p, level_grade_at(&grade, level_from_meters(most))));
	/* The ground is the first curve. */
	picture_cut_and_fill(p->out, 0, p->out->plot.curves - 1);
}

/* Names for a note, the first ones of them. */
struct list {
	char text[500];
	size_t count;
};

static void add_name(struct list *list, const char *name)
{
	size_t used = strlen(list->text);
	if (list->count++ < 8)
		snprintf(list->text + used, sizeof list->text - used, "%s%.40s", used ? ", " : "",
		         name);
}

static void note_list(struct picture *out, const struct list *list, const char *before,
                      const char *remedy)
{
	char more[40] = "";
	if (list->count > 8)
		snprintf(more, sizeof more, " and %zu more", list->count - 8);
	if (list->count)
		picture_note(out, "%s%s%s: %s", before, list->text, more, remedy);
}

/* What is not drawn, and what would bring it in. */
static void note_missing(const struct profile *p)
{
	static const char *const remedies[] = {
	    [WAY_PLACES] = "give them places along the line",
	    [WAY_DISTANCES] = "give them distances",
	    [WAY_SETUPS] = "give every sight its distance, or its place along the line",
	};
	const struct work_run *run = p->run;
	struct list marks = {0}, setups = {0}, unplaced = {0};
	bool broken = false;
	double x;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *s = &run->book.run.sight[i];
		char number[20];
		snprintf(number, sizeof number, "%d", run->page.row[i].setup);
		if (way_is_mark(run, i) && !way_place(run, &p->way, i, &x))
			add_name(&marks, s->station);
		if (way_is_mark(run, i) && s->kind != LEVEL_IS && isnan(p->way.place[i]))
			add_name(&unplaced, s->station);
		if (level_counted(s) && s->kind == LEVEL_BS && run->page.row[i].setup &&
		    !run->page.row[i].has_hi)
			broken = true;
		if (!opens(run, i))
			continue;
		if (fs_of(&run->book.run, i) == SIZE_MAX)
			picture_note(p->out,
			             "not drawn: the line of sight of setup %s: it has no "
			             "FS yet",
			             number);
		else if (!way_instrument(run, &p->way, i, fs_of(&run->book.run, i), &x))
			add_name(&setups, number);
	}
	note_list(p->out, &marks, "not drawn: ", remedies[p->way.by]);
	if (!p->crowded)
		note_list(p->out, &setups, "not drawn: the instrument and HI of setup ",
		          p->way.by == WAY_PLACES
		              ? "give BS and FS distances, and their marks places"
		              : "give distances");
	if (broken)
		picture_note(p->out, "not drawn: what has no elevation: close the gap in the line, "
		                     "or begin its setup on a mark of known elevation");
	if (p->way.by == WAY_SETUPS)
		picture_note(p->out, "distances are missing: the setups are drawn evenly");
	for (size_t i = 0; p->way.by != WAY_PLACES && i < run->book.run.count; i++)
		if (!isnan(p->way.place[i])) {
			note_list(p->out, &unplaced,
			          "not drawn over places along the line, since these have none: ",
			          "give them theirs");
			break;
		}
}

static void draw(const struct profile *p)
{
	draw_marks(p);
	draw_sights(p);
	draw_grade(p);
	draw_points(p, true);
	/* Names of many turning points would only run into each other. */
	p->out->quiet = p->crowded;
	draw_points(p, false);
	draw_setups(p);
	note_missing(p);
	if (p->crowded)
		picture_note(p->out,
		             "more than %d setups: only marks of known elevation are named, and "
		             "where the instrument stood is not drawn",
		             SETUPS_SHOWN);
	if (p->run->closing.start_assumed)
		picture_note(p->out, "the elevation of %s is not known: it is taken as 0",
		             p->run->closing.start_station);
}

bool picture_profile(const struct work_run *run, struct picture *out, struct fault *why)
{
	const struct level_line *line = level_page_line(&run->page);
	const struct level_style *style = &run->settings.style;
	struct profile profile = {.run = run, .out = out};
	if (line->end_row == SIZE_MAX)
		return fault_say(why, FAULT_EMPTY,
		                 "run %.160s has no complete setup yet: there is no profile",
		                 run->book.info.name);
	if (!way_of(run, &profile.way, why))
		return false;
	profile.crowded = level_page_sums(&run->page)->setups > SETUPS_SHOWN;
	snprintf(out->title, sizeof out->title, "Profile of %.160s", run->book.info.name);
	picture_state(out, run);
	snprintf(out->x_name, sizeof out->x_name,
	         profile.way.by == WAY_SETUPS ? "setups" : "along, %s",
	         picture_unit_name(style->distance));
	snprintf(out->y_name, sizeof out->y_name, "elevation, %s", picture_unit_name(style->unit));
	out->plot.kind = kinds;
	out->plot.kinds = sizeof kinds / sizeof *kinds;
	out->plot.one_unit =
	    profile.way.by != WAY_SETUPS &&
	    strcmp(picture_unit_name(style->unit), picture_unit_name(style->distance)) == 0;
	out->plot.headroom = true;
	out->plot.x_whole = profile.way.by == WAY_SETUPS;
	draw(&profile);
	way_free(&profile.way);
	return true;
}
