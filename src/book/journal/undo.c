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

/* Actions that were taken back, as they were met on the way back. */
struct met {
	int64_t *action;
	size_t count, room;
};

static bool was_met(const struct met *met, int64_t action)
{
	for (size_t i = met->count; i-- > 0;)
		if (met->action[i] == action)
			return true;
	return false;
}

static bool meet(struct met *met, int64_t action, struct fault *why)
{
	int64_t *more;
	/* An action has an entry for each row. */
	if (met->count && met->action[met->count - 1] == action)
		return true;
	more = store_grow(met->action, met->count, &met->room, sizeof *more, why);
	if (!more)
		return false;
	met->action = more;
	more[met->count++] = action;
	return true;
}

/* The entries of a run, newest first, as the index has them: who stops early has read few. */
static const char newest_first[] =
    "SELECT j.action, j.act, j.tbl, j.undoes, CASE WHEN j.undoes IS NOT NULL THEN "
    "(SELECT o.act FROM journal o WHERE o.seq = j.undoes) WHEN j.tbl = 'setout' THEN "
    "(SELECT o.act FROM journal o WHERE o.seq = j.action) ELSE j.act END FROM journal j "
    "WHERE j.run=?1 ORDER BY j.action DESC, j.seq DESC";
enum { OF_ACTION, OF_ACT, OF_TABLE, OF_UNDOES, OF_MEANT };

struct search {
	struct met undone, redone; /* what was undone and not redone; undoings that were redone */
	bool to_redo;              /* an undoing is looked for */
	bool ended, found;
};

/* An entry that takes back, or brings back; what it is about has its turn later. */
static bool take_reversal(struct search *search, const char *act, int64_t action, int64_t undoes,
                          struct fault *why)
{
	if (strcmp(act, "redo") == 0)
		return meet(&search->redone, undoes, why);
	if (strcmp(act, "undo") != 0 || was_met(&search->redone, action))
		return true;
	search->ended = search->found = search->to_redo;
	return meet(&search->undone, undoes, why);
}

static bool take_entry(struct book *book, sqlite3_stmt *statement, struct search *search,
                       struct fault *why)
{
	const char *act = (const char *)sqlite3_column_text(statement, OF_ACT);
	const char *name = (const char *)sqlite3_column_text(statement, OF_TABLE);
	int64_t action = sqlite3_column_int64(statement, OF_ACTION);
	const struct table *of;
	if (!act || !name)
		return fault_memory(why);
	if (sqlite3_column_type(statement, OF_UNDOES) != SQLITE_NULL)
		return take_reversal(search, act, action,
		                     sqlite3_column_int64(statement, OF_UNDOES), why);
	/* Something else was done since. */
	if (search->to_redo) {
		search->ended = true;
		return true;
	}
	of = table_of(book, name, why);
	if (!of)
		return false;
	search->ended = search->found = of->restore && !was_met(&search->undone, action);
	return true;
}

/* To take back: the newest action that is neither an undoing nor undone; what was brought back is
 * not undone. What was sealed stays sealed: looking cannot be taken back. A run is reopened, with a
 * reason, and never by the way; a result stays as it was. Rows of these are never struck. A set-out
 * that was kept with its sight goes by the name of the sight. To bring back: the newest undoing
 * that was not brought back, if nothing else was done since. */
static bool find(struct book *book, int64_t run, bool to_redo, struct found *out, struct fault *why)
{
	struct search search = {.to_redo = to_redo};
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, newest_first, "i", run);
	*out = (struct found){0};
	if (!statement)
		return false;
	while (ok && !search.ended && sql_row(book, statement, &ok, why))
		ok = take_entry(book, statement, &search, why);
	if (ok && search.found) {
		out->action = sqlite3_column_int64(statement, OF_ACTION);
		sql_text(statement, OF_MEANT, out->act, sizeof out->act);
		out->about = to_redo ? sqlite3_column_int64(statement, OF_UNDOES) : out->action;
	}
	free(search.undone.action);
	free(search.redone.action);
	return sql_done(book, statement, ok, why);
}

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
		return row_strike(book, act, step->table, run, step->row, TAKEN_BACK, action, why);
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
static bool read_about(struct book *book, int64_t run, int64_t action, char *about, size_t size,
                       struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT ' of ' || json_extract(after, '$.kind') || ' on ' || "
	    "json_extract(after, '$.station') FROM journal WHERE action=?1 AND run=?2 AND "
	    "tbl='sight' ORDER BY seq LIMIT 1",
	    "ii", action, run);
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
	bool ok = read_about(book, run->info.id, action->about, sight, sizeof sight, why) &&
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
	char about[140] = "";
	if (!check_fresh(book, run, why) || !find(book, run->info.id, false, &last, why))
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
	if (!check_fresh(book, run, why) || !find(book, run->info.id, true, &last, why))
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
