#include "report/picture/way.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool own_place(const struct work_run *run, size_t i, double *x)
{
	const struct book_kept *note = &run->book.note[i];
	level_nm along;
	if (!*note->along || !level_parse_along(note->along, note->unit, &along, NULL))
		return false;
	*x = level_to_meters(along);
	return true;
}

struct named {
	const char *station;
	size_t row;
};

static int by_name(const void *a, const void *b)
{
	const struct named *one = a, *other = b;
	int order = strcmp(one->station, other->station);
	return order ? order : one->row < other->row ? -1 : one->row > other->row;
}

/* Gives the places of one station's sights to those that have none. */
static void share_place(const struct work_run *run, struct way *way, const struct named *named,
                        size_t count)
{
	double carried = NAN, any = NAN;
	for (size_t i = 0; i < count; i++) {
		double x = way->place[named[i].row];
		any = isnan(any) ? x : any;
		if (run->book.run.sight[named[i].row].kind != LEVEL_IS)
			carried = isnan(carried) ? x : carried;
	}
	for (size_t i = 0; i < count; i++) {
		double *x = &way->place[named[i].row];
		bool is = run->book.run.sight[named[i].row].kind == LEVEL_IS;
		*x = !isnan(*x) ? *x : !isnan(carried) ? carried : is ? (double)NAN : any;
	}
}

/* Of each counted sight its own place, or that of its station. */
static bool find_places(const struct work_run *run, struct way *way, struct fault *why)
{
	size_t count = run->book.run.count, used = 0;
	struct named *named = calloc(count + 1, sizeof *named);
	way->place = calloc(count + 1, sizeof *way->place);
	if (!named || !way->place) {
		free(named);
		return fault_memory(why);
	}
	for (size_t i = 0; i < count; i++) {
		way->place[i] = NAN;
		if (!level_counted(&run->book.run.sight[i]))
			continue;
		own_place(run, i, &way->place[i]);
		named[used++] = (struct named){run->book.run.sight[i].station, i};
	}
	qsort(named, used, sizeof *named, by_name);
	for (size_t from = 0, to; from < used; from = to) {
		for (to = from; to < used && !strcmp(named[from].station, named[to].station);)
			to++;
		share_place(run, way, named + from, to - from);
	}
	free(named);
	return true;
}

bool way_of(const struct work_run *run, struct way *out, struct fault *why)
{
	const struct level_run *sights = &run->book.run;
	size_t marks = 0, placed = 0, ground = 0, placed_ground = 0;
	bool distances = true;
	*out = (struct way){0};
	if (!find_places(run, out, why))
		return false;
	for (size_t i = 0; i < sights->count; i++) {
		const struct level_sight *s = &sights->sight[i];
		bool has = !isnan(out->place[i]);
		if (!level_counted(s) || !run->page.row[i].setup)
			continue;
		if (s->kind == LEVEL_IS) {
			ground++;
			placed_ground += has;
			continue;
		}
		distances = distances && s->distance;
		if (s->kind == LEVEL_FS || run->page.row[i].line.start_row == i) {
			marks++;
			placed += has;
		}
	}
	out->by = placed == marks || (ground && 2 * placed_ground >= ground) ? WAY_PLACES
	          : distances                                                ? WAY_DISTANCES
	                                                                     : WAY_SETUPS;
	return true;
}

void way_free(struct way *way)
{
	free(way->place);
	*way = (struct way){0};
}

bool way_is_mark(const struct work_run *run, size_t i)
{
	const struct level_sight *s = &run->book.run.sight[i];
	if (!level_counted(s) || !run->page.row[i].has_elevation)
		return false;
	return s->kind == LEVEL_IS || run->page.row[i].line.start_row == i ||
	       level_carries(&run->book.run, &run->page, i);
}

static double summed(const struct level_sums *sums, const struct way *way)
{
	return way->by == WAY_SETUPS ? sums->setups
	                             : level_to_meters(sums->bs_length + sums->fs_length);
}

bool way_place(const struct work_run *run, const struct way *way, size_t i, double *x)
{
	const struct level_row *row = &run->page.row[i];
	const struct level_sight *s = &run->book.run.sight[i];
	size_t bs = row->line.bs_row;
	if (way->by == WAY_PLACES) {
		*x = way->place[i];
		return !isnan(*x);
	}
	if (s->kind == LEVEL_IS && (way->by == WAY_SETUPS || !s->distance))
		return false;
	*x = summed(&row->sums, way);
	/* A further standing begins where the first one did; what is added so far is the setup. */
	if (s->kind == LEVEL_BS && row->line.standings > 0)
		*x = row->line.first_row > 0
		         ? summed(&run->page.row[row->line.first_row - 1].sums, way)
		         : 0;
	if (s->kind == LEVEL_IS)
		*x += level_to_meters(run->book.run.sight[bs].distance + s->distance);
	return true;
}

bool way_instrument(const struct work_run *run, const struct way *way, size_t bs, size_t fs,
                    double *x)
{
	double back = level_to_meters(run->book.run.sight[bs].distance), ahead, to;
	if (!way_place(run, way, bs, x))
		return false;
	if (way->by != WAY_PLACES) {
		*x += way->by == WAY_SETUPS ? 0.5 : back;
		return way->by == WAY_SETUPS || back > 0;
	}
	/* The axis shows places: the level is put between the two rods, in proportion to the
	 * lengths of its sights. */
	if (fs == SIZE_MAX || !way_place(run, way, fs, &to))
		return false;
	ahead = level_to_meters(run->book.run.sight[fs].distance);
	*x += (to - *x) * back / (back + ahead);
	return back > 0 && ahead > 0;
}
