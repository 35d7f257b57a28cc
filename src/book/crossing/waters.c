/* Water readings at the shores of a crossing. */
#include <string.h>

#include "book/store.h"
#include "rodbook/level/observed.h"
#include "rodbook/level/set.h"

static bool is_sound(const struct book_water *w, struct fault *why)
{
	return level_check_name(w->station, "station", why) &&
	       level_check_text(w->typed, BOOK_TYPED_CHARS, "water reading", why) &&
	       level_check_text(w->time, BOOK_TIME_BYTES, "time", why) &&
	       level_check_text(w->remark, LEVEL_REMARK_CHARS, "remark", why) &&
	       level_check_text(w->struck, BOOK_TIME_BYTES, "time of striking", why) &&
	       level_check_text(w->why, LEVEL_REMARK_CHARS, "reason", why) &&
	       (text_says(w->typed, w->unit, w->reading) ||
	        fault_say(why, FAULT_INPUT,
	                  "the water reading at %.160s does not say what was typed", w->station));
}

static bool read_water(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_water *w = item;
	char unit[8];
	w->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, w->station, sizeof w->station);
	sql_text(statement, 2, unit, sizeof unit);
	level_unit_find(unit, &w->unit);
	sql_text(statement, 3, w->typed, sizeof w->typed);
	w->reading = sqlite3_column_int64(statement, 4);
	sql_text(statement, 5, w->time, sizeof w->time);
	sql_text(statement, 6, w->remark, sizeof w->remark);
	sql_text(statement, 7, w->struck, sizeof w->struck);
	sql_text(statement, 8, w->why, sizeof w->why);
	sql_text(statement, 9, w->booked, sizeof w->booked);
	return is_sound(w, why) || book_spoiled(book, why);
}

#define COLUMNS "id, station, unit, typed, reading, time, remark, struck, why, booked"

bool book_waters(struct book *book, int64_t run, struct book_water **list, size_t *count,
                 struct fault *why)
{
	return sql_list(book,
	                sql_query(book, why,
	                          "SELECT " COLUMNS " FROM water WHERE run=?1 ORDER BY id", "i",
	                          run),
	                sizeof **list, read_water, (void **)list, count, why);
}

bool water_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_water ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM water WHERE id=?1", "i", id),
	                 read_water, &ignored, why);
}

void book_water_mean(const struct book_water *list, size_t count, struct level_sight *sight)
{
	struct level_tally tally = {0};
	for (size_t i = 0; i < count; i++)
		if (!*list[i].struck && strcmp(list[i].station, sight->station) == 0)
			level_tally_add(&tally, list[i].reading);
	sight->water_count = tally.count ? tally.count : sight->surface;
	sight->water = tally.count ? level_tally_mean(&tally) : 0;
	sight->water_sd = level_tally_sd(&tally);
}

static bool add(struct book *book, int64_t run, const struct book_water *w, struct fault *why)
{
	struct book_water timed = *w;
	return check_open(book, run, why) && observed_at(book, timed.time, timed.booked, why) &&
	       sql_run(
	           book, why,
	           "INSERT INTO water(run, station, unit, typed, reading, time, booked, remark) "
	           "VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
	           "itutittt", run, w->station, (int)w->unit, w->typed, w->reading, timed.time,
	           timed.booked, w->remark) &&
	       journal_enter_numbered(book, "water", run, "water",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

bool book_water_add(struct book *book, int64_t run, const char *station, const char *typed,
                    const char *time, const char *remark, struct fault *why)
{
	struct book_water w = {0};
	struct book_settings settings;
	if (!book_settings(book, &settings, why))
		return false;
	if (!level_check_name(station, "station", why))
		return fault_at(why, "station");
	w.unit = settings.style.unit;
	if (!level_check_text(typed, BOOK_TYPED_CHARS - 4, "water reading", why) ||
	    !level_parse_length(typed, w.unit, &w.reading, why))
		return fault_at(why, "reading");
	if (!level_check_text(time, BOOK_TIME_BYTES - 1, "time", why))
		return fault_at(why, "time");
	if (!level_check_text(remark, LEVEL_REMARK_CHARS, "remark", why))
		return fault_at(why, "remark");
	if (w.reading > BOOK_READING_LIMIT || w.reading < -BOOK_READING_LIMIT) {
		fault_say(why, FAULT_INPUT,
		          "the water is over 100 m from the station: read it again");
		return fault_at(why, "reading");
	}
	strcpy(w.station, station);
	strcpy(w.typed, typed);
	strcpy(w.time, time);
	strcpy(w.remark, remark);
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, add(book, run, &w, why), why);
}

bool book_water_add_set(struct book *book, int64_t run, const char *station, const char *typed,
                        const char *time, const char *remark, struct fault *why)
{
	char one[LEVEL_SET_READING_BYTES];
	bool ok = true, first = true;
	if (!level_is_set(typed))
		return book_water_add(book, run, station, typed, time, remark, why);
	if (!txn_begin(book, why))
		return false;
	while (ok && *typed != '\0') {
		if (!level_next_reading(&typed, one)) {
			fault_say(why, FAULT_INPUT, "a reading of the set is too long");
			ok = fault_at(why, "reading");
		} else if (*one || *typed != '\0' || first) {
			/* Only behind the last mark there may be nothing. */
			ok = book_water_add(book, run, station, one, time, remark, why);
		}
		first = false;
	}
	return txn_end(book, ok, why);
}

bool book_water_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                       struct fault *why)
{
	if (!*reason)
		return fault_say(why, FAULT_INPUT,
		                 "a water reading is struck for a reason: say why");
	if (!level_check_text(reason, LEVEL_REMARK_CHARS, "reason", why) || !txn_begin(book, why))
		return false;
	return txn_end(book,
	               check_open(book, run, why) &&
	                   row_strike(book, "strike water", "water", run, id, reason, 0, why),
	               why);
}
