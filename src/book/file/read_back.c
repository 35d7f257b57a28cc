/* The journaled tables, and reading what a change wrote before it is kept: the program must never
 * write what it refuses to read. */
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

/* Those that others refer to first, and a run's closing behind all that belongs to it: whoever
 * takes them in this order finds each row that a row refers to, and no run closed too early. */
static const struct {
	const char *table;
	bool (*reads)(struct book *book, int64_t id, struct fault *why);
} journaled[] = {
    {"setting", NULL},          {"mark", mark_reads},           {"instrument", instrument_reads},
    {"rod", rod_reads},         {"tolerance", tolerance_reads}, {"plan", plan_reads},
    {"pegtest", pegtest_reads}, {"fieldtest", fieldtest_reads}, {"run", run_reads},
    {"sight", sight_reads},     {"water", water_reads},         {"air", air_reads},
    {"seal", seal_reads},       {"closing", closing_reads},     {"result", result_reads},
};

const char *journal_table(size_t i)
{
	return i < sizeof journaled / sizeof *journaled ? journaled[i].table : NULL;
}

bool (*row_reader(const char *table))(struct book *, int64_t, struct fault *)
{
	size_t i = 0;
	while (journal_table(i) && strcmp(journal_table(i), table) != 0)
		i++;
	return journal_table(i) ? journaled[i].reads : NULL;
}

static bool changed_reads(struct book *book, sqlite3_stmt *statement, struct fault *why)
{
	const char *table = (const char *)sqlite3_column_text(statement, 0);
	struct book_settings settings;
	if (!table)
		return fault_memory(why);
	if (strcmp(table, "setting") == 0)
		return book_settings(book, &settings, why);
	return row_reader(table)(book, sqlite3_column_int64(statement, 1), why);
}

/* What is struck may be what could not be read: striking it is the way out. Only struck sights,
 * water, air and marks are read again, and so an import must bring these in order. */
static bool read_entered(struct book *book, struct fault *why)
{
	bool ok = true;
	int64_t last = 0;
	sqlite3_stmt *statement;
	if (!sql_integer(book, "SELECT coalesce(max(seq), 0) FROM journal", &last, why))
		return false;
	statement = sql_query(
	    book, why,
	    "SELECT DISTINCT tbl, row FROM journal WHERE seq >= ?1 AND seq > ?2 AND ((after ->> "
	    "'struck') IS NULL OR (before IS NULL AND tbl IN ('sight', 'water', 'air', 'mark')))",
	    "ii", book->action, book->read_to);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why))
		ok = changed_reads(book, statement, why);
	if (!sql_done(book, statement, ok, why))
		return false;
	book->read_to = last;
	return true;
}

bool read_back(struct book *book, struct fault *why)
{
	bool was = book->reading_back, ok;
	/* A half-typed form is not entered, and its reader takes it or leaves it. */
	if (!book->action)
		return true;
	book->reading_back = true;
	ok = read_entered(book, why);
	book->reading_back = was;
	return ok;
}
