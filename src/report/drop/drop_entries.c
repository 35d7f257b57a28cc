#include "report/drop/drop_entries.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "report/lines.h"
#include "report/page/banks.h"
#include "rodbook/work/water.h"
#include "text/wrap.h"

/* Seconds of a time as the book writes it, 2026-05-09T08:05:00+02:00. */
static time_t seconds_of(const char *text)
{
	struct tm at = {0};
	const char *zone = strptime(text, "%Y-%m-%dT%H:%M:%S", &at);
	long hours, minutes = 0;
	char *end;
	if (!zone)
		return 0;
	hours = strtol(zone, &end, 10);
	if (*end == ':')
		minutes = strtol(end + 1, NULL, 10);
	return timegm(&at) - hours * 3600 - (*zone == '-' ? -minutes : minutes) * 60;
}

static bool since(const char *struck, const char *sealed)
{
	return *struck && *sealed && seconds_of(struck) >= seconds_of(sealed);
}

static void put_struck(FILE *out, bool *any, const char *what, const char *reading,
                       const char *struck, const char *why)
{
	if (!*any)
		fprintf(out, "struck since it was sealed:\n");
	*any = true;
	fprintf(out, "  %s %s, %s%s%s\n", what, reading, struck, *why ? ": " : "", why);
}

static void sights(FILE *out, const struct work_run *run, const char *sealed, bool *any)
{
	char what[LEVEL_STATION_BYTES + 8], reading[LEVEL_LENGTH_BYTES];
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		const struct book_kept *note = &run->book.note[i];
		if (!since(note->struck, sealed))
			continue;
		snprintf(what, sizeof what, "%s %s", level_kind_name(sight->kind), sight->station);
		level_format_length(reading, sight->reading, &run->settings.style, false);
		put_struck(out, any, what, reading, note->struck, note->why);
	}
}

static void waters(FILE *out, const struct work_run *run, const struct book_water *list,
                   size_t count, const char *sealed, bool *any)
{
	char what[LEVEL_STATION_BYTES + 16], reading[LEVEL_LENGTH_BYTES];
	for (size_t i = 0; i < count; i++) {
		if (!since(list[i].struck, sealed))
			continue;
		snprintf(what, sizeof what, "water at %s", list[i].station);
		level_format_length(reading, list[i].reading, &run->settings.style, false);
		put_struck(out, any, what, reading, list[i].struck, list[i].why);
	}
}

static void airs(FILE *out, const struct book_air *list, size_t count, const char *sealed,
                 bool *any)
{
	for (size_t i = 0; i < count; i++)
		if (since(list[i].struck, sealed))
			put_struck(out, any, "air of", list[i].time, list[i].struck, list[i].why);
}

/* Each station once. */
static void elsewhere(FILE *out, const struct work_run *run, const struct book_water *list,
                      size_t count)
{
	char text[REPORT_UNUSED_BYTES];
	for (size_t i = 0; i < count; i++) {
		bool seen = *list[i].struck || !work_water_unused(run, list[i].station);
		for (size_t j = 0; j < i && !seen; j++)
			seen = !*list[j].struck && strcmp(list[j].station, list[i].station) == 0;
		if (!seen)
			fprintf(out, "%s\n",
			        report_water_unused(text, list[i].station, run->closing.back));
	}
}

/* Those that count: what the observed drop is worked out from. */
static void put_sights(FILE *out, const struct work_run *run)
{
	const struct level_style *style = &run->settings.style;
	struct level_style finer = lines_finer(style);
	char reading[LEVEL_LENGTH_BYTES], distance[LEVEL_LENGTH_BYTES], typed[REPORT_TYPED_BYTES],
	    way[LINES_WAY_BYTES];
	banks_lines(out, run);
	fprintf(out, "the sights:\n");
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		if (!level_counted(sight))
			continue;
		level_format_length(reading, sight->reading, &finer, false);
		level_format_distance(distance, sight->distance, style, false);
		fprintf(out, "  %s ", level_kind_name(sight->kind));
		wrap_put(out, sight->station, 24);
		fprintf(out, " %12s   %s%s, %s, %s%s\n", reading,
		        sight->distance ? distance : "no distance", lines_way(run, i, way),
		        level_method_name(sight->method), run->book.note[i].time,
		        report_typed(run->book.note[i].booked, typed));
	}
}

bool drop_struck(FILE *out, struct book *book, const struct work_run *run, const char *sealed,
                 struct fault *why)
{
	struct book_water *water;
	struct book_air *air;
	size_t water_count, air_count;
	bool any = false;
	if (!book_waters(book, run->book.info.id, &water, &water_count, why))
		return false;
	if (!book_airs(book, run->book.info.id, &air, &air_count, why)) {
		free(water);
		return false;
	}
	elsewhere(out, run, water, water_count);
	sights(out, run, sealed, &any);
	waters(out, run, water, water_count, sealed, &any);
	airs(out, air, air_count, sealed, &any);
	free(water);
	free(air);
	return true;
}

bool drop_entries(FILE *out, struct book *book, const struct work_run *run, const char *sealed,
                  struct fault *why)
{
	put_sights(out, run);
	return drop_struck(out, book, run, sealed, why);
}
