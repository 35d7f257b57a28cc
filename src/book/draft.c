/* The half-typed form, kept so that a crash does not lose it. */
#include "book/members.h"
#include "rodbook/book/closings.h"

#include <stdio.h>
#include <string.h>

static bool save_slot(struct book *book, int64_t run, int64_t slot, const struct book_draft *d,
                      struct fault *why)
{
	const char *sql;
	sqlite3_stmt *statement;
	bool ok;
	if (!d->used)
		return sql_run(book, why,
		               "DELETE FROM draft WHERE run=?1 AND slot=?2 AND editor=?3", "iii",
		               run, slot, book->editor);
	sql = members_sql(book, SQL_DRAFT_PUT, why);
	statement = sql ? sql_query(book, why, sql, "iii", run, slot, book->editor) : NULL;
	if (!statement)
		return false;
	ok = members_bind(book, statement, 4, &draft_members, d, NULL, why);
	while (ok && sql_row(book, statement, &ok, why))
		continue;
	return sql_done(book, statement, ok, why);
}

static bool is_clean(const struct book_draft *d, struct fault *why)
{
	for (size_t i = 0; i < draft_members.count; i++) {
		const struct member *member = &draft_members.list[i];
		if (member->kind == MEMBER_TEXT &&
		    !level_check_text((const char *)d + member->offset, LEVEL_REMARK_CHARS,
		                      "half-typed sight", why))
			return false;
	}
	return true;
}

/* The form as the table can hold it. */
static struct book_draft kept_of(const struct book_draft *draft)
{
	struct book_draft kept = *draft;
	char length[BOOK_TYPED_BYTES], way[12], carried[BOOK_TYPED_BYTES + 20];
	book_split_distance(draft->distance, length, sizeof length, way);
	level_carry_text(carried, sizeof carried, length, draft->distance_unit, draft->unit);
	if (strcmp(carried, length) == 0)
		return kept;
	snprintf(carried + strlen(carried), 14, "%s%s", *way ? " " : "", way);
	if (strlen(carried) < sizeof kept.distance)
		strcpy(kept.distance, carried);
	return kept;
}

bool book_draft_save(struct book *book, int64_t run, const struct book_draft draft[2],
                     struct fault *why)
{
	struct book_draft kept[2];
	for (int i = 0; i < 2; i++) {
		kept[i] = kept_of(&draft[i]);
		if (kept[i].used && !is_clean(&kept[i], why))
			return false;
	}
	if (!txn_begin(book, why))
		return false;
	return txn_end(
	    book, save_slot(book, run, 0, &kept[0], why) && save_slot(book, run, 1, &kept[1], why),
	    why);
}

/* The half-typed forms of an editor. */
static bool load(struct book *book, int64_t run, int64_t whose, struct book_draft draft[2],
                 struct fault *why)
{
	bool ok = true;
	const char *sql = members_sql(book, SQL_DRAFTS, why);
	sqlite3_stmt *statement = sql ? sql_query(book, why, sql, "ii", run, whose) : NULL;
	draft[0] = draft[1] = (struct book_draft){0};
	if (!statement)
		return false;
	while (sql_row(book, statement, &ok, why)) {
		struct book_draft *d = &draft[sqlite3_column_int(statement, 0) & 1];
		d->used = true;
		members_read(statement, 1, &draft_members, d, NULL);
		d->distance_unit = d->unit;
	}
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
