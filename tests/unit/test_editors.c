/* The editors of a book: who is there still, and who is taken for gone. */
#include "rodbook/book/editors.h"

#include <sys/stat.h>

#include "book/store.h"
#include "books.h"
#include "suite.h"

static void put(struct shelf *s, const char *host, const char *process, const char *since)
{
	char sql[300];
	snprintf(sql, sizeof sql,
	         "INSERT INTO editor(host, user, process, since) VALUES('%s', 'anna', '%s', '%s')",
	         host, process, since);
	ck_assert_msg(sqlite3_exec(s->book->db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s: %s", sql,
	              sqlite3_errmsg(s->book->db));
}

/* The clock says 2026-05-04T09:30+02:00. An editor of another machine is gone after a day, either
 * way; of this one when its process is not there. */
START_TEST(test_who_is_there)
{
	static const struct {
		bool here;
		const char *process, *since;
		bool there;
	} cases[] = {
	    {false, "1 1", "2026-05-04T09:00:00+02:00", true},
	    {false, "1 1", "2026-05-03T09:30:00+02:00", true},
	    {false, "1 1", "2026-05-03T09:29:59+02:00", false},
	    {false, "1 1", "2026-05-05T09:30:00+02:00", true},
	    {false, "1 1", "2026-05-05T09:30:01+02:00", false},
	    {false, "1 1", "2026-05-03T08:30:00+01:00", true},
	    {false, "1 1", "some day", false},
	    /* no process has the number 0 or below, nor a number this high (proc(5)) */
	    {true, "0 1", "2026-05-04T09:00:00+02:00", false},
	    {true, "-1 1", "2026-05-04T09:00:00+02:00", false},
	    {true, "x", "2026-05-04T09:00:00+02:00", false},
	    {true, "999999999 1", "2026-05-04T09:00:00+02:00", false},
	    /* the number was given to another process since */
	    {true, "1 987654321987654321", "2026-05-04T09:00:00+02:00", false},
	};
	char host[EDITOR_HOST_BYTES];
	editor_host(host);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_editor *others;
		size_t count;
		shelf_open(&s, LEVEL_M);
		put(&s, cases[i].here ? host : "elsewhere", cases[i].process, cases[i].since);
		ck_assert_msg(book_editor_enter(s.book, &others, &count, &s.why), "%s", s.why.text);
		ck_assert_msg(count == cases[i].there, "case %zu", i);
		if (count) {
			ck_assert_str_eq(others[0].host, "elsewhere");
			ck_assert_str_eq(others[0].user, "anna");
			ck_assert_str_eq(others[0].since, cases[i].since);
		}
		free(others);
		shelf_close(&s);
	}
}
END_TEST

static int64_t rows(struct shelf *s)
{
	int64_t count = -1;
	ck_assert(sql_integer(s->book, "SELECT count(*) FROM editor", &count, &s->why));
	return count;
}

/* This process is there as long as it lives, whichever of its books it left. */
START_TEST(test_this_process)
{
	struct shelf s;
	struct book *second;
	struct book_editor *others;
	size_t count;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_editor_leave(s.book, &s.why));
	ck_assert_int_eq(rows(&s), 0);
	ck_assert(book_editor_enter(s.book, &others, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(others);
	ck_assert_int_eq(rows(&s), 1);
	second = book_open(s.path, shelf_clock, &s.why);
	ck_assert(book_editor_enter(second, &others, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	free(others);
	ck_assert_int_ne(second->editor, s.book->editor);
	ck_assert_int_eq(rows(&s), 2);
	ck_assert(book_editor_leave(second, &s.why));
	ck_assert_int_eq(second->editor, 0);
	ck_assert_int_eq(rows(&s), 1);
	ck_assert(book_editor_leave(second, &s.why));
	ck_assert_int_eq(rows(&s), 1);
	book_close(second);
	ck_assert(book_editor_leave(s.book, &s.why));
	ck_assert_int_eq(rows(&s), 0);
	shelf_close(&s);
}
END_TEST

/* The number of a form that was left behind is not given again: whose it was must not be taken for
 * another's. */
START_TEST(test_numbers)
{
	struct shelf s;
	struct book_editor *others;
	struct book_draft draft[2] = {
	    {.used = true, .unit = LEVEL_M, .kind = "BS", .reading = "1"}};
	size_t count;
	int64_t first;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(book_editor_enter(s.book, &others, &count, &s.why));
	free(others);
	first = s.book->editor;
	ck_assert_int_gt(first, 0);
	ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
	ck_assert(book_editor_leave(s.book, &s.why));
	ck_assert(book_editor_enter(s.book, &others, &count, &s.why));
	free(others);
	ck_assert_int_eq(s.book->editor, first + 1);
	shelf_close(&s);
}
END_TEST

/* A book that may only be read is not entered. */
START_TEST(test_read_only)
{
	struct shelf s;
	struct book_editor *others;
	size_t count = 7;
	shelf_open(&s, LEVEL_M);
	ck_assert_int_eq(chmod(s.path, 0444), 0);
	shelf_reopen(&s, shelf_clock);
	ck_assert(book_editor_enter(s.book, &others, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	ck_assert_ptr_null(others);
	ck_assert_int_eq(rows(&s), 0);
	ck_assert(book_editor_leave(s.book, &s.why));
	shelf_close(&s);
}
END_TEST

/* While somebody else writes it is not entered, and nobody is told of. */
START_TEST(test_busy)
{
	struct shelf s;
	struct book *other;
	struct book_editor *others;
	size_t count = 7;
	shelf_open(&s, LEVEL_M);
	other = book_open(s.path, shelf_clock, &s.why);
	ck_assert(book_begin(other, &s.why));
	ck_assert(!book_editor_enter(s.book, &others, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	ck_assert_ptr_null(others);
	ck_assert_int_eq(s.book->editor, 0);
	ck_assert(book_finish(other, true, &s.why));
	book_close(other);
	shelf_close(&s);
}
END_TEST

/* What a half-typed form holds: a bare distance in another unit than the readings is kept with it.
 */
START_TEST(test_forms)
{
	static const struct {
		enum level_unit unit, distance_unit;
		const char *distance, *kept;
	} cases[] = {
	    {LEVEL_M, LEVEL_M, "20", "20"},
	    {LEVEL_IN, LEVEL_FT, "20", "20 ft"},
	    {LEVEL_IN, LEVEL_FT, "20 map", "20 ft map"},
	    {LEVEL_IN, LEVEL_FT, "20 m map", "20 m map"},
	    {LEVEL_IN, LEVEL_FT, "", ""},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_draft draft[2] = {{0}}, got[2];
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", LEVEL_OPEN);
		for (int j = 0; j < 2; j++) {
			draft[j] = (struct book_draft){.used = true,
			                               .unit = cases[i].unit,
			                               .distance_unit = cases[i].distance_unit,
			                               .kind = "BS"};
			strcpy(draft[j].distance, cases[i].distance);
		}
		draft[0].reading[0] = '1';
		draft[1].at = 5;
		draft[1].inserts = true;
		ck_assert_msg(book_draft_save(s.book, s.run.info.id, draft, &s.why), "%s",
		              s.why.text);
		ck_assert(book_draft_load(s.book, s.run.info.id, got, &s.why));
		for (int j = 0; j < 2; j++) {
			ck_assert(got[j].used);
			ck_assert_str_eq(got[j].distance, cases[i].kept);
			ck_assert_int_eq(got[j].unit, cases[i].unit);
			ck_assert_int_eq(got[j].distance_unit, cases[i].unit);
			ck_assert_int_eq(got[j].at, j ? 5 : 0);
			ck_assert(got[j].inserts == (j == 1));
			ck_assert_str_eq(got[j].reading, j ? "" : "1");
		}
		/* an unused one is dropped, and the other stays */
		draft[0] = (struct book_draft){0};
		ck_assert(book_draft_save(s.book, s.run.info.id, draft, &s.why));
		ck_assert(book_draft_load(s.book, s.run.info.id, got, &s.why));
		ck_assert(!got[0].used && got[1].used);
		strcpy(draft[0].reading, "\x1b");
		draft[0].used = true;
		ck_assert(!book_draft_save(s.book, s.run.info.id, draft, &s.why));
		FAULT(&s, FAULT_INPUT, "half-typed sight");
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("editors", test_who_is_there, test_this_process, test_numbers,
	                 test_read_only, test_busy, test_forms);
}
