/* The half-typed form, kept so that a crash does not lose it. */
#include "book/store.h"
#include "rodbook/book/closings.h"

static bool save_slot(struct book *book, int64_t run, int64_t slot, const struct book_draft *d,
                      struct fault *why)
{
	if (!d->used)
		return sql_run(book, why,
		               "DELETE FROM draft WHERE run=?1 AND slot=?2 AND editor=?3", "iii",
		               run, slot, book->editor);
	return sql_run(book, why,
	               "INSERT OR REPLACE INTO draft(run, slot, at, inserts, focus, wires, kind, "
	               "station, reading, upper, middle, lower, distance, method, remark, unit, "
	               "instrument, rod, again, along, photo, editor) "
	               "VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, "
	               "?16, ?17, ?18, ?19, ?20, ?21, ?22)",
	               "iiiiiitttttttttuttitti", run, slot, d->at, (int64_t)d->inserts,
	               (int64_t)d->focus, (int64_t)d->wires, d->kind, d->station, d->reading,
	               d->upper, d->middle, d->lower, d->distance, d->method, d->remark,
	               (int)d->unit, d->instrument, d->rod, (int64_t)d->again, d->along, d->photo,
	               book->editor);
}

static bool is_clean(const struct book_draft *d, struct fault *why)
{
	const char *texts[] = {d->kind,  d->station, d->reading,  d->upper,  d->middle,
	                       d->lower, d->method,  d->distance, d->remark, d->instrument,
	                       d->rod,   d->along,   d->photo};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		if (!level_check_text(texts[i], LEVEL_REMARK_CHARS, "half-typed sight", why))
			return false;
	return true;
}

bool book_draft_save(struct book *book, int64_t run, const struct book_draft draft[2],
                     struct fault *why)
{
	for (int i = 0; i < 2; i++)
		if (draft[i].used && !is_clean(&draft[i], why))
			return false;
	if (!txn_begin(book, why))
		return false;
	return txn_end(book,
	               save_slot(book, run, 0, &draft[0], why) &&
	                   save_slot(book, run, 1, &draft[1], why),
	               why);
}

static void read_slot(sqlite3_stmt *statement, struct book_draft *d)
{
	char unit[8];
	d->used = true;
	sql_text(statement, 14, unit, sizeof unit);
	level_unit_find(unit, &d->unit);
	d->at = sqlite3_column_int64(statement, 1);
	d->inserts = sqlite3_column_int(statement, 2) != 0;
	d->focus = sqlite3_column_int(statement, 3);
	d->wires = sqlite3_column_int(statement, 4) != 0;
	sql_text(statement, 5, d->kind, sizeof d->kind);
	sql_text(statement, 6, d->station, sizeof d->station);
	sql_text(statement, 7, d->reading, sizeof d->reading);
	sql_text(statement, 8, d->upper, sizeof d->upper);
	sql_text(statement, 9, d->middle, sizeof d->middle);
	sql_text(statement, 10, d->lower, sizeof d->lower);
	sql_text(statement, 11, d->distance, sizeof d->distance);
	sql_text(statement, 12, d->method, sizeof d->method);
	sql_text(statement, 13, d->remark, sizeof d->remark);
	sql_text(statement, 15, d->instrument, sizeof d->instrument);
	sql_text(statement, 16, d->rod, sizeof d->rod);
	d->again = sqlite3_column_int(statement, 17) != 0;
	sql_text(statement, 18, d->along, sizeof d->along);
	sql_text(statement, 19, d->photo, sizeof d->photo);
}

/* The half-typed forms of an editor. */
static bool load(struct book *book, int64_t run, int64_t whose, struct book_draft draft[2],
                 struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT slot, at, inserts, focus, wires, kind, station, reading, upper, middle, "
	    "lower, distance, method, remark, unit, instrument, rod, again, along, photo FROM "
	    "draft WHERE run=?1 AND editor=?2",
	    "ii", run, whose);
	draft[0] = draft[1] = (struct book_draft){0};
	if (!statement)
		return false;
	while (sql_row(book, statement, &ok, why))
		read_slot(statement, &draft[sqlite3_column_int(statement, 0) & 1]);
	ok = sql_done(book, statement, ok, why);
	for (int i = 0; i < 2; i++)
		if (!is_clean(&draft[i], NULL))
			draft[i] = (struct book_draft){0};
	return ok;
}

/* Own forms, or those left by an editor that is not there any more, the latest: they become own. */
static const char left_behind[] =
    "SELECT max(editor) FROM draft WHERE run=?1 AND editor<>?2 AND editor NOT IN (SELECT id FROM "
    "editor) AND NOT EXISTS (SELECT 1 FROM draft WHERE run=?1 AND editor=?2)";

static bool read_whose(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	(void)book;
	(void)why;
	*(int64_t *)item = sqlite3_column_type(statement, 0) == SQLITE_NULL
	                       ? -1
	                       : sqlite3_column_int64(statement, 0);
	return true;
}

static bool adopt(struct book *book, int64_t run, int64_t whose, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book,
	               sql_run(book, why, "UPDATE draft SET editor=?3 WHERE run=?1 AND editor=?2",
	                       "iii", run, whose, book->editor),
	               why);
}

bool book_draft_load(struct book *book, int64_t run, struct book_draft draft[2], struct fault *why)
{
	int64_t whose = -1;
	bool found;
	if (!sql_one(book, sql_query(book, why, left_behind, "ii", run, book->editor), read_whose,
	             &whose, &found, why))
		return false;
	if (whose >= 0 && book->editor && !book_read_only(book)) {
		if (!adopt(book, run, whose, why))
			return false;
		whose = -1;
	}
	return load(book, run, whose >= 0 ? whose : book->editor, draft, why);
}

bool book_draft_waits(struct book *book, int64_t run, bool *waits, struct fault *why)
{
	char host[EDITOR_HOST_BYTES];
	/* What somebody types on another machine is his; a closed run takes it no more. */
	sqlite3_stmt *statement =
	    sql_query(book, why,
	              "SELECT DISTINCT editor FROM draft WHERE run=?1 AND editor "
	              "NOT IN (SELECT id FROM editor WHERE host<>?2)",
	              "it", run, editor_host(host));
	bool ok = true;
	*waits = false;
	if (!statement)
		return false;
	while (ok && !*waits && sql_row(book, statement, &ok, why)) {
		struct book_draft draft[2];
		ok = load(book, run, sqlite3_column_int64(statement, 0), draft, why);
		*waits = draft[1].used || book_draft_says(&draft[0]);
	}
	return sql_done(book, statement, ok, why);
}

bool book_draft_says(const struct book_draft *draft)
{
	return draft->used &&
	       (*draft->reading || *draft->upper || *draft->middle || *draft->lower ||
	        *draft->distance || *draft->remark || *draft->along || *draft->photo);
}
