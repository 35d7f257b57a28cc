/* What gauges showed during a run. */
#include "rodbook/book/gauge.h"

#include <string.h>

#include "book/store.h"

static bool is_sound(const struct book_gauge *g, struct fault *why)
{
	if (!level_check_name(g->station, "station", why) ||
	    !level_check_text(g->typed, BOOK_TYPED_CHARS, "gauge reading", why) ||
	    !level_check_text(g->time, BOOK_TIME_BYTES, "time", why) ||
	    !level_check_text(g->remark, LEVEL_REMARK_CHARS, "remark", why) ||
	    !level_check_text(g->struck, BOOK_TIME_BYTES, "time of striking", why) ||
	    !level_check_text(g->why, LEVEL_REMARK_CHARS, "reason", why))
		return false;
	return text_says(g->typed, g->unit, g->reading) ||
	       fault_say(why, FAULT_INPUT,
	                 "the gauge reading at %.160s does not say what was typed", g->station);
}

static bool read_gauge(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_gauge *g = item;
	char unit[8];
	g->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, g->station, sizeof g->station);
	sql_text(statement, 2, unit, sizeof unit);
	level_unit_find(unit, &g->unit);
	sql_text(statement, 3, g->typed, sizeof g->typed);
	g->reading = sqlite3_column_int64(statement, 4);
	sql_text(statement, 5, g->time, sizeof g->time);
	sql_text(statement, 6, g->remark, sizeof g->remark);
	sql_text(statement, 7, g->struck, sizeof g->struck);
	sql_text(statement, 8, g->why, sizeof g->why);
	sql_text(statement, 9, g->booked, sizeof g->booked);
	return is_sound(g, why) || book_spoiled(book, why);
}

#define COLUMNS "id, station, unit, typed, reading, time, remark, struck, why, booked"

bool book_gauges(struct book *book, int64_t run, struct book_gauge **list, size_t *count,
                 struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT " COLUMNS " FROM gauge WHERE run=?1 ORDER BY id", "i",
	                          run),
	                sizeof **list, read_gauge, (void **)list, count, why);
}

bool gauge_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_gauge ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM gauge WHERE id=?1", "i", id),
	                 read_gauge, &ignored, why);
}

static bool add(struct book *book, int64_t run, const struct book_gauge *g, struct fault *why)
{
	struct book_gauge timed = *g;
	return check_open(book, run, why) && observed_at(book, timed.time, timed.booked, why) &&
	       sql_run(
	           book, why,
	           "INSERT INTO gauge(run, station, unit, typed, reading, time, booked, remark) "
	           "VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
	           "itutittt", run, g->station, (int)g->unit, g->typed, g->reading, timed.time,
	           timed.booked, g->remark) &&
	       journal_enter_numbered(book, "gauge", run, "gauge",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

bool book_gauge_add(struct book *book, int64_t run, const char *station, const char *typed,
                    const char *time, const char *remark, struct fault *why)
{
	struct book_gauge g = {0};
	struct book_settings settings;
	if (!book_settings(book, &settings, why))
		return false;
	if (!level_check_name(station, "station", why))
		return fault_at(why, "station");
	g.unit = settings.style.unit;
	if (!level_check_text(typed, BOOK_TYPED_CHARS - 4, "gauge reading", why) ||
	    !level_parse_length(typed, g.unit, &g.reading, why))
		return fault_at(why, "reading");
	if (!level_check_text(time, BOOK_TIME_BYTES - 1, "time", why))
		return fault_at(why, "time");
	if (!level_check_text(remark, LEVEL_REMARK_CHARS, "remark", why))
		return fault_at(why, "remark");
	strcpy(g.station, station);
	strcpy(g.typed, typed);
	strcpy(g.time, time);
	strcpy(g.remark, remark);
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, add(book, run, &g, why), why);
}

static bool check_reason(const char *reason, struct fault *why)
{
	if (!*reason)
		return fault_say(why, FAULT_INPUT,
		                 "a gauge reading is struck for a reason: say why");
	return level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why);
}

static bool strike(struct book *book, int64_t run, int64_t id, const char *reason,
                   struct fault *why)
{
	return check_open(book, run, why) &&
	       row_strike(book, "strike gauge", "gauge", run, id, reason, 0, why);
}

bool book_gauge_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                       struct fault *why)
{
	if (!check_reason(reason, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, strike(book, run, id, reason, why), why);
}

static bool strike_at(struct book *book, int64_t run, const char *station, const char *reason,
                      struct fault *why)
{
	struct book_gauge last;
	bool found;
	if (!sql_one(book,
	             sql_query(book, why,
	                       "SELECT " COLUMNS " FROM gauge WHERE run=?1 AND station=?2 AND "
	                       "struck IS NULL ORDER BY id DESC LIMIT 1",
	                       "it", run, station),
	             read_gauge, &last, &found, why))
		return false;
	if (!found)
		return fault_say(why, FAULT_INPUT, "no gauge reading counts at %.160s in this run",
		                 station);
	return strike(book, run, last.id, reason, why);
}

bool book_gauge_strike_at(struct book *book, int64_t run, const char *station, const char *reason,
                          struct fault *why)
{
	if (!check_reason(reason, why) || !txn_begin(book, why))
		return false;
	return txn_end(book, strike_at(book, run, station, reason, why), why);
}
