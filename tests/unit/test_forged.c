/* A book altered by hand: the proof says in one sentence where it does not fit together. */
#include "fault/forge.h"
#include "books.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/journal.h"
#include "suite.h"

#define NOON "2026-05-04T12:00:00+02:00"

/* Entries: 1 unit, 2 and 3 of k, 4 mark PEG, 5 run bank, 6 BS on PEG, 7 FS on TP1, 8 that one
 * struck and 9 changed (one action), 10 to 13 two more runs: "out", with a BS and an FS. */
static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "k", "0.2", &s->why));
	ck_assert(book_set(s->book, "k", "0.3", &s->why));
	ck_assert(book_mark_set(s->book, "PEG", "10", NULL, "oak peg", &s->why));
	shelf_begin(s, "bank", LEVEL_LOOP);
	ck_assert(shelf_book(s, LEVEL_BS, "PEG", "1.5"));
	ck_assert(shelf_book(s, LEVEL_FS, "TP1", "1.25"));
	ck_assert(shelf_change(s, 1, LEVEL_FS, "TP1", "1.26"));
	shelf_begin(s, "out", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "PEG", "0.5"));
	ck_assert(shelf_book(s, LEVEL_FS, "X", "0.75"));
}

static void forge_shelf(struct shelf *s, const char *sql)
{
	book_close(s->book);
	forge(s->path, sql);
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s: %s", sql, s->why.text);
}

START_TEST(test_sound)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	ck_assert(book_verify(s.book, 0, &out, &s.why));
	ck_assert_str_eq(out.difference, "");
	ck_assert_int_eq(out.entries, 12);
	ck_assert_int_eq(out.last, 12);
	/* unit, k, PEG; two runs; BS, FS, FS; BS, FS */
	ck_assert_uint_eq(out.rows, 10);
	ck_assert_uint_eq(out.runs, 2);
	ck_assert_uint_eq(out.sights, 5);
	ck_assert_uint_eq(out.gaps, 0);
	ck_assert_int_eq(out.backward, 0);
	ck_assert_int_eq(out.backward_at, 0);
	ck_assert_str_eq(out.digest_at, "");
	shelf_close(&s);
}
END_TEST

START_TEST(test_sentences)
{
	static const struct {
		const char *sql, *says;
	} cases[] = {
	    {"DELETE FROM journal WHERE seq = 1", "the journal has no entry 1: behind 0 comes 2"},
	    {"DELETE FROM journal WHERE seq = 3", "the journal has no entry 3: behind 2 comes 4"},
	    {"UPDATE journal SET action = 1 WHERE seq = 3",
	     "entry 3, of setting k: it belongs to action 1, which is neither its own number nor "
	     "the action of the entry before"},
	    {"UPDATE journal SET action = 0 WHERE seq = 1",
	     "entry 1, of setting unit: it belongs to action 0, which is neither its own number "
	     "nor the action of the entry before"},
	    {"UPDATE journal SET act = char(27) WHERE seq = 4",
	     "entry 4, of mark PEG, is not such as rodbook writes them"},
	    {"UPDATE journal SET time = char(27) WHERE seq = 4",
	     "entry 4, of mark PEG, is not such as rodbook writes them"},
	    {"UPDATE journal SET after = '{' WHERE seq = 4",
	     "entry 4, of mark 1, is not such as rodbook writes them"},
	    {"UPDATE journal SET after = json_set(after, '$.more', 1) WHERE seq = 4",
	     "entry 4, of mark PEG, is not such as rodbook writes them"},
	    {"UPDATE journal SET run = 2 WHERE seq = 6",
	     "entry 6, of BS on PEG, is filed under another run than its row"},
	    {"UPDATE journal SET run = 1 WHERE seq = 4",
	     "entry 4, of mark PEG, is filed under another run than its row"},
	    {"UPDATE journal SET undoes = 6 WHERE seq = 6",
	     "entry 6, of BS on PEG, takes back action 6, which is not before it"},
	    {"UPDATE journal SET undoes = -1 WHERE seq = 6",
	     "entry 6, of BS on PEG, takes back action -1, which is not before it"},
	    {"UPDATE journal SET undoes = 5 WHERE seq = 6", ""},
	    {"UPDATE journal SET before = NULL WHERE seq = 3",
	     "entry 3 makes setting k anew, which entry 2 made already"},
	    {"UPDATE journal SET before = after WHERE seq = 4",
	     "entry 4 changes mark PEG, and no entry before it made that row"},
	    {"UPDATE journal SET after = json_set(after, '$.value', '0.25') WHERE seq = 2",
	     "entry 3, of setting k, begins with value \"0.2\", and entry 2 left it as \"0.25\""},
	    {"UPDATE journal SET before = json_set(before, '$.value', 0.2) WHERE seq = 3",
	     "entry 3, of setting k, begins with value 0.2, and entry 2 left it as \"0.2\""},
	    {"UPDATE journal SET before = json_remove(before, '$.value') WHERE seq = 3",
	     "entry 3, of setting k, begins with value nothing, and entry 2 left it as \"0.2\""},
	    {"UPDATE mark SET source = ''",
	     "mark PEG (table mark, row 1): source is \"\" in the table, and entry 4 of the "
	     "journal left it as \"oak peg\""},
	    {"UPDATE setting SET value = '0.31' WHERE name = 'k'",
	     "setting k (table setting, row k): value is \"0.31\" in the table, and entry 3 of the "
	     "journal left it as \"0.3\""},
	    {"UPDATE sight SET place = place - 1 WHERE id = 5",
	     "FS on X (table sight, row 5): place is 2199023255551 in the table, and entry 12 of "
	     "the journal left it as 2199023255552"},
	    {"DELETE FROM sight WHERE id = 5", "FS on X is not in the table sight (row 5), and "
	                                       "entry 12 of the journal left it there"},
	    {"INSERT INTO setting VALUES('dk', '0.1')",
	     "setting dk (table setting, row dk) has no entry in the journal: rodbook did not "
	     "write it"},
	    {"INSERT INTO water SELECT 7, 2, 'E', 'm', '1', 1000000000, '" NOON
	     "', '', '', NULL, '' FROM setting LIMIT 1",
	     "water at E (table water, row 7) has no entry in the journal: rodbook did not write "
	     "it"},
	    {"UPDATE run SET time = '" NOON "' WHERE id = 2; UPDATE journal SET after = "
	     "json_set(after, '$.time', '" NOON "') WHERE tbl = 'run' AND row = '2'",
	     "entry 10, of run out: the time in its row differs from the time of the entry"},
	    {"UPDATE sight SET struck = '" NOON "' WHERE id = 2; UPDATE journal SET after = "
	     "json_set(after, '$.struck', '" NOON "') WHERE seq = 8",
	     "entry 8, of FS on TP1: the time of striking in its row differs from the time of the "
	     "entry"},
	    {"UPDATE sight SET replaces = 4 WHERE id = 3; UPDATE journal SET after = "
	     "json_set(after, '$.replaces', 4) WHERE tbl = 'sight' AND row = '3'",
	     "FS on TP1 (table sight, row 3) replaces a sight that is not an earlier one of the "
	     "same run"},
	    {"UPDATE sight SET replaces = 1 WHERE id = 5; UPDATE journal SET after = "
	     "json_set(after, '$.replaces', 1) WHERE tbl = 'sight' AND row = '5'",
	     "FS on X (table sight, row 5) replaces a sight that is not an earlier one of the same "
	     "run"},
	    {"UPDATE sight SET replaces = 5 WHERE id = 5; UPDATE journal SET after = "
	     "json_set(after, '$.replaces', 5) WHERE tbl = 'sight' AND row = '5'",
	     "FS on X (table sight, row 5) replaces a sight that is not an earlier one of the same "
	     "run"},
	    {"UPDATE sight SET replaces = 4 WHERE id = 5; UPDATE journal SET after = "
	     "json_set(after, '$.replaces', 4) WHERE tbl = 'sight' AND row = '5'",
	     ""},
	    {"UPDATE setting SET name = 'color' WHERE name = 'k'; UPDATE journal SET row = "
	     "'color', after = json_set(after, '$.name', 'color'), before = iif(before IS NULL, "
	     "NULL, json_set(before, '$.name', 'color')) WHERE row = 'k'",
	     "the book has a setting \"color\", which rodbook does not know"},
	    {"PRAGMA foreign_keys=OFF; UPDATE sight SET run = 9 WHERE run = 2; UPDATE journal SET "
	     "after = json_set(after, '$.run', 9), run = 9 WHERE tbl = 'sight' AND run = 2",
	     "a row of the table sight belongs to another row that is not there"},
	    {"UPDATE sight SET typed = '0.76', reading = 760000000 WHERE id = 5; INSERT INTO "
	     "journal SELECT 13, 13, time, 'change', run, tbl, row, after, json_set(after, "
	     "'$.typed', '0.76', '$.reading', 760000000), NULL FROM journal WHERE seq = 12",
	     "entry 13, of FS on X, changes its typed, which rodbook never does"},
	};
	struct shelf s;
	char *bytes;
	size_t size;
	make(&s);
	book_close(s.book);
	bytes = slurp(s.path, &size);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i += EACH_OR(3)) {
		struct book_verified out;
		spill(s.path, bytes, size);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_msg(s.book != NULL, "%s: %s", cases[i].sql, s.why.text);
		ck_assert_msg(book_verify(s.book, 0, &out, &s.why), "%s: %s", cases[i].sql,
		              s.why.text);
		ck_assert_msg(strcmp(out.difference, cases[i].says) == 0, "%s\nsays \"%s\"",
		              cases[i].sql, out.difference);
		book_close(s.book);
	}
	s.book = NULL;
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* A long value is cut behind 120 bytes, and says that it goes on. */
START_TEST(test_long_value)
{
	static const int lengths[] = {120, 121};
	for (int i = 0; i < 2; i++) {
		struct shelf s;
		struct book_verified out;
		char sql[400], wanted[400];
		make(&s);
		snprintf(
		    sql, sizeof sql,
		    "PRAGMA ignore_check_constraints=ON; UPDATE journal SET after = "
		    "json_set(after, '$.value', substr(hex(zeroblob(99)), 1, %d)) WHERE seq = 3",
		    lengths[i]);
		snprintf(wanted, sizeof wanted, "left it as \"%0120d%s\"", 0, i ? "..." : "");
		forge_shelf(&s, sql);
		ck_assert(book_verify(s.book, 0, &out, &s.why));
		ck_assert_msg(strstr(out.difference, wanted) != NULL, "%s", out.difference);
		shelf_close(&s);
	}
}
END_TEST

/* What belongs to a closed run cannot change; once it was opened again it can. */
START_TEST(test_closed)
{
	static const char more[] =
	    "UPDATE run SET name = 'bend' WHERE id = 2; INSERT INTO journal SELECT (SELECT "
	    "max(seq) "
	    "+ 1 FROM journal), (SELECT max(seq) + 1 FROM journal), time, 'rename', run, tbl, row, "
	    "after, json_set(after, '$.name', 'bend'), NULL FROM journal WHERE seq = 10";
	for (int reopened = 0; reopened < 2; reopened++) {
		struct shelf s;
		struct book_verified out;
		make(&s);
		ck_assert_msg(book_run_close(s.book, &s.run, "paced", &s.why), "%s", s.why.text);
		if (reopened)
			ck_assert(book_run_reopen(s.book, s.run.info.id, "rain", &s.why));
		forge_shelf(&s, more);
		ck_assert(book_verify(s.book, 0, &out, &s.why));
		ck_assert_str_eq(out.difference,
		                 reopened
		                     ? ""
		                     : "entry 14, of run bend, changes a run that was closed, and "
		                       "not opened again before it");
		shelf_close(&s);
	}
}
END_TEST

/* 09:30 at +03:00 is an hour before 09:30 at +02:00. Of times that are none nothing is said. */
START_TEST(test_backwards)
{
	static const struct {
		const char *where;
		int count, at;
	} cases[] = {
	    {"SET time = '2026-05-04T09:30:00+03:00' WHERE seq IN (3, 6)", 2, 3},
	    {"SET time = '2026-05-04T09:30:00+03:00' WHERE seq = 1", 0, 0},
	    {"SET time = '2026-05-04T09:30:00+03:00' WHERE seq = 12", 1, 12},
	    {"SET time = 'one day' WHERE seq IN (3, 6)", 0, 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i += EACH_OR(3)) {
		struct shelf s;
		struct book_verified out;
		char sql[200];
		make(&s);
		snprintf(sql, sizeof sql, "UPDATE journal %s", cases[i].where);
		forge_shelf(&s, sql);
		ck_assert(book_verify(s.book, 0, &out, &s.why));
		ck_assert_msg(out.backward == cases[i].count && out.backward_at == cases[i].at,
		              "%s: %d at %d", cases[i].where, (int)out.backward,
		              (int)out.backward_at);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("forged", test_sound, test_sentences, test_long_value, test_closed,
	                 test_backwards);
}
