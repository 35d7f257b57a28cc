/* The journal, seen through SQLite itself: every change with its before and after, no gap, and no
 * way to alter it. */
#include <sqlite3.h>

#include "rodbook/book/gauge.h"
#include "rodbook/book/setout.h"
#include "unit/books.h"
#include "unit/suite.h"

static sqlite3 *raw_open(const struct shelf *s)
{
	sqlite3 *db;
	ck_assert_int_eq(sqlite3_open_v2(s->path, &db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
	return db;
}

/* The first column of all rows, parted by bars. */
static const char *ask(sqlite3 *db, const char *sql)
{
	static char all[8192];
	sqlite3_stmt *statement;
	size_t used = 0;
	all[0] = '\0';
	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK, "%s",
	              sqlite3_errmsg(db));
	while (sqlite3_step(statement) == SQLITE_ROW) {
		const char *text = (const char *)sqlite3_column_text(statement, 0);
		used += (size_t)snprintf(all + used, sizeof all - used, "%s%s", used ? "|" : "",
		                         text ? text : "null");
		ck_assert_uint_lt(used, sizeof all);
	}
	sqlite3_finalize(statement);
	return all;
}

static void sound(sqlite3 *db)
{
	ck_assert_str_eq(ask(db, "PRAGMA integrity_check"), "ok");
	ck_assert_str_eq(ask(db, "PRAGMA foreign_key_check"), "");
	ck_assert_str_eq(
	    ask(db, "SELECT count(*) = max(seq) AND min(seq) = 1 AND count(*) = count(DISTINCT "
	            "seq) FROM journal"),
	    "1");
}

START_TEST(test_every_change)
{
	struct shelf s;
	sqlite3 *db;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	ck_assert(book_set(s.book, "k", "0.3", &s.why));
	ck_assert(book_mark_set(s.book, "BM", "10", "1 mm", "deed", &s.why));
	ck_assert(book_mark_set(s.book, "BM", "11", NULL, NULL, &s.why));
	ck_assert(book_mark_strike(s.book, "BM", &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "BM", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "2"));
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "3"));
	ck_assert(shelf_change(&s, 1, LEVEL_FS, "T", "2"));
	ck_assert(book_run_rename(s.book, s.run.info.id, "b", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_undo(&s));
	ck_assert(shelf_undo(&s));
	db = raw_open(&s);
	sound(db);
	/* one entry for each row changed, the new ones without a before */
	ck_assert_str_eq(ask(db, "SELECT act || ' ' || tbl || iif(before IS NULL, ' new', '') "
	                         "FROM journal ORDER BY seq"),
	                 "set setting new|set setting new|set setting|mark mark new|"
	                 "strike mark mark|mark mark new|strike mark mark|new run run new|book "
	                 "sight new|book sight new|"
	                 "book sight new|change sight|change sight new|change sight|"
	                 "change sight new|rename run run|undo run|"
	                 "undo sight|undo sight|undo sight|undo sight");
	/* entries of one action share its first number; an undoing names what it undoes */
	ck_assert_str_eq(ask(db, "SELECT action FROM journal ORDER BY seq"),
	                 "1|2|3|4|5|5|7|8|9|10|11|12|12|12|12|16|17|18|18|18|18");
	ck_assert_str_eq(ask(db, "SELECT undoes FROM journal WHERE seq > 16 ORDER BY seq"),
	                 "16|12|12|12|12");
	/* before and after say what was and what is */
	ck_assert_str_eq(ask(db, "SELECT before ->> 'value' || ' ' || (after ->> 'value') FROM "
	                         "journal WHERE seq = 3"),
	                 "0.2 0.3");
	ck_assert_str_eq(ask(db,
	                     "SELECT after ->> 'typed' || ' ' || (after ->> 'source') || ' ' || "
	                     "(after ->> 'struck') FROM journal WHERE seq = 5"),
	                 "10 deed 2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(ask(db, "SELECT after ->> 'typed' FROM journal WHERE seq = 6"), "11");
	ck_assert_str_eq(ask(db, "SELECT after ->> 'struck' FROM journal WHERE seq = 7"),
	                 "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(ask(db, "SELECT before ->> 'name' || ' ' || (after ->> 'name') FROM "
	                         "journal WHERE seq IN (16, 17) ORDER BY seq"),
	                 "a b|b a");
	ck_assert_str_eq(ask(db, "SELECT DISTINCT time FROM journal"), "2026-05-04T09:30:00+02:00");
	/* the last entry of each row is the row as it stands, and each before is the after before
	 * it: the journal alone tells the whole story */
	ck_assert_str_eq(
	    ask(db,
	        "SELECT count(*) FROM journal j WHERE before IS NOT (SELECT after FROM journal p "
	        "WHERE p.tbl = j.tbl AND p.row = j.row AND p.seq < j.seq ORDER BY seq DESC LIMIT "
	        "1)"),
	    "0");
	ck_assert_str_eq(
	    ask(db,
	        "SELECT count(*) FROM sight s WHERE (SELECT (after ->> 'struck') IS s.struck AND "
	        "(after ->> 'why') = s.why AND (after ->> 'station') = s.station AND "
	        "(after ->> 'reading') = s.reading AND (after ->> 'place') = s.place FROM journal "
	        "WHERE tbl = 'sight' AND row = s.id ORDER BY seq DESC LIMIT 1) IS NOT 1"),
	    "0");
	sqlite3_close(db);
	shelf_close(&s);
}
END_TEST

/* What is refused, and what is thrown away, leaves no entry. */
START_TEST(test_no_entry_without_change)
{
	struct shelf s;
	sqlite3 *db;
	int64_t id;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	db = raw_open(&s);
	ck_assert_str_eq(ask(db, "SELECT max(seq) FROM journal"), "3");
	ck_assert(!shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(!book_set(s.book, "k", "x", &s.why));
	ck_assert(!book_mark_set(s.book, "A", "x", NULL, NULL, &s.why));
	ck_assert(!book_mark_strike(s.book, "A", &s.why));
	ck_assert(!book_run_add(s.book, "a", LEVEL_OPEN, &id, &s.why));
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "b", LEVEL_OPEN, &id, &s.why));
	ck_assert(!book_finish(s.book, false, &s.why));
	ck_assert_str_eq(ask(db, "SELECT max(seq) FROM journal"), "3");
	/* and the next one leaves no gap */
	ck_assert(book_run_add(s.book, "b", LEVEL_OPEN, &id, &s.why));
	sound(db);
	sqlite3_close(db);
	shelf_close(&s);
}
END_TEST

START_TEST(test_only_added_to)
{
	static const char *const attempts[] = {
	    "UPDATE journal SET after = '{}' WHERE seq = 1",
	    "UPDATE OR REPLACE journal SET seq = 1 WHERE seq = 2",
	    "UPDATE OR IGNORE journal SET time = ''",
	    "DELETE FROM journal WHERE seq = 1",
	    "DELETE FROM journal",
	    "INSERT OR REPLACE INTO journal SELECT * FROM journal WHERE seq = 1",
	    "REPLACE INTO journal(seq, action, time, act, tbl, row, after) VALUES(1, 1, '', '', "
	    "'run', '1', '{}')",
	    "INSERT INTO journal(seq, action, time, act, tbl, row, after) VALUES(99, 1, '', '', "
	    "'run', '1', '{}')",
	    "INSERT INTO journal(seq, action, time, act, tbl, row, after) VALUES(0, 1, '', '', "
	    "'run', '1', '{}')",
	    "INSERT INTO journal(action, time, act, tbl, row, after) VALUES(1, '', '', 'run', '1', "
	    "'{}')",
	    "INSERT OR REPLACE INTO journal(seq, action, time, act, tbl, row, after) SELECT seq, "
	    "action, '', act, tbl, row, after FROM journal",
	    "INSERT INTO journal(seq, action, time, act, tbl, row, after) VALUES(1, 1, '', '', "
	    "'run', '1', '{}') ON CONFLICT(seq) DO UPDATE SET after = '{}'",
	    "DELETE FROM sight",
	    "DELETE FROM run",
	    "DELETE FROM mark",
	    "DELETE FROM water",
	    "DELETE FROM air",
	    "DELETE FROM plan",
	    "DELETE FROM instrument",
	    "DELETE FROM seal",
	    "DELETE FROM gauge",
	    "DELETE FROM setout",
	    "INSERT INTO setout(run, station, unit, typed, wanted, time) VALUES(1, 'S1', 'm', '1', "
	    "1000000000, '')",
	    "UPDATE seal SET figures = 'k\t9\n'",
	    "INSERT OR REPLACE INTO seal(id, run, figures, time) VALUES(1, 1, 'k\t9\n', '')",
	    "INSERT INTO seal(run, figures, time) VALUES(1, 'k\t9\n', '')",
	};
	struct shelf s;
	sqlite3 *db;
	char *before;
	struct book_figures figures = {0};
	struct book_air air = {.sky = "calm"};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "BM", "10", NULL, NULL, &s.why));
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s.why));
	ck_assert(book_figure_put(&figures, "distance", "800 m", &s.why));
	ck_assert(book_plan_set(s.book, "p", &figures, &s.why));
	shelf_begin(&s, "a", LEVEL_CROSSING);
	ck_assert(book_water_add(s.book, s.run.info.id, "BM", "0.1", "", "", &s.why));
	ck_assert(book_air_add(s.book, s.run.info.id, &air, &s.why));
	ck_assert(book_gauge_add(s.book, s.run.info.id, "G1", "2.4", "", "", &s.why));
	ck_assert(book_setout_set(s.book, s.run.info.id, "S1", "13", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_sight(&s, LEVEL_BS, "BM", "1", "800", ""));
	db = raw_open(&s);
	ck_assert_str_eq(ask(db, "SELECT count(*) FROM seal"), "1");
	before = strdup(ask(db, "SELECT seq || time || act || coalesce(before, '-') || after FROM "
	                        "journal ORDER BY seq"));
	for (size_t i = 0; i < sizeof attempts / sizeof *attempts; i++)
		ck_assert_msg(sqlite3_exec(db, attempts[i], NULL, NULL, NULL) != SQLITE_OK, "%s",
		              attempts[i]);
	ck_assert_str_eq(ask(db, "SELECT seq || time || act || coalesce(before, '-') || after FROM "
	                         "journal ORDER BY seq"),
	                 before);
	ck_assert_str_eq(ask(db, "SELECT count(*) FROM sight"), "1");
	sound(db);
	free(before);
	sqlite3_close(db);
	shelf_close(&s);
}
END_TEST

/* While another program writes, nothing is lost and the message says what to do. */
START_TEST(test_busy)
{
	struct shelf s;
	sqlite3 *db;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	db = raw_open(&s);
	ck_assert_int_eq(sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
	ck_assert(!shelf_book(&s, LEVEL_BS, "A", "1"));
	FAULT(&s, FAULT_FILE, "try again");
	ck_assert_int_eq(sqlite3_exec(db, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	COUNTED(&s, "BS A 1");
	sqlite3_close(db);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("journal", test_every_change, test_no_entry_without_change,
	                 test_only_added_to, test_busy);
}
