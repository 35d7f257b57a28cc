/* Taking back the last change of a run: a new entry, never an erasure. */
#include "book/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The newest action of the run that is neither an undoing nor undone. */
static bool find_last(struct book *book, int64_t run, int64_t *action, char *act, size_t size,
                      struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT action, act FROM journal WHERE run=?1 AND undoes IS NULL AND action NOT IN "
	    "(SELECT undoes FROM journal WHERE run=?1 AND undoes IS NOT NULL) "
	    "ORDER BY seq DESC LIMIT 1",
	    "i", run);
	*action = 0;
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why)) {
		*action = sqlite3_column_int64(statement, 0);
		sql_text(statement, 1, act, size);
	}
	sql_done(statement);
	return ok;
}

struct undo_step {
	char table[16];
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
	sql_done(statement);
	if (ok && *name)
		return fault_say(why, FAULT_INPUT,
		                 "another run is named %.160s by now: rename that one first", name);
	return ok;
}

static bool take_back(struct book *book, int64_t run, int64_t action, const struct undo_step *step,
                      struct fault *why)
{
	char *now;
	bool ok;
	if (strcmp(step->table, "run") == 0 && !old_name_is_free(book, run, step->before, why))
		return false;
	if (!step->before)
		return sight_strike(book, "undo", run, step->row, "taken back", action, why);
	now = journal_numbered(book, step->table, step->row, why);
	ok = now && journal_restore(book, step->table, step->row, step->before, why) &&
	     journal_enter_numbered(book, "undo", run, step->table, step->row, now, action, why);
	sqlite3_free(now);
	return ok;
}

/* Newest first, as they must be undone. */
static bool read_steps(struct book *book, int64_t run, int64_t action, struct undo_step **steps,
                       size_t *count, struct fault *why)
{
	size_t room = 0;
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why,
	              "SELECT tbl, row, before FROM journal WHERE action=?1 AND run=?2 AND "
	              "(tbl='sight' OR (tbl='run' AND before IS NOT NULL)) ORDER BY seq DESC",
	              "ii", action, run);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why)) {
		struct undo_step *step;
		ok = store_grow((void **)steps, *count, &room, sizeof **steps, why);
		if (!ok)
			break;
		step = &(*steps)[(*count)++];
		sql_text(statement, 0, step->table, sizeof step->table);
		step->row = sqlite3_column_int64(statement, 1);
		step->before = sqlite3_column_type(statement, 2) == SQLITE_NULL
		                   ? NULL
		                   : strdup((const char *)sqlite3_column_text(statement, 2));
	}
	sql_done(statement);
	return ok;
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
	sql_done(statement);
	if (!level_check_text(about, size, "journal", NULL))
		*about = '\0';
	return ok;
}

static bool undo(struct book *book, const struct book_run *run, char what[160], struct fault *why)
{
	char act[32] = "", about[120] = "";
	int64_t action;
	struct undo_step *steps = NULL;
	size_t count = 0;
	bool ok;

	if (!check_fresh(book, run, why) ||
	    !find_last(book, run->info.id, &action, act, sizeof act, why))
		return false;
	if (action == 0 || strcmp(act, "new run") == 0 || strcmp(act, "import") == 0)
		return fault_say(why, FAULT_INPUT, "nothing is left to take back in this run");
	ok = read_about(book, action, about, sizeof about, why) &&
	     read_steps(book, run->info.id, action, &steps, &count, why);
	for (size_t i = 0; ok && i < count; i++)
		ok = take_back(book, run->info.id, action, &steps[i], why);
	snprintf(what, 160, "taken back: %s%.100s", act, about);
	for (size_t i = 0; i < count; i++)
		free(steps[i].before);
	free(steps);
	return ok;
}

bool book_undo(struct book *book, const struct book_run *run, char what[160], struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, undo(book, run, what, why), why);
}
