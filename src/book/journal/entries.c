/* Reading the journal, entry by entry, column by column. */
#include "book/journal/entries.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/journal/row_text.h"
#include "book/journal/sight_entries.h"
#include "rodbook/book/journal.h"

/* What each entry needs; :by is the text that its `after` is compared with. */
#define ENTRIES(by)                                                                                \
	"SELECT j.seq, j.action, coalesce(j.undoes, 0), coalesce((SELECT o.act FROM journal o "    \
	"WHERE o.seq = j.undoes), ''), j.time, j.act, coalesce(r.name, ''), j.tbl, j.row, "        \
	"j.before IS NULL, iif(json_valid(j.before), j.before, NULL), iif(json_valid(j.after), "   \
	"j.after, '{}'), coalesce(CASE WHEN json_valid(j.after) THEN " ENTRY_WHAT(                 \
	    "j.tbl", "j.after") " END, j.tbl || ' ' || j.row), " by                                \
	                        " FROM journal j LEFT JOIN run r ON r.id = j.run"

/* The struck sight that a new one stands for, as its last entry before left it. The strike stands
 * right before, but for rows that were imported: those are found in a list (sight_entries.h). Of an
 * amendment the seal before it. ?3: wanted at all. */
#define NEAR "16"
#define BEFORE_IT                                                                                  \
	"(SELECT iif(json_valid(p.after), p.after, NULL) FROM journal p WHERE p.seq < j.seq AND "
#define REPLACES "CAST(j.after ->> 'replaces' AS TEXT)"
#define REPLACED                                                                                   \
	"CASE WHEN NOT ?3 OR j.before IS NOT NULL OR NOT json_valid(j.after) THEN NULL "           \
	"WHEN j.tbl = 'sight' AND " REPLACES " IS NOT NULL THEN " BEFORE_IT                        \
	"p.seq >= j.seq - " NEAR " AND p.tbl = 'sight' AND p.row = " REPLACES                      \
	" ORDER BY p.seq DESC LIMIT 1) WHEN j.act = 'amend' THEN " BEFORE_IT                       \
	"p.tbl = 'seal' AND p.run = j.run ORDER BY p.seq DESC LIMIT 1) END, "                      \
	"CASE WHEN ?3 AND j.before IS NULL AND j.tbl = 'sight' AND json_valid(j.after) THEN "      \
	"CAST(j.after ->> 'replaces' AS INTEGER) END, j.before, j.after"

/* ?1 the run or NULL for all, ?2 how many actions or NULL for all. */
#define OF_RUN " WHERE (?1 IS NULL OR j.run = ?1) AND (?2 IS NULL OR j.action >= "
#define NEWEST                                                                                     \
	"(SELECT min(action) FROM (SELECT DISTINCT action FROM journal WHERE ?1 IS NULL OR run = " \
	"?1 ORDER BY action DESC LIMIT ?2)))"

static const char oldest_first[] = ENTRIES(REPLACED) OF_RUN NEWEST " ORDER BY j.seq";
static const char newest_first[] = ENTRIES(REPLACED) OF_RUN NEWEST " ORDER BY j.action DESC, j.seq";

enum { OF_SEQ, OF_ACTION, OF_UNDOES, OF_UNDONE, OF_TIME, OF_ACT, OF_RUN_NAME, OF_TABLE, OF_ROW };
enum {
	OF_NEW = OF_ROW + 1,
	OF_BEFORE,
	OF_AFTER,
	OF_WHAT,
	OF_REPLACED,
	OF_REPLACES,
	OF_RAW_BEFORE,
	OF_RAW_AFTER
};

/* Texts of one entry, clean; the next entry takes the same rooms. */
struct texts {
	size_t used;
	struct {
		char *text;
		size_t room;
	} of[3 * BOOK_CHANGES_MOST + 8];
};

static char *take_room(struct texts *texts, size_t size, struct fault *why)
{
	char **text = &texts->of[texts->used].text;
	if (texts->of[texts->used].room < size) {
		free(*text);
		*text = malloc(size);
		texts->of[texts->used].room = *text ? size : 0;
	}
	if (!*text) {
		fault_memory(why);
		return NULL;
	}
	texts->used++;
	return *text;
}

/* The text shown, and behind it the text as it was: one byte may become eight. */
static bool show_text(struct texts *texts, const char *text, size_t length, bool lines,
                      const char **out, struct fault *why)
{
	const size_t shown = 8 * length + 1;
	char *to = take_room(texts, shown + length + 1, why);
	if (!to)
		return false;
	memcpy(to + shown, text, length);
	to[shown + length] = '\0';
	*out = level_show_text(to, shown, to + shown, lines);
	return true;
}

/* NULL where the column is NULL; false where memory is short. */
static bool take_text(struct texts *texts, sqlite3_stmt *statement, int column, bool lines,
                      const char **out, struct fault *why)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	*out = NULL;
	if (!text)
		return sqlite3_column_type(statement, column) == SQLITE_NULL || fault_memory(why);
	return show_text(texts, text, strlen(text), lines, out, why);
}

/* The same as it is. */
static bool keep_text(struct texts *texts, sqlite3_stmt *statement, int column, const char **out,
                      struct fault *why)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	char *to;
	*out = NULL;
	if (!text)
		return sqlite3_column_type(statement, column) == SQLITE_NULL || fault_memory(why);
	to = take_room(texts, strlen(text) + 1, why);
	*out = to ? strcpy(to, text) : NULL;
	return to != NULL;
}

static bool take_value(struct texts *texts, const struct row_value *value, const char **out,
                       struct fault *why)
{
	*out = NULL;
	return value->kind == ROW_NULL ||
	       show_text(texts, value->text, value->length, true, out, why);
}

static void free_texts(struct texts *texts)
{
	for (size_t i = 0; i < sizeof texts->of / sizeof *texts->of; i++)
		free(texts->of[i].text);
}

sqlite3_stmt *entry_differences(struct book *book, const char *table, const char *one,
                                const char *other, struct fault *why)
{
	const struct table *of = table_of(book, table, why);
	return of ? sql_query(book, why, of->differences, "tt", one, other) : NULL;
}

/* What a new row leaves empty is no change. */
static bool is_change(const struct book_entry *entry, size_t bytes)
{
	return !entry->is_new || entry->replaces || bytes;
}

static bool take_differences(const struct row_difference *list, size_t count,
                             struct book_entry *entry, struct texts *texts, struct fault *why)
{
	for (size_t i = 0; i < count && entry->count < BOOK_CHANGES_MOST; i++) {
		struct book_change *change = &entry->change[entry->count];
		if (!is_change(entry, list[i].after.length))
			continue;
		entry->count++;
		change->column = list[i].column;
		if (!take_value(texts, &list[i].before, &change->before, why) ||
		    !take_value(texts, &list[i].after, &change->after, why))
			return false;
	}
	return true;
}

/* The same by SQLite, for texts of every form. */
static bool ask_differences(struct book *book, const char *before, const char *after,
                            struct book_entry *entry, struct texts *texts, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = entry_differences(book, entry->table, before, after, why);
	if (!statement)
		return false;
	while (ok && entry->count < BOOK_CHANGES_MOST && sql_row(book, statement, &ok, why)) {
		struct book_change *change = &entry->change[entry->count];
		if (!is_change(entry, (size_t)sqlite3_column_bytes(statement, 2)))
			continue;
		entry->count++;
		ok = take_text(texts, statement, 0, false, &change->column, why) &&
		     take_text(texts, statement, 1, true, &change->before, why) &&
		     take_text(texts, statement, 2, true, &change->after, why);
	}
	return sql_done(book, statement, ok, why);
}

static bool read_changes(struct book *book, const char *before, const char *after,
                         struct book_entry *entry, struct texts *texts, struct fault *why)
{
	struct row_difference list[ROW_DIFFERENCES_MOST];
	size_t count;
	const struct table *of = table_of(book, entry->table, why);
	if (!of)
		return false;
	return row_differences(of, before, after, list, &count)
	           ? take_differences(list, count, entry, texts, why)
	           : ask_differences(book, before, after, entry, texts, why);
}

/* How the struck sight was left that this new one stands for; *after stays NULL where no entry says
 * so. */
static bool find_replaced(struct book *book, struct sight_entries *sights, int64_t row, int64_t seq,
                          const char **after, struct texts *texts, struct fault *why)
{
	int64_t last;
	bool ok = true;
	sqlite3_stmt *statement;
	if (!sight_entry_before(book, sights, row, seq, &last, why))
		return false;
	if (!last)
		return true;
	statement = sql_query(
	    book, why, "SELECT iif(json_valid(after), after, NULL) FROM journal WHERE seq=?1", "i",
	    last);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		ok = keep_text(texts, statement, 0, after, why);
	return sql_done(book, statement, ok, why);
}

/* SQLite's JSON functions take a want of memory for a text that is no JSON, and say nothing. So
 * what they found nothing in is asked about once more; true also where that cannot be asked. */
static bool asked_again(struct book *book, const char *question, const char *text,
                        const char *table, const char *named)
{
	bool ok = true, found = false;
	sqlite3_stmt *statement = sql_query(book, NULL, question, "ttt", text, table, named);
	if (!statement)
		return true;
	if (sql_row(book, statement, &ok, NULL))
		found = sqlite3_column_int(statement, 0) != 0;
	return !sql_done(book, statement, ok, NULL) || found;
}

/* Whether a text was taken for no JSON, or has a name that was not found. */
static bool is_lost(struct book *book, const struct book_entry *entry, const char *before,
                    const char *raw_before, const char *after, const char *raw_after)
{
	static const char valid[] = "SELECT json_valid(?1) AND ?2 IS NOT NULL AND ?3 IS NOT NULL";
	static const char other[] =
	    "SELECT CASE WHEN json_valid(?1) THEN (" ENTRY_WHAT("?2", "?1") ") <> ?3 END";
	char nameless[sizeof entry->what];
	snprintf(nameless, sizeof nameless, "%s %s", entry->table, entry->row);
	return (!before && raw_before && asked_again(book, valid, raw_before, entry->table, "")) ||
	       (raw_after && strcmp(after, "{}") == 0 &&
	        asked_again(book, valid, raw_after, entry->table, "")) ||
	       (raw_after && strcmp(entry->what, nameless) == 0 &&
	        asked_again(book, other, raw_after, entry->table, nameless));
}

/* Whether the text of a new sight says what it stands for. */
static bool says_replaces(struct book *book, const char *after)
{
	static const char replaces[] =
	    "SELECT CASE WHEN json_valid(?1) AND ?2 IS NOT NULL AND ?3 IS "
	    "NOT NULL THEN (?1 ->> 'replaces') IS NOT NULL END";
	struct row_difference list[ROW_DIFFERENCES_MOST];
	size_t count;
	const struct table *of = table_of(book, "sight", NULL);
	if (!of || !row_differences(of, NULL, after, list, &count))
		return asked_again(book, replaces, after, "", "");
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].column, "replaces") == 0)
			return list[i].after.kind != ROW_NULL;
	return false;
}

/* Whether there is a sound seal of the run before an amendment. */
static bool has_seal_before(struct book *book, int64_t seq)
{
	bool ok = true, found;
	sqlite3_stmt *statement = sql_query(
	    book, NULL,
	    "SELECT 1 FROM journal j JOIN journal p ON p.run = j.run WHERE j.seq = ?1 AND "
	    "p.seq < j.seq AND p.tbl = 'seal' AND json_valid(p.after)",
	    "i", seq);
	if (!statement)
		return true;
	found = sql_row(book, statement, &ok, NULL);
	return !sql_done(book, statement, ok, NULL) || found;
}

/* Whether SQLite ran out of memory where it found nothing that a new entry stands for. */
static bool lost_replaced(struct book *book, const struct book_entry *entry, const char *after)
{
	if (strcmp(entry->table, "sight") == 0)
		return says_replaces(book, after);
	return strcmp(entry->act, "amend") == 0 && has_seal_before(book, entry->seq);
}

static bool read_entry(struct book *book, sqlite3_stmt *statement, struct sight_entries *sights,
                       bool in_place, struct book_entry *entry, struct texts *texts,
                       struct fault *why)
{
	const struct {
		int column;
		const char **text;
	} taken[] = {{OF_UNDONE, &entry->undone}, {OF_TIME, &entry->time},   {OF_ACT, &entry->act},
	             {OF_RUN_NAME, &entry->run},  {OF_TABLE, &entry->table}, {OF_ROW, &entry->row}};
	const char *before = (const char *)sqlite3_column_text(statement, OF_BEFORE);
	const char *after = (const char *)sqlite3_column_text(statement, OF_AFTER);
	const char *replaced = (const char *)sqlite3_column_text(statement, OF_REPLACED);
	const char *what = (const char *)sqlite3_column_text(statement, OF_WHAT);
	const char *raw_before = (const char *)sqlite3_column_text(statement, OF_RAW_BEFORE);
	const char *raw_after = (const char *)sqlite3_column_text(statement, OF_RAW_AFTER);
	int64_t sight = sqlite3_column_int64(statement, OF_REPLACES);
	if (sqlite3_errcode(book->db) == SQLITE_NOMEM)
		return fault_memory(why);
	*entry = (struct book_entry){.seq = sqlite3_column_int64(statement, OF_SEQ),
	                             .action = sqlite3_column_int64(statement, OF_ACTION),
	                             .undoes = sqlite3_column_int64(statement, OF_UNDOES),
	                             .is_new = sqlite3_column_int(statement, OF_NEW) != 0};
	if (!replaced && sight &&
	    !find_replaced(book, sights, sight, entry->seq, &replaced, texts, why))
		return false;
	entry->replaces = replaced != NULL;
	for (size_t i = 0; i < sizeof taken / sizeof *taken; i++)
		if (!take_text(texts, statement, taken[i].column, false, taken[i].text, why))
			return false;
	level_show_text(entry->what, sizeof entry->what, what ? what : "", false);
	if (is_lost(book, entry, before, raw_before, after, raw_after) ||
	    (in_place && !replaced && !sight && !raw_before && after &&
	     lost_replaced(book, entry, after)))
		return fault_memory(why);
	return read_changes(book, entry->replaces ? replaced : before, after, entry, texts, why);
}

bool book_journal(struct book *book, const struct book_journal_order *order, book_entry_taker *take,
                  void *context, struct fault *why)
{
	const int64_t in_place = order->in_place;
	struct texts texts = {0};
	struct sight_entries sights = {0};
	bool ok = true, more = true;
	sqlite3_stmt *statement =
	    order->newest_first
	        ? sql_query(book, why, newest_first, "nni", order->run, order->most, in_place)
	        : sql_query(book, why, oldest_first, "nni", order->run, order->most, in_place);
	if (!statement)
		return false;
	while (ok && more && sql_row(book, statement, &ok, why)) {
		struct book_entry entry;
		texts.used = 0;
		ok = read_entry(book, statement, &sights, order->in_place, &entry, &texts, why);
		more = ok && take(&entry, context);
	}
	free_texts(&texts);
	free(sights.list);
	return sql_done(book, statement, ok, why);
}
