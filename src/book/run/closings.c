/* How a run was closed, and opened again. */
#include "rodbook/book/closings.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/ready.h"

static bool read_closing(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_closing *closing = item;
	const char *known;
	char state[12];
	closing->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, state, sizeof state);
	sql_text(statement, 2, closing->why, sizeof closing->why);
	sql_text(statement, 3, closing->time, sizeof closing->time);
	closing->closed = strcmp(state, "closed") == 0;
	known = (const char *)sqlite3_column_text(statement, 4);
	return (level_check_text(closing->why, LEVEL_REMARK_CHARS, "reason", why) &&
	        level_check_text(closing->time, BOOK_TIME_BYTES, "time of a closing", why) &&
	        (!known || frozen_is_sound(known, why))) ||
	       book_spoiled(book, why);
}

bool book_closings(struct book *book, int64_t run, struct book_closing **list, size_t *count,
                   struct fault *why)
{
	bool ok = sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT id, state, why, time, known FROM closing WHERE run=?1 ORDER BY id",
	              "i", run),
	    sizeof **list, read_closing, (void **)list, count, why);
	for (size_t i = 0; ok && i < *count; i++)
		if ((*list)[i].closed != (i % 2 == 0)) {
			fault_say(why, FAULT_INPUT,
			          "it is closed, or opened again, twice in a row");
			ok = book_spoiled(book, why);
		}
	if (!ok) {
		free(*list);
		*list = NULL;
		*count = 0;
	}
	return ok;
}

static bool read_run(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	(void)book;
	(void)why;
	*(int64_t *)item = sqlite3_column_int64(statement, 0);
	return true;
}

/* Each turn of a run follows from the one before. */
bool closing_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_closing *list;
	size_t count;
	int64_t run = 0;
	return row_reads(book, sql_query(book, why, "SELECT run FROM closing WHERE id=?1", "i", id),
	                 read_run, &run, why) &&
	       book_closings(book, run, &list, &count, why) && (free(list), true);
}

bool check_open(struct book *book, int64_t run, struct fault *why)
{
	struct book_run_info info;
	return run_head(book, run, &info, why) &&
	       (!info.closed ||
	        fault_say(why, FAULT_INPUT, "run %.160s is closed: reopen it first, with a reason",
	                  info.name));
}

static bool write_closing(struct book *book, int64_t run, const char *act, const char *state,
                          const char *reason, const char *known, struct fault *why)
{
	return sql_run(book, why,
	               "INSERT INTO closing(id, run, state, why, time, known) VALUES((SELECT "
	               "coalesce(max(id), 0) + 1 FROM closing), ?1, ?2, ?3, ?4, ?5)",
	               "itttt", run, state, reason, book->now, known) &&
	       journal_enter_numbered(book, act, run, "closing",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

/* How a run stands, by the book's own settings. */
struct stand {
	enum level_readiness ready;
	bool unsealed;
	bool weak;                      /* nothing judges it, or only the number of its setups */
	char mark[LEVEL_STATION_BYTES]; /* the first that does not hold */
};

static bool find_stand(struct book *book, const struct book_run *run, struct stand *out,
                       struct fault *why)
{
	struct book_settings settings;
	struct book_terms terms;
	struct level_page page = {0};
	struct level_closing closing;
	struct level_shores shores;
	if (!book_settings(book, &settings, why) || !book_run_terms(book, run, &terms, why))
		return false;
	if (!level_reduce(&run->run, 0, &terms.terms, &page))
		return fault_memory(why);
	closing =
	    level_close(&run->run, &page, &terms.terms, &settings.tolerance, settings.setup_figure);
	out->ready = level_ready(&run->run, &page, &closing);
	out->weak = level_is_weak(&run->run, &closing);
	snprintf(out->mark, sizeof out->mark, "%s",
	         closing.failing_mark ? closing.failing_mark : "");
	level_page_free(&page);
	if (!level_shores(&run->run, settings.long_sight, &shores))
		return fault_memory(why);
	out->unsealed =
	    run->run.kind == LEVEL_CROSSING && !terms.sealed && (shores.first || shores.second);
	return true;
}

static bool may_close(struct book *book, const struct book_run *run, const char *reason,
                      struct fault *why)
{
	static const char *const reasons[] = {
	    [LEVEL_SETUP_OPEN] = "its last setup has no FS: read it, or strike the setup",
	    [LEVEL_LINE_BROKEN] = "its line has a gap: mend it first",
	    [LEVEL_NOT_BACK] =
	        "the loop is not back on its start mark: level on until there, or make "
	        "it an open run",
	    [LEVEL_END_UNKNOWN] =
	        "the elevation of its start or end is not known: give it, or make "
	        "it an open run",
	    [LEVEL_WATER_MISSING] =
	        "water was read at one end only: read it at the other, or strike what was read",
	    [LEVEL_OVER_ALLOWABLE] =
	        "it misses by more than is allowed: look for the slip, or level "
	        "it again",
	};
	struct stand stand = {0};
	bool waits = false;
	if (!check_fresh(book, run, why) || !find_stand(book, run, &stand, why) ||
	    !book_draft_waits(book, run->info.id, &waits, why))
		return false;
	if (stand.ready == LEVEL_CHECK_FAILS)
		return fault_say(why, FAULT_INPUT,
		                 "run %.160s cannot be closed: %.160s does not hold: level it "
		                 "again, or set the mark aside with a reason",
		                 run->info.name, stand.mark);
	if (stand.ready == LEVEL_NO_SIGHTS && !*reason) {
		fault_say(
		    why, FAULT_INPUT,
		    "nothing is booked in run %.160s: it is closed only to set it aside, for a "
		    "reason; say why",
		    run->info.name);
		return fault_at(why, "reason");
	}
	if (stand.ready != LEVEL_READY && stand.ready != LEVEL_NO_SIGHTS)
		return fault_say(why, FAULT_INPUT, "run %.160s cannot be closed: %s",
		                 run->info.name, reasons[stand.ready]);
	if (stand.weak && !*reason) {
		fault_say(why, FAULT_INPUT,
		          "run %.160s needs a reason to be closed: distances are missing, so no "
		          "allowable by length is known; say why",
		          run->info.name);
		return fault_at(why, "reason");
	}
	if (stand.unsealed)
		return fault_say(why, FAULT_INPUT,
		                 "run %.160s cannot be closed: it has long sights and no seal; the "
		                 "next sight that is booked or changed in it seals it",
		                 run->info.name);
	return !waits ||
	       fault_say(why, FAULT_INPUT,
	                 "run %.160s cannot be closed: a half-typed sight waits in it: "
	                 "book it, or empty the form; where the form is empty, another one "
	                 "was left behind: open the run again",
	                 run->info.name);
}

static bool close_run(struct book *book, const struct book_run *run, const char *reason,
                      struct fault *why)
{
	char host[EDITOR_HOST_BYTES], *known;
	bool ok;
	if (!may_close(book, run, reason, why) ||
	    !sql_run(
	        book, why,
	        "DELETE FROM draft WHERE run=?1 AND editor NOT IN (SELECT id FROM editor WHERE "
	        "host<>?2)",
	        "it", run->info.id, editor_host(host)))
		return false;
	known = frozen_text(run, why);
	ok = known && write_closing(book, run->info.id, "close", "closed", reason, known, why);
	sqlite3_free(known);
	return ok;
}

bool book_run_close(struct book *book, const struct book_run *run, const char *reason,
                    struct fault *why)
{
	if (!level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why) || !txn_begin(book, why))
		return false;
	return txn_end(book, close_run(book, run, reason, why), why);
}

static bool reopen(struct book *book, int64_t run, const char *reason, struct fault *why)
{
	struct book_run_info info;
	if (!run_head(book, run, &info, why))
		return false;
	if (!info.closed)
		return fault_say(why, FAULT_INPUT, "run %.160s is not closed", info.name);
	return write_closing(book, run, "reopen", "reopened", reason, "", why);
}

bool book_run_reopen(struct book *book, int64_t run, const char *reason, struct fault *why)
{
	if (!*reason)
		return fault_say(why, FAULT_INPUT, "a run is opened again for a reason: say why");
	if (!level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why) || !txn_begin(book, why))
		return false;
	return txn_end(book, reopen(book, run, reason, why), why);
}
