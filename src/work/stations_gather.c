/* What the runs of a book found for its stations, before it is compared. */
#include "work/stations_gather.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/book/crossing.h"
#include "rodbook/level/time.h"

/* While runs are read. */
struct gather {
	struct work_stations *out;
	const char *only;
	size_t rooms[3]; /* of stations, determinations, moved marks */
};

/* Room for one more; NULL where memory is short. */
static void *grown(void *list, size_t count, size_t *room, size_t size)
{
	void *more;
	if (count < *room)
		return list;
	more = realloc(list, 2 * (*room + 16) * size);
	if (more)
		*room = 2 * (*room + 16);
	return more;
}

static bool wanted(const struct gather *g, const char *name)
{
	return !g->only || strcmp(g->only, name) == 0;
}

static bool add_station(struct gather *g, const struct work_station *station)
{
	struct work_stations *out = g->out;
	void *more = grown(out->station, out->count, &g->rooms[0], sizeof *out->station);
	if (!more)
		return false;
	out->station = more;
	out->station[out->count++] = *station;
	return true;
}

static bool add_name(struct gather *g, const char *name)
{
	struct work_station station = {0};
	snprintf(station.name, sizeof station.name, "%s", name);
	return add_station(g, &station);
}

static bool add_determination(struct gather *g, const struct work_determination *d)
{
	struct work_stations *out = g->out;
	void *more = grown(out->determination, out->determinations, &g->rooms[1],
	                   sizeof *out->determination);
	if (!more)
		return false;
	out->determination = more;
	out->determination[out->determinations++] = *d;
	return true;
}

static bool add_moved(struct gather *g, const struct book_run *run, const struct book_moved *moved)
{
	struct work_stations *out = g->out;
	size_t room = g->rooms[2];
	void *more = grown(out->moved, out->moved_count, &g->rooms[2], sizeof *out->moved), *names;
	if (!more)
		return false;
	out->moved = more;
	names = grown(out->moved_run, out->moved_count, &room, sizeof *out->moved_run);
	if (!names)
		return false;
	out->moved_run = names;
	out->moved[out->moved_count] = *moved;
	strcpy(out->moved_run[out->moved_count++], run->info.name);
	return true;
}

static bool is_station(const struct level_sight *sight)
{
	return level_counted(sight) && (sight->has_known || !level_is_passing(sight->station));
}

/* A run as it is gathered. */
struct reduced {
	const struct book_run *book;
	const struct level_page *page;
	const struct level_terms *terms;
};

/* A sight on a station, and what it determines, if anything. */
struct visit {
	const char *station; /* the run's own text */
	size_t row;
	bool has;
	struct level_determination is;
};

static int by_station(const void *a, const void *b)
{
	const struct visit *x = a, *y = b;
	int order = strcmp(x->station, y->station);
	return order ? order : x->row < y->row ? -1 : 1;
}

/* Seconds of a sight's time; where that is not known, of the run's. */
static int64_t moment(const char *time, const char *begun)
{
	int64_t seconds;
	if (level_time_seconds(time, &seconds) || level_time_seconds(begun, &seconds))
		return seconds;
	return level_is_time(time) ? (int64_t)level_day_number(time) * 86400 : INT64_MIN;
}

static bool take_visit(struct gather *g, const struct reduced *run, const struct visit *visit,
                       const struct visit *before)
{
	const struct level_run *sights = &run->book->run;
	const struct level_sight *start = &sights->sight[level_page_line(run->page)->start_row];
	const struct level_determination *is = &visit->is;
	struct work_determination d = {.row = visit->row, .before_row = SIZE_MAX};
	const char *time = run->book->note[visit->row].time;
	strcpy(d.station, visit->station);
	strcpy(d.run, run->book->info.name);
	d.run_id = run->book->info.id;
	strcpy(d.start, start->station);
	strcpy(d.time, time);
	d.start_known = start->has_known;
	d.how = is->how;
	d.standings = is->standings;
	d.elevation = is->elevation;
	d.corrected = is->corrected;
	d.path_variance = level_path_variance(&is->path, run->terms);
	d.start_u = start->has_known ? level_to_meters(start->known_u) : 0;
	d.u = sqrt(d.path_variance + d.start_u * d.start_u);
	d.order = moment(time, run->book->info.time);
	if (before) {
		d.before_row = before->row;
		d.within_u =
		    sqrt(level_path_variance_between(&before->is.path, &is->path, run->terms));
	}
	return add_determination(g, &d);
}

static bool take_visits(struct gather *g, const struct reduced *run, struct visit *visit,
                        size_t count)
{
	const struct visit *before = NULL;
	if (count)
		qsort(visit, count, sizeof *visit, by_station);
	for (size_t i = 0; i < count; i++) {
		if (i == 0 || strcmp(visit[i - 1].station, visit[i].station) != 0) {
			before = NULL;
			if (!add_name(g, visit[i].station))
				return false;
		}
		if (!visit[i].has)
			continue;
		if (!take_visit(g, run, &visit[i], before))
			return false;
		before = &visit[i];
	}
	return true;
}

static bool take_rows(struct gather *g, const struct reduced *run)
{
	const struct level_run *sights = &run->book->run;
	struct visit *visit = malloc((sights->count + 1) * sizeof *visit);
	size_t count = 0;
	bool ok = visit != NULL;
	for (size_t i = 0; ok && i < sights->count; i++) {
		const struct level_sight *sight = &sights->sight[i];
		if (!is_station(sight) || !wanted(g, sight->station))
			continue;
		visit[count] = (struct visit){.station = sight->station, .row = i};
		visit[count].has =
		    level_determine(sights, run->page, run->terms, i, &visit[count].is);
		count++;
	}
	ok = ok && take_visits(g, run, visit, count);
	free(visit);
	for (size_t i = 0; ok && i < run->book->moved_count; i++)
		if (wanted(g, run->book->moved[i].mark))
			ok = add_moved(g, run->book, &run->book->moved[i]);
	return ok;
}

static bool take_run(struct gather *g, struct book *book, const struct book_run_info *info,
                     struct fault *why)
{
	struct book_run run;
	struct book_terms terms;
	struct level_page page = {0};
	struct fault words = {0};
	bool ok;
	if (info->kind == LEVEL_CROSSING) {
		g->out->crossings++;
		return true;
	}
	if (!book_load(book, info->id, &run, &words)) {
		if (words.kind != FAULT_SPOILED)
			return fault_say(why, words.kind, "%s", words.text);
		g->out->unreadable++;
		return true;
	}
	ok = book_run_terms(book, &run, &terms, why);
	if (ok && (!level_reduce(&run.run, 0, &terms.terms, &page) ||
	           !take_rows(g, &(struct reduced){&run, &page, &terms.terms})))
		ok = fault_memory(why);
	level_page_free(&page);
	book_run_free(&run);
	return ok;
}

static bool take_runs(struct gather *g, struct book *book, struct fault *why)
{
	struct book_run_info *runs;
	size_t count;
	bool ok = true;
	if (!(g->only ? book_runs_at(book, g->only, &runs, &count, why)
	              : book_runs(book, &runs, &count, why)))
		return false;
	for (size_t i = 0; ok && i < count; i++)
		ok = take_run(g, book, &runs[i], why);
	free(runs);
	return ok;
}

static bool take_marks(struct gather *g, struct book *book, struct fault *why)
{
	struct book_mark *marks;
	size_t count;
	bool ok = true;
	if (!book_marks(book, &marks, &count, why))
		return false;
	for (size_t i = 0; ok && i < count; i++) {
		struct work_station station = {.has_given = true,
		                               .given = marks[i].elevation,
		                               .given_u = level_to_meters(marks[i].u)};
		strcpy(station.name, marks[i].name);
		strcpy(station.source, marks[i].source);
		ok = !wanted(g, marks[i].name) || add_station(g, &station);
	}
	free(marks);
	return ok || fault_memory(why);
}

bool stations_gather(struct book *book, const char *only, struct work_stations *out,
                     struct fault *why)
{
	struct gather g = {.out = out, .only = only};
	*out = (struct work_stations){0};
	return take_marks(&g, book, why) && take_runs(&g, book, why);
}
