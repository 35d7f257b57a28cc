#include "rodbook/work/next.h"

#include <stdio.h>
#include <string.h>

#include "rodbook/level/along.h"
#include "rodbook/level/time.h"
#include "rodbook/work/sight.h"

#define WATER_SET 10

enum level_method work_usual_method(const struct level_run *run, size_t at, enum level_kind kind)
{
	for (size_t i = at; i-- > 0;)
		if (level_counted(&run->sight[i]) && run->sight[i].kind == kind)
			return run->sight[i].method;
	return kind == LEVEL_OFF ? LEVEL_TAPE : LEVEL_ROD;
}

/* The last sight before index `at` that an instrument took; run->count where there is none. */
static size_t sight_before(const struct level_run *run, size_t at)
{
	do
		at = level_counted_before(run, at);
	while (at < run->count && run->sight[at].kind == LEVEL_OFF);
	return at;
}

/* The BS before index `at`; run->count where there is none. */
static size_t bs_before(const struct level_run *run, size_t at)
{
	while (at-- > 0)
		if (level_counted(&run->sight[at]) && run->sight[at].kind == LEVEL_BS)
			return at;
	return run->count;
}

static void usual_instrument(const struct work_next_given *given, size_t at,
                             char name[LEVEL_NAME_BYTES])
{
	size_t before = sight_before(&given->run->run, at);
	char planned[BOOK_VALUE_BYTES];
	if (before < given->run->run.count)
		strcpy(name, given->run->note[before].instrument);
	else if (given->chosen_instrument)
		strcpy(name, given->chosen_instrument);
	else if (given->figures && book_figure(given->figures, "level", planned))
		snprintf(name, LEVEL_NAME_BYTES, "%.*s", LEVEL_NAME_BYTES - 1, planned);
	else
		strcpy(name, given->last_instrument);
}

/* As the sight of that kind before was read, else as the plan reads the near mark and the far one.
 */
static enum level_method likely_method(const struct work_next_given *given, size_t at,
                                       enum level_kind kind)
{
	const struct level_run *run = &given->run->run;
	enum level_method method = work_usual_method(run, at, kind), planned;
	char value[BOOK_VALUE_BYTES];
	bool first = true;
	for (size_t i = 0; i < at; i++)
		first = first && !(level_counted(&run->sight[i]) && run->sight[i].kind == kind);
	if (first && given->figures && (kind == LEVEL_BS || kind == LEVEL_FS) &&
	    book_figure(given->figures, kind == LEVEL_BS ? "near_method" : "far_method", value) &&
	    level_method_find(value, &planned))
		method = planned;
	return method;
}

static void usual_rod(const struct book_run *book, size_t at, enum level_kind kind,
                      char name[LEVEL_NAME_BYTES])
{
	const struct level_run *run = &book->run;
	size_t before = sight_before(run, at), bs = bs_before(run, at), earlier;
	if (before == run->count)
		return;
	earlier = bs < run->count ? bs_before(run, bs) : run->count;
	if (kind == LEVEL_FS && earlier < run->count)
		before = earlier;
	strcpy(name, book->note[before].rod);
}

void work_paper_day(const struct book *book, const char *observed, const char *booked,
                    char day[BOOK_TIME_BYTES])
{
	char today[BOOK_TIME_BYTES], ignored[BOOK_TIME_BYTES];
	day[0] = '\0';
	if (*booked && book_complete_time(book, "", today, ignored, NULL) &&
	    strncmp(booked, today, 10) == 0 && strncmp(observed, today, 10) != 0)
		snprintf(day, BOOK_TIME_BYTES, "%.10s", observed);
}

void work_time_over(const char *held, const char *typed, char out[BOOK_TIME_BYTES])
{
	bool of_day = strlen(typed) == 5 && level_is_typed_time(typed) && level_is_time(held);
	snprintf(out, BOOK_TIME_BYTES, "%.10s%s%.28s", of_day ? held : "", of_day ? "T" : "",
	         typed);
}

static void usual_day(const struct work_next_given *given, size_t at, char time[BOOK_TIME_BYTES])
{
	size_t before = level_counted_before(&given->run->run, at);
	if (before < given->run->run.count)
		work_paper_day(given->book, given->run->note[before].time,
		               given->run->note[before].booked, time);
}

static void other_shore(const struct work_next_given *given, char station[LEVEL_STATION_BYTES])
{
	const struct level_run *run = &given->run->run;
	size_t bs = bs_before(run, run->count);
	const char *shore = NULL;
	if (run->kind != LEVEL_CROSSING || bs == run->count || run->sight[bs].again)
		return;
	for (size_t i = 0; i < given->water_count; i++) {
		const char *name = given->waters[i].station;
		if (*given->waters[i].struck || strcmp(name, run->sight[bs].station) == 0)
			continue;
		if (shore && strcmp(shore, name) != 0)
			return;
		shore = name;
	}
	if (shore)
		strcpy(station, shore);
}

/* Steps on from the last two places that differ, as `text` gives them by row, or NULL. */
static bool step_on(const struct book_run *run, size_t at, enum level_unit unit,
                    const char *text(const struct book_run *, size_t, enum level_unit), char *next,
                    size_t size)
{
	const char *last = NULL;
	next[0] = '\0';
	for (size_t i = at; i-- > 0;) {
		const char *place = level_counted(&run->run.sight[i]) ? text(run, i, unit) : NULL;
		if (!place)
			continue;
		if (!last)
			last = place;
		else if (strcmp(place, last) != 0)
			return level_next_along(place, last, unit, next, size);
	}
	return false;
}

/* A bare number may be the name of any point. */
static const char *named_place(const struct book_run *run, size_t i, enum level_unit unit)
{
	const char *station = run->run.sight[i].station;
	level_nm ignored;
	return strchr(station, '+') && level_parse_along(station, unit, &ignored, NULL) ? station
	                                                                                : NULL;
}

static const char *typed_place(const struct book_run *run, size_t i, enum level_unit unit)
{
	return *run->note[i].along && run->note[i].unit == unit ? run->note[i].along : NULL;
}

bool work_next_along(const struct book_run *run, size_t at, enum level_unit unit,
                     char along[BOOK_TYPED_BYTES])
{
	return step_on(run, at, unit, typed_place, along, BOOK_TYPED_BYTES);
}

void work_next_station(const struct work_next_given *given, size_t at, enum level_kind kind,
                       char station[LEVEL_STATION_BYTES])
{
	const struct level_run *run = &given->run->run;
	enum level_kind likely;
	level_suggest(run, at, &likely, station);
	if (kind == LEVEL_IS)
		step_on(given->run, at, given->style.unit, named_place, station,
		        LEVEL_STATION_BYTES);
	else if (kind != likely)
		station[0] = '\0';
	else if (kind == LEVEL_FS && at == run->count && given->far)
		strcpy(station, given->far->station);
	else if (kind == LEVEL_FS && at == run->count)
		other_shore(given, station);
	else if (kind == LEVEL_BS && given->mark_count == 1 &&
	         level_counted_from(run, 0) == run->count)
		strcpy(station, given->marks[0].name);
}

static bool water_is_read(const struct book_water *waters, size_t count, const char *station)
{
	for (size_t i = 0; i < count; i++)
		if (!*waters[i].struck && strcmp(waters[i].station, station) == 0)
			return true;
	return false;
}

/* The one mark whose water was not read; NULL where there is none, or more than one. */
static const char *mark_without_water(const struct book_water *waters, size_t water_count,
                                      const struct book_mark *marks, size_t mark_count)
{
	const char *found = NULL;
	for (size_t i = 0; i < mark_count; i++) {
		if (water_is_read(waters, water_count, marks[i].name))
			continue;
		if (found)
			return NULL;
		found = marks[i].name;
	}
	return found;
}

bool work_water_is_set(size_t at_once, int there)
{
	return at_once > 1 || there >= WATER_SET;
}

const char *work_next_water(const struct level_closing *closing, const struct book_water *waters,
                            size_t water_count, const struct book_mark *marks, size_t mark_count)
{
	const char *ends[] = {closing->start_station, closing->end_station}, *last = "", *other;
	for (int i = 0; i < 2; i++)
		if (ends[i] && !water_is_read(waters, water_count, ends[i]))
			return ends[i];
	for (size_t i = 0; i < water_count; i++)
		if (!*waters[i].struck)
			last = waters[i].station;
	if (!*last || (ends[0] && ends[1] && strcmp(ends[0], ends[1]) != 0))
		return last;
	other = mark_without_water(waters, water_count, marks, mark_count);
	return other ? other : last;
}

void work_next(const struct work_next_given *given, size_t at, struct book_draft *draft)
{
	const struct level_run *run = &given->run->run;
	size_t before = sight_before(run, at);
	enum level_kind kind;
	char station[LEVEL_STATION_BYTES];

	level_suggest(run, at, &kind, station);
	if (given->series && kind == LEVEL_FS && at == run->count)
		kind = LEVEL_IS;
	if (kind == LEVEL_FS && at == run->count && given->far) {
		*draft = *given->far;
		draft->used = false;
	} else {
		*draft =
		    (struct book_draft){.wires = before < run->count && run->sight[before].wires,
		                        .unit = given->style.unit,
		                        .distance_unit = given->style.distance,
		                        .focus = WORK_STATION};
		strcpy(draft->kind, level_kind_name(kind));
		strcpy(draft->method, level_method_name(likely_method(given, at, kind)));
		usual_rod(given->run, at, kind, draft->rod);
	}
	work_next_station(given, at, kind, draft->station);
	usual_instrument(given, at, draft->instrument);
	usual_day(given, at, draft->time);
}
