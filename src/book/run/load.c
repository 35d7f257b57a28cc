/* Reading a run from the book. */
#include "book/run/load.h"

#include "book/members.h"
#include "rodbook/level/set.h"

#include <stdlib.h>
#include <string.h>

/* The spread of a set is in its text. */
static void take_set(struct level_sight *sight, const struct book_note *note)
{
	struct level_set set;
	if (!level_is_set(note->reading) || !level_parse_set(note->reading, note->unit, &set, NULL))
		return;
	sight->set_count = set.count;
	sight->set_sd = set.sd;
}

static bool read_row(sqlite3_stmt *statement, struct level_sight *sight, struct book_note *note)
{
	bool known;
	*sight = (struct level_sight){.has_known = sqlite3_column_type(statement, 0) != SQLITE_NULL,
	                              .known = sqlite3_column_int64(statement, 0),
	                              .known_u = sqlite3_column_int64(statement, 1),
	                              .surface = sqlite3_column_int(statement, 2) != 0};
	*note = (struct book_note){0};
	known = members_read(statement, 3, &sight_members, sight, note);
	sight->state = *note->struck ? LEVEL_STRUCK : LEVEL_BOOKED;
	if (!known || !book_distance_way(sight, note))
		return false;
	take_set(sight, note);
	return true;
}

void book_run_free(struct book_run *run)
{
	for (size_t i = 0; i < run->run.count && run->note; i++)
		free(run->note[i].texts);
	free(run->run.sight);
	free(run->note);
	free(run->moved);
	*run = (struct book_run){0};
}

bool load_room(struct book_run *run, size_t rows, struct fault *why)
{
	void *notes, *sights;
	size_t room = run->room;
	if (rows > BOOK_ROWS_LIMIT)
		return fault_say(why, FAULT_FILE, "run %.160s holds more than %d rows",
		                 run->info.name, BOOK_ROWS_LIMIT);
	while (room < rows)
		room = room ? 2 * room : 16;
	if (room == run->room)
		return true;
	notes = realloc(run->note, room * sizeof *run->note);
	if (!notes)
		return fault_memory(why);
	run->note = notes;
	sights = realloc(run->run.sight, room * sizeof *run->run.sight);
	if (!sights)
		return fault_memory(why);
	run->run.sight = sights;
	run->room = room;
	return true;
}

int book_run_instrument(struct book_run *run, const char *name)
{
	for (int i = 0; i < run->instruments; i++)
		if (strcmp(run->instrument[i], name) == 0)
			return i;
	if (run->instruments == LEVEL_INSTRUMENTS || strlen(name) >= LEVEL_NAME_BYTES)
		return -1;
	strcpy(run->instrument[run->instruments], name);
	return run->instruments++;
}

static bool take_instrument(struct book_run *run, size_t i, struct fault *why)
{
	int index = book_run_instrument(run, run->note[i].instrument);
	run->run.sight[i].instrument = index;
	return index >= 0 || fault_say(why, FAULT_INPUT, "a run has at most %d instruments",
	                               LEVEL_INSTRUMENTS - 1);
}

/* In the order in which they were read, station by station. */
static int by_station(const void *a, const void *b)
{
	const struct book_water *x = a, *y = b;
	int order = strcmp(x->station, y->station);
	return order ? order : (x->id > y->id) - (x->id < y->id);
}

struct seen {
	struct level_sight *sight;
};

static int seen_by_station(const void *a, const void *b)
{
	const struct seen *x = a, *y = b;
	return strcmp(x->sight->station, y->sight->station);
}

/* Readings and sights of one station stand together: each is looked at once. */
static void give_waters(const struct book_water *list, size_t count, const struct seen *seen,
                        size_t sights)
{
	size_t from = 0, to;
	for (size_t i = 0, j; i < sights; i = j) {
		struct level_sight *first = seen[i].sight;
		while (from < count && strcmp(list[from].station, first->station) < 0)
			from++;
		for (to = from; to < count && strcmp(list[to].station, first->station) == 0;)
			to++;
		book_water_mean(list + from, to - from, first);
		for (j = i + 1; j < sights && seen_by_station(&seen[i], &seen[j]) == 0; j++) {
			seen[j].sight->water_count = first->water_count;
			seen[j].sight->water = first->water;
			seen[j].sight->water_sd = first->water_sd;
		}
		from = to;
	}
}

/* Gives the stations whose water was read in this run what was read. */
static bool take_waters(struct book *book, struct book_run *run, struct fault *why)
{
	struct book_water *list;
	struct seen *seen;
	size_t count, sights = run->run.count;
	if (!book_waters(book, run->info.id, &list, &count, why))
		return false;
	seen = malloc((sights + 1) * sizeof *seen);
	if (!seen) {
		free(list);
		return fault_memory(why);
	}
	for (size_t i = 0; i < sights; i++) {
		seen[i].sight = &run->run.sight[i];
		book_water_mean(NULL, 0, seen[i].sight);
	}
	if (count) {
		qsort(list, count, sizeof *list, by_station);
		qsort(seen, sights, sizeof *seen, seen_by_station);
		give_waters(list, count, seen, sights);
	}
	free(list);
	free(seen);
	return true;
}

/* The mean of the lower thermometer in the run's air: rods stand nearest to it. */
static bool take_celsius(struct book *book, struct book_run *run, struct fault *why)
{
	struct book_air *list;
	size_t count, n = 0;
	double celsius, sum = 0;
	if (!book_airs(book, run->info.id, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		if (!*list[i].struck &&
		    level_parse_quantity(list[i].low, LEVEL_TEMPERATURE, 0, &celsius, NULL)) {
			sum += celsius;
			n++;
		}
	free(list);
	run->has_celsius = n > 0;
	run->celsius = n ? sum / (double)n : 0;
	return true;
}

/* What each sight's rod reads too high by. */
static bool take_rods(struct book *book, struct book_run *run, struct fault *why)
{
	struct book_rod *list;
	size_t count;
	if (!take_celsius(book, run, why) || !book_rods(book, &list, &count, why))
		return false;
	for (size_t i = 0; count && i < run->run.count; i++)
		if (run->run.sight[i].method == LEVEL_ROD)
			run->run.sight[i].rod_error =
			    book_rod_error(list, count, run->note[i].rod, run->run.sight[i].reading,
			                   run->has_celsius, run->celsius);
	free(list);
	return true;
}

/* Sights with their notes, or one alone, by the number of the run or the sight. */
static sqlite3_stmt *query(struct book *book, enum member_sql which, int64_t number,
                           struct fault *why)
{
	const char *sql = members_sql(book, which, why);
	return sql ? sql_query(book, why, sql, "i", number) : NULL;
}

/* A sight and its note. */
struct row {
	struct level_sight sight;
	struct book_note note;
};

static bool read_sound(struct book *book, sqlite3_stmt *statement, struct level_sight *sight,
                       struct book_note *note, struct fault *why)
{
	if (!read_row(statement, sight, note))
		fault_say(why, FAULT_INPUT, "sight %lld cannot be read", (long long)sight->id);
	else if (sight_is_sound(sight, note, why))
		return true;
	return book_spoiled(book, why);
}

static bool read_alone(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct row *row = item;
	return read_sound(book, statement, &row->sight, &row->note, why);
}

bool sight_reads(struct book *book, int64_t id, struct fault *why)
{
	struct row ignored;
	return row_reads(book, query(book, SQL_SIGHT_ALONE, id, why), read_alone, &ignored, why);
}

bool load_rows(struct book *book, enum member_sql which, int64_t number, struct book_run *run,
               struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = query(book, which, number, why);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		size_t i = run->run.count;
		struct book_note note;
		ok = load_room(run, i + 1, why) &&
		     read_sound(book, statement, &run->run.sight[i], &note, why) &&
		     kept_make(&note, &run->note[i], why);
		if (!ok)
			break;
		run->run.count++;
		ok = take_instrument(run, i, why) || book_spoiled(book, why);
		run->info.sights += ok && level_counted(&run->run.sight[i]);
	}
	return sql_done(book, statement, ok, why);
}

bool load_rest(struct book *book, struct book_run *run, struct fault *why)
{
	if (run->info.sights > LEVEL_SIGHTS_LIMIT)
		return fault_say(why, FAULT_FILE, "run %.160s holds more than %d sights",
		                 run->info.name, LEVEL_SIGHTS_LIMIT);
	return take_asides(book, run, why) && take_frozen(book, run, why) &&
	       take_waters(book, run, why) && take_rods(book, run, why);
}

static bool load(struct book *book, int64_t run, struct book_run *out, struct fault *why)
{
	if (!last_change(book, run, &out->seq, why) ||
	    !sql_integer(book, "PRAGMA data_version", &out->version, why) ||
	    !run_head(book, run, &out->info, why) ||
	    (out->info.unreadable && !run_reads(book, run, why)))
		return false;
	out->run.kind = out->info.kind;
	strcpy(out->run.turn, out->info.turn);
	out->instruments = 1;
	if (!load_rows(book, SQL_SIGHTS, run, out, why))
		return false;
	out->met = out->instruments;
	return load_rest(book, out, why);
}

bool book_load(struct book *book, int64_t run, struct book_run *out, struct fault *why)
{
	bool ok;
	*out = (struct book_run){0};
	if (!book_hold(book, why))
		return false;
	ok = load(book, run, out, why);
	book_release(book);
	if (!ok)
		book_run_free(out);
	return ok;
}
