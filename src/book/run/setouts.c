/* The elevations that stations of a run are set out at. */
#include "rodbook/book/setout.h"

#include <string.h>

#include "book/store.h"

static bool is_sound(const struct book_setout *s, struct fault *why)
{
	if (!level_check_name(s->station, "station", why) ||
	    !level_check_text(s->typed, BOOK_TYPED_CHARS, "wanted elevation", why) ||
	    !level_check_text(s->time, BOOK_TIME_BYTES, "time", why) ||
	    !level_check_text(s->struck, BOOK_TIME_BYTES, "time of striking", why) ||
	    !level_check_text(s->why, LEVEL_REMARK_CHARS, "reason", why))
		return false;
	return text_says(s->typed, s->unit, s->wanted) ||
	       fault_say(why, FAULT_INPUT, "the set-out of %.160s does not say what was typed",
	                 s->station);
}

static bool read_setout(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_setout *s = item;
	char unit[8];
	s->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, s->station, sizeof s->station);
	sql_text(statement, 2, unit, sizeof unit);
	level_unit_find(unit, &s->unit);
	sql_text(statement, 3, s->typed, sizeof s->typed);
	s->wanted = sqlite3_column_int64(statement, 4);
	sql_text(statement, 5, s->time, sizeof s->time);
	sql_text(statement, 6, s->struck, sizeof s->struck);
	sql_text(statement, 7, s->why, sizeof s->why);
	return is_sound(s, why) || book_spoiled(book, why);
}

#define COLUMNS "id, station, unit, typed, wanted, time, struck, why"

bool book_setouts(struct book *book, int64_t run, struct book_setout **list, size_t *count,
                  struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT " COLUMNS " FROM setout WHERE run=?1 ORDER BY id", "i",
	                          run),
	                sizeof **list, read_setout, (void **)list, count, why);
}

bool setout_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_setout ignored = {0};
	return row_reads(
	    book, sql_query(book, why, "SELECT " COLUMNS " FROM setout WHERE id=?1", "i", id),
	    read_setout, &ignored, why);
}

static bool find(struct book *book, int64_t run, const char *station, struct book_setout *out,
                 bool *found, struct fault *why)
{
	return sql_one(book,
	               sql_query(book, why,
	                         "SELECT " COLUMNS " FROM setout WHERE run=?1 AND station=?2 AND "
	                         "struck IS NULL",
	                         "it", run, station),
	               read_setout, out, found, why);
}

static bool set(struct book *book, int64_t run, const struct book_setout *s, struct fault *why)
{
	struct book_setout before;
	bool found;
	if (!check_open(book, run, why) || !find(book, run, s->station, &before, &found, why))
		return false;
	if (found && before.wanted == s->wanted)
		return true;
	if (found && !row_strike(book, "set out", "setout", run, before.id, "set out anew", 0, why))
		return false;
	return sql_run(book, why,
	               "INSERT INTO setout(run, station, unit, typed, wanted, time) VALUES(?1, ?2, "
	               "?3, ?4, ?5, ?6)",
	               "itutit", run, s->station, (int)s->unit, s->typed, s->wanted, book->now) &&
	       journal_enter_numbered(book, "set out", run, "setout",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

bool book_setout_set(struct book *book, int64_t run, const char *station, const char *typed,
                     struct fault *why)
{
	struct book_setout s = {0};
	struct book_settings settings;
	if (!book_settings(book, &settings, why))
		return false;
	if (!level_check_name(station, "station", why))
		return fault_at(why, "station");
	s.unit = settings.style.unit;
	if (!level_check_text(typed, BOOK_TYPED_CHARS - 4, "wanted elevation", why) ||
	    !level_parse_length(typed, s.unit, &s.wanted, why))
		return fault_at(why, "elevation");
	strcpy(s.station, station);
	strcpy(s.typed, typed);
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set(book, run, &s, why), why);
}

static bool check_reason(const char *reason, struct fault *why)
{
	if (!*reason)
		return fault_say(why, FAULT_INPUT, "a set-out is struck for a reason: say why");
	return level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why);
}

static bool strike(struct book *book, int64_t run, int64_t id, const char *reason,
                   struct fault *why)
{
	return check_open(book, run, why) &&
	       row_strike(book, "strike set-out", "setout", run, id, reason, 0, why);
}

bool book_setout_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                        struct fault *why)
{
	if (!check_reason(reason, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, strike(book, run, id, reason, why), why);
}

static bool strike_at(struct book *book, int64_t run, const char *station, const char *reason,
                      struct fault *why)
{
	struct book_setout one;
	bool found;
	if (!find(book, run, station, &one, &found, why))
		return false;
	if (!found)
		return fault_say(why, FAULT_INPUT, "no set-out of %.160s counts in this run",
		                 station);
	return strike(book, run, one.id, reason, why);
}

bool book_setout_strike_at(struct book *book, int64_t run, const char *station, const char *reason,
                           struct fault *why)
{
	if (!check_reason(reason, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, strike_at(book, run, station, reason, why), why);
}
