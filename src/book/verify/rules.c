/* What rodbook itself decides when it writes: the times of what it enters, the names of settings,
 * and that a sight replaces an earlier one. A book altered in rows and journal alike is found by
 * these. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "book/journal/entries.h"
#include "rodbook/book/journal.h"

#define WHAT                                                                                       \
	"coalesce(CASE WHEN json_valid(j.after) THEN " ENTRY_WHAT("j.tbl", "j.after") " END, '')"

/* Rows that came from elsewhere keep the times that they came with. */
#define OWN "j.act NOT GLOB 'import*' AND j.act NOT GLOB 'rescue*'"

/* A row that is new was booked at the time of its entry, by `booked` or, where that is empty, by
 * its own time; a sight that stands for another one may have that of the other. What is struck is
 * struck at the time of the entry, but for what an undoing brings back. Early programs changed
 * marks in place. */
#define TIMES(entries)                                                                             \
	"SELECT j.seq, " WHAT ", iif(j.before IS NULL, 'time', 'time of striking') FROM " entries  \
	" j "                                                                                      \
	"WHERE json_valid(j.after) AND CASE " /* a time, or none: the empty text is neither */     \
	"WHEN (j.after ->> 'struck') IS '' THEN 1 "                                                \
	"WHEN NOT (" OWN ") OR j.tbl IN ('setting', 'mark') THEN 0 "                               \
	"WHEN j.before IS NULL THEN coalesce(nullif(j.after ->> 'booked', ''), iif(j.tbl = "       \
	"'sight' AND "                                                                             \
	"j.act = 'change' AND (j.after ->> 'time') IS (SELECT o.time FROM sight o WHERE o.id = "   \
	"(j.after ->> 'replaces')), j.time, j.after ->> 'time')) IS NOT j.time "                   \
	"WHEN json_valid(j.before) AND j.act NOT IN ('undo', 'redo') AND (j.before ->> 'struck') " \
	"IS "                                                                                      \
	"NULL AND (j.after ->> 'struck') IS NOT NULL THEN (j.after ->> 'struck') IS NOT j.time "   \
	"ELSE 0 END ORDER BY j.seq LIMIT 1"

#define REPLACED(rows)                                                                             \
	"SELECT s.id, s.kind || ' on ' || s.station, '' FROM sight s LEFT JOIN sight o ON o.id = " \
	"s.replaces WHERE s.replaces IS NOT NULL AND " rows                                        \
	"(o.id IS NULL OR o.id >= s.id OR o.run <> s.run) "                                        \
	"ORDER BY s.id LIMIT 1"

/* A run is sealed once, by the program or as an import brought it; what comes later is an
 * amendment, with its reason. A seal of a version that says how distances were got says its rule
 * too. */
#define SEALS(entries)                                                                             \
	"SELECT j.seq, " WHAT ", '' FROM " entries                                                 \
	" j WHERE j.tbl = 'seal' AND json_valid(j.after) AND NOT "                                 \
	"(j.act GLOB 'import*' AND NOT EXISTS (SELECT 1 FROM journal o WHERE o.action = j.action " \
	"AND "                                                                                     \
	"o.seq BETWEEN j.action AND j.seq AND o.act NOT GLOB 'import*')) AND (j.act NOT IN "       \
	"('seal', "                                                                                \
	"'amend') OR (j.act = 'seal') = EXISTS (SELECT 1 FROM journal o WHERE o.tbl = 'seal' AND " \
	"o.run "                                                                                   \
	"= "                                                                                       \
	"j.run AND o.seq < j.seq) OR j.act = 'amend' AND (j.after ->> 'why') = '' OR j.act = "     \
	"'seal' "                                                                                  \
	"AND "                                                                                     \
	"instr(char(10) || (j.after ->> 'figures'), char(10) || 'rule' || char(9)) = 0 AND "       \
	"EXISTS "                                                                                  \
	"(SELECT 1 FROM journal o WHERE o.tbl = 'sight' AND o.seq <= j.seq AND instr(o.after, "    \
	"'\"distance_by\"') > 0)) ORDER BY j.seq LIMIT 1"

static const char times[] = TIMES(ENTRIES_ALL), times_of_run[] = TIMES(ENTRIES_OF_RUN),
                  replaced[] = REPLACED(""), replaced_of_run[] = REPLACED("s.run = ?1 AND "),
                  seals[] = SEALS(ENTRIES_ALL), seals_of_run[] = SEALS(ENTRIES_OF_RUN);

struct found {
	int64_t number;
	char what[BOOK_WHAT_BYTES], column[40];
};

static bool read_found(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct found *found = item;
	const char *what = (const char *)sqlite3_column_text(statement, 1);
	(void)book;
	if (!what)
		return fault_memory(why);
	found->number = sqlite3_column_int64(statement, 0);
	level_show_text(found->what, sizeof found->what, what, false);
	sql_text(statement, 2, found->column, sizeof found->column);
	return true;
}

/* The first thing that one of these statements finds: of the whole book, or of a run. */
static bool look(struct book *book, const char *whole, const char *of_run, int64_t run,
                 struct found *row, bool *found, struct fault *why)
{
	sqlite3_stmt *statement =
	    run ? sql_query(book, why, of_run, "i", run) : sql_query(book, why, whole, "");
	return sql_one(book, statement, read_found, row, found, why);
}

static bool check_times(struct book *book, int64_t run, struct book_verified *out,
                        struct fault *why)
{
	struct found row;
	bool found;
	if (!look(book, times, times_of_run, run, &row, &found, why))
		return false;
	if (found)
		snprintf(out->difference, sizeof out->difference,
		         "entry %" PRId64
		         ", of %s: the %s in its row differs from the time of the entry",
		         row.number, row.what, row.column);
	return true;
}

static bool check_replaced(struct book *book, int64_t run, struct book_verified *out,
                           struct fault *why)
{
	struct found row;
	bool found;
	if (!look(book, replaced, replaced_of_run, run, &row, &found, why))
		return false;
	if (found)
		snprintf(out->difference, sizeof out->difference,
		         "%s (table sight, row %" PRId64
		         ") replaces a sight that is not an earlier one of the same run",
		         row.what, row.number);
	return true;
}

static bool check_seals(struct book *book, int64_t run, struct book_verified *out,
                        struct fault *why)
{
	struct found row;
	bool found;
	if (!look(book, seals, seals_of_run, run, &row, &found, why))
		return false;
	if (found)
		snprintf(out->difference, sizeof out->difference,
		         "entry %" PRId64 ", of %s: rodbook seals a run once; each later change is "
		         "an amendment with a reason",
		         row.number, row.what);
	return true;
}

static bool check_settings(struct book *book, struct book_verified *out, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why, "SELECT name FROM setting ORDER BY rowid", "");
	if (!statement)
		return false;
	while (sql_row(book, statement, &ok, why)) {
		char shown[BOOK_WHAT_BYTES];
		const char *name = (const char *)sqlite3_column_text(statement, 0);
		if (!name || *out->difference || setting_find(name) < book_setting_count())
			continue;
		snprintf(out->difference, sizeof out->difference,
		         "the book has a setting \"%s\", which rodbook does not know",
		         level_show_text(shown, sizeof shown, name, false));
	}
	return sql_done(book, statement, ok, why);
}

bool rules_hold(struct book *book, int64_t run, struct book_verified *out, struct fault *why)
{
	return check_settings(book, out, why) &&
	       (*out->difference || check_replaced(book, run, out, why)) &&
	       (*out->difference || check_times(book, run, out, why)) &&
	       (*out->difference || check_seals(book, run, out, why));
}
