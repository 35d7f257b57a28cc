/* The journaled tables, and reading what a change wrote before it is kept: the program must never
 * write what it refuses to read. */
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

/* Those that others refer to first, and a run's closing behind all that belongs to it: whoever
 * takes them in this order finds each row that a row refers to, and no run closed too early. */
static const struct journaled {
	const char *table;
	bool (*reads)(struct book *book, int64_t id, struct fault *why);
	bool struck_too; /* its rows are read again after they were struck */
} journaled[] = {
    {"setting", NULL, false},
    {"mark", mark_reads, true},
    {"instrument", instrument_reads, false},
    {"rod", rod_reads, false},
    {"tolerance", tolerance_reads, false},
    {"plan", plan_reads, false},
    {"pegtest", pegtest_reads, false},
    {"fieldtest", fieldtest_reads, false},
    {"run", run_reads, false},
    {"sight", sight_reads, true},
    {"water", water_reads, true},
    {"air", air_reads, true},
    {"gauge", gauge_reads, true},
    {"setout", setout_reads, true},
    {"head", head_reads, true},
    {"seal", seal_reads, false},
    {"aside", aside_reads, false},
    {"closing", closing_reads, false},
    {"result", result_reads, false},
};

const char *journal_table(size_t i)
{
	return i < sizeof journaled / sizeof *journaled ? journaled[i].table : NULL;
}

static const struct journaled *journaled_of(const char *table)
{
	for (size_t i = 0; journal_table(i); i++)
		if (strcmp(journal_table(i), table) == 0)
			return &journaled[i];
	return NULL;
}

bool (*row_reader(const char *table))(struct book *, int64_t, struct fault *)
{
	const struct journaled *found = journaled_of(table);
	return found ? found->reads : NULL;
}

/* A row that comes in struck need not be read where nobody will: it may be what could not be read,
 * and striking it was the way out. */
static bool changed_reads(struct book *book, sqlite3_stmt *statement, struct fault *why)
{
	const char *table = (const char *)sqlite3_column_text(statement, 0);
	bool struck = sqlite3_column_int(statement, 2);
	const struct journaled *found;
	struct book_settings settings;
	if (!table)
		return fault_memory(why);
	found = journaled_of(table);
	if (!found->reads)
		return book_settings(book, &settings, why);
	return (struck && !found->struck_too) ||
	       found->reads(book, sqlite3_column_int64(statement, 1), why);
}

static bool read_entered(struct book *book, struct fault *why)
{
	bool ok = true;
	int64_t last = 0;
	sqlite3_stmt *statement;
	if (!sql_integer(book, "SELECT coalesce(max(seq), 0) FROM journal", &last, why))
		return false;
	/* What is only struck was there before. */
	statement = sql_query(
	    book, why,
	    "SELECT DISTINCT tbl, row, (after ->> 'struck') IS NOT NULL FROM journal WHERE seq >= "
	    "?1 AND seq > ?2 AND (before IS NULL OR (after ->> 'struck') IS NULL)",
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
