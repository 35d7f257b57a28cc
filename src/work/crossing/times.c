#include "rodbook/work/times.h"

#include <stdlib.h>
#include <string.h>

#include "rodbook/book/gauge.h"
#include "rodbook/level/time.h"
#include "rodbook/level/warnings.h"

#include "work/crossing/since.h"

/* Two readings and the seconds between them. */
struct pair {
	const char *one, *other; /* NULL: there is none */
	int64_t apart;
};

static struct pair pair_of(const char *one, const char *other)
{
	struct pair out = {0};
	if (!level_time_between(one, other, &out.apart))
		return out;
	return (struct pair){one, other, out.apart < 0 ? -out.apart : out.apart};
}

static struct pair wider(struct pair a, struct pair b)
{
	return !a.one || (b.one && b.apart > a.apart) ? b : a;
}

static struct pair nearer(struct pair a, struct pair b)
{
	return !a.one || (b.one && b.apart < a.apart) ? b : a;
}

static void put(const struct pair *pair, char one[BOOK_TIME_BYTES], char other[BOOK_TIME_BYTES])
{
	if (!pair->one || pair->apart <= WORK_APART_SECONDS)
		return;
	strcpy(one, pair->one);
	strcpy(other, pair->other);
}

static bool counts_at(const struct book_water *water, const char *station)
{
	return !*water->struck && strcmp(water->station, station) == 0;
}

static struct pair nearest_at(const struct book_water *list, size_t count, const char *station,
                              const char *time)
{
	struct pair out = {0};
	for (size_t i = 0; i < count; i++)
		if (counts_at(&list[i], station))
			out = nearer(out, pair_of(time, list[i].time));
	return out;
}

static void hold_waters(const struct book_water *list, size_t count, const char *start,
                        const char *end, struct work_times *out)
{
	struct pair widest = {0}, back;
	if (!start || !end || strcmp(start, end) == 0)
		return;
	for (size_t i = 0; i < count; i++) {
		if (counts_at(&list[i], start))
			widest = wider(widest, nearest_at(list, count, end, list[i].time));
		if (!counts_at(&list[i], end))
			continue;
		back = nearest_at(list, count, start, list[i].time);
		widest = wider(widest, (struct pair){back.other, back.one, back.apart});
	}
	put(&widest, out->water_start, out->water_end);
}

static void hold_airs(const struct book_air *list, size_t count, const struct book_terms *terms,
                      const char *sight, struct work_times *out)
{
	struct pair widest = {0};
	for (size_t i = 0; i < count; i++)
		if (air_counts(terms, &list[i]))
			widest = wider(widest, pair_of(sight, list[i].time));
	put(&widest, out->air_sight, out->air);
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

static void put_odd(struct work_times *out, enum work_observed observed, const char *station,
                    const char *time, const char *before, bool ahead)
{
	if (*out->back)
		return;
	out->observed = observed;
	out->ahead = ahead;
	strcpy(out->back, time);
	strcpy(out->before, before);
	strcpy(out->back_station, station);
}

static void hold_order(const struct book_run *run, struct work_times *out)
{
	const char *before = "";
	for (size_t i = 0; i < run->run.count; i++) {
		const struct book_kept *note = &run->note[i];
		unsigned warned;
		bool ahead;
		if (!level_counted(&run->run.sight[i]))
			continue;
		warned = work_time_warnings(before, note->time, note->booked);
		ahead = (warned & 1u << LEVEL_WARN_TIME_BACK) == 0;
		if (warned)
			put_odd(out, WORK_OBSERVED_SIGHT, run->run.sight[i].station, note->time,
			        ahead ? note->booked : before, ahead);
		before = *note->time ? note->time : before;
	}
}

/* What is no sight: held to the moment at which it was typed, if it counts. */
static void hold_typed(struct work_times *out, enum work_observed observed, const char *station,
                       const char *time, const char *booked, const char *struck)
{
	if (!*struck && work_time_warnings("", time, booked))
		put_odd(out, observed, station, time, booked, true);
}

static bool hold_gauges(struct book *book, const struct book_run *run, struct work_times *out,
                        struct fault *why)
{
	struct book_gauge *list;
	size_t count;
	if (!book_gauges(book, run->info.id, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		hold_typed(out, WORK_OBSERVED_GAUGE, list[i].station, list[i].time, list[i].booked,
		           list[i].struck);
	free(list);
	return true;
}

static bool hold_crossing(struct book *book, const struct book_run *run,
                          const struct book_terms *terms, struct work_times *out, struct fault *why)
{
	struct found found = find(run);
	struct book_water *waters = NULL;
	struct book_air *airs = NULL;
	size_t water_count, air_count;
	bool ok = book_waters(book, run->info.id, &waters, &water_count, why) &&
	          book_airs(book, run->info.id, &airs, &air_count, why);
	if (ok) {
		hold_waters(waters, water_count, found.start, found.end, out);
		if (found.sight)
			hold_airs(airs, air_count, terms, found.sight, out);
		for (size_t i = 0; i < water_count; i++)
			hold_typed(out, WORK_OBSERVED_WATER, waters[i].station, waters[i].time,
			           waters[i].booked, waters[i].struck);
		for (size_t i = 0; i < air_count; i++)
			hold_typed(out, WORK_OBSERVED_AIR, "", airs[i].time, airs[i].booked,
			           airs[i].struck);
	}
	free(waters);
	free(airs);
	return ok;
}

bool work_times(struct book *book, const struct book_run *run, const struct book_terms *terms,
                struct work_times *out, struct fault *why)
{
	*out = (struct work_times){0};
	hold_order(run, out);
	return (run->run.kind != LEVEL_CROSSING || hold_crossing(book, run, terms, out, why)) &&
	       hold_gauges(book, run, out, why);
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

bool work_sight_times(const struct book_run *run, const char **first, const char **last)
{
	*first = *last = NULL;
	for (size_t i = 0; i < run->run.count; i++) {
		const char *time = run->note[i].time;
		if (!level_counted(&run->run.sight[i]) || !*time)
			continue;
		if (!*first || strcmp(time, *first) < 0)
			*first = time;
		if (!*last || strcmp(time, *last) > 0)
			*last = time;
	}
	return *first;
}
