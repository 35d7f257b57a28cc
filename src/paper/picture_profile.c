/* The profile of a run: its marks and its lines of sight over the way along it. */
#include <math.h>
#include <string.h>

#include "paper/picture.h"

/* More setups than this crowd each other: they are not drawn as uprights. */
#define SETUPS_SHOWN 12

struct way {
	bool by_place;  /* sights have a place along a line */
	bool by_number; /* distances are missing: setups stand evenly */
};

static bool has_place(const struct paper_run *run, size_t i, level_nm *along)
{
	const struct book_note *note = &run->book.note[i];
	return *note->along && level_parse_along(note->along, note->unit, along, NULL);
}

/* How the way is told: by places where every FS and the start has one, else by the distances, else
 * by the number of setups. */
static struct way way_of(const struct paper_run *run)
{
	const struct level_run *sights = &run->book.run;
	struct way way = {.by_place = true};
	level_nm along;
	for (size_t i = 0; i < sights->count; i++) {
		const struct level_sight *s = &sights->sight[i];
		if (!level_counted(s) || !run->page.row[i].setup)
			continue;
		if (s->kind != LEVEL_BS || run->page.row[i].line.start_row == i)
			way.by_place = way.by_place && has_place(run, i, &along);
		way.by_number = way.by_number || (s->kind != LEVEL_IS && !s->distance);
	}
	way.by_number = way.by_number && !way.by_place;
	return way;
}

/* Where the mark of row i stands, in meters or setups; false where it is not known. */
static bool place_of(const struct paper_run *run, const struct way *way, size_t i, double *x)
{
	const struct level_row *row = &run->page.row[i];
	const struct level_sums *sums = &row->sums;
	const struct level_sight *s = &run->book.run.sight[i];
	size_t bs = row->line.bs_row;
	level_nm along;
	if (way->by_place && has_place(run, i, &along)) {
		*x = level_to_meters(along);
		return true;
	}
	if (way->by_place || (s->kind == LEVEL_IS && (way->by_number || !s->distance)))
		return false;
	*x = way->by_number ? sums->setups : level_to_meters(sums->bs_length + sums->fs_length);
	/* A further standing begins where the first one did; what is added so far is the setup. */
	if (s->kind == LEVEL_BS && row->line.standings > 0 && row->line.first_row > 0) {
		sums = &run->page.row[row->line.first_row - 1].sums;
		*x = way->by_number ? sums->setups
		                    : level_to_meters(sums->bs_length + sums->fs_length);
	} else if (s->kind == LEVEL_BS && row->line.standings > 0) {
		*x = 0;
	}
	if (s->kind == LEVEL_IS)
		*x += level_to_meters(run->book.run.sight[bs].distance + s->distance);
	return true;
}

static double height(const struct paper_run *run, level_nm value)
{
	return picture_unit(level_to_meters(value), run->settings.style.unit);
}

static double along_unit(const struct paper_run *run, const struct way *way, double x)
{
	return way->by_number ? x : picture_unit(x, run->settings.style.unit);
}

/* Samples of the last curve in the order of the way. */
static void sort_samples(struct picture *out)
{
	struct picture_samples *s = &out->samples[out->plot.curves - 1];
	for (size_t i = 1; i < s->count; i++)
		for (size_t j = i; j > 0 && s->x[j] < s->x[j - 1]; j--) {
			double x = s->x[j], y = s->y[j];
			s->x[j] = s->x[j - 1];
			s->y[j] = s->y[j - 1];
			s->x[j - 1] = x;
			s->y[j - 1] = y;
		}
}

/* Over places along a line the ground with all that was read on it; else the marks that carry. */
static void draw_marks(const struct paper_run *run, const struct way *way, struct picture *out)
{
	double x;
	picture_curve(out, way->by_place ? "ground" : "line", '*');
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_row *row = &run->page.row[i];
		const struct level_sight *s = &run->book.run.sight[i];
		bool start = row->line.start_row == i;
		if (!level_counted(s) || !row->has_elevation ||
		    !(start || level_carries(&run->book.run, &run->page, i) ||
		      (way->by_place && s->kind == LEVEL_IS)) ||
		    !place_of(run, way, i, &x))
			continue;
		picture_sample(out, along_unit(run, way, x), height(run, row->elevation));
	}
	if (way->by_place)
		sort_samples(out);
}

/* From the rod on the BS mark up to the line of sight, along it, and down the other rod. */
static void draw_sights(const struct paper_run *run, const struct way *way, struct picture *out)
{
	double from = 0, to;
	const struct level_row *open = NULL;
	picture_curve(out, "rod, line of sight, rod", '-');
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_row *row = &run->page.row[i];
		const struct level_sight *s = &run->book.run.sight[i];
		if (!level_counted(s) || !row->setup)
			continue;
		if (s->kind == LEVEL_BS) {
			open = row->has_hi && place_of(run, way, i, &from) ? row : NULL;
		} else if (s->kind == LEVEL_FS && open && place_of(run, way, i, &to)) {
			double hi = height(run, open->hi);
			picture_sample(out, along_unit(run, way, from),
			               height(run, open->elevation));
			picture_sample(out, along_unit(run, way, from), hi);
			picture_sample(out, along_unit(run, way, to), hi);
			picture_sample(out, along_unit(run, way, to),
			               height(run, open->hi - s->reading));
			picture_break(out);
		}
	}
}

/* Those of known elevation, or the others. */
static void draw_points(const struct paper_run *run, const struct way *way, bool known,
                        struct picture *out)
{
	double x;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_row *row = &run->page.row[i];
		const struct level_sight *s = &run->book.run.sight[i];
		char name[LEVEL_STATION_BYTES + 40];
		bool apart;
		if (!level_counted(s) || !row->has_elevation || !place_of(run, way, i, &x))
			continue;
		if (s->has_known != known || (s->kind == LEVEL_BS && row->line.start_row != i))
			continue;
		if (s->kind == LEVEL_FS && !level_carries(&run->book.run, &run->page, i))
			continue;
		apart = s->has_known && s->known != row->elevation;
		snprintf(name, sizeof name, "%s%s", s->station,
		         apart                 ? ", carried"
		         : s->has_known        ? ", known"
		         : s->kind == LEVEL_IS ? ", IS"
		                               : "");
		picture_point(out, along_unit(run, way, x), height(run, row->elevation), 0, name);
		if (apart) {
			snprintf(name, sizeof name, "%s, known", s->station);
			picture_point(out, along_unit(run, way, x), height(run, s->known), 0, name);
		}
	}
}

/* Where the instrument stood, by the distance of its BS. */
static void draw_setups(const struct paper_run *run, const struct way *way, struct picture *out)
{
	double x;
	if (way->by_place || level_page_sums(&run->page)->setups > SETUPS_SHOWN)
		return;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *s = &run->book.run.sight[i];
		char name[20];
		if (!level_counted(s) || s->kind != LEVEL_BS || !run->page.row[i].setup ||
		    !place_of(run, way, i, &x))
			continue;
		snprintf(name, sizeof name, "setup %d", run->page.row[i].setup);
		x += way->by_number ? 0.5 : level_to_meters(s->distance);
		picture_mark(out, along_unit(run, way, x), name);
	}
}

static void draw_grade(const struct paper_run *run, const struct way *way, struct picture *out)
{
	struct level_grade grade;
	double least = INFINITY, most = -INFINITY, x;
	if (!way->by_place || !*run->book.info.grade ||
	    !level_parse_grade(run->book.info.grade, LEVEL_M, &grade, NULL, NULL))
		return;
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) && place_of(run, way, i, &x)) {
			least = fmin(least, x);
			most = fmax(most, x);
		}
	picture_curve(out, "design grade", '=');
	picture_sample(out, along_unit(run, way, least),
	               height(run, level_grade_at(&grade, level_from_meters(least))));
	picture_sample(out, along_unit(run, way, most),
	               height(run, level_grade_at(&grade, level_from_meters(most))));
}

bool picture_profile(const struct paper_run *run, struct picture *out, struct fault *why)
{
	const struct level_line *line = level_page_line(&run->page);
	const char *unit = picture_unit_name(run->settings.style.unit);
	struct way way = way_of(run);
	if (line->end_row == SIZE_MAX)
		return fault_say(why, FAULT_EMPTY,
		                 "run %.160s has no complete setup yet: there is no profile",
		                 run->book.info.name);
	snprintf(out->title, sizeof out->title, "Profile of %.160s", run->book.info.name);
	picture_state(out, run);
	snprintf(out->x_name, sizeof out->x_name, way.by_number ? "setups" : "along, %s", unit);
	snprintf(out->y_name, sizeof out->y_name, "elevation, %s", unit);
	out->plot.points_name = "mark";
	out->one_scale = !way.by_number;
	draw_marks(run, &way, out);
	draw_sights(run, &way, out);
	draw_grade(run, &way, out);
	draw_points(run, &way, true, out);
	/* Names of many turning points would only run into each other. */
	if (level_page_sums(&run->page)->setups > SETUPS_SHOWN)
		out->named = out->plot.points;
	draw_points(run, &way, false, out);
	draw_setups(run, &way, out);
	if (way.by_number)
		picture_note(out, "distances are missing: the setups are drawn evenly");
	if (level_page_sums(&run->page)->setups > SETUPS_SHOWN)
		picture_note(
		    out,
		    "more than %d setups: only marks of known elevation are named, and where the "
		    "instrument stood is not drawn",
		    SETUPS_SHOWN);
	if (run->closing.start_assumed)
		picture_note(out, "the elevation of %s is not known: it is taken as 0",
		             run->closing.start_station);
	return true;
}
