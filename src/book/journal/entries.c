/* Reading the journal, entry by entry, column by column. */
#include "book/journal/entries.h"

#include <stdlib.h>
#include <string.h>

#include "book/file/schema.h"
#include "rodbook/book/journal.h"

/* What each entry needs; :by is the text that its `after` is compared with. */
#define ENTRIES(by)                                                                                \
	"SELECT j.seq, j.action, coalesce(j.undoes, 0), coalesce((SELECT o.act FROM journal o "    \
	"WHERE o.seq = j.undoes), ''), j.time, j.act, coalesce(r.name, ''), j.tbl, j.row, "        \
	"j.before IS NULL, iif(json_valid(j.before), j.before, NULL), iif(json_valid(j.after), "   \
	"j.after, '{}'), coalesce(CASE WHEN json_valid(j.after) THEN " ENTRY_WHAT(                 \
	    "j.tbl", "j.after") " END, j.tbl || ' ' || j.row), " by                                \
	                        " FROM journal j LEFT JOIN run r ON r.id = j.run"

/* The struck sight that a new one stands for, as its last entry before left it: the strike stands
 * right before, so that looking back finds it at once. Of an amendment the seal before it. */
#define BEFORE_IT                                                                                  \
	"(SELECT iif(json_valid(p.after), p.after, NULL) FROM journal p WHERE p.seq < j.seq AND "
#define REPLACED                                                                                   \
	"CASE WHEN j.before IS NOT NULL OR NOT json_valid(j.after) THEN NULL "                     \
	"WHEN j.tbl = 'sight' AND (j.after ->> 'replaces') IS NOT NULL THEN " BEFORE_IT            \
	"p.tbl = 'sight' AND p.row = CAST(j.after ->> 'replaces' AS TEXT) ORDER BY p.seq DESC "    \
	"LIMIT 1) WHEN j.act = 'amend' THEN " BEFORE_IT                                            \
	"p.tbl = 'seal' AND p.run = j.run ORDER BY p.seq DESC LIMIT 1) END"

/* ?1 the run or NULL for all, ?2 how many actions or NULL for all. */
#define OF_RUN " WHERE (?1 IS NULL OR j.run = ?1) AND (?2 IS NULL OR j.action >= "
#define NEWEST                                                                                     \
	"(SELECT min(action) FROM (SELECT DISTINCT action FROM journal WHERE ?1 IS NULL OR run = " \
	"?1 ORDER BY action DESC LIMIT ?2)))"

static const char oldest_first[] = ENTRIES(REPLACED) OF_RUN NEWEST " ORDER BY j.seq";
static const char newest_first[] = ENTRIES(REPLACED) OF_RUN NEWEST " ORDER BY j.action DESC, j.seq";

enum { OF_SEQ, OF_ACTION, OF_UNDOES, OF_UNDONE, OF_TIME, OF_ACT, OF_RUN_NAME, OF_TABLE, OF_ROW };
enum { OF_NEW = OF_ROW + 1, OF_BEFORE, OF_AFTER, OF_WHAT, OF_REPLACED };

/* Texts of one entry on the heap, clean. */
struct texts {
	size_t count;
	char *text[3 * BOOK_CHANGES_MOST + 8];
};

/* NULL where the column is NULL; false where memory is short. */
static bool take_text(struct texts *texts, sqlite3_stmt *statement, int column, bool lines,
                      const char **out, struct fault *why)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	size_t size;
	char *copy;
	*out = NULL;
	if (!text)
		return sqlite3_column_type(statement, column) == SQLITE_NULL || fault_memory(why);
	/* One byte may become eight. */
	size = 8 * strlen(text) + 1;
	copy = malloc(size);
	if (!copy)
		return fault_memory(why);
	*out = level_show_text(copy, size, text, lines);
	texts->text[texts->count++] = copy;
	return true;
}

static void drop_texts(struct texts *texts)
{
	while (texts->count)
		free(texts->text[--texts->count]);
}

sqlite3_stmt *entry_differences(struct book *book, const char *table, const char *one,
                                const char *other, struct fault *why)
{
	const struct table *of = table_of(book, table, why);
	return of ? sql_query(book, why, of->differences, "tt", one, other) : NULL;
}

static bool read_changes(struct book *book, const char *before, const char *after,
                         struct book_entry *entry, struct texts *texts, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = entry_differences(book, entry->table, before, after, why);
	if (!statement)
		return false;
	while (ok && entry->count < BOOK_CHANGES_MOST && sql_row(book, statement, &ok, why)) {
		struct book_change *change = &entry->change[entry->count];
		/* What a new row leaves empty is no change. */
		if (entry->is_new && !entry->replaces && !sqlite3_column_bytes(statement, 2))
			continue;
		entry->count++;
		ok = take_text(texts, statement, 0, false, &change->column, why) &&
		     take_text(texts, statement, 1, true, &change->before, why) &&
		     take_text(texts, statement, 2, true, &change->after, why);
	}
	return sql_done(book, statement, ok, why);
}

static bool read_entry(struct book *book, sqlite3_stmt *statement, bool in_place,
                       struct book_entry *entry, struct texts *texts, struct fault *why)
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
	if (sqlite3_errcode(book->db) == SQLITE_NOMEM)
		return fault_memory(why);
	*entry = (struct book_entry){.seq = sqlite3_column_int64(statement, OF_SEQ),
	                             .action = sqlite3_column_int64(statement, OF_ACTION),
	                             .undoes = sqlite3_column_int64(statement, OF_UNDOES),
	                             .is_new = sqlite3_column_int(statement, OF_NEW) != 0,
	                             .replaces = in_place && replaced};
	for (size_t i = 0; i < sizeof taken / sizeof *taken; i++)
		if (!take_text(texts, statement, taken[i].column, false, taken[i].text, why))
			return false;
	level_show_text(entry->what, sizeof entry->what, what ? what : "", false);
	return read_changes(book, entry->replaces ? replaced : before, after, entry, texts, why);
}

bool book_journal(struct book *book, const struct book_journal_order *order, book_entry_taker *take,
                  void *context, struct fault *why)
{
	bool ok = true, more = true;
	sqlite3_stmt *statement =
	    order->newest_first ? sql_query(book, why, newest_first, "nn", order->run, order->most)
	                        : sql_query(book, why, oldest_first, "nn", order->run, order->most);
	if (!statement)
		return false;
	while (ok && more && sql_row(book, statement, &ok, why)) {
		struct book_entry entry;
		struct texts texts = {0};
		ok = read_entry(book, statement, order->in_place, &entry, &texts, why);
		more = ok && take(&entry, context);
		drop_texts(&texts);
	}
	return sql_done(book, statement, ok, why);
}
