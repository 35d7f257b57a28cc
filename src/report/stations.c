/* The stations of a book, and the determinations of one. */
#include "csv/csv.h"
#include "report/lines.h"
#include "report/page/sections.h"
#include "report/quantities.h"
#include "rodbook/report/stations.h"
#include "rodbook/work/stations.h"
#include "text/columns.h"

static const char *shown(char text[LEVEL_LENGTH_BYTES], bool has, level_nm value,
                         const struct level_style *style, bool plus)
{
	text[0] = '\0';
	return has ? level_format_length(text, value, style, plus) : text;
}

/* A difference that is too large for its uncertainty must not be overlooked. */
static const char *state_words(enum work_station_state state)
{
	return state == WORK_STATION_DIFFERS ? "DIFFERS" : work_station_state_name(state);
}

static bool list_text(FILE *out, const struct work_stations *s)
{
	static const char *const head[] = {"station", "given",  "determined", "mean",
	                                   "spread",  "latest", "state",      "source"};
	struct level_style finer = lines_finer(&s->style);
	struct columns columns = {.columns = 8};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < s->count; i++) {
		const struct work_station *at = &s->station[i];
		char given[LEVEL_LENGTH_BYTES], mean[LEVEL_LENGTH_BYTES],
		    spread[LEVEL_LENGTH_BYTES], latest[LEVEL_LENGTH_BYTES], count[24];
		const char *cells[] = {at->name,
		                       shown(given, at->has_given, at->given, &s->style, false),
		                       count,
		                       shown(mean, at->count > 0, at->mean, &finer, false),
		                       shown(spread, at->compared > 1, at->spread, &finer, false),
		                       shown(latest, at->count > 0, at->latest, &s->style, false),
		                       state_words(at->state),
		                       at->source};
		snprintf(count, sizeof count, "%zu", at->count);
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "lrrrrrll");
	columns_free(&columns);
	return ok;
}

static void left_out(FILE *out, const struct work_stations *s)
{
	char text[400];
	for (size_t i = 0; i < s->moved_count; i++) {
		report_moved(&s->moved[i], &s->style, text, sizeof text);
		fprintf(out, "%s: %s\n", s->moved_run[i], text);
	}
	if (s->crossings)
		fprintf(out, "crossings are left out, for what they show is a drop: %zu\n",
		        s->crossings);
	if (s->unreadable)
		fprintf(out, "runs that cannot be read are left out: %zu\n", s->unreadable);
}

static void list_csv(FILE *out, const struct work_stations *s)
{
	fputs("station,given,source,determinations,mean,spread,latest,state\n", out);
	for (size_t i = 0; i < s->count; i++) {
		const struct work_station *at = &s->station[i];
		char given[LEVEL_LENGTH_BYTES], mean[LEVEL_LENGTH_BYTES],
		    spread[LEVEL_LENGTH_BYTES], latest[LEVEL_LENGTH_BYTES], count[24];
		const char *fields[] = {
		    at->name,
		    quantity_cell(given, at->has_given, at->given, &s->style),
		    at->source,
		    count,
		    quantity_cell(mean, at->count > 0, at->mean, &s->style),
		    quantity_cell(spread, at->compared > 1, at->spread, &s->style),
		    quantity_cell(latest, at->count > 0, at->latest, &s->style),
		    work_station_state_name(at->state)};
		snprintf(count, sizeof count, "%zu", at->count);
		csv_write(out, fields, 8, "\n");
	}
}

/* In one state of the book. */
static bool load(struct book *book, const char *only, struct work_stations *s, size_t *unreadable,
                 struct fault *why)
{
	bool ok = book_hold(book, why);
	*s = (struct work_stations){0};
	*unreadable = 0;
	if (!ok)
		return false;
	ok = work_stations(book, only, s, why);
	book_release(book);
	*unreadable = s->unreadable;
	return ok;
}

bool report_stations(FILE *out, struct book *book, bool csv, size_t *unreadable, struct fault *why)
{
	struct work_stations s;
	bool ok = load(book, NULL, &s, unreadable, why);
	if (ok && csv)
		list_csv(out, &s);
	else if (ok && !s.count)
		fputs("no stations yet: a run or a mark makes the first one\n", out);
	else if (ok && !list_text(out, &s))
		ok = fault_memory(why);
	if (ok && !csv)
		left_out(out, &s);
	work_stations_free(&s);
	return ok;
}

/* How it was got, for people: of how many standings, and above what. */
static void how_words(const struct work_determination *d, char *text, size_t size)
{
	int used = d->standings > 1 ? snprintf(text, size, "%s of %d standings",
	                                       level_kind_name(d->how), d->standings)
	                            : snprintf(text, size, "%s", level_kind_name(d->how));
	if (!d->start_known)
		snprintf(text + used, size - (size_t)used, ", above %s", d->start);
}

static bool one_text(FILE *out, const struct work_stations *s)
{
	static const char *const head[] = {"run", "day",        "how",         "elevation",
	                                   "u",   "less given", "less before", "agrees"};
	static const char *const words[] = {"DIFFERS", "agrees", "single"};
	struct level_style finer = lines_finer(&s->style);
	struct columns columns = {.columns = 8};
	bool ok;
	columns_add(&columns, head);
	for (size_t i = 0; i < s->determinations; i++) {
		const struct work_determination *d = &s->determination[i];
		char how[LEVEL_STATION_BYTES + 60], elevation[LEVEL_LENGTH_BYTES],
		    u[LEVEL_LENGTH_BYTES], given[LEVEL_LENGTH_BYTES], before[LEVEL_LENGTH_BYTES],
		    day[11];
		const char *cells[] = {d->run,
		                       day,
		                       how,
		                       shown(elevation, true, d->elevation, &finer, false),
		                       report_meters(u, d->u, &s->style, false),
		                       shown(given, d->has_given, d->less_given, &finer, true),
		                       shown(before, d->has_before, d->less_before, &finer, true),
		                       words[d->agrees]};
		snprintf(day, sizeof day, "%.10s", d->time);
		how_words(d, how, sizeof how);
		columns_add(&columns, cells);
	}
	ok = columns_put(out, &columns, "lllrrrrl");
	columns_free(&columns);
	return ok;
}

static void one_heading(FILE *out, const struct work_stations *s)
{
	const struct work_station *at = &s->station[0];
	char given[LEVEL_LENGTH_BYTES];
	fprintf(out, "station %s, in %s", at->name, level_unit_words(s->style.unit));
	if (at->has_given)
		fprintf(out, ", given %s", level_format_length(given, at->given, &s->style, false));
	if (*at->source)
		fprintf(out, ": %s", at->source);
	fputs("\n\n", out);
}

/* What the columns mean, and what was found. */
static void one_words(FILE *out, const struct work_stations *s)
{
	size_t differ = 0, raw = 0;
	for (size_t i = 0; i < s->determinations; i++) {
		differ += s->determination[i].agrees == LEVEL_NO;
		raw += !s->determination[i].corrected;
	}
	fputs("\nElevations are as each run found them: no misclosure is spread.\n"
	      "u is the standard uncertainty of an elevation: from the start mark on, by readings, "
	      "level and air.\nDIFFERS: less given, or less before, is more than twice the "
	      "uncertainty of that difference.\n",
	      out);
	if (differ)
		fputs(
		    "Which one is wrong, or whether the station moved, these figures alone do not "
		    "tell.\n",
		    out);
	if (raw)
		fprintf(out,
		        "without all distances, as booked: %zu; each such setup adds 5 mm to u\n",
		        raw);
}

static void one_csv(FILE *out, const struct work_stations *s)
{
	fputs("run,time,how,elevation,u,less_given,less_before,agrees\n", out);
	for (size_t i = 0; i < s->determinations; i++) {
		const struct work_determination *d = &s->determination[i];
		char elevation[LEVEL_LENGTH_BYTES], u[LEVEL_LENGTH_BYTES],
		    given[LEVEL_LENGTH_BYTES], before[LEVEL_LENGTH_BYTES];
		const char *fields[] = {
		    d->run,
		    d->time,
		    work_determination_how(d),
		    quantity_cell(elevation, true, d->elevation, &s->style),
		    quantity_cell(u, true, level_from_meters(d->u), &s->style),
		    quantity_cell(given, d->has_given, d->less_given, &s->style),
		    quantity_cell(before, d->has_before, d->less_before, &s->style),
		    quantity_answer(d->agrees)};
		csv_write(out, fields, 8, "\n");
	}
}

bool report_station(FILE *out, struct book *book, const char *name, bool csv, size_t *unreadable,
                    struct fault *why)
{
	struct work_stations s;
	bool ok = load(book, name, &s, unreadable, why);
	if (ok && csv) {
		one_csv(out, &s);
	} else if (ok) {
		one_heading(out, &s);
		if (!s.determinations)
			fputs("no run has determined it yet\n", out);
		else if (!one_text(out, &s))
			ok = fault_memory(why);
		else
			one_words(out, &s);
		left_out(out, &s);
	}
	work_stations_free(&s);
	return ok;
}
