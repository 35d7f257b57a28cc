/* The known elevations that a run was closed with: they are its own from then on, whatever becomes
 * of the marks. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

#define KNOWN_MOST 1000000

struct known {
	char mark[LEVEL_STATION_BYTES];
	level_nm elevation, u;
};

struct list {
	struct known *known;
	size_t count;
};

static bool is_new(const struct book_run *run, size_t at)
{
	for (size_t i = 0; i < at; i++)
		if (run->run.sight[i].has_known &&
		    strcmp(run->run.sight[i].station, run->run.sight[at].station) == 0)
			return false;
	return run->run.sight[at].has_known;
}

char *frozen_text(const struct book_run *run, struct fault *why)
{
	sqlite3_str *out = sqlite3_str_new(NULL);
	char *text;
	for (size_t i = 0; i < run->run.count; i++)
		if (is_new(run, i))
			sqlite3_str_appendf(
			    out, "%lld %lld %s\n", (long long)run->run.sight[i].known,
			    (long long)run->run.sight[i].known_u, run->run.sight[i].station);
	/* A run that meets no known mark is frozen too: nothing is known in it. */
	if (!sqlite3_str_length(out))
		sqlite3_str_appendall(out, "\n");
	if (sqlite3_str_length(out) > KNOWN_MOST) {
		sqlite3_free(sqlite3_str_finish(out));
		fault_say(why, FAULT_INPUT, "run %.160s meets too many known marks",
		          run->info.name);
		return NULL;
	}
	text = sqlite3_str_finish(out);
	if (!text)
		fault_memory(why);
	return text;
}

/* The next line of a frozen text; false at its end, or where it is none. */
static bool next_line(const char **at, struct known *out, bool *sound)
{
	long long elevation, u;
	int size = 0;
	if (**at == '\n')
		(*at)++;
	if (!**at)
		return false;
	*sound = sscanf(*at, "%lld %lld %n", &elevation, &u, &size) == 2 && size > 0 && u >= 0;
	if (*sound) {
		const char *name = *at + size;
		size_t length = strcspn(name, "\n");
		*sound = length > 0 && length < sizeof out->mark;
		if (*sound) {
			memcpy(out->mark, name, length);
			out->mark[length] = '\0';
			out->elevation = elevation;
			out->u = u;
			*at = name + length;
		}
	}
	return *sound;
}

static bool read_text(const char *text, struct list *list, struct fault *why)
{
	size_t room = 0;
	bool sound = true;
	struct known known;
	while (next_line(&text, &known, &sound)) {
		void *more = store_grow(list->known, list->count, &room, sizeof known, why);
		if (!more)
			return false;
		list->known = more;
		list->known[list->count++] = known;
	}
	return sound || fault_say(why, FAULT_INPUT, "what a run was closed with cannot be read");
}

bool frozen_is_sound(const char *text, struct fault *why)
{
	struct list list = {0};
	bool ok = read_text(text, &list, why);
	free(list.known);
	return ok;
}

/* The marks as the journal had them when a row of a table was entered last: the closing of a run
 * that an earlier version closed, or a seal. */
static bool read_journal(struct book *book, const char *table, int64_t row, struct list *list,
                         struct fault *why)
{
	size_t room = 0;
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "WITH c AS (SELECT max(seq) AS seq FROM journal WHERE tbl=?1 AND row="
	    "CAST(?2 AS TEXT)) SELECT j.after ->> 'elevation', coalesce(j.after ->> 'u', 0), "
	    "j.after ->> 'name' FROM journal j, c WHERE j.tbl='mark' AND j.before IS NULL "
	    "AND j.seq < c.seq AND (j.after ->> 'struck') IS NULL AND NOT EXISTS (SELECT 1 FROM "
	    "journal s WHERE s.tbl='mark' AND s.row=j.row AND s.seq > j.seq AND s.seq < c.seq AND "
	    "(s.after ->> 'struck') IS NOT NULL)",
	    "ti", table, row);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		void *more = store_grow(list->known, list->count, &room, sizeof *list->known, why);
		ok = more != NULL;
		if (!ok)
			break;
		list->known = more;
		list->known[list->count].elevation = sqlite3_column_int64(statement, 0);
		list->known[list->count].u = sqlite3_column_int64(statement, 1);
		sql_text(statement, 2, list->known[list->count].mark, sizeof list->known->mark);
		list->count++;
	}
	return sql_done(book, statement, ok, why);
}

struct closed {
	int64_t id;
	char *text;
	bool marks_changed; /* since then, as far as their times tell */
};

static bool read_closed(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct closed *closed = item;
	const char *text = (const char *)sqlite3_column_text(statement, 1);
	(void)book;
	closed->id = sqlite3_column_int64(statement, 0);
	closed->marks_changed = sqlite3_column_int(statement, 2) != 0;
	closed->text = text ? strdup(text) : NULL;
	return closed->text || fault_memory(why);
}

/* What the marks of a closed run were when it was closed; *frozen: there is such a list, else what
 * they are now holds. */
static bool read_frozen(struct book *book, int64_t run, struct list *list, bool *frozen,
                        struct fault *why)
{
	struct closed closed = {0};
	bool found, ok;
	*frozen = false;
	if (!sql_one(book,
	             sql_query(book, why,
	                       "SELECT id, known, known='' AND EXISTS (SELECT 1 FROM mark WHERE "
	                       "struck IS NOT NULL OR mark.time > closing.time) FROM closing WHERE "
	                       "run=?1 ORDER BY id DESC LIMIT 1",
	                       "i", run),
	             read_closed, &closed, &found, why)) {
		free(closed.text);
		return false;
	}
	if (!found)
		return true;
	*frozen = *closed.text || closed.marks_changed;
	ok = *closed.text           ? read_text(closed.text, list, why) || book_spoiled(book, why)
	     : closed.marks_changed ? read_journal(book, "closing", closed.id, list, why)
	                            : true;
	free(closed.text);
	return ok;
}

static const struct known *find(const struct list *list, const char *mark)
{
	for (size_t i = 0; i < list->count; i++)
		if (strcmp(list->known[i].mark, mark) == 0)
			return &list->known[i];
	return NULL;
}

/* Notes that a mark is no more what the run was closed with, once. */
static bool note_moved(struct book *book, struct book_run *run, const struct level_sight *now,
                       const struct known *then, bool at_seal, struct fault *why)
{
	struct book_moved *more, *moved;
	bool ok = true;
	sqlite3_stmt *statement;
	for (size_t i = 0; i < run->moved_count; i++)
		if (run->moved[i].at_seal == at_seal &&
		    strcmp(run->moved[i].mark, now->station) == 0)
			return true;
	more = realloc(run->moved, (run->moved_count + 1) * sizeof *more);
	if (!more)
		return fault_memory(why);
	run->moved = more;
	moved = &more[run->moved_count];
	*moved = (struct book_moved){.at_seal = at_seal,
	                             .has_then = then != NULL,
	                             .has_now = now->has_known,
	                             .then = then ? then->elevation : 0,
	                             .now = now->known};
	strcpy(moved->mark, now->station);
	statement = sql_query(book, why,
	                      "SELECT coalesce(max(iif(struck IS NULL, time, NULL)), max(struck), "
	                      "'') FROM mark WHERE name=?1",
	                      "t", now->station);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		sql_text(statement, 0, moved->time, sizeof moved->time);
	ok = sql_done(book, statement, ok, why);
	run->moved_count += ok;
	return ok;
}

static bool is_as(const struct level_sight *sight, const struct known *then)
{
	return sight->has_known == (then != NULL) && (!then || then->elevation == sight->known);
}

static bool take_closed(struct book *book, struct book_run *run, struct fault *why)
{
	struct list list = {0};
	bool frozen, ok;
	if (!run->info.closed)
		return true;
	ok = read_frozen(book, run->info.id, &list, &frozen, why);
	for (size_t i = 0; ok && frozen && i < run->run.count; i++) {
		struct level_sight *sight = &run->run.sight[i];
		const struct known *then = find(&list, sight->station);
		if (!is_as(sight, then))
			ok = note_moved(book, run, sight, then, false, why);
		sight->has_known = then != NULL;
		sight->known = then ? then->elevation : 0;
		sight->known_u = then ? then->u : 0;
	}
	free(list.known);
	return ok;
}

static bool read_id(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	(void)book;
	(void)why;
	*(int64_t *)item = sqlite3_column_int64(statement, 0);
	return true;
}

/* The first seal of a run, where marks were given or struck since, as far as their times tell; 0:
 * none such. */
static bool find_outdated_seal(struct book *book, int64_t run, int64_t *seal, struct fault *why)
{
	bool found;
	*seal = 0;
	return sql_one(book,
	               sql_query(book, why,
	                         "SELECT id FROM seal s WHERE run=?1 AND id=(SELECT min(id) FROM "
	                         "seal WHERE run=?1) AND EXISTS (SELECT 1 FROM mark WHERE "
	                         "mark.time >= s.time OR struck >= s.time)",
	                         "i", run),
	               read_id, seal, &found, why);
}

static bool note_since_seal(struct book *book, struct book_run *run, struct fault *why)
{
	struct list list = {0};
	int64_t seal;
	bool ok = find_outdated_seal(book, run->info.id, &seal, why) &&
	          (!seal || read_journal(book, "seal", seal, &list, why));
	for (size_t i = 0; ok && seal && i < run->run.count; i++) {
		const struct level_sight *sight = &run->run.sight[i];
		const struct known *then = find(&list, sight->station);
		if (!is_as(sight, then))
			ok = note_moved(book, run, sight, then, true, why);
	}
	free(list.known);
	return ok;
}

bool take_frozen(struct book *book, struct book_run *run, struct fault *why)
{
	return take_closed(book, run, why) &&
	       (run->run.kind != LEVEL_CROSSING || note_since_seal(book, run, why));
}
