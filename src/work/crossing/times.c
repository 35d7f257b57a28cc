#include "rodbook/work/times.h"

#include <stdlib.h>
#include <string.h>

#include "rodbook/level/time.h"
#include "rodbook/level/warnings.h"

/* Two readings of a list of each, as near to each other in time as any. */
struct nearest {
	bool found;
	int64_t apart;
	const char *one, *other;
};

static void hold(struct nearest *n, const char *one, const char *other)
{
	int64_t apart;
	/* Near enough is near enough: of many readings the first pairs tell. */
	if ((n->found && n->apart <= WORK_APART_SECONDS) || !level_time_between(one, other, &apart))
		return;
	apart = apart < 0 ? -apart : apart;
	if (n->found && n->apart <= apart)
		return;
	*n = (struct nearest){true, apart, one, other};
}

static void put(const struct nearest *n, char one[BOOK_TIME_BYTES], char other[BOOK_TIME_BYTES])
{
	if (!n->found || n->apart <= WORK_APART_SECONDS)
		return;
	strcpy(one, n->one);
	strcpy(other, n->other);
}

static void hold_waters(const struct book_water *list, size_t count, const char *start,
                        const char *end, struct work_times *out)
{
	struct nearest n = {0};
	if (!start || !end || strcmp(start, end) == 0)
		return;
	for (size_t i = 0; i < count; i++)
		for (size_t j = 0; j < count; j++)
			if (!*list[i].struck && !*list[j].struck &&
			    strcmp(list[i].station, start) == 0 &&
			    strcmp(list[j].station, end) == 0)
				hold(&n, list[i].time, list[j].time);
	put(&n, out->water_start, out->water_end);
}

static void hold_airs(const struct book_air *list, size_t count, const char *sight,
                      struct work_times *out)
{
	struct nearest n = {0};
	for (size_t i = 0; i < count; i++)
		if (!*list[i].struck)
			hold(&n, sight, list[i].time);
	put(&n, out->air_sight, out->air);
}

/* First and last mark of the line, and the time of the longest sight. */
struct found {
	const char *start, *end, *sight;
};

static struct found find(const struct book_run *run)
{
	struct found out = {0};
	level_nm longest = 0;
	for (size_t i = 0; i < run->run.count; i++) {
		const struct level_sight *sight = &run->run.sight[i];
		if (!level_counted(sight))
			continue;
		out.start = out.start ? out.start : sight->station;
		if (sight->kind == LEVEL_FS)
			out.end = sight->station;
		if (sight->distance > longest) {
			longest = sight->distance;
			out.sight = run->note[i].time;
		}
	}
	return out;
}

static void hold_order(const struct book_run *run, struct work_times *out)
{
	const char *before = "";
	for (size_t i = 0; i < run->run.count; i++) {
		const struct book_note *note = &run->note[i];
		unsigned warned;
		if (!level_counted(&run->run.sight[i]))
			continue;
		warned = work_time_warnings(before, note->time, note->booked);
		if (warned) {
			out->ahead = (warned & 1u << LEVEL_WARN_TIME_BACK) == 0;
			strcpy(out->back, note->time);
			strcpy(out->before, out->ahead ? note->booked : before);
			strcpy(out->back_station, run->run.sight[i].station);
			return;
		}
		before = *note->time ? note->time : before;
	}
}

bool work_times(struct book *book, const struct book_run *run, struct work_times *out,
                struct fault *why)
{
	struct found found = find(run);
	struct book_water *waters = NULL;
	struct book_air *airs = NULL;
	size_t water_count, air_count;
	bool ok = true;
	*out = (struct work_times){0};
	hold_order(run, out);
	if (run->run.kind != LEVEL_CROSSING)
		return true;
	ok = book_waters(book, run->info.id, &waters, &water_count, why) &&
	     book_airs(book, run->info.id, &airs, &air_count, why);
	if (ok) {
		hold_waters(waters, water_count, found.start, found.end, out);
		if (found.sight)
			hold_airs(airs, air_count, found.sight, out);
	}
	free(waters);
	free(airs);
	return ok;
}

unsigned work_time_warnings(const char *before, const char *time, const char *now)
{
	unsigned out = 0;
	int64_t apart;
	if (level_time_between(before, time, &apart) && apart < 0)
		out |= 1u << LEVEL_WARN_TIME_BACK;
	if (level_time_between(time, now, &apart) && apart < 0)
		out |= 1u << LEVEL_WARN_TIME_AHEAD;
	return out;
}
