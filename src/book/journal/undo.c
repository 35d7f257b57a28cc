/* Taking back the last change of a run: a new entry, never an erasure. */
#include "book/file/schema.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* An action of the run, and what it was; action 0 where there is none. */
struct found {
	int64_t action, about; /* about: the action whose first sight names it for the user */
	char act[32];
};

/* The tables that undo reaches, as a JSON array; sqlite3_free() it. */
static char *reached(struct book *book, struct fault *why)
{
	char *array = sqlite3_mprintf("[null");
	const char *name;
	for (size_t i = 0; array && (name = journal_table(i)) != NULL; i++) {
		const struct table *of = table_of(book, name, why);
		if (!of) {
			sqlite3_free(array);
			return NULL;
		}
		if (of->restore)
			array = sqlite3_mprintf("%z,\"%w\"", array, name);
	}
	array = array ? sqlite3_mprintf("%z]", array) : NULL;
	if (!array)
		fault_memory(why);
	return array;
}

/* sql: of the run ?1, and the tables ?2 where there is a text of them. */
static bool find(struct book *book, int64_t run, const char *sql, const char *tables,
                 struct found *out, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, sql, tables ? "it" : "i", run, tables);
	*out = (struct found){0};
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why)) {
		out->action = sqlite3_column_int64(statement, 0);
		sql_text(statement, 1, out->act, sizeof out->act);
		out->about = sqlite3_column_int64(statement, 2);
	}
	return sql_done(book, statement, ok, why);
}

/* The newest action that is neither an undoing nor undone; what was brought back is not undone.
 * What was sealed stays sealed: looking cannot be taken back. A run is reopened, with a reason, and
 * never by the way; a result stays as it was. Rows of these are never struck. A set-out that was
 * kept with its sight goes by the name of the sight. */
static const char last_done[] =
    "SELECT action, iif(tbl = 'setout', (SELECT o.act FROM journal o WHERE o.seq = j.action), "
    "act), "
    "action FROM journal j WHERE run=?1 AND tbl IN (SELECT value FROM "
    "json_each(?2)) AND undoes IS NULL AND action NOT IN "
    "(SELECT undoes FROM journal WHERE run=?1 AND act='undo' AND action NOT IN "
    "(SELECT undoes FROM journal WHERE run=?1 AND act='redo')) ORDER BY seq DESC LIMIT 1";
/* The newest undoing that was not brought back, if nothing else was done since. */
static const char last_undone[] =
    "SELECT action, (SELECT o.act FROM journal o WHERE o.seq = j.undoes), undoes FROM journal j "
    "WHERE run=?1 AND act='undo' AND action NOT IN "
    "(SELECT undoes FROM journal WHERE run=?1 AND act='redo') AND action > "
    "(SELECT coalesce(max(action), 0) FROM journal WHERE run=?1 AND undoes IS NULL) "
    "ORDER BY seq DESC LIMIT 1";

struct undo_step {
	char table[TABLE_BYTES];
	int64_t row;
	char *before;
};

/* A run's old name may have been given to another run since. */
static bool old_name_is_free(struct book *book, int64_t run, const char *before, struct fault *why)
{
	char name[LEVEL_NAME_BYTES] = "";
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why, "SELECT name FROM run WHERE name=json_extract(?1, '$.name') AND id<>?2",
	    "ti", before, run);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		sql_text(statement, 0, name, sizeof name);
	ok = sql_done(book, statement, ok, why);
	if (ok && *name)
		return fault_say(why, FAULT_INPUT,
		                 "another run is named %.160s by now: rename that one first", name);
	return ok;
}

static bool take_back(struct book *book, int64_t run, const char *act, int64_t action,
                      const struct undo_step *step, struct fault *why)
{
	char *now;
	bool ok;
	if (strcmp(step->table, "run") == 0 && !old_name_is_free(book, run, step->before, why))
		return false;
	if (!step->before)
		return row_strike(book, act, step->table, run, step->row, "undone", action, why);
	now = journal_numbered(book, step->table, step->row, why);
	ok = now && journal_restore(book, step->table, step->row, step->before, why) &&
	     journal_enter_numbered(book, act, run, step->table, step->row, now, action, why);
	sqlite3_free(now);
	return ok;
}

/* What the entry of a row asks for, if undo reaches it. A run that is new stays: it is never
 * struck. */
static bool read_step(struct book *book, sqlite3_stmt *statement, struct undo_step *step,
                      bool *is_one, struct fault *why)
{
	const char *table = (const char *)sqlite3_column_text(statement, 0);
	const char *before = (const char *)sqlite3_column_text(statement, 2);
	const struct table *of;
	if (!table || (!before && sqlite3_column_type(statement, 2) != SQLITE_NULL))
		return fault_memory(why);
	of = table_of(book, table, why);
	if (!of)
		return false;
	*is_one = before ? of->restore != NULL : of->strike != NULL;
	if (!*is_one)
		return true;
	*step = (struct undo_step){.row = sqlite3_column_int64(statement, 1),
	                           .before = before ? strdup(before) : NULL};
	strcpy(step->table, of->name);
	return !before || step->before || fault_memory(why);
}

/* Newest first, as they must be undone. */
static bool read_steps(struct book *book, int64_t run, int64_t action, struct undo_step **steps,
                       size_t *count, struct fault *why)
{
	size_t room = 0;
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT tbl, row, before FROM journal WHERE action=?1 AND run=?2 ORDER BY seq DESC",
	    "ii", action, run);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		struct undo_step *more = store_grow(*steps, *count, &room, sizeof *more, why);
		bool is_one = false;
		ok = more != NULL;
		if (!ok)
			break;
		*steps = more;
		ok = read_step(book, statement, &more[*count], &is_one, why);
		*count += ok && is_one;
	}
	return sql_done(book, statement, ok, why);
}

/* " of FS on TP1": the first sight that the action was about; "" where there is none. */
static bool read_about(struct book *book, int64_t action, char *about, size_t size,
                       struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT ' of ' || json_extract(after, '$.kind') || ' on ' || "
	    "json_extract(after, '$.station') FROM journal WHERE action=?1 AND tbl='sight' "
	    "ORDER BY seq LIMIT 1",
	    "i", action);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		sql_text(statement, 0, about, size);
	ok = sql_done(book, statement, ok, why);
	if (!level_check_text(about, size, "journal", NULL))
		*about = '\0';
	return ok;
}

/* Takes an action back, entered as `act`, and says what it was about: "strike of BS on TP1". */
static bool reverse(struct book *book, const struct book_run *run, const char *act,
                    const struct found *action, char *about, size_t size, struct fault *why)
{
	struct undo_step *steps = NULL;
	size_t count = 0;
	char sight[120] = "";
	bool ok = read_about(book, action->about, sight, sizeof sight, why) &&
	          read_steps(book, run->info.id, action->action, &steps, &count, why);
	if (ok && count == 0)
		ok =
		    fault_say(why, FAULT_INPUT, "the last change of this run cannot be taken back");
	for (size_t i = 0; ok && i < count; i++)
		ok = take_back(book, run->info.id, act, action->action, &steps[i], why);
	snprintf(about, size, "%s%s", strcmp(action->act, "book") == 0 ? "booking" : action->act,
	         sight);
	for (size_t i = 0; i < count; i++)
		free(steps[i].before);
	free(steps);
	return ok;
}

static bool undo(struct book *book, const struct book_run *run, char what[160], struct fault *why)
{
	struct found last;
	char about[140] = "", *tables = reached(book, why);
	bool ok = tables && check_fresh(book, run, why) &&
	          find(book, run->info.id, last_done, tables, &last, why);
	sqlite3_free(tables);
	if (!ok)
		return false;
	if (last.action == 0 || strcmp(last.act, "new run") == 0 ||
	    strncmp(last.act, "import", 6) == 0)
		return fault_say(why, FAULT_INPUT, "nothing is left to take back in this run");
	if (!reverse(book, run, "undo", &last, about, sizeof about, why))
		return false;
	snprintf(what, 160, "taken back: %.140s", about);
	return true;
}

static bool redo(struct book *book, const struct book_run *run, char what[160], struct fault *why)
{
	struct found last;
	char about[140] = "";
	if (!check_fresh(book, run, why) ||
	    !find(book, run->info.id, last_undone, NULL, &last, why))
		return false;
	if (last.action == 0)
		return fault_say(why, FAULT_INPUT, "nothing was just taken back in this run");
	if (!reverse(book, run, "redo", &last, about, sizeof about, why))
		return false;
	snprintf(what, 160, "done again: %.140s", about);
	return true;
}

bool book_undo(struct book *book, const struct book_run *run, char what[160], struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, undo(book, run, what, why), why);
}

bool book_redo(struct book *book, const struct book_run *run, char what[160], struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, redo(book, run, what, why), why);
}
