/* Gauge readings against what their runs found. */
#include "rodbook/work/gauges.h"

#include <stdlib.h>
#include <string.h>

#include "rodbook/level/time.h"
#include "work/held.h"

/* How far a sight is from a time, seconds; INT64_MAX where one of them is not known. */
static int64_t apart(const char *sight, const char *time)
{
	int64_t a, b;
	if (!level_time_seconds(sight, &a) || !level_time_seconds(time, &b))
		return INT64_MAX;
	return a < b ? b - a : a - b;
}

void work_gauge_find(const struct work_run *run, struct work_gauge *out)
{
	const struct book_gauge *gauge = &out->gauge;
	int64_t nearest = INT64_MAX;
	out->lack = WORK_GAUGE_NO_SIGHT;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		int64_t off = apart(run->book.note[i].time, gauge->time);
		if (!level_counted(sight) || sight->kind == LEVEL_BS ||
		    strcmp(sight->station, gauge->station) != 0 || off > nearest)
			continue;
		nearest = off;
		out->lack = run->page.row[i].has_elevation && !run->closing.start_assumed
		                ? WORK_GAUGE_WHOLE
		                : WORK_GAUGE_NO_ELEVATION;
		out->found = run->page.row[i].elevation;
	}
	if (out->lack != WORK_GAUGE_WHOLE)
		out->found = 0;
	out->difference = out->lack == WORK_GAUGE_WHOLE ? out->found - gauge->reading : 0;
}

const char *work_gauge_lack_name(enum work_gauge_lack lack)
{
	static const char *const names[] = {"", "sight", "elevation", "run"};
	return names[lack];
}

bool gauges_take(struct book *book, struct work_run *run, struct fault *why)
{
	struct book_gauge *list;
	if (!book_gauges(book, run->book.info.id, &list, &run->gauge_count, why))
		return false;
	run->gauges = calloc(run->gauge_count + 1, sizeof *run->gauges);
	for (size_t i = 0; run->gauges && i < run->gauge_count; i++) {
		run->gauges[i].gauge = list[i];
		strcpy(run->gauges[i].run, run->book.info.name);
		work_gauge_find(run, &run->gauges[i]);
	}
	free(list);
	return run->gauges || fault_memory(why);
}

/* Those of one run behind those of the others. */
static bool add_run(struct book *book, const struct book_run_info *info, struct work_gauges *out,
                    struct fault *why)
{
	struct work_run run = {0};
	struct book_gauge *list;
	struct work_gauge *more;
	struct fault words = {0};
	size_t count;
	bool readable, ok = true;
	if (!book_gauges(book, info->id, &list, &count, why))
		return false;
	more = realloc(out->list, (out->count + count + 1) * sizeof *more);
	if (!more) {
		free(list);
		return fault_memory(why);
	}
	out->list = more;
	readable = count && work_run_load_listed(book, info, &run, &words);
	if (count && !readable && words.kind != FAULT_SPOILED)
		ok = fault_say(why, words.kind, "%s", words.text);
	for (size_t i = 0; ok && i < count; i++) {
		struct work_gauge *one = &more[out->count++];
		*one = (struct work_gauge){.gauge = list[i], .lack = WORK_GAUGE_NO_RUN};
		strcpy(one->run, info->name);
		if (readable)
			*one = run.gauges[i];
	}
	out->unreadable += count && !readable;
	work_run_free(&run);
	free(list);
	return ok;
}

/* Times of one zone are in the order of their texts; those of several by what they say. */
static int by_station(const void *a, const void *b)
{
	const struct work_gauge *x = a, *y = b;
	int order = strcmp(x->gauge.station, y->gauge.station);
	int64_t s, t;
	if (!order && level_time_seconds(x->gauge.time, &s) &&
	    level_time_seconds(y->gauge.time, &t))
		order = (s > t) - (s < t);
	return order ? order : (x->gauge.id > y->gauge.id) - (x->gauge.id < y->gauge.id);
}

bool work_gauges(struct book *book, struct work_gauges *out, struct fault *why)
{
	struct book_run_info *runs;
	struct book_settings settings;
	size_t count;
	bool ok = true;
	*out = (struct work_gauges){0};
	if (!book_settings(book, &settings, why) || !book_runs(book, &runs, &count, why))
		return false;
	out->style = settings.style;
	for (size_t i = 0; ok && i < count; i++)
		ok = add_run(book, &runs[i], out, why);
	free(runs);
	if (ok && out->count)
		qsort(out->list, out->count, sizeof *out->list, by_station);
	return ok;
}

void work_gauges_free(struct work_gauges *gauges)
{
	free(gauges->list);
	*gauges = (struct work_gauges){0};
}
