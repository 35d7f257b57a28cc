/* The heads of a run's pages, by day. */
#include "rodbook/book/head.h"

#include <stdio.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/time.h"

/* In the order of enum book_head_text, and of the columns. */
static const char *const names[BOOK_HEAD_TEXTS] = {"party", "weather", "instrument", "rods",
                                                   "datum", "place",   "purpose",    "checked_by"};
#define TEXTS "party, weather, instrument, rods, datum, place, purpose, checked_by"
#define COLUMNS "id, day, time, struck, why, run, " TEXTS
#define FIRST_TEXT 6

const char *book_head_name(enum book_head_text text)
{
	return names[text];
}

static bool is_sound(const struct book_head *h, struct fault *why)
{
	if (strlen(h->day) != BOOK_DAY_BYTES - 1 || !level_is_time(h->day)) {
		fault_say(why, FAULT_INPUT, "a day is written 2026-05-04");
		return fault_at(why, "day");
	}
	for (int i = 0; i < BOOK_HEAD_TEXTS; i++)
		if (!level_check_text(h->text[i], LEVEL_REMARK_CHARS, names[i], why))
			return fault_at(why, names[i]);
	return level_check_text(h->time, BOOK_TIME_BYTES, "time", why) &&
	       level_check_text(h->struck, BOOK_TIME_BYTES, "time of striking", why) &&
	       level_check_text(h->why, LEVEL_REMARK_CHARS, "reason", why);
}

static bool read_head(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	struct book_head *h = item;
	h->id = sqlite3_column_int64(statement, 0);
	sql_text(statement, 1, h->day, sizeof h->day);
	sql_text(statement, 2, h->time, sizeof h->time);
	sql_text(statement, 3, h->struck, sizeof h->struck);
	sql_text(statement, 4, h->why, sizeof h->why);
	h->run = sqlite3_column_int64(statement, 5);
	for (int i = 0; i < BOOK_HEAD_TEXTS; i++)
		sql_text(statement, FIRST_TEXT + i, h->text[i], sizeof h->text[i]);
	return is_sound(h, why) || book_spoiled(book, why);
}

bool book_heads(struct book *book, int64_t run, struct book_head **list, size_t *count,
                struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why, "SELECT " COLUMNS " FROM head WHERE run=?1 ORDER BY id", "i", run),
	    sizeof **list, read_head, (void **)list, count, why);
}

bool book_heads_standing(struct book *book, struct book_head **list, size_t *count,
                         struct fault *why)
{
	return sql_list(
	    book,
	    sql_query(book, why,
	              "SELECT " COLUMNS " FROM head WHERE struck IS NULL ORDER BY day, id", ""),
	    sizeof **list, read_head, (void **)list, count, why);
}

void book_today(const struct book *book, char day[BOOK_DAY_BYTES])
{
	char now[BOOK_TIME_BYTES];
	book->clock(now);
	snprintf(day, BOOK_DAY_BYTES, "%.10s", now);
}

bool head_reads(struct book *book, int64_t id, struct fault *why)
{
	struct book_head ignored = {0};
	return row_reads(book,
	                 sql_query(book, why, "SELECT " COLUMNS " FROM head WHERE id=?1", "i", id),
	                 read_head, &ignored, why);
}

static bool find(struct book *book, int64_t run, const char *day, struct book_head *out,
                 bool *found, struct fault *why)
{
	return sql_one(book,
	               sql_query(book, why,
	                         "SELECT " COLUMNS
	                         " FROM head WHERE run=?1 AND day=?2 AND struck IS NULL",
	                         "it", run, day),
	               read_head, out, found, why);
}

static bool set(struct book *book, int64_t run, const struct book_head *h, struct fault *why)
{
	struct book_head before = {0};
	bool found, same = true;
	if (!check_open(book, run, why) || !find(book, run, h->day, &before, &found, why))
		return false;
	for (int i = 0; i < BOOK_HEAD_TEXTS; i++)
		same = same && strcmp(before.text[i], h->text[i]) == 0;
	if (found && same)
		return true;
	if (found && !row_strike(book, "head", "head", run, before.id, "another head", 0, why))
		return false;
	return sql_run(book, why,
	               "INSERT INTO head(run, day, time, " TEXTS
	               ") VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
	               "itttttttttt", run, h->day, book->now, h->text[0], h->text[1], h->text[2],
	               h->text[3], h->text[4], h->text[5], h->text[6], h->text[7]) &&
	       journal_enter_numbered(book, "head", run, "head",
	                              sqlite3_last_insert_rowid(book->db), NULL, 0, why);
}

bool book_head_set(struct book *book, int64_t run, const struct book_head *head, struct fault *why)
{
	struct book_head h = *head;
	bool says = false;
	h.time[0] = h.struck[0] = h.why[0] = '\0';
	for (int i = 0; i < BOOK_HEAD_TEXTS; i++)
		says = says || *h.text[i];
	if (!is_sound(&h, why))
		return false;
	if (!says)
		return fault_say(why, FAULT_INPUT,
		                 "a head without a word says nothing: fill one line");
	if (!txn_begin(book, why))
		return false;
	return txn_end(book, set(book, run, &h, why), why);
}
