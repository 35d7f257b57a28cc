/* What the runs of a book found for its stations, compared. */
#include "work/stations_gather.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "level/wide.h"

const char *work_station_state_name(enum work_station_state state)
{
	static const char *const names[] = {"agrees", "differs", "single"};
	return names[state];
}

const char *work_determination_how(const struct work_determination *d)
{
	return d->standings > 1 ? "standings" : level_kind_name(d->how);
}

/* By name, the one with a given elevation first. */
static int by_name(const void *a, const void *b)
{
	const struct work_station *x = a, *y = b;
	int order = strcmp(x->name, y->name);
	return order ? order : y->has_given - x->has_given;
}

static void keep_each_once(struct work_stations *out)
{
	size_t kept = 0;
	qsort(out->station, out->count, sizeof *out->station, by_name);
	for (size_t i = 0; i < out->count; i++)
		if (kept == 0 || strcmp(out->station[kept - 1].name, out->station[i].name) != 0)
			out->station[kept++] = out->station[i];
	out->count = kept;
}

/* By station and time; those of one time as the runs were begun. */
static int by_time(const void *a, const void *b)
{
	const struct work_determination *x = a, *y = b;
	int order = strcmp(x->station, y->station);
	if (order)
		return order;
	if (x->order != y->order)
		return x->order < y->order ? -1 : 1;
	if (x->run_id != y->run_id)
		return x->run_id < y->run_id ? -1 : 1;
	return x->row < y->row ? -1 : x->row > y->row;
}

bool stations_go_together(const struct work_determination *a, const struct work_determination *b)
{
	return a->start_known == b->start_known &&
	       (a->start_known || strcmp(a->start, b->start) == 0);
}

double stations_variance(const struct work_determination *a, const struct work_determination *b)
{
	double variance = a->path_variance + b->path_variance;
	if (strcmp(a->start, b->start) != 0)
		variance += a->start_u * a->start_u + b->start_u * b->start_u;
	return variance;
}

static double between_u(const struct work_determination *before, const struct work_determination *d)
{
	if (before->run_id == d->run_id && d->before_row == before->row)
		return d->within_u;
	return sqrt(stations_variance(before, d));
}

static void compare(const struct work_station *station, const struct work_determination *before,
                    struct work_determination *d)
{
	bool differs;
	if (station->has_given && d->start_known) {
		/* Of a loop that comes back to its start the given elevation is shared. */
		bool shared = strcmp(d->start, d->station) == 0;
		d->has_given = true;
		d->less_given = d->elevation - station->given;
		d->given_u = shared ? sqrt(d->path_variance) : hypot(d->u, station->given_u);
	}
	if (before) {
		d->has_before = true;
		d->less_before = d->elevation - before->elevation;
		d->before_u = between_u(before, d);
	}
	differs = (d->has_given && level_differs(d->less_given, d->given_u)) ||
	          (d->has_before && level_differs(d->less_before, d->before_u));
	d->agrees = differs ? LEVEL_NO : d->has_given || d->has_before ? LEVEL_YES : LEVEL_UNKNOWN;
}

static void compare_all(struct work_stations *out, struct work_station *station)
{
	struct work_determination *list = &out->determination[station->first];
	station->state = WORK_STATION_SINGLE;
	for (size_t i = 0; i < station->count; i++) {
		const struct work_determination *before = NULL;
		for (size_t j = i; !before && j-- > 0;)
			if (stations_go_together(&list[j], &list[i]))
				before = &list[j];
		compare(station, before, &list[i]);
		if (list[i].agrees == LEVEL_NO)
			station->state = WORK_STATION_DIFFERS;
		else if (list[i].agrees == LEVEL_YES && station->state == WORK_STATION_SINGLE)
			station->state = WORK_STATION_AGREES;
	}
}

static void sum_up(struct work_stations *out, struct work_station *station)
{
	const struct work_determination *list, *end, *last;
	level_nm least, most;
	level_wide sum = 0;
	if (!station->count)
		return;
	list = &out->determination[station->first];
	end = list + station->count;
	last = end - 1;
	while (last > list && !last->start_known)
		last--;
	if (!last->start_known)
		last = end - 1;
	station->latest = least = most = last->elevation;
	for (const struct work_determination *d = list; d < end; d++) {
		if (!stations_go_together(d, last))
			continue;
		sum += d->elevation;
		station->compared++;
		least = d->elevation < least ? d->elevation : least;
		most = d->elevation > most ? d->elevation : most;
	}
	station->mean = level_round_ratio(sum, (int64_t)station->compared);
	station->spread = most - least;
}

static void sort_out(struct work_stations *out)
{
	size_t at = 0;
	if (out->count)
		keep_each_once(out);
	if (out->determinations)
		qsort(out->determination, out->determinations, sizeof *out->determination, by_time);
	for (size_t i = 0; i < out->count; i++) {
		struct work_station *station = &out->station[i];
		station->first = at;
		while (at < out->determinations &&
		       strcmp(out->determination[at].station, station->name) == 0)
			at++;
		station->count = at - station->first;
		compare_all(out, station);
		sum_up(out, station);
	}
}

bool work_stations(struct book *book, const char *only, struct work_stations *out,
                   struct fault *why)
{
	struct book_settings settings;
	*out = (struct work_stations){0};
	if (!book_settings(book, &settings, why) || !stations_gather(book, only, out, why))
		return false;
	out->style = settings.style;
	sort_out(out);
	if (only && !out->count)
		return fault_say(why, FAULT_INPUT,
		                 "there is no station %.160s in this book; its stations: rodbook "
		                 "stations BOOK",
		                 only);
	return true;
}

void work_stations_free(struct work_stations *stations)
{
	free(stations->station);
	free(stations->determination);
	free(stations->moved);
	free(stations->moved_run);
	*stations = (struct work_stations){0};
}
