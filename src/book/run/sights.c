/* Booking, changing and striking sights. */
#include "book/members.h"

#include <string.h>

#include "rodbook/level/time.h"

/* Distance between places of sights booked in order; insertions halve it. */
#define PLACE_STEP (INT64_C(1) << 40)

bool last_change(struct book *book, int64_t run, int64_t *seq, struct fault *why)
{
	/* Entries without a run are of marks and settings, which every run hangs on; on a kept
	 * result none does. */
	bool ok = true;
	sqlite3_stmt *statement =
	    sql_query(book, why,
	              /* Each is the last one by the index of runs and actions: a later entry
	               * never has an earlier action. */
	              "SELECT max(coalesce((SELECT seq FROM journal WHERE run=?1 ORDER BY action "
	              "DESC, seq DESC LIMIT 1), 0), coalesce((SELECT seq FROM journal WHERE run IS "
	              "NULL AND tbl<>'result' ORDER BY action DESC, seq DESC LIMIT 1), 0))",
	              "i", run);
	if (!statement)
		return false;
	if (sql_row(book, statement, &ok, why))
		*seq = sqlite3_column_int64(statement, 0);
	return sql_done(book, statement, ok, why);
}

bool book_run_unchanged(struct book *book, const struct book_run *run, struct fault *why)
{
	int64_t seq = 0;
	if (!last_change(book, run->info.id, &seq, why))
		return false;
	return seq == run->seq ||
	       fault_say(why, FAULT_STALE,
	                 "the book was changed by another program since run %.160s was read from "
	                 "it: try again",
	                 run->info.name);
}

bool check_fresh(struct book *book, const struct book_run *run, struct fault *why)
{
	int64_t seq = 0;
	if (!last_change(book, run->info.id, &seq, why))
		return false;
	if (run->run.count >= BOOK_ROWS_LIMIT - 2)
		return fault_say(why, FAULT_INPUT,
		                 "this run has no room for more rows: begin a new run");
	if (seq != run->seq)
		return fault_say(why, FAULT_STALE,
		                 "the book was changed by another program: it is shown anew, and "
		                 "nothing was booked; look, and book again");
	return check_open(book, run->info.id, why);
}

static bool insert(struct book *book, const char *act, int64_t run, const struct level_sight *sight,
                   const struct book_note *note, struct fault *why)
{
	const char *sql = members_sql(book, SQL_SIGHT_PUT, why);
	sqlite3_stmt *statement = sql ? sql_query(book, why, sql, "i", run) : NULL;
	bool ok = statement != NULL;
	if (!ok)
		return false;
	ok = members_bind(book, statement, 2, &sight_members, sight, note, why);
	while (ok && sql_row(book, statement, &ok, why))
		continue;
	return sql_done(book, statement, ok, why) &&
	       journal_enter_numbered(book, act, run, "sight", sqlite3_last_insert_rowid(book->db),
	                              NULL, 0, why);
}

static bool strike_sight(struct book *book, const char *act, int64_t run, int64_t id,
                         const char *reason, struct fault *why)
{
	return row_strike(book, act, "sight", run, id, reason, 0, why);
}

/* A place between the rows at - 1 and at; 0 where there is none. */
static int64_t place_between(const struct book_run *run, size_t at)
{
	int64_t low = at > 0 ? run->note[at - 1].place : 0;
	if (at == run->run.count)
		return low + PLACE_STEP;
	return run->note[at].place - low > 1 ? low + (run->note[at].place - low) / 2 : 0;
}

/* A place before index `at`, on the other side of struck rows if need be; 0 where there is none. */
static int64_t place_before(const struct book_run *run, size_t at)
{
	int64_t place = place_between(run, at);
	for (size_t i = at; !place && i > 0 && !level_counted(&run->run.sight[i - 1]); i--)
		place = place_between(run, i - 1);
	for (size_t i = at; !place && i < run->run.count && !level_counted(&run->run.sight[i]); i++)
		place = place_between(run, i + 1);
	return place;
}

/* When it was observed, and when it was typed, which verify holds against its entry. One in place
 * of another that was typed when it was observed may keep that time: its entry says when it was
 * typed. */
static bool stamp(const struct book *book, struct book_note *note, const struct book_kept *old,
                  struct fault *why)
{
	note->booked[0] = '\0';
	if (old && *note->time && !*old->booked && strcmp(note->time, old->time) == 0)
		return true;
	return observed_at(book, note->time, note->booked, why);
}

static bool add(struct book *book, const struct book_run *run, size_t at,
                const struct level_sight *sight, const struct book_note *note, struct fault *why)
{
	struct book_note timed = *note;
	int64_t place = place_before(run, at);

	timed.place = place;
	/* A note that was loaded with another sight may be given again. */
	timed.replaces = 0;
	if (!check_fresh(book, run, why) || !level_check_place(&run->run, at, false, sight, why) ||
	    !stamp(book, &timed, NULL, why) || !sight_is_sound(sight, &timed, why) ||
	    !check_named(book, note, why))
		return false;
	if (place == 0)
		return fault_say(
		    why, FAULT_INPUT,
		    "no more sights fit between these two: some forty were inserted here");
	return insert(book, "book", run->info.id, sight, &timed, why) &&
	       (!*note->instrument || check_instruments(book, run->info.id, why)) &&
	       seal_if_due(book, run->info.id, &run->run, why);
}

bool book_add(struct book *book, const struct book_run *run, size_t at,
              const struct level_sight *sight, const struct book_note *note, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, add(book, run, at, sight, note, why), why);
}

static bool replace(struct book *book, const struct book_run *run, size_t at,
                    const struct level_sight *sight, const struct book_note *note,
                    const char *reason, struct fault *why)
{
	struct book_note fresh = *note;
	/* Behind the struck one, with room between them; if there is none, in its own place. */
	int64_t place = place_between(run, at + 1);
	fresh.place = place ? place : run->note[at].place;
	fresh.replaces = run->run.sight[at].id;
	return stamp(book, &fresh, &run->note[at], why) && sight_is_sound(sight, &fresh, why) &&
	       strike_sight(book, "change", run->info.id, run->run.sight[at].id, reason, why) &&
	       insert(book, "change", run->info.id, sight, &fresh, why);
}

/* Why a sight that another one replaces was struck; books keep these words. */
#define CHANGED "changed"
#define CHANGED_WITH "changed with its turning point"

bool book_is_changed(const struct book_run *run, size_t at)
{
	const char *why = run->note[at].why;
	if (!*run->note[at].struck || (strcmp(why, CHANGED) != 0 && strcmp(why, CHANGED_WITH) != 0))
		return false;
	for (size_t i = 0; i < run->run.count; i++)
		if (run->note[i].replaces == run->run.sight[at].id)
			return true;
	return false;
}

static bool change(struct book *book, const struct book_run *run, size_t at,
                   const struct level_sight *sight, const struct book_note *note, struct fault *why)
{
	const struct level_sight *old = &run->run.sight[at];
	size_t other = level_partner(&run->run, at);
	if (!check_fresh(book, run, why))
		return false;
	if (!level_counted(old))
		return fault_say(why, FAULT_INPUT, "a struck sight stays as it is");
	if (!level_check_place(&run->run, at, true, sight, why) || !check_named(book, note, why) ||
	    !replace(book, run, at, sight, note, CHANGED, why) ||
	    (*note->instrument && !check_instruments(book, run->info.id, why)))
		return false;
	if (other < run->run.count && old->kind == sight->kind &&
	    strcmp(old->station, sight->station) != 0) {
		struct level_sight moved = run->run.sight[other];
		struct book_note same = book_note_of(&run->note[other]);
		memcpy(moved.station, sight->station, sizeof moved.station);
		return replace(book, run, other, &moved, &same, CHANGED_WITH, why);
	}
	return true;
}

bool book_change(struct book *book, const struct book_run *run, size_t at,
                 const struct level_sight *sight, const struct book_note *note, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book,
	               change(book, run, at, sight, note, why) &&
	                   seal_if_due(book, run->info.id, NULL, why),
	               why);
}

/* An offset goes on from the mark before it, which it does not name. */
static bool refuse_offset(const struct level_sight *offset, struct fault *why)
{
	return fault_say(
	    why, FAULT_INPUT,
	    "the offset to %.160s is measured from this mark: strike that offset first",
	    offset->station);
}

/* The setup that `at` belongs to, from its BS to its last sight. */
static bool find_setup(const struct level_run *run, size_t at, size_t *first, size_t *last,
                       struct fault *why)
{
	size_t next;
	*first = at;
	if (run->sight[at].kind == LEVEL_OFF)
		return fault_say(why, FAULT_INPUT,
		                 "an offset belongs to no setup: strike it alone");
	while (*first < run->count && run->sight[*first].kind != LEVEL_BS)
		*first = level_counted_before(run, *first);
	if (*first == run->count)
		return fault_say(why, FAULT_INPUT, "this sight belongs to no setup");
	*last = *first;
	next = level_counted_from(run, *first + 1);
	while (next < run->count && run->sight[next].kind != LEVEL_BS &&
	       run->sight[next].kind != LEVEL_OFF) {
		*last = next;
		next = level_counted_from(run, next + 1);
	}
	if (next < run->count && run->sight[next].kind == LEVEL_OFF)
		return refuse_offset(&run->sight[next], why);
	if (next < run->count && run->sight[next].again)
		return fault_say(why, FAULT_INPUT,
		                 "another standing of this setup follows: strike that one first");
	return true;
}

static bool find_rows(const struct level_run *run, size_t at, bool setup, size_t *first,
                      size_t *last, struct fault *why)
{
	size_t next = level_counted_from(run, at + 1);
	bool ends = next == run->count;
	*first = *last = at;
	if (!level_counted(&run->sight[at]))
		return fault_say(why, FAULT_INPUT, "this sight is struck already");
	if (setup)
		return find_setup(run, at, first, last, why);
	if (run->sight[at].kind == LEVEL_OFF && !ends && run->sight[next].kind == LEVEL_OFF)
		return refuse_offset(&run->sight[next], why);
	if (run->sight[at].kind == LEVEL_BS && !ends)
		return fault_say(
		    why, FAULT_INPUT,
		    "the sights of this setup hang on its BS: change it, or strike the "
		    "whole setup");
	if (run->sight[at].kind == LEVEL_FS && !ends)
		return fault_say(
		    why, FAULT_INPUT,
		    "the line goes on from this FS: change it, or strike the whole setup");
	return true;
}

bool book_may_strike(struct book *book, const struct book_run *run, size_t at, bool setup,
                     struct fault *why)
{
	size_t first, last;
	return check_writable(book, why) && find_rows(&run->run, at, setup, &first, &last, why) &&
	       check_fresh(book, run, why);
}

/* Stands for a reason that was not given. */
#define NO_REASON "struck"

const char *book_strike_reason(const char *why_struck)
{
	if (book_is_taken_back(why_struck))
		return "taken back";
	return strcmp(why_struck, NO_REASON) == 0 ? "" : why_struck;
}

bool book_is_taken_back(const char *why_struck)
{
	return strcmp(why_struck, TAKEN_BACK) == 0;
}

/* After the seal the answer hangs on what is struck. */
static bool is_reason_enough(struct book *book, int64_t run, const char *reason, struct fault *why)
{
	bool sealed, ok = *reason || is_sealed(book, run, &sealed, why);
	if (ok && !*reason && sealed)
		return fault_say(why, FAULT_INPUT,
		                 "this crossing is sealed: say why the sight is struck");
	return ok && level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why);
}

static bool strike(struct book *book, const struct book_run *run, size_t at, bool setup,
                   const char *reason, struct fault *why)
{
	size_t first, last;
	bool ok = find_rows(&run->run, at, setup, &first, &last, why) &&
	          check_fresh(book, run, why) && is_reason_enough(book, run->info.id, reason, why);
	for (size_t i = first; ok && i <= last; i++)
		if (level_counted(&run->run.sight[i]))
			ok = strike_sight(book, "strike", run->info.id, run->run.sight[i].id,
			                  *reason ? reason : NO_REASON, why);
	return ok;
}

bool book_strike(struct book *book, const struct book_run *run, size_t at, bool setup,
                 const char *reason, struct fault *why)
{
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, strike(book, run, at, setup, reason, why), why);
}

/* A run that is taken keeps to the order of one that is booked, and is no longer than can be read.
 */
static bool may_take(const struct level_run *run, const struct book_note *note, size_t i,
                     struct fault *why)
{
	struct level_run before = *run;
	before.count = i;
	if (!level_counted(&run->sight[i]))
		return fault_say(why, FAULT_INPUT,
		                 "a sight that does not count is not taken: leave it out");
	if (*note->time && !level_is_time(note->time))
		return fault_say(why, FAULT_INPUT,
		                 "the time of the sight on %.160s is none: write it as "
		                 "2026-05-04T09:30:00+02:00",
		                 run->sight[i].station);
	return level_check_place(&before, i, false, &run->sight[i], why);
}

bool book_take_run(struct book *book, const char *name, const struct level_run *run,
                   const struct book_note *notes, struct fault *why)
{
	int64_t id;
	bool ok;
	if (!txn_begin(book, why))
		return false;
	ok = book_run_add(book, name, run->kind, &id, why) &&
	     (!*run->turn || book_run_set_turn(book, id, run->turn, why));
	for (size_t i = 0; ok && i < run->count; i++) {
		struct book_note placed = notes[i];
		placed.place = (int64_t)(i + 1) * PLACE_STEP;
		/* The numbers of another book's rows say nothing here. */
		placed.replaces = 0;
		ok = may_take(run, &placed, i, why) &&
		     sight_is_sound(&run->sight[i], &placed, why) &&
		     insert(book, "import", id, &run->sight[i], &placed, why);
	}
	return txn_end(
	    book, ok && check_run_named(book, id, why) && seal_if_due(book, id, NULL, why), why);
}
