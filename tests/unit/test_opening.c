/* What is opened as a book, and what is refused before anything of it is believed. */
#include <sqlite3.h>
#include <sys/stat.h>

#include "book/store.h"
#include "books.h"
#include "suite.h"

static void no_book(struct shelf *s, const char *path, const char *words)
{
	struct book *book;
	s->why = (struct fault){0};
	book = book_open(path, shelf_clock, &s->why);
	ck_assert_msg(book == NULL, "%s", words);
	FAULT(s, FAULT_FILE, words);
}

START_TEST(test_files)
{
	struct shelf s;
	char path[160];
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/it", s.dir);
	no_book(&s, path, "No such file or directory; make a book with: rodbook new BOOK");
	spill(path, "", 0);
	no_book(&s, path, "is no rodbook book: it is empty");
	spill(path, "SQLite format 3", 15);
	no_book(&s, path, "is no rodbook book");
	ck_assert_ptr_null(strstr(s.why.text, "empty"));
	spill(path, "SQLite format 4\0more", 20);
	no_book(&s, path, "is no rodbook book");
	unlink(path);
	ck_assert_int_eq(mkfifo(path, 0600), 0);
	no_book(&s, path, "is no regular file, not a book");
	no_book(&s, s.dir, "is a directory, not a book");
	snprintf(path, sizeof path, "%s/it/it", s.dir);
	no_book(&s, path, "Not a directory");
	ck_assert_ptr_null(strstr(s.why.text, "rodbook new"));
	shelf_close(&s);
}
END_TEST

/* A book as anybody may have altered it with another program. */
START_TEST(test_altered)
{
	static const struct {
		const char *sql, *words;
	} cases[] = {
	    {"PRAGMA application_id=1", "is no rodbook book"},
	    {"PRAGMA user_version=9",
	     "by a newer rodbook (version 9 of the book, this program knows 8)"},
	    {"PRAGMA user_version=0", "somebody altered its tables"},
	    {"PRAGMA user_version=7", "somebody altered its tables"},
	    {"PRAGMA user_version=-1", "somebody altered its tables"},
	    {"CREATE TABLE more(x)", "somebody altered its tables"},
	    {"DROP INDEX closing_run", "somebody altered its tables"},
	    {"DROP TRIGGER journal_no_delete", "somebody altered its tables"},
	    {"CREATE TRIGGER t AFTER INSERT ON mark BEGIN DELETE FROM mark; END",
	     "somebody altered its tables"},
	    {"ALTER TABLE mark ADD COLUMN more TEXT", "somebody altered its tables"},
	};
	struct shelf s;
	char *bytes;
	size_t size;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	book_close(s.book);
	bytes = slurp(s.path, &size);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		sqlite3 *db;
		spill(s.path, bytes, size);
		ck_assert_int_eq(sqlite3_open(s.path, &db), SQLITE_OK);
		ck_assert_msg(sqlite3_exec(db, cases[i].sql, NULL, NULL, NULL) == SQLITE_OK,
		              "%s: %s", cases[i].sql, sqlite3_errmsg(db));
		sqlite3_close(db);
		no_book(&s, s.path, cases[i].words);
	}
	/* A row that breaks a check of its table is found by looking at the whole. */
	{
		sqlite3 *db;
		spill(s.path, bytes, size);
		ck_assert_int_eq(sqlite3_open(s.path, &db), SQLITE_OK);
		ck_assert_int_eq(sqlite3_exec(db,
		                              "PRAGMA ignore_check_constraints=ON; UPDATE run SET "
		                              "kind = 'line'",
		                              NULL, NULL, NULL),
		                 SQLITE_OK);
		sqlite3_close(db);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_ptr_nonnull(s.book);
		ck_assert(!book_check(s.book, &s.why));
		FAULT(&s, FAULT_FILE, "is damaged");
		book_close(s.book);
	}
	/* and as it was it is one */
	spill(s.path, bytes, size);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	ck_assert(!book_read_only(s.book));
	ck_assert_int_eq(book_brought_up(s.book), 0);
	ck_assert(book_check(s.book, &s.why));
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* A page in the middle of the file is overwritten. */
START_TEST(test_overwritten)
{
	struct shelf s;
	char *bytes;
	size_t size;
	shelf_open(&s, LEVEL_M);
	book_close(s.book);
	s.book = NULL;
	bytes = slurp(s.path, &size);
	ck_assert_uint_gt(size, 20 * 4096);
	memset(bytes + 4096, 0x55, 4096);
	spill(s.path, bytes, size);
	/* It is opened by its first page, and found damaged when it is looked at whole. */
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	ck_assert(!book_check(s.book, &s.why));
	FAULT(&s, FAULT_FILE, "is damaged: work on a copy");
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* A page that a change has nothing to do with is overwritten: nothing is kept in such a book. */
START_TEST(test_nothing_into_a_damaged_book)
{
	struct shelf s;
	sqlite3 *db;
	sqlite3_stmt *root;
	char *bytes, *after;
	size_t size, page, now;
	shelf_open(&s, LEVEL_M);
	book_close(s.book);
	s.book = NULL;
	ck_assert_int_eq(sqlite3_open(s.path, &db), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_prepare_v2(db, "SELECT rootpage FROM sqlite_schema WHERE name = 'plan'", -1,
	                       &root, NULL),
	    SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(root), SQLITE_ROW);
	page = (size_t)sqlite3_column_int(root, 0);
	sqlite3_finalize(root);
	sqlite3_close(db);
	bytes = slurp(s.path, &size);
	memset(bytes + (page - 1) * 4096, 0x55, 4096);
	spill(s.path, bytes, size);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	ck_assert(!book_mark_set(s.book, "BM1", "29.230", "", "", &s.why));
	FAULT(&s, FAULT_FILE, "is damaged: work on a copy");
	after = slurp(s.path, &now);
	ck_assert_uint_eq(now, size);
	ck_assert(memcmp(bytes, after, size) == 0);
	free(bytes);
	free(after);
	shelf_close(&s);
}
END_TEST

/* A write-ahead log beside a book is written back into it, and gone; while another program keeps
 * it the book is refused. */
START_TEST(test_log_beside)
{
	struct shelf s;
	sqlite3 *db;
	char *bytes;
	size_t size;
	shelf_open(&s, LEVEL_M);
	book_close(s.book);
	ck_assert_int_eq(sqlite3_open(s.path, &db), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(db, "PRAGMA journal_mode=WAL; BEGIN IMMEDIATE", NULL, NULL, NULL),
	    SQLITE_OK);
	no_book(&s, s.path, "another program keeps part of");
	ck_assert_int_eq(sqlite3_exec(db, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
	sqlite3_close(db);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	/* bytes 18 and 19 are 1 where there is no log (sqlite.org, Database File Format, 1.3) */
	bytes = slurp(s.path, &size);
	ck_assert(bytes[18] == 1 && bytes[19] == 1);
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* What protects a book from itself and from statements of others. */
START_TEST(test_guards)
{
	static const struct {
		const char *sql, *value;
	} cases[] = {
	    {"PRAGMA foreign_keys", "1"},      {"PRAGMA synchronous", "3"},
	    {"PRAGMA trusted_schema", "0"},    {"PRAGMA cell_size_check", "1"},
	    {"PRAGMA journal_mode", "delete"}, {"PRAGMA busy_timeout", "2000"},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		sqlite3_stmt *statement;
		ck_assert_int_eq(sqlite3_prepare_v2(s.book->db, cases[i].sql, -1, &statement, NULL),
		                 SQLITE_OK);
		ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
		ck_assert_str_eq((const char *)sqlite3_column_text(statement, 0), cases[i].value);
		sqlite3_finalize(statement);
	}
	ck_assert_int_eq(sqlite3_limit(s.book->db, SQLITE_LIMIT_LENGTH, -1), 1000000);
	ck_assert_int_eq(sqlite3_limit(s.book->db, SQLITE_LIMIT_ATTACHED, -1), 0);
	ck_assert_int_eq(sqlite3_limit(s.book->db, SQLITE_LIMIT_TRIGGER_DEPTH, -1), 10);
	/* a defensive connection does not write to the schema */
	ck_assert_int_ne(sqlite3_exec(s.book->db,
	                              "PRAGMA writable_schema=ON; DELETE FROM sqlite_schema", NULL,
	                              NULL, NULL),
	                 SQLITE_OK);
	shelf_close(&s);
}
END_TEST

/* Names that SQLite itself would take for something else. */
START_TEST(test_taken_literally)
{
	static const char *const names[] = {":memory:", "file:x.rodbook?mode=memory", "x"};
	struct shelf s;
	char here[400];
	shelf_open(&s, LEVEL_M);
	ck_assert_ptr_nonnull(getcwd(here, sizeof here));
	ck_assert_int_eq(chdir(s.dir), 0);
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		struct book *book;
		struct stat info;
		ck_assert_msg(book_create(names[i], LEVEL_FT, "Otter", shelf_clock, &s.why), "%s",
		              s.why.text);
		ck_assert_int_eq(stat(names[i], &info), 0);
		ck_assert_int_gt(info.st_size, 0);
		book = book_open(names[i], shelf_clock, &s.why);
		ck_assert_ptr_nonnull(book);
		book_close(book);
	}
	ck_assert_int_eq(chdir(here), 0);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	book_close(NULL);
	return RUN_TESTS("opening", test_files, test_altered, test_overwritten,
	                 test_nothing_into_a_damaged_book, test_log_beside, test_guards,
	                 test_taken_literally);
}
