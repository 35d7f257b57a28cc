/* Results of adjustments. */
#include "rodbook/book/result.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

/* What an adjustment hangs on. */
#define TABLES                                                                                     \
	"tbl IN ('run', 'sight', 'mark', 'setting', 'instrument', 'rod', 'air', 'plan', 'seal')"

bool book_last_entry(struct book *book, int64_t *seq, struct fault *why)
{
	return sql_integer(book, "SELECT coalesce(max(seq), 0) FROM journal", seq, why);
}

/* Whether each line of a text is clean; `name`: whether it can name a run. The text is cut and
 * mended on the way. */
static bool lines_are_clean(char *text, bool name, struct fault *why)
{
	for (char *line = text, *end; *line; line = end + (*end == '\n')) {
		bool ok;
		char held;
		end = line + strcspn(line, "\n");
		held = *end;
		*end = '\0';
		ok = name ? level_check_name(line, "run of a result", why)
		          : level_check_text(line, BOOK_RESULT_BYTES, "result", why);
		*end = held;
		if (!ok)
			return false;
	}
	return *text || fault_say(why, FAULT_INPUT, "a result says nothing");
}

static bool is_sound(struct book_result *result, const char *kind, int64_t last, struct fault *why)
{
	bool known = strcmp(kind, "net") == 0 || strcmp(kind, "run") == 0;
	if (!known || result->seq < 0 || result->seq > last)
		return fault_say(why, FAULT_INPUT, "result %lld is of no kind or time",
		                 (long long)result->id);
	if (!result->net && strchr(result->subject, '\n'))
		return fault_say(why, FAULT_INPUT, "result %lld is of no run",
		                 (long long)result->id);
	return lines_are_clean(result->subject, true, why) &&
	       level_check_text(result->time, BOOK_TIME_BYTES, "time of a result", why);
}

/* The one integer of a query that a statement asks. */
static bool answer(struct book *book, sqlite3_stmt *statement, bool *yes, struct fault *why)
{
	bool ok = statement != NULL;
	if (ok && sql_row(book, statement, &ok, why))
		*yes = *yes || sqlite3_column_int(statement, 0) != 0;
	return statement && sql_done(book, statement, ok, why);
}

/* What a run of that name hangs on; a run that is not found by its name was renamed. */
static bool run_changed(struct book *book, const char *name, int64_t seq, bool *changed,
                        struct fault *why)
{
	return answer(book,
	              sql_query(book, why,
	                        "SELECT EXISTS(SELECT 1 FROM journal WHERE seq > ?1 AND " TABLES
	                        " AND (run IS NULL OR run = (SELECT id FROM run WHERE name = ?2))) "
	                        "OR NOT EXISTS(SELECT 1 FROM run WHERE name = ?2)",
	                        "it", seq, name),
	              changed, why);
}

/* A run that is a crossing counts only where it may have been another kind before. */
static bool any_changed(struct book *book, int64_t seq, bool *changed, struct fault *why)
{
	return answer(
	    book,
	    sql_query(book, why,
	              "SELECT EXISTS(SELECT 1 FROM journal j LEFT JOIN run r ON r.id = j.run WHERE "
	              "j.seq > ?1 AND j." TABLES " AND (j.run IS NULL OR r.kind <> 'crossing' OR "
	              "j.act IN ('kind of run', 'undo', 'redo')))",
	              "i", seq),
	    changed, why);
}

static bool find_changed(struct book *book, struct book_result *result, struct fault *why)
{
	char name[LEVEL_NAME_BYTES];
	if (!result->net)
		return run_changed(book, result->subject, result->seq, &result->changed, why);
	if (strcmp(result->subject, BOOK_ALL_RUNS) == 0)
		return any_changed(book, result->seq, &result->changed, why);
	for (const char *at = result->subject; *at && !result->changed;) {
		size_t size = strcspn(at, "\n");
		snprintf(name, sizeof name, "%.*s", (int)size, at);
		if (!run_changed(book, name, result->seq, &result->changed, why))
			return false;
		at += size + (at[size] == '\n');
	}
	return true;
}

static bool read_result(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_result *result = item;
	char kind[8];
	result->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, kind, sizeof kind);
	result->net = strcmp(kind, "net") == 0;
	sql_text(statement, 2, result->subject, sizeof result->subject);
	result->seq = sqlite3_column_int64(statement, 3);
	sql_text(statement, 4, result->time, sizeof result->time);
	return is_sound(result, kind, sqlite3_column_int64(statement, 5), why) ||
	       book_spoiled(book, why);
}

#define COLUMNS "id, kind, subject, seq, time, (SELECT coalesce(max(seq), 0) FROM journal)"

bool book_results(struct book *book, struct book_result **list, size_t *count, struct fault *why)
{
	bool ok = sql_list(
	    book, sql_query(book, why, "SELECT " COLUMNS " FROM result ORDER BY id DESC", ""),
	    sizeof **list, read_result, (void **)list, count, why);
	for (size_t i = 0; ok && i < *count; i++)
		ok = find_changed(book, &(*list)[i], why);
	if (!ok) {
		free(*list);
		*list = NULL;
	}
	return ok;
}

/* The figures of the row that the statement stands on. */
static bool read_figures(struct book *book, sqlite3_stmt *statement, char **figures,
                         struct fault *why)
{
	const char *text = (const char *)sqlite3_column_text(statement, 6);
	*figures = strdup(text ? text : "");
	if (!*figures)
		return fault_memory(why);
	if (lines_are_clean(*figures, false, why))
		return true;
	free(*figures);
	*figures = NULL;
	return book_spoiled(book, why);
}

bool book_result_find(struct book *book, int64_t id, struct book_result *out, char **figures,
                      struct fault *why)
{
	bool ok = true, found;
	sqlite3_stmt *statement =
	    sql_query(book, why, "SELECT " COLUMNS ", figures FROM result WHERE id=?1", "i", id);
	*out = (struct book_result){0};
	*figures = NULL;
	if (!statement)
		return false;
	found = sql_row(book, statement, &ok, why);
	if (found)
		ok = read_result(book, statement, out, why) &&
		     read_figures(book, statement, figures, why);
	ok = sql_done(book, statement, ok, why);
	if (ok && !found)
		ok = fault_say(why, FAULT_INPUT,
		               "there is no result %lld; those kept: rodbook adjusted BOOK",
		               (long long)id);
	ok = ok && find_changed(book, out, why);
	if (!ok) {
		free(*figures);
		*figures = NULL;
	}
	return ok;
}

static bool read_whole(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	char *figures;
	if (!read_result(book, statement, item, why) ||
	    !read_figures(book, statement, &figures, why))
		return false;
	free(figures);
	return true;
}

bool result_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_result ignored;
	return row_reads(
	    book,
	    sql_query(book, why, "SELECT " COLUMNS ", figures FROM result WHERE id=?1", "i", id),
	    read_whole, &ignored, why);
}

bool results_are_sound(struct book *book, struct fault *why)
{
	bool ok = true;
	struct book_result ignored;
	sqlite3_stmt *statement =
	    sql_query(book, why, "SELECT " COLUMNS ", figures FROM result ORDER BY id", "");
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why))
		ok = read_whole(book, statement, &ignored, why);
	return sql_done(book, statement, ok, why);
}

static bool insert(struct book *book, bool net, const char *subject, const char *figures,
                   int64_t seq, int64_t *id, struct fault *why)
{
	if (!sql_run(book, why,
	             "INSERT INTO result(id, kind, subject, figures, seq, time) VALUES((SELECT "
	             "coalesce(max(id), 0) + 1 FROM result), ?1, ?2, ?3, ?4, ?5)",
	             "tttit", net ? "net" : "run", subject, figures, seq, book->now))
		return false;
	*id = sqlite3_last_insert_rowid(book->db);
	return journal_enter_numbered(book, "adjust", 0, "result", *id, NULL, 0, why);
}

bool book_result_keep(struct book *book, bool net, const char *subject, const char *figures,
                      int64_t seq, int64_t *id, struct fault *why)
{
	if (strlen(subject) >= BOOK_SUBJECT_BYTES || strlen(figures) > BOOK_RESULT_BYTES)
		return fault_say(why, FAULT_INPUT,
		                 "this result is too large to be kept: name fewer runs");
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, insert(book, net, subject, figures, seq, id, why), why);
}
