/* A book of an older version is brought up: every row stays, the journal too, and it is a whole
 * book of today. */
#include <sqlite3.h>
#include <sys/stat.h>

#include "unit/books.h"
#include "book/store.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/head.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/setout.h"
#include "rodbook/report/report.h"
#include "unit/suite.h"

#if !defined VERSION_1 || !defined VERSION_2 || !defined BOOK_3 || !defined BOOK_4 ||              \
    !defined BOOK_5 || !defined BOOK_6 || !defined BOOK_7
#error "the schemas of versions 1 and 2, and books of versions 3 to 7"
#endif

/* A book as the first rodbook left it: a mark, a run with a changed sight, a draft. */
static const char contents[] =
    "INSERT INTO setting VALUES('unit', 'm'), ('title', 'Mill pond');"
    "INSERT INTO mark(id, name, typed, unit, elevation, time) VALUES"
    "(1, 'STONE', '12.5', 'm', 12500000000, '2026-05-02T08:00:00+02:00');"
    "INSERT INTO run VALUES(1, 'loop', 'loop', '2026-05-02T08:30:00+02:00');"
    "INSERT INTO sight(id, run, place, kind, station, unit, typed, reading, distance_typed, "
    "distance, method, time, struck, why, replaces) VALUES"
    "(1, 1, 1099511627776, 'BS', 'STONE', 'm', '1.375', 1375000000, '38.5', 38500000000, 'rod', "
    "'2026-05-02T08:40:00+02:00', NULL, '', NULL),"
    "(2, 1, 2199023255552, 'FS', 'TP1', 'm', '2.032', 2032000000, '', NULL, 'rod', "
    "'2026-05-02T08:44:00+02:00', '2026-05-02T08:45:00+02:00', 'changed', NULL),"
    "(3, 1, 3298534883328, 'FS', 'TP1', 'm', '2.023', 2023000000, '', NULL, 'rod', "
    "'2026-05-02T08:45:00+02:00', NULL, '', 2);"
    "INSERT INTO draft(run, slot, unit, kind, station, reading) VALUES(1, 0, 'm', 'BS', 'TP1', "
    "'1.5');"
    "INSERT INTO journal VALUES"
    "(1, 1, 't', 'set', NULL, 'setting', 'unit', NULL, '{}', NULL),"
    "(2, 2, 't', 'book', 1, 'sight', '1', NULL, '{\"id\":1}', NULL),"
    "(3, 3, 't', 'book', 1, 'sight', '2', NULL, '{\"id\":2}', NULL);"
    "PRAGMA application_id=1919902818; PRAGMA user_version=1";

/* A book as the second one left it, with rows in the tables that were new then. */
static const char contents_2[] =
    "INSERT INTO setting VALUES('unit', 'm');"
    "INSERT INTO run(id, name, kind, plan, time) VALUES(1, 'over', 'crossing', 'far', "
    "'2026-06-02T08:30:00+02:00');"
    "INSERT INTO sight(id, run, place, kind, station, unit, typed, reading, distance_typed, "
    "distance, method, instrument, rod, time, overridden) VALUES"
    "(1, 1, 1099511627776, 'BS', 'STONE', 'm', '1.375', 1375000000, '38.5', 38500000000, 'rod', "
    "'builder', 'long', '2026-06-02T08:40:00+02:00', 'sight too long');"
    "INSERT INTO instrument VALUES(1, 'builder', '0.1 mm/m', '', '', '', 't', NULL);"
    "INSERT INTO tolerance VALUES(1, 'mine', 'section=9 mm', 't', NULL);"
    "INSERT INTO pegtest VALUES(1, 'builder', 'm', 'x', '1 mm/m', '1 mm/m', 't');"
    "INSERT INTO rod VALUES(1, 'long', '', '', '', '', '', '', 't', NULL);"
    "INSERT INTO fieldtest VALUES(1, 'builder', 'full', '', 'm', '', 't');"
    "INSERT INTO water VALUES(1, 1, 'STONE', 'm', '0.25', 250000000, "
    "'2026-06-02T08:41:00+02:00', '', NULL, '');"
    "INSERT INTO air VALUES(1, 1, 'm', '1013', '15', '1', '14', '3', '', '', '', 't', NULL, '');"
    "INSERT INTO plan VALUES(1, 'far', 'k 0.13', 't', NULL);"
    "INSERT INTO seal VALUES(1, 1, 'k 0.13', 0, '', 't');"
    "INSERT INTO draft(run, slot, unit, kind, rod) VALUES(1, 0, 'm', 'FS', 'long');"
    "INSERT INTO journal VALUES(1, 1, 't', 'set', NULL, 'setting', 'unit', NULL, '{}', NULL);"
    "PRAGMA application_id=1919902818; PRAGMA user_version=2";

static void make(const char *path, const char *version, const char *rows)
{
	sqlite3 *db;
	size_t size;
	char *schema = slurp(version, &size);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_msg(sqlite3_exec(db, schema, NULL, NULL, NULL) == SQLITE_OK, "%s",
	              sqlite3_errmsg(db));
	ck_assert_msg(sqlite3_exec(db, rows, NULL, NULL, NULL) == SQLITE_OK, "%s",
	              sqlite3_errmsg(db));
	sqlite3_close(db);
	free(schema);
}

static void make_old(const char *path)
{
	make(path, VERSION_1, contents);
}

static const char *one(const char *path, const char *sql)
{
	static char text[200];
	sqlite3 *db;
	sqlite3_stmt *statement;
	ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
	snprintf(text, sizeof text, "%s", (const char *)sqlite3_column_text(statement, 0));
	sqlite3_finalize(statement);
	sqlite3_close(db);
	return text;
}

START_TEST(test_upgrade)
{
	struct shelf s;
	struct book_draft draft[2];
	struct book_mark *marks;
	size_t count;
	char path[160];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make_old(path);
	for (int again = 0; again < 2; again++) {
		book_close(s.book);
		s.book = book_open(path, shelf_clock, &s.why);
		ck_assert_msg(s.book != NULL, "%s", s.why.text);
		shelf_take(&s, 1);
		ALL(&s, "BS STONE 1.375, [FS TP1 2.032], FS TP1 2.023");
		ck_assert_int_eq(s.run.note[2].replaces, 2);
		ck_assert_int_eq(s.run.run.sight[0].distance, 38500000000);
		ck_assert(s.run.run.sight[0].has_known);
		ck_assert(book_draft_load(s.book, 1, draft, &s.why));
		ck_assert_str_eq(draft[0].reading, "1.5");
		ck_assert(book_marks(s.book, &marks, &count, &s.why));
		ck_assert_uint_eq(count, 1);
		free(marks);
		ck_assert_str_eq(one(path, "PRAGMA user_version"), "8");
		ck_assert_str_eq(one(path, "PRAGMA integrity_check"), "ok");
		ck_assert_str_eq(one(path, "SELECT count(*) || max(seq) FROM journal"), "33");
	}
	/* and it goes on as a book of today */
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "1.5"));
	ck_assert(book_water_add(s.book, 1, "STONE", "0.3", "", "", &s.why));
	ck_assert_str_eq(one(path, "SELECT max(seq) FROM journal"), "5");
	shelf_close(&s);
}
END_TEST

/* Every row of every table of version 2 is there again, and can be read. */
START_TEST(test_upgrade_2)
{
	static const char *const tables[] = {
	    "setting",   "run",   "sight", "instrument", "tolerance", "pegtest", "rod",
	    "fieldtest", "water", "air",   "plan",       "seal",      "draft",   "journal"};
	struct shelf s;
	char path[160], sql[80];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make(path, VERSION_2, contents_2);
	book_close(s.book);
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	for (size_t i = 0; i < sizeof tables / sizeof *tables; i++) {
		snprintf(sql, sizeof sql, "SELECT count(*) FROM %s", tables[i]);
		ck_assert_str_eq(one(path, sql), "1");
	}
	ck_assert_str_eq(one(path, "PRAGMA user_version"), "8");
	ck_assert_str_eq(one(path, "SELECT plan || figures FROM run, seal"), "fark 0.13");
	ck_assert_str_eq(one(path, "SELECT instrument || rod || overridden || again FROM sight"),
	                 "builderlongsight too long0");
	shelf_take(&s, 1);
	ck_assert_int_eq(s.run.run.sight[0].water_count, 1);
	shelf_close(&s);
}
END_TEST

/* A book of version 3, with a crossing sealed under its rule and another not sealed yet. The sealed
 * one keeps its figures and is judged by the rule of today: its observed drop of 149.2 mm was held
 * against zero; now what a flat surface would show in its air, -26.1 mm, is taken off first. What
 * the old rule said was printed by the program that made the book: "not-separated". The other one
 * takes the defaults of today. */
START_TEST(test_upgrade_3)
{
	struct shelf s;
	struct work_run run;
	struct book_verified verified = {0};
	struct book_setting setting;
	char path[160], value[BOOK_VALUE_BYTES], *text;
	size_t size;
	FILE *out;
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make(path, BOOK_3, "PRAGMA application_id=1919902818; PRAGMA user_version=3");
	book_close(s.book);
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	ck_assert_int_eq(book_brought_up(s.book), 3);
	ck_assert_str_eq(one(path, "PRAGMA user_version"), "8");
	ck_assert_str_eq(one(path, "PRAGMA integrity_check"), "ok");
	/* the journal of then yields the tables of now */
	ck_assert(book_verify(s.book, 0, &verified, &s.why));
	ck_assert_msg(*verified.difference == '\0', "%s", verified.difference);
	ck_assert(work_run_load(s.book, "sealed", NULL, &run, &s.why));
	ck_assert(run.terms.sealed && run.terms.old_rule);
	ck_assert_double_eq_tol(run.terms.terms.dk_low, 0.1768, 1e-12);
	ck_assert_double_eq_tol(run.terms.terms.dk_high, 0.1768, 1e-12);
	ck_assert(!run.terms.terms.air_declared);
	ck_assert_int_eq(run.terms.terms.decides, LEVEL_BY_ALL);
	ck_assert_double_eq(run.terms.terms.water_floor, 0);
	ck_assert_int_eq(run.terms.k_source, LEVEL_K_THERMOMETERS);
	ck_assert_double_eq_tol(run.closing.flat, -0.0261, 0.00005);
	ck_assert_double_eq_tol(run.closing.observed, 0.1492, 0.00005);
	out = open_memstream(&text, &size);
	ck_assert(report_drop(out, s.book, &run, true, &s.why));
	fclose(out);
	ck_assert_ptr_nonnull(strstr(text, "answer_before,not-separated,"));
	free(text);
	work_run_free(&run);
	ck_assert(work_run_load(s.book, "open", NULL, &run, &s.why));
	ck_assert(!run.terms.sealed && !run.terms.old_rule);
	ck_assert_double_eq(run.terms.terms.dk_low, 2);
	ck_assert_double_eq(run.terms.terms.water_floor, 0.002);
	ck_assert_double_eq_tol(run.terms.terms.drift, 0.00001, 1e-15);
	/* g of its peg test follows from the standings, u with the air of a test in the sun */
	ck_assert(book_figure(&run.terms.figures, "tilt_g L1", value));
	ck_assert_str_eq(value, "60.0000 m");
	work_run_free(&run);
	/* what was called bound is called all */
	for (size_t i = 0; i < book_setting_count(); i++) {
		ck_assert(book_setting(s.book, i, &setting, &s.why));
		if (strcmp(setting.name, "decides") == 0)
			ck_assert_str_eq(setting.value, "all");
	}
	shelf_close(&s);
}
END_TEST

/* A book that may not be written says what to do. */
START_TEST(test_read_only)
{
	struct shelf s;
	char path[160];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make_old(path);
	ck_assert_int_eq(chmod(path, 0444), 0);
	ck_assert_ptr_null(book_open(path, shelf_clock, &s.why));
	FAULT(&s, FAULT_FILE, "make it writable once");
	ck_assert_str_eq(one(path, "PRAGMA user_version"), "1");
	shelf_close(&s);
}
END_TEST

/* What calls itself a book of version 1 and has not its tables stays as it is. */
START_TEST(test_not_a_book)
{
	struct shelf s;
	char path[160];
	sqlite3 *db;
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make_old(path);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db, "DROP TABLE draft", NULL, NULL, NULL), SQLITE_OK);
	sqlite3_close(db);
	ck_assert_ptr_null(book_open(path, shelf_clock, &s.why));
	FAULT(&s, FAULT_FILE, "somebody altered its tables");
	ck_assert_str_eq(one(path, "PRAGMA user_version"), "1");
	ck_assert_str_eq(one(path, "SELECT count(*) FROM sight"), "3");
	shelf_close(&s);
}
END_TEST

/* A book that somebody altered is refused as it is, and not washed clean by the upgrade. */
START_TEST(test_hostile)
{
	static const char *const altered[] = {
	    "CREATE TRIGGER sly AFTER INSERT ON sight BEGIN UPDATE sight SET reading=reading+1 "
	    "WHERE "
	    "id=NEW.id; END",
	    "DROP TRIGGER journal_no_update; UPDATE journal SET after='{}' WHERE seq=3",
	    "CREATE TABLE extra(a)",
	};
	for (size_t i = 0; i < sizeof altered / sizeof *altered; i++) {
		struct shelf s;
		char path[160];
		sqlite3 *db;
		shelf_open(&s, LEVEL_M);
		snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
		make_old(path);
		ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
		ck_assert_int_eq(sqlite3_exec(db, altered[i], NULL, NULL, NULL), SQLITE_OK);
		sqlite3_close(db);
		ck_assert_ptr_null(book_open(path, shelf_clock, &s.why));
		FAULT(&s, FAULT_FILE, "somebody altered its tables");
		ck_assert_str_eq(one(path, "PRAGMA user_version"), "1");
		shelf_close(&s);
	}
}
END_TEST

/* A book of version 4 keeps all it says, its seal worked out anew, and its half-typed sight, which
 * whoever opens the run goes on with. */
START_TEST(test_upgrade_4)
{
	struct shelf s;
	struct book_verified verified = {0};
	struct book_draft draft[2];
	struct book_seal *seals;
	size_t count;
	char path[160];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make(path, BOOK_4, "PRAGMA application_id=1919902818; PRAGMA user_version=4");
	book_close(s.book);
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	ck_assert_int_eq(book_brought_up(s.book), 4);
	ck_assert_str_eq(one(path, "PRAGMA user_version"), "8");
	ck_assert_str_eq(one(path, "PRAGMA integrity_check"), "ok");
	ck_assert_msg(book_verify(s.book, 0, &verified, &s.why), "%s", s.why.text);
	ck_assert_str_eq(verified.difference, "");
	ck_assert_uint_eq(verified.sights, 4);
	ck_assert(book_seals(s.book, 2, &seals, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert(!seals[0].late);
	free(seals);
	ck_assert(book_draft_load(s.book, 1, draft, &s.why));
	ck_assert(draft[0].used);
	ck_assert_str_eq(draft[0].reading, "1.4");
	shelf_close(&s);
}
END_TEST

/* A run that version 5 closed on STONE at 12.5 m: the mark went to 12.6 m a day later, and the run
 * keeps what it was closed with, by the journal. */
START_TEST(test_upgrade_5)
{
	struct shelf s;
	struct book_verified verified = {0};
	char path[160];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make(path, BOOK_5, "PRAGMA application_id=1919902818; PRAGMA user_version=5");
	book_close(s.book);
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	ck_assert_int_eq(book_brought_up(s.book), 5);
	ck_assert_msg(book_verify(s.book, 0, &verified, &s.why), "%s", s.why.text);
	ck_assert_str_eq(verified.difference, "");
	shelf_take(&s, 3);
	ck_assert(s.run.info.closed);
	ck_assert(s.run.run.sight[0].has_known);
	ck_assert_int_eq(s.run.run.sight[0].known, 12500000000);
	ck_assert_uint_eq(s.run.moved_count, 1);
	ck_assert_str_eq(s.run.moved[0].mark, "STONE");
	ck_assert_int_eq(s.run.moved[0].now, 12600000000);
	ck_assert_str_eq(s.run.moved[0].time, "2026-07-02T09:00:00+02:00");
	/* one that is open goes by the mark as it is */
	shelf_take(&s, 1);
	ck_assert_int_eq(s.run.run.sight[0].known, 12600000000);
	ck_assert_uint_eq(s.run.moved_count, 0);
	shelf_close(&s);
}
END_TEST

static void closed_refuses(const char *path, const char *sql)
{
	sqlite3 *db;
	char *said = NULL;
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_ne(sqlite3_exec(db, sql, NULL, NULL, &said), SQLITE_OK);
	ck_assert_str_eq(said, "the run is closed: reopen it first");
	sqlite3_free(said);
	sqlite3_close(db);
}

/* A book with something in each table but those named: it comes up once, with the journal that it
 * had, by the digest that the program of its version printed, and its tables follow from that
 * still. */
static void comes_up_whole(struct shelf *s, const char *path, int version, const char *empty,
                           const char *digest)
{
	struct book_verified verified = {0};
	char sql[120];
	for (size_t i = 0; journal_table(i); i++) {
		snprintf(sql, sizeof sql, "SELECT count(*) > 0 FROM %s", journal_table(i));
		if (!strstr(empty, journal_table(i)))
			ck_assert_msg(strcmp(one(path, sql), "1") == 0, "%s is empty",
			              journal_table(i));
	}
	for (int again = 0; again < 2; again++) {
		book_close(s->book);
		s->book = book_open(path, shelf_clock, &s->why);
		ck_assert_msg(s->book != NULL, "%s", s->why.text);
		ck_assert_int_eq(book_brought_up(s->book), again ? 0 : version);
		ck_assert_str_eq(one(path, "PRAGMA user_version"), "8");
		ck_assert_str_eq(one(path, "PRAGMA integrity_check"), "ok");
		ck_assert_msg(book_verify(s->book, 0, &verified, &s->why), "%s", s->why.text);
		ck_assert_str_eq(verified.difference, "");
		ck_assert_str_eq(verified.digest, digest);
		ck_assert_uint_eq(verified.sights, 12);
	}
}

/* A book with something in every table, as the program of version 6 left it. Its journal is the
 * same, by the digest that the program of version 6 printed, and yields its tables still, with
 * nothing in the columns that are new; gauges and set-outs go into it from then on. */
START_TEST(test_upgrade_6)
{
	static const char *const tables[] = {"sight", "water", "air", "pegtest"};
	static const char digest[] =
	    "e80adb94113572f45a4a3d10fdf68ecafd39b8d5526192020b5e203db5f72dff";
	struct shelf s;
	struct book_verified verified = {0};
	struct book_draft draft[2];
	char path[160], sql[120];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make(path, BOOK_6, "PRAGMA application_id=1919902818; PRAGMA user_version=6");
	comes_up_whole(&s, path, 6, "gauge setout head", digest);
	for (size_t i = 0; i < sizeof tables / sizeof *tables; i++) {
		snprintf(sql, sizeof sql, "SELECT count(*) FROM %s WHERE booked <> ''", tables[i]);
		ck_assert_str_eq(one(path, sql), "0");
	}
	ck_assert(book_draft_load(s.book, 3, draft, &s.why));
	ck_assert_str_eq(draft[0].reading, "0.91");
	shelf_take(&s, 3);
	ck_assert(shelf_undo(&s));
	ck_assert(book_gauge_add(s.book, 3, "G1", "12.3", "", "", &s.why));
	ck_assert(book_setout_set(s.book, 3, "S1", "12.5", &s.why));
	ck_assert(book_water_add(s.book, 1, "PEG-W", "0.4", "", "", &s.why));
	ck_assert(!book_gauge_add(s.book, 2, "G1", "12.3", "", "", &s.why));
	FAULT(&s, FAULT_INPUT, "closed");
	book_close(s.book);
	/* the tables refuse it too, for whoever forgets to ask */
	closed_refuses(path, "INSERT INTO gauge(run, station, unit, typed, reading, time) "
	                     "VALUES(2, 'G1', 'm', '1', 1000000000, '')");
	closed_refuses(path, "UPDATE gauge SET run = 2");
	closed_refuses(path, "INSERT INTO setout(run, station, unit, typed, wanted, time) "
	                     "VALUES(2, 'S1', 'm', '1', 1000000000, '')");
	closed_refuses(path, "UPDATE setout SET run = 2");
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_msg(book_verify(s.book, 0, &verified, &s.why), "%s", s.why.text);
	ck_assert_str_eq(verified.difference, "");
	shelf_close(&s);
}
END_TEST

/* One of version 7 likewise: its readings keep the unit that their distances had, and nothing else
 * is said of them; readings below zero, offsets and heads go into it from then on. */
START_TEST(test_upgrade_7)
{
	static const char digest[] =
	    "498cdd4dfe3d4a3aa066197550088cbc9f9c50171d09b74670df05ea5cda69d0";
	struct shelf s;
	struct book_head head = {.day = "2026-08-06", .text = {"two, and a boy at the rod"}};
	struct book_head *heads;
	size_t count;
	char path[160];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make(path, BOOK_7, "PRAGMA application_id=1919902818; PRAGMA user_version=7");
	comes_up_whole(&s, path, 7, "head", digest);
	ck_assert_str_eq(one(path, "SELECT count(*) FROM sight WHERE distance_unit || limit_typed "
	                           "|| u_typed || photo_digest || scaled || ends <> '' OR "
	                           "reading_limit NOTNULL OR reading_u NOTNULL OR declared"),
	                 "0");
	ck_assert_str_eq(one(path, "SELECT count(*) FROM mark WHERE description || reach <> '' OR "
	                           "surface"),
	                 "0");
	ck_assert_str_eq(one(path, "SELECT count(*) FROM seal WHERE how <> ''"), "0");
	ck_assert_msg(book_head_set(s.book, 3, &head, &s.why), "%s", s.why.text);
	ck_assert(book_heads(s.book, 3, &heads, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(heads[0].text[BOOK_HEAD_PARTY], "two, and a boy at the rod");
	free(heads);
	ck_assert(!book_head_set(s.book, 2, &head, &s.why));
	FAULT(&s, FAULT_INPUT, "closed");
	book_close(s.book);
	closed_refuses(path, "INSERT INTO head(run, day, time) VALUES(2, '2026-08-06', '')");
	closed_refuses(path, "UPDATE head SET run = 2");
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("upgrade", test_upgrade_7, test_upgrade_6, test_upgrade_5, test_upgrade_4,
	                 test_upgrade, test_upgrade_2, test_upgrade_3, test_read_only,
	                 test_not_a_book, test_hostile);
}
