/* Statements and transactions of the store: what binds as what, what is kept together, and what is
 * refused. */
#include "book/store.h"

#include "books.h"
#include "suite.h"

static bool read_number(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	(void)book;
	*(int64_t *)item = sqlite3_column_int64(statement, 0);
	return *(int64_t *)item != 13 || fault_say(why, FAULT_INPUT, "thirteen");
}

/* i: a number; n: NULL where 0; t: a text, NULL where NULL; e: NULL where empty; u: a unit's name.
 */
START_TEST(test_bound)
{
	static const char sql[] = "SELECT quote(?1), quote(?2), quote(?3), quote(?4), quote(?5), "
	                          "quote(?6), quote(?7), quote(?8), quote(?9)";
	static const char *const expected[] = {"-5", "0",    "NULL", "7",   "'a'",
	                                       "''", "NULL", "'e'",  "'ft'"};
	struct shelf s;
	sqlite3_stmt *statement;
	bool ok = true;
	char out[4];
	shelf_open(&s, LEVEL_M);
	statement = sql_query(s.book, &s.why, sql, "iinnttteu", INT64_C(-5), INT64_C(0), INT64_C(0),
	                      INT64_C(7), "a", "", NULL, "e", (int)LEVEL_FT);
	ck_assert_ptr_nonnull(statement);
	ck_assert(sql_row(s.book, statement, &ok, &s.why));
	for (int i = 0; i < 9; i++) {
		char text[20];
		sql_text(statement, i, text, sizeof text);
		ck_assert_str_eq(text, expected[i]);
	}
	/* a text is cut to fit */
	sql_text(statement, 2, out, sizeof out);
	ck_assert_str_eq(out, "NUL");
	ck_assert(!sql_row(s.book, statement, &ok, &s.why));
	ck_assert(ok);
	ck_assert(sql_done(s.book, statement, ok, &s.why));
	/* the same text is the same statement, and nothing stays bound to it */
	ck_assert_ptr_eq(sql_query(s.book, &s.why, sql, ""), statement);
	ck_assert(sql_row(s.book, statement, &ok, &s.why));
	sql_text(statement, 0, out, sizeof out);
	ck_assert_str_eq(out, "NUL");
	ck_assert(sql_done(s.book, statement, ok, &s.why));
	statement = sql_query(s.book, &s.why, "SELECT quote(?1), ?1", "e", "");
	ck_assert(sql_row(s.book, statement, &ok, &s.why));
	sql_text(statement, 0, out, sizeof out);
	ck_assert_str_eq(out, "NUL");
	sql_text(statement, 1, out, sizeof out);
	ck_assert_str_eq(out, "");
	ck_assert(sql_done(s.book, statement, ok, &s.why));
	ck_assert(!sql_done(s.book, statement, false, &s.why));
	ck_assert_ptr_null(sql_query(s.book, &s.why, "SELECT nothing", ""));
	FAULT(&s, FAULT_FILE, "syntax error");
	shelf_close(&s);
}
END_TEST

#define NUMBERS "WITH n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 12) SELECT i FROM n"

START_TEST(test_lists)
{
	struct shelf s;
	int64_t *list, one = 0;
	size_t count;
	bool found;
	shelf_open(&s, LEVEL_M);
	/* 40 elements: room for 16, 32 and 64 */
	ck_assert(sql_list(s.book,
	                   sql_query(s.book, &s.why,
	                             "WITH n(i) AS (SELECT 100 UNION ALL SELECT i + 1 FROM n WHERE "
	                             "i < 139) SELECT i FROM n",
	                             ""),
	                   sizeof *list, read_number, (void **)&list, &count, &s.why));
	ck_assert_uint_eq(count, 40);
	for (size_t i = 0; i < count; i++)
		ck_assert_int_eq(list[i], 100 + (int64_t)i);
	free(list);
	ck_assert(sql_list(s.book, sql_query(s.book, &s.why, "SELECT 1 WHERE 0", ""), sizeof *list,
	                   read_number, (void **)&list, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(list);
	/* one that cannot be read leaves none */
	count = 7;
	ck_assert(!sql_list(s.book, sql_query(s.book, &s.why, "SELECT 12 UNION ALL SELECT 13", ""),
	                    sizeof *list, read_number, (void **)&list, &count, &s.why));
	FAULT(&s, FAULT_INPUT, "thirteen");
	ck_assert_ptr_null(list);
	ck_assert_uint_eq(count, 0);
	ck_assert(
	    !sql_list(s.book, NULL, sizeof *list, read_number, (void **)&list, &count, &s.why));
	ck_assert(sql_one(s.book, sql_query(s.book, &s.why, NUMBERS, ""), read_number, &one, &found,
	                  &s.why));
	ck_assert(found && one == 1);
	ck_assert(sql_one(s.book, sql_query(s.book, &s.why, "SELECT 2 WHERE 0", ""), read_number,
	                  &one, &found, &s.why));
	ck_assert(!found && one == 1);
	ck_assert(!sql_one(s.book, sql_query(s.book, &s.why, "SELECT 13", ""), read_number, &one,
	                   &found, &s.why));
	ck_assert(!sql_one(s.book, NULL, read_number, &one, &found, &s.why));
	ck_assert(
	    row_reads(s.book, sql_query(s.book, &s.why, NUMBERS, ""), read_number, &one, &s.why));
	ck_assert(!row_reads(s.book, sql_query(s.book, &s.why, "SELECT 2 WHERE 0", ""), read_number,
	                     &one, &s.why));
	FAULT(&s, FAULT_INPUT, "is not there");
	ck_assert(sql_integer(s.book, "SELECT 41 + 1", &one, &s.why));
	ck_assert_int_eq(one, 42);
	ck_assert(!sql_integer(s.book, "SELECT nothing", &one, &s.why));
	shelf_close(&s);
}
END_TEST

static bool put(struct shelf *s, const char *name)
{
	return book_mark_set(s->book, name, "10", NULL, NULL, &s->why);
}

/* The marks that a fresh look at the file finds. */
static size_t marks(struct shelf *s)
{
	struct book *other = book_open(s->path, shelf_clock, &s->why);
	struct book_mark *list;
	size_t count;
	ck_assert_ptr_nonnull(other);
	ck_assert(book_marks(other, &list, &count, &s->why));
	free(list);
	book_close(other);
	return count;
}

START_TEST(test_together)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	/* a statement that writes is refused where no change is open */
	ck_assert(!sql_run(s.book, &s.why, "DELETE FROM setting", ""));
	FAULT(&s, FAULT_FILE, "this change was broken off: nothing was changed");
	/* nested ones are kept with the outermost, or not at all */
	ck_assert(txn_begin(s.book, &s.why));
	ck_assert(put(&s, "A"));
	ck_assert(txn_begin(s.book, &s.why));
	ck_assert(put(&s, "B"));
	ck_assert(txn_end(s.book, true, &s.why));
	ck_assert_uint_eq(marks(&s), 0);
	ck_assert(txn_end(s.book, true, &s.why));
	ck_assert_uint_eq(marks(&s), 2);
	ck_assert(txn_begin(s.book, &s.why));
	ck_assert(put(&s, "C"));
	ck_assert(!put(&s, ""));
	ck_assert(!txn_end(s.book, false, &s.why));
	ck_assert_uint_eq(marks(&s), 2);
	/* a failure inside is one of the whole, even if nobody minded it */
	ck_assert(txn_begin(s.book, &s.why));
	ck_assert(put(&s, "C"));
	ck_assert(txn_begin(s.book, &s.why));
	ck_assert(!txn_end(s.book, false, &s.why));
	ck_assert(!put(&s, "D"));
	FAULT(&s, FAULT_FILE, "an earlier part of this change failed: nothing was changed");
	ck_assert(!txn_end(s.book, true, &s.why));
	ck_assert_uint_eq(marks(&s), 2);
	/* and the next change begins afresh */
	ck_assert(put(&s, "C"));
	ck_assert_uint_eq(marks(&s), 3);
	/* what SQLite ended by itself is not kept in part */
	ck_assert(txn_begin(s.book, &s.why));
	ck_assert(put(&s, "D"));
	sqlite3_exec(s.book->db, "ROLLBACK", NULL, NULL, NULL);
	ck_assert(!put(&s, "E"));
	FAULT(&s, FAULT_FILE, "this change was broken off");
	ck_assert(!txn_end(s.book, true, &s.why));
	ck_assert_uint_eq(marks(&s), 3);
	ck_assert(put(&s, "E"));
	ck_assert_uint_eq(marks(&s), 4);
	shelf_close(&s);
}
END_TEST

/* Held, a book is read in one state; within a change nothing is let go. */
START_TEST(test_held)
{
	struct shelf s;
	struct book *other;
	struct book_mark *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	other = book_open(s.path, shelf_clock, &s.why);
	ck_assert(book_hold(s.book, &s.why));
	ck_assert(book_marks(s.book, &list, &count, &s.why));
	free(list);
	ck_assert(!book_mark_set(other, "A", "10", NULL, NULL, &s.why));
	FAULT(&s, FAULT_FILE, "is being written by another program: try again");
	book_release(s.book);
	ck_assert_msg(book_mark_set(other, "A", "10", NULL, NULL, &s.why), "%s", s.why.text);
	book_close(other);
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(put(&s, "B"));
	ck_assert(book_hold(s.book, &s.why));
	book_release(s.book);
	ck_assert(put(&s, "C"));
	ck_assert(book_finish(s.book, true, &s.why));
	ck_assert_uint_eq(marks(&s), 3);
	shelf_close(&s);
}
END_TEST

/* A change that is made while a book is held ends the state that it was read in. */
START_TEST(test_changed_while_held)
{
	struct shelf s;
	struct book_settings settings;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_hold(s.book, &s.why));
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert_int_eq(settings.style.decimals, 3);
	ck_assert(book_set(s.book, "decimals", "4", &s.why));
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert_int_eq(settings.style.decimals, 4);
	book_release(s.book);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("store", test_bound, test_lists, test_together, test_held,
	                 test_changed_while_held);
}
