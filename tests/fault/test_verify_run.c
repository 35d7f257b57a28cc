/* What the papers of a run hang on is proven with each statement: any row and any entry of the run,
 * and of what belongs to no run, that was altered is found. What is altered elsewhere only the
 * proof of the whole book finds. */
#include "fault/forge.h"
#include "rodbook/book/aside.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/head.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/result.h"
#include "rodbook/book/setout.h"
#include "unit/books.h"
#include "unit/suite.h"

#define RUNS 3
#define PLACES 120

static void add_crossing(struct shelf *s, const char *name)
{
	struct book_air air = {.pressure = "1010",
	                       .low = "14.2",
	                       .low_height = "1",
	                       .high = "13.9",
	                       .high_height = "6"};
	struct book_head head = {.day = "2026-05-04", .text = {"two of us"}};
	shelf_begin(s, name, LEVEL_CROSSING);
	ck_assert(book_water_add(s->book, s->run.info.id, "E", "0.4", "", "", &s->why));
	ck_assert(book_air_add(s->book, s->run.info.id, &air, &s->why));
	ck_assert(book_gauge_add(s->book, s->run.info.id, "E", "2.4", "", "", &s->why));
	ck_assert(book_setout_set(s->book, s->run.info.id, "S1", "13", &s->why));
	ck_assert_msg(book_head_set(s->book, s->run.info.id, &head, &s->why), "%s", s->why.text);
	shelf_take(s, s->run.info.id);
	ck_assert_msg(shelf_sight(s, LEVEL_BS, "E", "1.8", "4", "L1"), "%s", s->why.text);
	ck_assert_msg(shelf_sight(s, LEVEL_FS, "W", "1.9", "800", "L1"), "%s", s->why.text);
	ck_assert(book_water_strike(s->book, s->run.info.id, strcmp(name, "east") == 0 ? 1 : 2,
	                            "a wave", &s->why));
	shelf_take(s, s->run.info.id);
}

/* Runs 1 and 2 are crossings with all that a crossing has, 3 a loop with a mark set aside that was
 * closed. Something is in each table of the book. */
static void make(struct shelf *s)
{
	struct book_pegtest test = {.instrument = "L1",
	                            .standings = "30,1.3995,30,1.1495; 5,1.4062,55,1.1551"};
	struct book_figures figures = {0};
	struct level_peg_result result;
	int64_t id;
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "radius", "6372 km", &s->why));
	ck_assert(book_mark_set(s->book, "PEG", "10", NULL, "oak peg", &s->why));
	ck_assert(book_mark_set(s->book, "PEG", "11", NULL, "new peg", &s->why));
	ck_assert(book_mark_set(s->book, "WAY", "10.2", NULL, "", &s->why));
	ck_assert(book_instrument_set(
	    s->book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s->why));
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
	ck_assert(
	    book_rod_set(s->book, &(struct book_rod){.name = "long", .scale = "20"}, &s->why));
	ck_assert_msg(book_tolerance_set(s->book, "ours", "section=12 mm", &s->why), "%s",
	              s->why.text);
	ck_assert_msg(book_fieldtest_begin(s->book, "L1", false, "", &id, &s->why), "%s",
	              s->why.text);
	ck_assert(book_figure_put(&figures, "distance", "800 m", &s->why));
	ck_assert_msg(book_plan_set(s->book, "far", &figures, &s->why), "%s", s->why.text);
	add_crossing(s, "east");
	add_crossing(s, "west");
	shelf_begin(s, "loop", LEVEL_LOOP);
	ck_assert(shelf_sight(s, LEVEL_BS, "PEG", "1.5", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "WAY", "1.2", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_BS, "WAY", "1.3", "30", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "PEG", "1.601", "30", ""));
	ck_assert(shelf_change(s, 3, LEVEL_FS, "PEG", "1.6"));
	ck_assert_msg(book_aside_set(s->book, &s->run, "WAY", true, "it moved", &s->why), "%s",
	              s->why.text);
	ck_assert_msg(
	    book_result_keep(s->book, false, "loop", "quantity,value,unit\n", 1, &id, &s->why),
	    "%s", s->why.text);
	shelf_take(s, s->run.info.id);
	ck_assert_msg(book_run_close(s->book, &s->run, "paced", &s->why), "%s", s->why.text);
}

/* A place to alter: an entry, or the row that it is the last one about. */
struct place {
	char *forge, *restore; /* SQL */
	int64_t run;           /* 0: of no run */
	bool kept;             /* a result, on which no paper hangs */
};

static const char rows[] =
    "SELECT format('UPDATE %s SET %s = %s || ''x'' WHERE %s = %Q', tbl, c, c, k, row), "
    "format('UPDATE %s SET %s = substr(%s, 1, length(%s) - 1) WHERE %s = %Q', tbl, c, c, c, k, "
    "row), run, tbl = 'result' FROM (SELECT *, max(seq), iif(tbl = 'setting', 'value', 'time') c, "
    "iif(tbl = 'setting', 'name', 'id') k FROM journal GROUP BY tbl, row) ORDER BY seq";
static const char entries[] =
    "SELECT format('UPDATE journal SET after = %Q WHERE seq = %d', json_set(after, "
    "iif(tbl = 'setting', '$.value', '$.time'), 'x'), seq), "
    "format('UPDATE journal SET after = %Q WHERE seq = %d', after, seq), run, tbl = 'result' "
    "FROM journal ORDER BY seq";

static int list_places(const char *path, const char *sql, struct place places[PLACES])
{
	sqlite3 *db;
	sqlite3_stmt *statement;
	int count = 0;
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
	for (; sqlite3_step(statement) == SQLITE_ROW; count++) {
		ck_assert_int_lt(count, PLACES);
		places[count] = (struct place){
		    strdup((const char *)sqlite3_column_text(statement, 0)),
		    strdup((const char *)sqlite3_column_text(statement, 1)),
		    sqlite3_column_int64(statement, 2), sqlite3_column_int(statement, 3) != 0};
	}
	sqlite3_finalize(statement);
	sqlite3_close(db);
	return count;
}

/* What the proofs say of the book as it is: of each run, and of it all. */
static void check_found(struct shelf *s, const struct place *place)
{
	struct book_verified out;
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s: %s", place->forge, s->why.text);
	ck_assert_msg(book_verify(s->book, 0, &out, &s->why), "%s: %s", place->forge, s->why.text);
	ck_assert_msg(*out.difference, "%s: not found in the book", place->forge);
	for (int64_t run = 1; run <= RUNS; run++) {
		const bool due = place->run == run || (!place->run && !place->kept);
		ck_assert_msg(book_verify_run(s->book, run, &out, &s->why), "%s: %s", place->forge,
		              s->why.text);
		ck_assert_msg((*out.difference != '\0') == due, "%s, in run %d: \"%s\"",
		              place->forge, (int)run, out.difference);
	}
	book_close(s->book);
}

static void check_unaltered(struct shelf *s)
{
	struct book_verified whole, out;
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(book_verify(s->book, 0, &whole, &s->why), "%s", s->why.text);
	ck_assert_str_eq(whole.difference, "");
	for (int64_t run = 1; run <= RUNS; run++) {
		ck_assert_msg(book_verify_run(s->book, run, &out, &s->why), "%s", s->why.text);
		ck_assert_str_eq(out.difference, "");
		ck_assert_str_eq(out.digest, whole.digest);
		ck_assert_int_eq(out.entries, whole.entries);
		ck_assert_int_eq(out.last, whole.last);
	}
	book_close(s->book);
}

static void alter_each(const char *sql)
{
	struct shelf s;
	struct place places[PLACES];
	int count;
	make(&s);
	book_close(s.book);
	check_unaltered(&s);
	count = list_places(s.path, sql, places);
	ck_assert_int_gt(count, 30);
	for (int i = 0; i < count; i++) {
		if (i % EACH_OR(7) == 0) {
			forge(s.path, places[i].forge);
			check_found(&s, &places[i]);
			forge(s.path, places[i].restore);
		}
		free(places[i].forge);
		free(places[i].restore);
	}
	check_unaltered(&s);
	s.book = book_open(s.path, shelf_clock, &s.why);
	shelf_close(&s);
}

START_TEST(test_rows)
{
	alter_each(rows);
}
END_TEST

START_TEST(test_entries)
{
	alter_each(entries);
}
END_TEST

/* Entries that are taken away anywhere are seen by their numbers, and what no entry made by its
 * table. */
START_TEST(test_gaps)
{
	static const struct {
		const char *sql, *says;
		int64_t run; /* where it is found; 0: in each */
	} cases[] = {
	    {"DELETE FROM journal WHERE seq = 3", "and the last one has the number", 0},
	    {"INSERT INTO sight(run, place, kind, station, unit, typed, reading, method, time) "
	     "VALUES(2, 9999999999999, 'BS', 'PEG', 'm', '1', 1000000000, 'rod', '')",
	     "has no entry in the journal", 2},
	    {"INSERT INTO setting VALUES('dk', '0.1')", "has no entry in the journal", 0},
	    {"DELETE FROM water WHERE run = 1", "is not in the table water", 1},
	    {"UPDATE sight SET run = 2 WHERE run = 3", "run is 2 in the table", 3},
	    {"UPDATE journal SET run = NULL WHERE tbl = 'water' AND run = 1",
	     "is filed under another run than its row", 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_verified out;
		make(&s);
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		for (int64_t run = 1; run <= RUNS; run++) {
			const bool due = !cases[i].run || run == cases[i].run;
			ck_assert_msg(book_verify_run(s.book, run, &out, &s.why), "%s", s.why.text);
			ck_assert_msg(!due || strstr(out.difference, cases[i].says),
			              "%s, in run %d: \"%s\"", cases[i].sql, (int)run,
			              out.difference);
		}
		shelf_close(&s);
	}
}
END_TEST

/* A rod that is not in the book, in rows and journal alike: other runs stand. */
START_TEST(test_missing_rod)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	book_close(s.book);
	forge(s.path, "UPDATE sight SET rod = 'gone' WHERE run = 3;"
	              "UPDATE journal SET after = json_set(after, '$.rod', 'gone'), before = "
	              "iif(before IS NULL, NULL, json_set(before, '$.rod', 'gone')) WHERE tbl = "
	              "'sight' AND run = 3");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(book_verify_run(s.book, 1, &out, &s.why), "%s", s.why.text);
	ck_assert_str_eq(out.difference, "");
	ck_assert(!book_verify_run(s.book, 3, &out, &s.why));
	FAULT(&s, FAULT_SPOILED, "there is no rod gone in this book");
	shelf_close(&s);
}
END_TEST

/* The paper says it, as text and as CSV. */
START_TEST(test_statement)
{
	struct shelf s;
	static const struct {
		const char *sql;
		bool said;
	} cases[] = {{"SELECT 1", false},
	             {"UPDATE sight SET remark = 'x' WHERE run = 2", true},
	             {"UPDATE mark SET source = 'x'", true},
	             {"UPDATE sight SET remark = 'x' WHERE run = 1", false}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct work_run run;
		char *text = NULL, *csv = NULL;
		size_t size;
		FILE *out;
		make(&s);
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_msg(work_run_load(s.book, "west", NULL, &run, &s.why), "%s", s.why.text);
		out = open_memstream(&text, &size);
		ck_assert(report_statement(out, s.book, &run, REPORT_STATEMENT_TEXT, &s.why));
		fclose(out);
		out = open_memstream(&csv, &size);
		ck_assert(report_statement(out, s.book, &run, REPORT_STATEMENT_CSV, &s.why));
		fclose(out);
		ck_assert_int_eq(strstr(text, "JOURNAL AND TABLES DIFFER") != NULL, cases[i].said);
		ck_assert_int_eq(strstr(text, "as their entries left them") != NULL,
		                 !cases[i].said);
		ck_assert_int_eq(strstr(csv, "\ndifference,") != NULL, cases[i].said);
		free(text);
		free(csv);
		work_run_free(&run);
		shelf_close(&s);
	}
}
END_TEST

/* Figures of one state of the book do not stand over the digest of another. */
START_TEST(test_changed_between)
{
	static const enum report_statement_form forms[] = {
	    REPORT_STATEMENT_TEXT, REPORT_STATEMENT_PRINT, REPORT_STATEMENT_CSV};
	struct shelf s;
	struct work_run run;
	char *text = NULL;
	size_t size;
	FILE *out;
	make(&s);
	ck_assert_msg(work_run_load(s.book, "west", NULL, &run, &s.why), "%s", s.why.text);
	/* What another run books changes nothing of this one. */
	shelf_begin(&s, "other", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "PEG", "1.5", "30", ""));
	out = open_memstream(&text, &size);
	ck_assert_msg(report_statement(out, s.book, &run, REPORT_STATEMENT_TEXT, &s.why), "%s",
	              s.why.text);
	ck_assert(book_water_add(s.book, run.book.info.id, "W", "0.5", "", "", &s.why));
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
		struct fault why = {0};
		ck_assert(!report_statement(out, s.book, &run, forms[i], &why));
		ck_assert_int_eq(why.kind, FAULT_STALE);
	}
	fclose(out);
	free(text);
	work_run_free(&run);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("verify_run", test_rows, test_entries, test_gaps, test_missing_rod,
	                 test_statement, test_changed_between);
}
