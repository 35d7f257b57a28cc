/* Reading again what was changed in a run since it was read. */
#include <stdlib.h>
#include <string.h>

#include "book/run/load.h"

/* Tables whose rows belong to a run, and of which a loaded run holds nothing. */
static bool is_beside(const char *table)
{
	return strcmp(table, "setout") == 0 || strcmp(table, "gauge") == 0 ||
	       strcmp(table, "head") == 0;
}

/* The sights that were entered since, as they are now, in `rows`. *only: nothing else was entered
 * that a loaded run hangs on. */
static bool read_entered(struct book *book, const struct book_run *run, struct book_run *rows,
                         bool *only, struct fault *why)
{
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why,
	              "SELECT DISTINCT tbl, CAST(row AS INTEGER) FROM journal NOT INDEXED WHERE "
	              "seq>?1 AND (run=?2 OR (run IS NULL AND tbl<>'result')) ORDER BY 2",
	              "ii", run->seq, run->info.id);
	if (!statement)
		return false;
	*only = true;
	while (ok && *only && sql_row(book, statement, &ok, why)) {
		const char *table = (const char *)sqlite3_column_text(statement, 0);
		if (!table)
			break;
		if (strcmp(table, "sight") == 0)
			ok = load_rows(book, SQL_SIGHT_ALONE, sqlite3_column_int64(statement, 1),
			               rows, why);
		else
			*only = is_beside(table);
	}
	return sql_done(book, statement, ok, why);
}

/* Whether row i of a stands before row j of b. */
static bool is_before(const struct book_run *a, size_t i, const struct book_run *b, size_t j)
{
	return a->note[i].place < b->note[j].place ||
	       (a->note[i].place == b->note[j].place && a->run.sight[i].id < b->run.sight[j].id);
}

/* Where row i of `rows` stands in the run, or is to stand. */
static size_t place_of(const struct book_run *run, const struct book_run *rows, size_t i,
                       bool *is_there)
{
	size_t low = 0, high = run->run.count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (is_before(run, middle, rows, i))
			low = middle + 1;
		else
			high = middle;
	}
	*is_there = low < run->run.count && run->run.sight[low].id == rows->run.sight[i].id;
	return low;
}

/* Instruments are counted as a walk over the rows meets them: whether a new row at `at` leaves
 * that order as it is. */
static bool keeps_instruments(const struct book_run *run, size_t at, const char *name)
{
	if (!*name || at == run->run.count)
		return true;
	return run->met == 2 && strcmp(run->instrument[1], name) == 0;
}

/* Whether the rows can be put into the run one by one, and how many more sights count then. */
static bool can_merge(const struct book_run *run, const struct book_run *rows, long *more)
{
	*more = 0;
	if (run->info.closed || run->run.kind == LEVEL_CROSSING ||
	    run->met + rows->instruments - 1 > LEVEL_INSTRUMENTS)
		return false;
	for (size_t i = 0; i < rows->run.count; i++) {
		bool is_there;
		size_t at = place_of(run, rows, i, &is_there);
		if (i && !is_before(rows, i - 1, rows, i))
			return false;
		if (!is_there && !keeps_instruments(run, at, rows->note[i].instrument))
			return false;
		*more += level_counted(&rows->run.sight[i]);
		*more -= is_there && level_counted(&run->run.sight[at]);
	}
	return (long)run->info.sights + *more <= LEVEL_SIGHTS_LIMIT;
}

/* Puts the rows into the run, which has room for them; gives the first one that is not as it was.
 */
static size_t merge(struct book_run *run, struct book_run *rows)
{
	size_t same = run->run.count;
	run->instruments = run->met;
	for (size_t i = 0; i < rows->run.count; i++) {
		bool is_there;
		size_t at = place_of(run, rows, i, &is_there), behind = run->run.count - at;
		if (!is_there) {
			memmove(&run->run.sight[at + 1], &run->run.sight[at],
			        behind * sizeof *run->run.sight);
			memmove(&run->note[at + 1], &run->note[at], behind * sizeof *run->note);
			run->run.count++;
		}
		if (is_there)
			free(run->note[at].texts);
		run->run.sight[at] = rows->run.sight[i];
		run->run.sight[at].instrument = book_run_instrument(run, rows->note[i].instrument);
		run->note[at] = rows->note[i];
		/* They are the run's from here on. */
		rows->note[i].texts = NULL;
		same = at < same ? at : same;
	}
	run->met = run->instruments;
	return same;
}

/* The run read whole. */
static bool take_whole(struct book *book, struct book_run *run, size_t *same, struct fault *why)
{
	struct book_run whole;
	if (!book_load(book, run->info.id, &whole, why))
		return false;
	book_run_free(run);
	*run = whole;
	*same = 0;
	return true;
}

static bool take_entered(struct book *book, struct book_run *run, struct book_run *rows,
                         int64_t seq, size_t *same, struct fault *why)
{
	bool only;
	long more;
	rows->info = run->info;
	rows->info.sights = 0;
	rows->run.kind = run->run.kind;
	rows->instruments = 1;
	if (!read_entered(book, run, rows, &only, why))
		return false;
	if (!only || !can_merge(run, rows, &more))
		return take_whole(book, run, same, why);
	if (!load_rest(book, rows, why) || !load_room(run, run->run.count + rows->run.count, why))
		return false;
	*same = merge(run, rows);
	run->info.sights = (size_t)((long)run->info.sights + more);
	run->seq = seq;
	return true;
}

static bool reload(struct book *book, struct book_run *run, size_t *same, struct fault *why)
{
	struct book_run rows = {0};
	int64_t seq, version;
	bool ok;
	if (!last_change(book, run->info.id, &seq, why) ||
	    !sql_integer(book, "PRAGMA data_version", &version, why))
		return false;
	/* What another program wrote need not be in the journal. */
	if (version != run->version)
		return take_whole(book, run, same, why);
	ok = take_entered(book, run, &rows, seq, same, why);
	book_run_free(&rows);
	return ok;
}

bool book_reload(struct book *book, struct book_run *run, size_t *same, struct fault *why)
{
	bool ok;
	if (!book_hold(book, why))
		return false;
	ok = reload(book, run, same, why);
	book_release(book);
	return ok;
}
