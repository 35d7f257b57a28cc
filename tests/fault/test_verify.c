/* A skilled forger takes the triggers away, alters rows and puts the triggers back byte for byte:
 * the proof of the book finds what does not fit together, and says where. */
#include "fault/forge.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/journal.h"
#include "unit/books.h"
#include "unit/suite.h"

static void prove(struct shelf *s, int64_t at, struct book_verified *out)
{
	ck_assert_msg(book_verify(s->book, at, out, &s->why), "%s", s->why.text);
}

/* Entries: 1 unit, 2 and 3 of the setting k, 4 mark PEG, 5 run bank, 6 BS PEG 1.5, 7 FS TP1 1.25, 8
 * and 9 its change to 1.26, 10 BS TP1 1.31, 11 FS PEG 1.56, 12 and 13 the change taken back, 14
 * water at PEG. */
static void make(struct shelf *s)
{
	struct book_verified verified;
	char what[160];
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "k", "0.2", &s->why));
	ck_assert(book_set(s->book, "k", "0.3", &s->why));
	ck_assert(book_mark_set(s->book, "PEG", "10", NULL, "oak peg", &s->why));
	shelf_begin(s, "bank", LEVEL_LOOP);
	ck_assert(shelf_book(s, LEVEL_BS, "PEG", "1.5"));
	ck_assert(shelf_book(s, LEVEL_FS, "TP1", "1.25"));
	ck_assert(shelf_change(s, 1, LEVEL_FS, "TP1", "1.26"));
	ck_assert(book_undo(s->book, &s->run, what, &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(shelf_book(s, LEVEL_BS, "TP1", "1.31"));
	ck_assert(shelf_book(s, LEVEL_FS, "PEG", "1.56"));
	ck_assert(book_water_add(s->book, s->run.info.id, "PEG", "0.4", "", "", &s->why));
	prove(s, 0, &verified);
	ck_assert_str_eq(verified.difference, "");
	ck_assert_int_eq(verified.entries, 14);
	ck_assert_int_eq(verified.last, 14);
	/* settings unit and k, the mark, the run, five sights, the water */
	ck_assert_uint_eq(verified.rows, 10);
	ck_assert_uint_eq(verified.sights, 5);
}

/* Alters the book, opens it again as an honest program would, and proves it. */
static void forge_and_prove(struct shelf *s, const char *sql, struct book_verified *out)
{
	book_close(s->book);
	forge(s->path, sql);
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s: %s", sql, s->why.text);
	prove(s, 0, out);
}

START_TEST(test_forgeries)
{
	static const struct {
		const char *sql, *says[3];
	} cases[] = {
	    /* a changed journal row: the last about its row, and one with another behind it */
	    {"UPDATE journal SET after = json_set(after, '$.reading', 1570000000) WHERE tbl = "
	     "'sight' "
	     "AND after ->> 'reading' = 1560000000",
	     {"FS on PEG (table sight, row 5)", "reading is 1560000000 in the table",
	      "left it as 1570000000"}},
	    {"UPDATE journal SET after = json_set(after, '$.value', '0.25') WHERE seq = 2",
	     {"entry 3, of setting k", "begins with value \"0.2\"", "entry 2 left it as \"0.25\""}},
	    {"UPDATE journal SET before = json_set(before, '$.value', 0.2) WHERE seq = 3",
	     {"entry 3, of setting k", "begins with value 0.2,", "left it as \"0.2\""}},
	    {"UPDATE journal SET after = '{' WHERE seq = 2",
	     {"entry 2, of setting", "not such as"}},
	    {"UPDATE journal SET after = json_set(after, '$.by', 'me') WHERE seq = 4",
	     {"entry 4, of mark PEG", "not such as"}},
	    {"UPDATE journal SET row = '02' WHERE seq = 7",
	     {"entry 7, of FS on TP1", "not such as"}},
	    /* a removed one: in the middle, the last, and with the numbers behind it closed up */
	    {"DELETE FROM journal WHERE seq = 3", {"no entry 3: behind 2 comes 4"}},
	    {"DELETE FROM journal WHERE seq = 14",
	     {"water at PEG (table water, row 1) has no entry"}},
	    {"DELETE FROM journal WHERE seq = 3; UPDATE journal SET seq = seq - 1 WHERE seq > 3",
	     {"entry 3, of mark PEG", "action 4", "neither its own number"}},
	    {"DELETE FROM journal WHERE seq = 3; UPDATE journal SET seq = seq - 1, action = action "
	     "- 1, "
	     "undoes = undoes - 1 WHERE seq > 3",
	     {"setting k (table setting, row k)", "value is \"0.3\"", "entry 2 of the journal"}},
	    /* a changed reading, text and nanometers alike */
	    {"UPDATE sight SET typed = '1.57', reading = 1570000000 WHERE id = 5",
	     {"FS on PEG (table sight, row 5)", "typed is \"1.57\" in the table",
	      "left it as \"1.56\""}},
	    /* a removed sight, with what would show it */
	    {"DELETE FROM sight WHERE id = 5",
	     {"FS on PEG is not in the table sight (row 5)", "left it there"}},
	    /* an added one */
	    {"INSERT INTO sight(run, place, kind, station, unit, typed, reading, method, time) "
	     "VALUES(1, 9999999999999, 'BS', 'PEG', 'm', '1', 1000000000, 'rod', '')",
	     {"BS on PEG (table sight, row 6) has no entry"}},
	    {"UPDATE setting SET value = '0.31' WHERE name = 'k'",
	     {"setting k (table setting, row k)", "value is \"0.31\"", "left it as \"0.3\""}},
	    {"INSERT INTO setting VALUES('dk', '0.1')",
	     {"setting dk (table setting, row dk) has no entry"}},
	    {"UPDATE mark SET source = ''", {"mark PEG", "source is \"\"", "\"oak peg\""}},
	    {"UPDATE run SET kind = 'open'", {"run bank", "kind is \"open\"", "\"loop\""}},
	    {"UPDATE water SET remark = 'calm'", {"water at PEG", "remark is \"calm\"", "\"\""}},
	    {"UPDATE sight SET struck = NULL, why = '' WHERE id = 3",
	     {"FS on TP1 (table sight, row 3)", "struck is nothing", "2026-05-04T09:30"}},
	    /* numbers beside the row */
	    {"UPDATE journal SET action = 7 WHERE seq = 9",
	     {"entry 9, of FS on TP1", "belongs to action 7"}},
	    {"UPDATE journal SET run = NULL WHERE seq = 7",
	     {"entry 7, of FS on TP1", "filed under another run"}},
	    {"UPDATE journal SET undoes = 99 WHERE act = 'undo'", {"takes back action 99"}},
	    {"UPDATE journal SET before = NULL WHERE seq = 3",
	     {"entry 3 makes setting k anew", "entry 2 made already"}},
	    {"UPDATE journal SET before = after WHERE seq = 4",
	     {"entry 4 changes mark PEG", "no entry before it made that row"}},
	    {"UPDATE journal SET action = 0 WHERE seq = 1",
	     {"entry 1, of setting unit", "belongs to action 0"}},
	    /* what a terminal would obey, in a name that is shown */
	    {"UPDATE journal SET before = replace(before, '{', '{\"\\u001b[31m\":\"x\",') WHERE "
	     "seq = 3",
	     {"entry 3, of setting k", "begins with <U+001B>[31m \"x\""}},
	    {"UPDATE journal SET act = 'book' || char(10) || '99  close' WHERE seq = 6",
	     {"entry 6, of BS on PEG", "not such as"}},
	    {"UPDATE journal SET time = char(27) || '[2J' WHERE seq = 6",
	     {"entry 6, of BS on PEG", "not such as"}},
	    /* a change of what is only ever struck, entered as if it could be made */
	    {"UPDATE sight SET typed = '1.57', reading = 1570000000 WHERE id = 5; "
	     "INSERT INTO journal SELECT 15, 15, time, 'change', run, tbl, row, after, "
	     "json_set(after, '$.typed', '1.57', '$.reading', 1570000000), NULL FROM journal "
	     "WHERE tbl = 'sight' AND row = '5'",
	     {"entry 15, of FS on PEG", "changes its typed"}},
	    {"UPDATE water SET reading = 410000000, typed = '0.41'; "
	     "INSERT INTO journal SELECT 15, 15, time, 'water', run, tbl, row, after, "
	     "json_set(after, '$.typed', '0.41', '$.reading', 410000000), NULL FROM journal "
	     "WHERE seq = 14",
	     {"entry 15, of water at PEG", "changes its typed"}},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_verified out;
		make(&s);
		forge_and_prove(&s, cases[i].sql, &out);
		for (int j = 0; j < 3 && cases[i].says[j]; j++)
			ck_assert_msg(strstr(out.difference, cases[i].says[j]) != NULL,
			              "%s\nsays \"%s\", not \"%s\"", cases[i].sql, out.difference,
			              cases[i].says[j]);
		ck_assert_msg(level_check_text(out.difference, sizeof out.difference, "", NULL),
		              "%s\nsays what a terminal would obey", cases[i].sql);
		shelf_close(&s);
	}
}
END_TEST

/* What the journal was rewritten to agree with is found where a reading is not what was typed: the
 * book was altered outside rodbook. */
START_TEST(test_reading_against_text)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	book_close(s.book);
	forge(s.path,
	      "UPDATE sight SET reading = 1570000000 WHERE id = 5; UPDATE journal SET after = "
	      "json_set(after, '$.reading', 1570000000) WHERE tbl = 'sight' AND row = '5'");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert(!book_verify(s.book, 0, &out, &s.why));
	FAULT(&s, FAULT_SPOILED, "the sight on PEG does not say what was typed");
	shelf_close(&s);
}
END_TEST

/* Every list is read, those too that no command reads by the way. */
START_TEST(test_unreadable)
{
	static const struct {
		const char *table, *insert, *says;
	} cases[] = {
	    {"result",
	     "INSERT INTO result VALUES(1, 'run', 'bank ', 'a', 3, '2026-05-04T09:30:00+02:00')",
	     "the run of a result name begins or ends with a blank"},
	    {"result",
	     "INSERT INTO result VALUES(1, 'run', 'bank', char(27) || '[2J', 3, "
	     "'2026-05-04T09:30:00+02:00')",
	     "the result holds a control or invisible character"},
	    {"fieldtest",
	     "INSERT INTO fieldtest VALUES(1, 'N', 'full', '', 'm', '1.2', "
	     "'2026-05-04T09:30:00+02:00')",
	     "a pair"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_verified out;
		char sql[1000];
		make(&s);
		book_close(s.book);
		snprintf(sql, sizeof sql,
		         "%s; INSERT INTO journal SELECT 15, 15, '2026-05-04T09:30:00+02:00', 'x', "
		         "NULL, '%s', '1', NULL, %s, NULL FROM %s",
		         cases[i].insert, cases[i].table,
		         i < 2 ? "json_object('id', id, 'kind', kind, 'subject', subject, "
		                 "'figures', figures, 'seq', seq, 'time', time)"
		               : "json_object('id', id, 'instrument', instrument, 'extent', "
		                 "extent, 'sigma', sigma, 'unit', unit, 'pairs', pairs, 'time', "
		                 "time)",
		         cases[i].table);
		forge(s.path, sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_msg(!book_verify(s.book, 0, &out, &s.why), "%s", sql);
		FAULT(&s, FAULT_SPOILED, cases[i].says);
		shelf_close(&s);
	}
}
END_TEST

/* A closed run stays as it is: an entry that changes it is none of rodbook's, however well the
 * tables agree with it. Once it was reopened it may change again. */
START_TEST(test_change_of_closed_run)
{
	static const char strike[] =
	    "UPDATE water SET struck = '2026-05-04T09:30:00+02:00', why = 'struck'; INSERT INTO "
	    "journal SELECT (SELECT max(seq) + 1 FROM journal), (SELECT max(seq) + 1 FROM "
	    "journal), "
	    "time, 'strike water', run, tbl, row, after, json_set(after, '$.struck', "
	    "'2026-05-04T09:30:00+02:00', '$.why', 'struck'), NULL FROM journal WHERE seq = 14";
	struct shelf s;
	struct book_verified out;
	make(&s);
	shelf_take(&s, s.run.info.id);
	ck_assert_msg(book_run_close(s.book, &s.run, "paced", &s.why), "%s", s.why.text);
	forge_and_prove(&s, strike, &out);
	ck_assert_msg(strstr(out.difference, "entry 16, of water at PEG") != NULL &&
	                  strstr(out.difference, "closed") != NULL,
	              "%s", out.difference);
	shelf_close(&s);
	make(&s);
	shelf_take(&s, s.run.info.id);
	ck_assert(book_run_close(s.book, &s.run, "paced", &s.why));
	ck_assert(book_run_reopen(s.book, s.run.info.id, "water read anew", &s.why));
	forge_and_prove(&s, strike, &out);
	ck_assert_str_eq(out.difference, "");
	shelf_close(&s);
}
END_TEST

/* A clock that was set back is a remark: no difference. */
START_TEST(test_time_backwards)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	/* 09:30 at +03:00 is 08:30 at +02:00: an hour before entries 1 and 3 */
	forge_and_prove(
	    &s, "UPDATE journal SET time = '2026-05-04T09:30:00+03:00' WHERE seq IN (2, 4)", &out);
	ck_assert_str_eq(out.difference, "");
	ck_assert_int_eq(out.backward, 2);
	ck_assert_int_eq(out.backward_at, 2);
	shelf_close(&s);
}
END_TEST

/* The digest of what was there stays when entries are added, and no entry can be altered under it:
 * not even by who rewrites the tables consistently. */
START_TEST(test_digest)
{
	struct shelf s;
	struct book_verified before, after;
	make(&s);
	prove(&s, 9, &before);
	ck_assert_uint_eq(strlen(before.digest), 64);
	ck_assert_uint_eq(strlen(before.digest_at), 64);
	ck_assert_str_ne(before.digest, before.digest_at);
	ck_assert(book_set(s.book, "title", "more", &s.why));
	prove(&s, 14, &after);
	ck_assert_str_eq(after.digest_at, before.digest);
	ck_assert_str_ne(after.digest, before.digest);
	prove(&s, 16, &after);
	ck_assert_str_eq(after.digest_at, "");
	forge_and_prove(
	    &s,
	    "UPDATE sight SET typed = '1.57', reading = 1570000000 WHERE id = 5; UPDATE "
	    "journal SET after = json_set(after, '$.reading', 1570000000, '$.typed', "
	    "'1.57') WHERE tbl = 'sight' AND row = '5'",
	    &after);
	ck_assert_str_eq(after.difference, "");
	prove(&s, 14, &after);
	ck_assert_str_ne(after.digest_at, before.digest);
	prove(&s, 9, &after);
	ck_assert_str_eq(after.digest_at, before.digest_at);
	shelf_close(&s);
}
END_TEST

/* Entries of the first version lack the columns that came later: they have their defaults. */
START_TEST(test_older_entries)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	forge_and_prove(
	    &s,
	    "UPDATE journal SET after = json_remove(after, '$.instrument', '$.rod', "
	    "'$.overridden', '$.again', '$.along', '$.photo') WHERE tbl = 'sight'; UPDATE "
	    "journal SET after = json_remove(after, '$.plan', '$.grade') WHERE tbl = 'run'",
	    &out);
	ck_assert_str_eq(out.difference, "");
	forge_and_prove(&s, "UPDATE sight SET again = 1 WHERE id = 4", &out);
	ck_assert_msg(strstr(out.difference, "again is 1 in the table") != NULL, "%s",
	              out.difference);
	shelf_close(&s);
}
END_TEST

/* A tube's ends altered in row and journal alike do not make the height any more; neither does an
 * FS have any. */
START_TEST(test_ends)
{
	static const struct {
		const char *sql, *says;
	} cases[] = {
	    {"UPDATE sight SET ends = '1.432; 0.986' WHERE kind = 'OFF'; UPDATE journal SET after "
	     "= "
	     "json_set(after, '$.ends', '1.432; 0.986') WHERE after ->> 'kind' = 'OFF'",
	     "do not make its height"},
	    {"UPDATE sight SET ends = '1.432; 0.987' WHERE kind = 'FS' AND station = 'PEG'; UPDATE "
	     "journal SET after = "
	     "json_set(after, '$.ends', '1.432; 0.987') WHERE after ->> 'kind' = 'FS' AND after "
	     "->> 'station' = 'PEG'",
	     "cannot have two ends"},
	    {"UPDATE sight SET method = 'rod' WHERE kind = 'OFF'; UPDATE journal SET after = "
	     "json_set(after, '$.method', 'rod') WHERE after ->> 'kind' = 'OFF'",
	     "cannot have this method"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct level_sight offset = {
		    .kind = LEVEL_OFF, .method = LEVEL_TUBE, .station = "BOLT"};
		struct book_note note = {.reading = "0.445", .ends = "1.432; 0.987"};
		struct book_settings settings;
		struct book_verified verified;
		make(&s);
		ck_assert(book_settings(s.book, &settings, &s.why));
		shelf_take(&s, s.run.info.id);
		ck_assert(book_read_sight(&settings, &note, &offset, &s.why));
		ck_assert(book_add(s.book, &s.run, s.run.run.count, &offset, &note, &s.why));
		prove(&s, 0, &verified);
		ck_assert_str_eq(verified.difference, "");
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, shelf_clock, &s.why);
		ck_assert_ptr_nonnull(s.book);
		if (book_verify(s.book, 0, &verified, &s.why))
			ck_abort_msg("case %zu: %s", i, verified.difference);
		FAULT(&s, FAULT_SPOILED, cases[i].says);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("verify", test_ends, test_forgeries, test_reading_against_text,
	                 test_unreadable, test_change_of_closed_run, test_time_backwards,
	                 test_digest, test_older_entries);
}
