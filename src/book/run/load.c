/* Reading a run from the book. */
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
	free(run->run.sight);
	free(run->note);
	free(run->moved);
	*run = (struct book_run){0};
}

static bool make_room(struct book_run *out, size_t *room, struct fault *why)
{
	size_t note_room = *room;
	void *notes, *sights;
	if (out->run.count == BOOK_ROWS_LIMIT)
		return fault_say(why, FAULT_FILE, "run %.160s holds more than %d rows",
		                 out->info.name, BOOK_ROWS_LIMIT);
	notes = store_grow(out->note, out->run.count, &note_room, sizeof *out->note, why);
	if (!notes)
		return false;
	out->note = notes;
	sights = store_grow(out->run.sight, out->run.count, room, sizeof *out->run.sight, why);
	if (!sights)
		return false;
	out->run.sight = sights;
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
	double sum = 0;
	if (!book_airs(book, run->info.id, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		if (!*list[i].struck && *list[i].low) {
			sum += strtod(list[i].low, NULL);
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

bool book_load(struct book *book, int64_t run, struct book_run *out, struct fault *why)
{
	size_t room = 0, counted = 0;
	bool ok = true;
	sqlite3_stmt *statement;

	*out = (struct book_run){0};
	if (!last_change(book, run, &out->seq, why) || !run_info(book, run, &out->info, why) ||
	    (out->info.unreadable && !run_reads(book, run, why)))
		return false;
	out->run.kind = out->info.kind;
	strcpy(out->run.turn, out->info.turn);
	out->instruments = 1;
	statement = query(book, SQL_SIGHTS, run, why);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		size_t i = out->run.count;
		ok = make_room(out, &room, why);
		if (!ok)
			break;
		out->run.count++;
		ok = read_sound(book, statement, &out->run.sight[i], &out->note[i], why) &&
		     (take_instrument(out, i, why) || book_spoiled(book, why));
		counted += level_counted(&out->run.sight[i]);
	}
	ok = sql_done(book, statement, ok, why);
	if (ok && counted > LEVEL_SIGHTS_LIMIT)
		ok = fault_say(why, FAULT_FILE, "run %.160s holds more than %d sights",
		               out->info.name, LEVEL_SIGHTS_LIMIT);
	ok = ok && take_asides(book, out, why) && take_frozen(book, out, why) &&
	     take_waters(book, out, why) && take_rods(book, out, why);
	if (!ok)
		book_run_free(out);
	return ok;
}
