/* Taking out what a book cannot hold, row by row, by the readers' own checks. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/file/schema.h"
#include "book/journal/entries.h"
#include "book/rescue/rescue.h"
#include "rodbook/book/journal.h"

struct sifting {
	struct replica *r;
	book_rescue_teller *tell;
	void *context;
	size_t *lost;
};

static bool run_sql(struct sifting *s, struct fault *why, const char *sql, int64_t id)
{
	sqlite3_stmt *statement = NULL;
	bool ok = sqlite3_prepare_v2(s->r->book.db, sql, -1, &statement, NULL) == SQLITE_OK &&
	          (!sqlite3_bind_parameter_count(statement) ||
	           sqlite3_bind_int64(statement, 1, id) == SQLITE_OK) &&
	          sqlite3_step(statement) == SQLITE_DONE;
	sqlite3_finalize(statement);
	return ok || sql_fault(&s->r->book, why);
}

static void tell(struct sifting *s, const char *table, int64_t id, const char *why)
{
	struct book *book = &s->r->book;
	char what[BOOK_WHAT_BYTES] = "", named[BOOK_WHAT_BYTES + 40], reason[520];
	struct fault ignored;
	char *json = journal_numbered(book, table, id, &ignored);
	bool ok = json != NULL;
	sqlite3_stmt *statement =
	    json ? sql_query(book, &ignored, "SELECT " ENTRY_WHAT("?1", "?2"), "tt", table, json)
	         : NULL;
	if (statement && sql_row(book, statement, &ok, &ignored)) {
		const char *text = (const char *)sqlite3_column_text(statement, 0);
		level_show_text(what, sizeof what, text ? text : "", false);
	}
	if (statement)
		sql_done(book, statement, ok, &ignored);
	sqlite3_free(json);
	snprintf(named, sizeof named, "%s %" PRId64 "%s%s", table, id, *what ? ", " : "", what);
	snprintf(reason, sizeof reason, "left out: %.500s", why);
	s->tell(named, reason, s->context);
	++*s->lost;
}

/* A run whose plan or grade alone cannot be read loses that. */
static bool strip_run(struct sifting *s, int64_t id, struct fault *why)
{
	struct fault first = {0};
	static const char *const parts[] = {"UPDATE run SET grade = '' WHERE id = ?1",
	                                    "UPDATE run SET plan = '' WHERE id = ?1",
	                                    "UPDATE run SET time = '' WHERE id = ?1"};
	if (run_reads(&s->r->book, id, &first))
		return true;
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		struct fault again;
		if (!run_sql(s, why, parts[i], id))
			return false;
		if (run_reads(&s->r->book, id, &again)) {
			tell(s, "run", id, first.text);
			return true;
		}
	}
	return true;
}

static bool sift_row(struct sifting *s, const char *table, int64_t id,
                     bool (*reads)(struct book *, int64_t, struct fault *), struct fault *why)
{
	char sql[80];
	struct fault words = {0};
	if (strcmp(table, "run") == 0 && !strip_run(s, id, why))
		return false;
	if (reads(&s->r->book, id, &words))
		return true;
	tell(s, table, id, words.text);
	snprintf(sql, sizeof sql, "DELETE FROM main.%s WHERE id = ?1", table);
	return run_sql(s, why, sql, id);
}

static bool ids_of(struct sifting *s, const char *table, const char *where, int64_t **ids,
                   size_t *count, struct fault *why)
{
	char sql[320];
	size_t room = 0;
	sqlite3_stmt *statement = NULL;
	bool ok;
	*ids = NULL;
	*count = 0;
	snprintf(sql, sizeof sql, "SELECT id FROM main.%s %s ORDER BY id", table, where);
	ok = sqlite3_prepare_v2(s->r->book.db, sql, -1, &statement, NULL) == SQLITE_OK;
	while (ok && sqlite3_step(statement) == SQLITE_ROW) {
		int64_t *more = store_grow(*ids, *count, &room, sizeof *more, why);
		ok = more != NULL;
		if (!ok)
			break;
		*ids = more;
		more[(*count)++] = sqlite3_column_int64(statement, 0);
	}
	sqlite3_finalize(statement);
	return ok;
}

static bool sift_table(struct sifting *s, const char *table, struct fault *why)
{
	int64_t *ids;
	size_t count;
	bool ok = ids_of(s, table, "", &ids, &count, why);
	for (size_t i = 0; ok && i < count; i++)
		ok = sift_row(s, table, ids[i], row_reader(table), why);
	free(ids);
	return ok;
}

/* Rows of runs that are gone. */
static bool sift_orphans(struct sifting *s, const char *table, struct fault *why)
{
	int64_t *ids;
	size_t count;
	char sql[120];
	bool ok = ids_of(s, table, "WHERE run NOT IN (SELECT id FROM run)", &ids, &count, why);
	for (size_t i = 0; ok && i < count; i++)
		tell(s, table, ids[i], "its run is lost");
	free(ids);
	snprintf(sql, sizeof sql, "DELETE FROM main.%s WHERE run NOT IN (SELECT id FROM run)",
	         table);
	return ok && run_sql(s, why, sql, 0);
}

static bool sift_settings(struct sifting *s, struct fault *why)
{
	struct book *book = &s->r->book;
	for (size_t i = 0; i < book_setting_count(); i++) {
		struct book_settings settings = {0};
		struct book_setting setting;
		struct fault words = {0};
		char sql[120];
		if (book_setting(book, i, &setting, &words) &&
		    (setting.is_default ||
		     setting_apply_in(book, &settings, i, setting.value, &words)))
			continue;
		s->tell(setting_name(i), words.text, s->context);
		++*s->lost;
		snprintf(sql, sizeof sql, "DELETE FROM setting WHERE name = '%s'", setting_name(i));
		if (!run_sql(s, why, sql, 0))
			return false;
	}
	return true;
}

/* Instruments and rods that sights name, and that are lost. */
static bool sift_names(struct sifting *s, const char *column, const char *table, struct fault *why)
{
	int64_t *ids;
	size_t count;
	char where[200], sql[260];
	bool ok;
	snprintf(where, sizeof where,
	         "WHERE %s<>'' AND %s NOT IN (SELECT name FROM %s WHERE struck IS NULL)", column,
	         column, table);
	ok = ids_of(s, "sight", where, &ids, &count, why);
	for (size_t i = 0; ok && i < count; i++)
		tell(s, "sight", ids[i],
		     "the instrument or rod that it names is lost: it is without");
	free(ids);
	snprintf(sql, sizeof sql, "UPDATE sight SET %s='' %s", column, where);
	return ok && run_sql(s, why, sql, 0);
}

/* A run whose rows can be read one by one, but not together. */
static bool sift_runs(struct sifting *s, struct fault *why)
{
	int64_t *ids;
	size_t count;
	bool ok = ids_of(s, "run", "", &ids, &count, why);
	for (size_t i = 0; ok && i < count; i++) {
		struct book_run run;
		struct fault words = {0};
		if (book_load(&s->r->book, ids[i], &run, &words)) {
			book_run_free(&run);
			continue;
		}
		tell(s, "run", ids[i], words.text);
		ok = run_sql(s, why, "DELETE FROM run WHERE id = ?1", ids[i]);
	}
	free(ids);
	for (size_t i = 0; ok && journal_table(i); i++) {
		const struct table *of = table_of(&s->r->book, journal_table(i), why);
		ok = of && (!table_has(of, "run") || sift_orphans(s, of->name, why));
	}
	return ok;
}

bool rescue_sift(struct replica *r, book_rescue_teller *tell_row, void *context, size_t *lost,
                 struct fault *why)
{
	struct sifting s = {r, tell_row, context, lost};
	bool ok = run_sql(&s, why, "PRAGMA foreign_keys=OFF", 0) && sift_settings(&s, why);
	for (size_t i = 0; ok && journal_table(i); i++)
		if (row_reader(journal_table(i)))
			ok = sift_table(&s, journal_table(i), why);
	return ok && sift_names(&s, "instrument", "instrument", why) &&
	       sift_names(&s, "rod", "rod", why) && sift_runs(&s, why) &&
	       run_sql(&s, why,
	               "UPDATE sight SET replaces = NULL WHERE replaces NOT IN (SELECT id FROM "
	               "sight)",
	               0);
}
