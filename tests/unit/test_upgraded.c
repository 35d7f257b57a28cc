/* A book of each older version is brought up as it is opened: nothing that it holds is otherwise.
 */
#include <sqlite3.h>
#include <sys/stat.h>

#include "book/store.h"
#include "books.h"
#include "rodbook/book/journal.h"
#include "suite.h"

static void run_sql(sqlite3 *db, const char *sql)
{
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s: %s", sql,
	              sqlite3_errmsg(db));
}

/* What a statement on a file gives, its rows one behind the other. */
static const char *asked(const char *path, const char *sql)
{
	static char out[4000];
	sqlite3 *db;
	sqlite3_stmt *statement;
	out[0] = '\0';
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK, "%s",
	              sqlite3_errmsg(db));
	while (sqlite3_step(statement) == SQLITE_ROW) {
		const char *text = (const char *)sqlite3_column_text(statement, 0);
		snprintf(out + strlen(out), sizeof out - strlen(out), "%s;", text ? text : "NULL");
	}
	sqlite3_finalize(statement);
	sqlite3_close(db);
	return out;
}

/* The columns of a table as that version has them, and their rows taken over from today's book. */
static void take_over(sqlite3 *db, const char *table)
{
	sqlite3_stmt *statement;
	char *sql = sqlite3_mprintf("SELECT group_concat('\"' || name || '\"') FROM "
	                            "pragma_table_info('%q', 'main')",
	                            table),
	     *insert;
	const char *columns;
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
	columns = (const char *)sqlite3_column_text(statement, 0);
	insert = sqlite3_mprintf("INSERT INTO main.%s(%s) SELECT %s FROM today.%s ORDER BY rowid",
	                         table, columns, columns, table);
	sqlite3_finalize(statement);
	run_sql(db, insert);
	sqlite3_free(insert);
	sqlite3_free(sql);
}

/* The book of the shelf as a program of that version would have written it. */
static void make_old(const struct shelf *s, const char *path, int version)
{
	static const char *const tables[] = {"setting", "mark", "run", "sight", "draft", "journal"};
	sqlite3 *db;
	char sql[300];
	unlink(path);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	run_sql(db, schema_of(version));
	snprintf(sql, sizeof sql, "ATTACH '%s' AS today", s->path);
	run_sql(db, sql);
	for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
		take_over(db, tables[i]);
	snprintf(sql, sizeof sql, "PRAGMA application_id=%d; PRAGMA user_version=%d",
	         BOOK_APPLICATION_ID, version);
	run_sql(db, sql);
	sqlite3_close(db);
}

static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "title", "Otter pond", &s->why));
	ck_assert(book_mark_set(s->book, "A", "10", "1 mm", "bolt", &s->why));
	shelf_begin(s, "bank", LEVEL_LOOP);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1.5"));
	ck_assert(shelf_book(s, LEVEL_IS, "P", "0.4"));
	ck_assert(shelf_book(s, LEVEL_FS, "TP1", "1.25"));
	ck_assert(shelf_change(s, 2, LEVEL_FS, "TP1", "1.26"));
	ck_assert(shelf_strike(s, 1));
}

START_TEST(test_each_version)
{
	static const char *const questions[] = {
	    "SELECT name || value FROM setting",
	    "SELECT id || name || typed || elevation || u_typed || u || source || time FROM mark",
	    "SELECT id || name || kind || time FROM run",
	    "SELECT id || place || kind || station || typed || reading || coalesce(struck, '-') || "
	    "why || coalesce(replaces, '-') || time FROM sight",
	    "SELECT seq || action || time || act || tbl || row || coalesce(before, '-') || after "
	    "FROM journal",
	};
	struct shelf s, old;
	struct book_witness whole, got;
	struct book_verified verified;
	char path[160];
	make(&s);
	ck_assert(book_witness(s.book, &whole, &s.why));
	book_close(s.book);
	s.book = NULL;
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	for (int version = 1; version < BOOK_VERSION; version++) {
		make_old(&s, path, version);
		old = (struct shelf){.book = book_open(path, shelf_clock, &s.why)};
		ck_assert_msg(old.book != NULL, "version %d: %s", version, s.why.text);
		ck_assert_int_eq(book_brought_up(old.book), version);
		ck_assert(book_witness(old.book, &got, &s.why));
		ck_assert_int_eq(got.seq, whole.seq);
		ck_assert_str_eq(got.digest, whole.digest);
		ck_assert_msg(book_verify(old.book, 0, &verified, &s.why), "%s", s.why.text);
		ck_assert_str_eq(verified.difference, "");
		book_close(old.book);
		for (size_t i = 0; i < sizeof questions / sizeof *questions; i++) {
			char wanted[4000];
			snprintf(wanted, sizeof wanted, "%s", asked(s.path, questions[i]));
			ck_assert_uint_gt(strlen(wanted), 4);
			ck_assert_str_eq(asked(path, questions[i]), wanted);
		}
		ck_assert_str_eq(asked(path, "PRAGMA user_version"), "8;");
		ck_assert_str_eq(asked(path, "SELECT count(*) FROM sqlite_schema WHERE name GLOB "
		                             "'old_*'"),
		                 "0;");
		old.book = book_open(path, shelf_clock, &s.why);
		ck_assert_ptr_nonnull(old.book);
		ck_assert_int_eq(book_brought_up(old.book), 0);
		/* and it is booked into like any other */
		shelf_take(&old, 1);
		ck_assert(shelf_book(&old, LEVEL_BS, "TP1", "2"));
		book_run_free(&old.run);
		book_close(old.book);
	}
	shelf_close(&s);
}
END_TEST

/* A book that may only be read stays of its version, and says so. */
START_TEST(test_read_only)
{
	struct shelf s;
	char path[160];
	make(&s);
	book_close(s.book);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make_old(&s, path, 5);
	ck_assert_int_eq(chmod(path, 0444), 0);
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_ptr_null(s.book);
	FAULT(&s, FAULT_FILE, "written by an older rodbook, and is read-only");
	ck_assert_str_eq(asked(path, "PRAGMA user_version"), "5;");
	/* one of today is read, and not written to */
	ck_assert_int_eq(chmod(s.path, 0444), 0);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	ck_assert(book_read_only(s.book));
	ck_assert(!book_set(s.book, "title", "Heron pond", &s.why));
	FAULT(&s, FAULT_FILE, "is read-only: nothing was changed");
	shelf_close(&s);
}
END_TEST

/* What breaks the checks of its own tables is damaged, and stays as it was. */
START_TEST(test_damaged)
{
	struct shelf s;
	sqlite3 *db;
	char path[160];
	make(&s);
	book_close(s.book);
	snprintf(path, sizeof path, "%s/old.rodbook", s.dir);
	make_old(&s, path, 7);
	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	run_sql(db, "PRAGMA ignore_check_constraints=ON; UPDATE sight SET method = 'eye' "
	            "WHERE id = 1");
	sqlite3_close(db);
	s.book = book_open(path, shelf_clock, &s.why);
	ck_assert_ptr_null(s.book);
	FAULT(&s, FAULT_FILE, "is damaged");
	ck_assert_str_eq(asked(path, "PRAGMA user_version"), "7;");
	ck_assert_str_eq(asked(path, "SELECT count(*) FROM sight"), "4;");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("upgraded", test_each_version, test_read_only, test_damaged);
}
