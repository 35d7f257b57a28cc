/* Replaying the journal: each entry begins where the one before about its row ended. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "book/journal/digest.h"
#include "book/journal/entries.h"
#include "book/journal/row_text.h"
#include "book/verify/difference.h"

#define ACT_CHARS 300 /* an import names its file */

/* The columns that rodbook changes in a row that is there. Early programs changed a mark's too. */
#define CHANGING                                                                                   \
	"(VALUES('setting', 'value'), ('run', 'name'), ('run', 'kind'), ('run', 'plan'), "         \
	"('run', 'grade'), ('run', 'turn'), ('sight', 'struck'), ('sight', 'why'), ('water', "     \
	"'struck'), "                                                                              \
	"('water', 'why'), ('air', 'struck'), ('air', 'why'), ('gauge', 'struck'), ('gauge', "     \
	"'why'), ('setout', 'struck'), ('setout', 'why'), ('head', 'struck'), ('head', 'why'), "   \
	"('instrument', 'struck'), "                                                               \
	"('rod', 'struck'), ('tolerance', 'struck'), ('plan', 'struck'), ('fieldtest', 'pairs'))"

/* Each of these entries, with the one before it about the same row. sound: the texts of
 * its row are JSON, and of the row that it names; filed: under the run that its row belongs to;
 * fixed: the first column that it changes and that rodbook never changes; shut: it changes what
 * belongs to a run that was closed then. */
#define CHAIN(entries)                                                                             \
	"WITH of_runs AS MATERIALIZED (SELECT m.name FROM sqlite_schema m, "                       \
	"pragma_table_info(m.name) c WHERE m.type = 'table' AND c.name = 'run') "                  \
	"SELECT j.seq, j.action, j.time, j.act, j.run, j.tbl, j.row, j.before, j.after, "          \
	"j.undoes, "                                                                               \
	"p.seq, p.after, strftime('%s', j.time), "                                                 \
	"CASE WHEN NOT json_valid(j.after) OR j.before IS NOT NULL AND NOT json_valid(j.before) "  \
	"THEN 0 "                                                                                  \
	"ELSE CAST(j.after ->> iif(j.tbl = 'setting', 'name', 'id') AS TEXT) IS j.row END, "       \
	"CASE WHEN NOT json_valid(j.after) THEN 0 "                                                \
	"WHEN j.tbl IN of_runs THEN (j.after ->> 'run') IS "                                       \
	"j.run "                                                                                   \
	"WHEN j.tbl = 'run' THEN CAST(j.run AS TEXT) IS j.row WHEN j.tbl = 'result' THEN 1 "       \
	"ELSE j.run IS NULL END AS filed, "                                                        \
	"coalesce(CASE WHEN json_valid(j.after) THEN " ENTRY_WHAT(                                 \
	    "j.tbl",                                                                               \
	    "j.after") " END, j.tbl || ' ' || j.row), "                                            \
	               "CASE WHEN json_valid(j.before) AND json_valid(j.after) AND j.tbl <> "      \
	               "'mark' THEN (SELECT a.key FROM json_each(j.after) a LEFT JOIN "            \
	               "json_each(j.before) b ON b.key = a.key WHERE a.value IS NOT b.value "      \
	               "AND (j.tbl, a.key) NOT IN " CHANGING " ORDER BY a.id LIMIT 1) END, "       \
	               "(j.tbl = 'run' OR j.tbl <> 'closing' AND j.tbl IN of_runs) AND "           \
	               "CASE WHEN json_valid(c.after) THEN c.after ->> 'state' END IS "            \
	               "'closed' "                                                                 \
	               "FROM (SELECT seq, lag(seq) OVER (PARTITION BY tbl, row ORDER BY seq) "     \
	               "AS prior, max(iif(tbl = 'closing', seq, NULL)) OVER (PARTITION BY run "    \
	               "ORDER BY seq) AS closing FROM " entries ") l CROSS JOIN journal j ON "     \
	               "j.seq = l.seq LEFT JOIN journal p ON p.seq = l.prior LEFT JOIN "           \
	               "journal c ON c.seq = l.closing ORDER BY l.seq"
static const char chain[] = CHAIN(ENTRIES_ALL), chain_of_run[] = CHAIN(ENTRIES_OF_RUN);
enum { SEQ, ACTION, TIME, ACT, RUN, TABLE, ROW, BEFORE, AFTER, UNDOES };
_Static_assert(UNDOES + 1 == ENTRY_COLUMNS, "the columns that a digest is taken over");
enum { PRIOR = UNDOES + 1, PRIOR_AFTER, SECONDS, SOUND, FILED, WHAT, FIXED, SHUT };

struct chained {
	int64_t seq, action, seconds; /* of the entry before */
	bool has_seconds;
	char digest[DIGEST_BYTES];
};

/* Whether the words beside the rows can be shown. */
static bool is_clean(sqlite3_stmt *statement)
{
	const char *time = (const char *)sqlite3_column_text(statement, TIME);
	const char *act = (const char *)sqlite3_column_text(statement, ACT);
	return time && act && level_check_text(time, BOOK_TIME_BYTES, "time", NULL) &&
	       level_check_text(act, ACT_CHARS, "act", NULL);
}

/* Whether an entry follows the one before it in the whole journal. */
static void check_order(const struct chained *before, sqlite3_stmt *statement, const char *what,
                        struct book_verified *out)
{
	int64_t seq = sqlite3_column_int64(statement, SEQ),
	        action = sqlite3_column_int64(statement, ACTION);
	if (seq != before->seq + 1)
		differs(out,
		        "the journal has no entry %" PRId64 ": behind %" PRId64 " comes %" PRId64,
		        before->seq + 1, before->seq, seq);
	if (action != seq && (before->seq == 0 || action != before->action))
		differs(out,
		        "entry %" PRId64 ", of %s: it belongs to action %" PRId64
		        ", which is neither its own number nor the action of the entry before",
		        seq, what, action);
}

/* Whether a JSON text has columns of a table only, none twice, and no values but integers, texts
 * and NULL. */
static bool ask_columns(struct book *book, const char *table, const char *text, bool *sound,
                        struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT count(*) = count(DISTINCT key) AND total(type NOT IN ('null', 'integer', "
	    "'text') OR key NOT IN (SELECT name FROM pragma_table_info(?1))) = 0 FROM "
	    "json_each(?2)",
	    "tt", table, text);
	if (!statement)
		return false;
	*sound = sql_row(book, statement, &ok, why) && sqlite3_column_int(statement, 0) != 0;
	return sql_done(book, statement, ok, why);
}

/* Whether an entry is such as rodbook writes them. Most texts are plain, and need no SQLite. */
static bool find_sound(struct book *book, sqlite3_stmt *statement, bool *sound, struct fault *why)
{
	struct row_difference ignored[ROW_DIFFERENCES_MOST];
	const char *name = (const char *)sqlite3_column_text(statement, TABLE);
	const char *after = (const char *)sqlite3_column_text(statement, AFTER);
	struct fault unknown = {0};
	const struct table *of;
	size_t count;
	*sound = sqlite3_column_int(statement, SOUND) && is_clean(statement) && name && after;
	if (!*sound)
		return true;
	of = table_of(book, name, &unknown);
	*sound = of != NULL;
	if (!of)
		return unknown.kind == FAULT_INPUT ||
		       fault_say(why, unknown.kind, "%s", unknown.text);
	return row_differences(of, NULL, after, ignored, &count) ||
	       ask_columns(book, name, after, sound, why);
}

static bool check_shape(struct book *book, sqlite3_stmt *statement, const char *what,
                        struct book_verified *out, struct fault *why)
{
	int64_t seq = sqlite3_column_int64(statement, SEQ),
	        undoes = sqlite3_column_int64(statement, UNDOES);
	bool sound;
	if (!find_sound(book, statement, &sound, why))
		return false;
	if (!sound)
		differs(out, "entry %" PRId64 ", of %s, is not such as rodbook writes them", seq,
		        what);
	if (!sqlite3_column_int(statement, FILED))
		differs(out, "entry %" PRId64 ", of %s, is filed under another run than its row",
		        seq, what);
	if (undoes < 0 || undoes >= sqlite3_column_int64(statement, ACTION))
		differs(out,
		        "entry %" PRId64 ", of %s, takes back action %" PRId64
		        ", which is not before it",
		        seq, what, undoes);
	return true;
}

/* What an entry may not do, however well the tables agree with it. */
static void check_change(sqlite3_stmt *statement, const char *what, struct book_verified *out)
{
	const char *fixed = (const char *)sqlite3_column_text(statement, FIXED);
	int64_t seq = sqlite3_column_int64(statement, SEQ);
	char column[60];
	level_show_text(column, sizeof column, fixed ? fixed : "", false);
	if (fixed)
		differs(out, "entry %" PRId64 ", of %s, changes its %s, which rodbook never does",
		        seq, what, column);
	if (sqlite3_column_int(statement, SHUT))
		differs(out,
		        "entry %" PRId64
		        ", of %s, changes a run that was closed, and not opened again before it",
		        seq, what);
}

/* Whether the entry begins where the one before about its row ended. */
static bool check_before(struct book *book, sqlite3_stmt *statement, const char *what,
                         struct book_verified *out, struct fault *why)
{
	const char *before = (const char *)sqlite3_column_text(statement, BEFORE);
	const char *prior = (const char *)sqlite3_column_text(statement, PRIOR_AFTER);
	int64_t seq = sqlite3_column_int64(statement, SEQ),
	        prior_seq = sqlite3_column_int64(statement, PRIOR);
	char table[40], column[60], a[PART_BYTES], b[PART_BYTES];
	bool found;
	if (!before && !prior)
		return true;
	if (!before)
		return differs(
		    out, "entry %" PRId64 " makes %s anew, which entry %" PRId64 " made already",
		    seq, what, prior_seq);
	if (!prior)
		return differs(out,
		               "entry %" PRId64 " changes %s, and no entry before it made that row",
		               seq, what);
	if (strcmp(before, prior) == 0 || *out->difference)
		return true;
	sql_text(statement, TABLE, table, sizeof table);
	if (!first_difference(book, table, before, prior, &found, column, a, b, why))
		return false;
	if (found)
		differs(out,
		        "entry %" PRId64 ", of %s, begins with %s %s, and entry %" PRId64
		        " left it as %s",
		        seq, what, column, a, prior_seq, b);
	return true;
}

static void check_time(struct chained *before, sqlite3_stmt *statement, struct book_verified *out)
{
	int64_t seconds = sqlite3_column_int64(statement, SECONDS);
	if (sqlite3_column_type(statement, SECONDS) == SQLITE_NULL)
		return;
	if (before->has_seconds && seconds < before->seconds) {
		if (!out->backward++)
			out->backward_at = sqlite3_column_int64(statement, SEQ);
	}
	before->seconds = seconds;
	before->has_seconds = true;
}

/* An entry by itself, and against the one before about its row; it needs no other one. what: its
 * row as a user knows it. */
static bool check_entry(struct book *book, sqlite3_stmt *statement, const char *what,
                        struct book_verified *out, struct fault *why)
{
	if (!check_shape(book, statement, what, out, why) ||
	    !check_before(book, statement, what, out, why))
		return false;
	check_change(statement, what, out);
	return true;
}

static const char *take_what(sqlite3_stmt *statement, char what[BOOK_WHAT_BYTES])
{
	const char *text = (const char *)sqlite3_column_text(statement, WHAT);
	return level_show_text(what, BOOK_WHAT_BYTES, text ? text : "", false);
}

bool replay_run(struct book *book, int64_t run, struct book_verified *out, struct fault *why)
{
	char what[BOOK_WHAT_BYTES];
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, chain_of_run, "i", run);
	if (!statement)
		return false;
	while (ok && sql_row(book, statement, &ok, why))
		ok = check_entry(book, statement, take_what(statement, what), out, why);
	return sql_done(book, statement, ok, why);
}

bool replay_entries(struct book *book, int64_t at, struct book_verified *out, struct fault *why)
{
	struct chained before = {0};
	char what[BOOK_WHAT_BYTES];
	bool ok = true;
	sqlite3_stmt *statement = sql_query(book, why, chain, "");
	if (!statement)
		return false;
	memset(before.digest, '0', DIGEST_BYTES - 1);
	while (ok && sql_row(book, statement, &ok, why)) {
		check_order(&before, statement, take_what(statement, what), out);
		ok = check_entry(book, statement, what, out, why);
		check_time(&before, statement, out);
		digest_entry(before.digest, statement);
		before.seq = sqlite3_column_int64(statement, SEQ);
		before.action = sqlite3_column_int64(statement, ACTION);
		if (before.seq == at)
			memcpy(out->digest_at, before.digest, sizeof out->digest_at);
		out->entries++;
	}
	ok = sql_done(book, statement, ok, why);
	out->last = before.seq;
	memcpy(out->digest, before.digest, sizeof out->digest);
	return ok;
}
