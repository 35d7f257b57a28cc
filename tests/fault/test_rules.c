/* Books altered in rows and journal alike: what rodbook itself decides when it writes is found to
 * be otherwise. And seals, worked out anew from the journal. */
#include "fault/forge.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/setout.h"
#include "unit/books.h"
#include "unit/suite.h"

/* A clock that moves on by a second at each look. */
static int ticks;

static void tick(char out[BOOK_TIME_BYTES])
{
	snprintf(out, BOOK_TIME_BYTES, "2026-05-04T09:%02d:%02d+02:00", ticks / 60 % 60,
	         ticks % 60);
	ticks++;
}

static void seal_crossing(struct shelf *s, const char *name)
{
	shelf_begin(s, name, LEVEL_CROSSING);
	ck_assert(book_water_add(s->book, s->run.info.id, "E", "0.4", "", "", &s->why));
	ck_assert(book_air_add(s->book, s->run.info.id,
	                       &(struct book_air){.pressure = "1010",
	                                          .low = "14.2",
	                                          .low_height = "1",
	                                          .high = "13.9",
	                                          .high_height = "6"},
	                       &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert_msg(shelf_sight(s, LEVEL_BS, "E", "1.8", "4", "L1"), "%s", s->why.text);
	ck_assert_msg(shelf_sight(s, LEVEL_FS, "W", "1.9", "800", "L1"), "%s", s->why.text);
}

/* One crossing sealed in time, by an instrument, peg tests, air and a changed setting; a second one
 * of which a kind was changed, so that its seal is late; sights struck, changed and brought back.
 */
static void make(struct shelf *s)
{
	struct book_note note;
	struct book_pegtest test = {.instrument = "L1"};
	struct level_peg_result result;
	struct book_verified out;
	char what[160];
	ticks = 0;
	shelf_open(s, LEVEL_M);
	book_close(s->book);
	s->book = book_open(s->path, tick, &s->why);
	ck_assert(book_set(s->book, "radius", "6372 km", &s->why));
	ck_assert(book_instrument_set(
	    s->book, &(struct book_instrument){.name = "L1", .tolerance = "0.1 mm/m"}, &s->why));
	strcpy(test.standings, "30,1.3995,30,1.1495; 5,1.4062,55,1.1551");
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
	seal_crossing(s, "east");
	ck_assert(book_gauge_add(s->book, s->run.info.id, "G1", "2.4", "", "", &s->why));
	ck_assert(book_gauge_strike_at(s->book, s->run.info.id, "G1", "a wave", &s->why));
	ck_assert(book_setout_set(s->book, s->run.info.id, "S1", "13", &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(book_amend(s->book, &s->run, "dk_low", "0.9", "sun", &s->why));
	ck_assert(book_set(s->book, "radius", "6371 km", &s->why));
	shelf_begin(s, "west", LEVEL_OPEN);
	ck_assert(shelf_sight(s, LEVEL_BS, "E", "1.8", "4", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "W", "1.9", "800", ""));
	ck_assert(book_run_set_kind(s->book, s->run.info.id, LEVEL_CROSSING, &s->why));
	shelf_take(s, s->run.info.id);
	note = book_note_of(&s->run.note[1]);
	ck_assert(book_change(s->book, &s->run, 1, &s->run.run.sight[1], &note, &s->why));
	shelf_take(s, s->run.info.id);
	ck_assert(shelf_undo(s));
	ck_assert_msg(book_redo(s->book, &s->run, what, &s->why), "%s", s->why.text);
	shelf_take(s, s->run.info.id);
	ck_assert_msg(book_verify(s->book, 0, &out, &s->why), "%s", s->why.text);
	ck_assert_str_eq(out.difference, "");
}

/* A row and all that the journal says of it, with one column of the JSON set. */
#define BOTH(table, id, column, value)                                                             \
	"UPDATE " table " SET " column " = " value " WHERE id = " id                               \
	"; UPDATE journal SET after = "                                                            \
	"json_set(after, '$." column "', " value ") WHERE tbl = '" table "' AND row = '" id "'; "  \
	"UPDATE journal SET before = json_set(before, '$." column "', " value                      \
	") WHERE tbl = '" table "' AND row = '" id "' AND before IS NOT NULL"

START_TEST(test_consistent_forgeries)
{
	static const struct {
		const char *sql, *says;
	} cases[] = {
	    {BOTH("sight", "2", "time", "'2026-05-04T08:00:00+02:00'"),
	     "of FS on W: the time in its row differs from the time of the entry"},
	    {BOTH("seal", "1", "time", "'2026-05-04T08:00:00+02:00'"),
	     "of seal: the time in its row differs from the time of the entry"},
	    {BOTH("water", "1", "time", "'2026-05-04T08:00:00+02:00'"),
	     "of water at E: the time in its row"},
	    {"UPDATE sight SET struck = '2026' WHERE struck IS NOT NULL; UPDATE journal SET after "
	     "= "
	     "json_set(after, '$.struck', '2026') WHERE tbl = 'sight' AND after ->> 'struck' IS "
	     "NOT "
	     "NULL; UPDATE journal SET before = json_set(before, '$.struck', '2026') WHERE tbl = "
	     "'sight' AND before ->> 'struck' IS NOT NULL",
	     "of FS on W: the time of striking in its row differs from the time of the entry"},
	    {BOTH("water", "1", "struck", "''"), "of water at E: the time in its row"},
	    {BOTH("water", "1", "booked", "'2026-05-04T08:00:00+02:00'"),
	     "of water at E: the time in its row"},
	    {BOTH("sight", "2", "booked", "'2026-05-04T08:00:00+02:00'"),
	     "of FS on W: the time in its row differs from the time of the entry"},
	    {BOTH("pegtest", "1", "booked", "'2026-05-04T08:00:00+02:00'"),
	     "of peg test of L1: the time in its row"},
	    {BOTH("gauge", "1", "time", "'2026-05-04T08:00:00+02:00'"),
	     "of gauge at G1: the time in its row"},
	    {"UPDATE gauge SET struck = '2026'; UPDATE journal SET after = json_set(after, "
	     "'$.struck', '2026') WHERE tbl = 'gauge' AND act = 'strike gauge'",
	     "of gauge at G1: the time of striking in its row"},
	    {BOTH("setout", "1", "time", "'2026-05-04T08:00:00+02:00'"),
	     "of set-out of S1: the time in its row"},
	    {"UPDATE setout SET wanted = wanted + 1",
	     "set-out of S1 (table setout, row 1): wanted"},
	    {"UPDATE gauge SET remark = 'none'", "gauge at G1 (table gauge, row 1): remark"},
	    {"INSERT INTO journal SELECT max(seq) + 1, max(seq) + 1, '2026-05-04T09:59:00+02:00', "
	     "'set out', (SELECT run FROM setout), 'setout', '1', (SELECT after FROM journal WHERE "
	     "tbl = 'setout'), (SELECT json_set(after, '$.station', 'S2') FROM journal WHERE tbl = "
	     "'setout'), NULL FROM journal; UPDATE setout SET station = 'S2'",
	     "of set-out of S2, changes its station, which rodbook never does"},
	    {"UPDATE journal SET act = 'amend' WHERE act = 'seal' AND row = '1'",
	     "each later change is an amendment with a reason"},
	    {"UPDATE journal SET act = 'import' WHERE act = 'seal' AND row = '1'",
	     "each later change is an amendment with a reason"},
	    {BOTH("seal", "2", "why", "''"), "each later change is an amendment with a reason"},
	    {"UPDATE seal SET figures = replace(figures, 'rule' || char(9) || '2' || char(10), "
	     "''); "
	     "UPDATE journal SET after = json_set(after, '$.figures', (SELECT figures FROM seal "
	     "WHERE id "
	     "= row)) WHERE tbl = 'seal'",
	     "each later change is an amendment with a reason"},
	    {BOTH("seal", "3", "late", "0"), "came after a sight that could show a drop"},
	    {"UPDATE seal SET figures = replace(figures, '6372', '6373') WHERE id = 1; UPDATE "
	     "journal "
	     "SET after = json_set(after, '$.figures', (SELECT figures FROM seal WHERE id = 1)) "
	     "WHERE "
	     "tbl = 'seal' AND row = '1'",
	     "settings, plan, instruments and air gave at that entry, first at \"3 km\""},
	    {BOTH("sight", "4", "replaces", "5"), "replaces a sight that is not an earlier one"},
	    {"UPDATE setting SET name = 'colour' WHERE name = 'radius'; UPDATE journal SET row = "
	     "'colour', after = json_set(after, '$.name', 'colour'), before = iif(before IS NULL, "
	     "NULL, json_set(before, '$.name', 'colour')) WHERE row = 'radius'",
	     "a setting \"colour\", which rodbook does not know"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i += EACH_OR(3)) {
		struct shelf s;
		struct book_verified out;
		make(&s);
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, tick, &s.why);
		ck_assert_msg(s.book != NULL, "%s", s.why.text);
		ck_assert_msg(book_verify(s.book, 0, &out, &s.why), "%s\n%s", cases[i].sql,
		              s.why.text);
		ck_assert_msg(strstr(out.difference, cases[i].says) != NULL,
		              "%s\nsays \"%s\", not \"%s\"", cases[i].sql, out.difference,
		              cases[i].says);
		shelf_close(&s);
	}
}
END_TEST

/* A figure that says something else than its text, in rows and journal alike, is not read. */
START_TEST(test_values)
{
	static const struct {
		const char *sql, *says;
	} cases[] = {
	    {BOTH("gauge", "1", "reading", "2500000000"), "the gauge reading at G1 does not say"},
	    {BOTH("gauge", "1", "unit", "'ft'"), "the gauge reading at G1 does not say"},
	    {BOTH("setout", "1", "wanted", "13100000000"), "the set-out of S1 does not say"},
	    {BOTH("setout", "1", "station", "' S1'"), "station"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_verified out;
		make(&s);
		book_close(s.book);
		forge(s.path, cases[i].sql);
		s.book = book_open(s.path, tick, &s.why);
		ck_assert(!book_verify(s.book, 0, &out, &s.why));
		FAULT(&s, FAULT_SPOILED, cases[i].says);
		shelf_close(&s);
	}
}
END_TEST

/* A rod that a sight names and that the book does not have. */
START_TEST(test_rod_missing)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	book_close(s.book);
	forge(s.path, BOTH("sight", "2", "rod", "'R9'"));
	s.book = book_open(s.path, tick, &s.why);
	ck_assert(!book_verify(s.book, 0, &out, &s.why));
	FAULT(&s, FAULT_SPOILED, "R9");
	shelf_close(&s);
}
END_TEST

/* A text that nobody looks at leaves the book with the others. */
START_TEST(test_struck_text)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	ck_assert(book_instrument_set(
	    s.book, &(struct book_instrument){.name = "L1", .tolerance = "0.2 mm/m"}, &s.why));
	book_close(s.book);
	forge(s.path,
	      "UPDATE instrument SET struck = char(27) || '[2J' WHERE struck IS NOT NULL; UPDATE "
	      "journal SET after = json_set(after, '$.struck', char(27) || '[2J'), time = "
	      "'2026-05-04T09:59:00+02:00' WHERE tbl = 'instrument' AND after ->> 'struck' IS NOT "
	      "NULL; UPDATE journal SET time = after ->> 'struck' WHERE 0");
	s.book = book_open(s.path, tick, &s.why);
	if (book_verify(s.book, 0, &out, &s.why))
		ck_assert_str_ne(out.difference, "");
	else
		FAULT(&s, FAULT_SPOILED, "the struck holds a control or invisible character");
	shelf_close(&s);
}
END_TEST

/* A key with a NUL in it ends what SQLite gives as a text: the row cannot be named, and is found.
 */
START_TEST(test_key_with_nul)
{
	struct shelf s;
	struct book_verified out;
	make(&s);
	book_close(s.book);
	forge(s.path, "UPDATE setting SET name = char(0) WHERE name = 'radius'");
	s.book = book_open(s.path, tick, &s.why);
	ck_assert_msg(book_verify(s.book, 0, &out, &s.why), "%s", s.why.text);
	ck_assert_ptr_nonnull(strstr(out.difference, "setting radius is not in the table"));
	shelf_close(&s);
}
END_TEST

/* A rod that could not be read and was struck stands in nobody's way, nor in that of an import. */
START_TEST(test_struck_unreadable)
{
	struct shelf s, there;
	struct book_verified out;
	struct work_taken counts;
	char path[160];
	FILE *file;
	make(&s);
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R1", .zero = "1 mm"}, &s.why));
	ck_assert(book_rod_set(s.book, &(struct book_rod){.name = "R1", .zero = "2 mm"}, &s.why));
	book_close(s.book);
	forge(s.path, BOTH("rod", "1", "zero", "'far'"));
	s.book = book_open(s.path, tick, &s.why);
	ck_assert_msg(book_verify(s.book, 0, &out, &s.why), "%s", s.why.text);
	ck_assert_str_eq(out.difference, "");
	snprintf(path, sizeof path, "%s/whole.csv", s.dir);
	file = fopen(path, "w");
	ck_assert_msg(csv_export_whole(file, s.book, &s.why), "%s", s.why.text);
	fclose(file);
	shelf_open(&there, LEVEL_M);
	ck_assert_msg(csv_import(there.book, path, &counts, &there.why), "%s", there.why.text);
	ck_assert_msg(book_verify(there.book, 0, &out, &there.why), "%s", there.why.text);
	ck_assert_str_eq(out.difference, "");
	shelf_close(&there);
	shelf_close(&s);
}
END_TEST

/* A digest that was published is that of the entries up to its own, whatever came since; and no
 * more where somebody altered rows and journal alike. */
START_TEST(test_witness)
{
	static const char *const refused[] = {"", "@3", "00@3", "g", NULL};
	struct shelf s;
	struct book_verified out;
	struct book_witness witness, read;
	char text[BOOK_WITNESS_BYTES];
	make(&s);
	ck_assert(book_witness(s.book, &witness, &s.why));
	ck_assert(book_verify(s.book, witness.seq, &out, &s.why));
	ck_assert_int_eq(witness.seq, out.last);
	ck_assert_str_eq(witness.digest, out.digest);
	ck_assert(book_witness_parse(book_witness_text(text, &witness), &read, &s.why));
	ck_assert_str_eq(read.digest, witness.digest);
	ck_assert_int_eq(read.seq, witness.seq);
	for (size_t i = 0; refused[i]; i++) {
		ck_assert(!book_witness_parse(refused[i], &read, &s.why));
		FAULT(&s, FAULT_INPUT, "64 digits");
	}
	strcat(text, "x");
	ck_assert(!book_witness_parse(text, &read, &s.why));
	ck_assert(book_set(s.book, "title", "more", &s.why));
	ck_assert(book_verify(s.book, witness.seq, &out, &s.why));
	ck_assert_str_eq(out.digest_at, witness.digest);
	book_close(s.book);
	forge(s.path, BOTH("sight", "2", "remark", "'as it suits'"));
	s.book = book_open(s.path, tick, &s.why);
	ck_assert(book_verify(s.book, witness.seq, &out, &s.why));
	ck_assert_str_eq(out.difference, "");
	ck_assert_str_ne(out.digest_at, witness.digest);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("rules", test_consistent_forgeries, test_values, test_rod_missing,
	                 test_struck_text, test_key_with_nul, test_struck_unreadable, test_witness);
}
