/* Each column of each table, altered by another program: the reader of the row finds it. */
#include "book/store.h"

#include "books.h"
#include "rodbook/book/aside.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/head.h"
#include "rodbook/book/setout.h"
#include "suite.h"

static void run_sql(struct shelf *s, const char *sql)
{
	ck_assert_msg(sqlite3_exec(s->book->db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s: %s", sql,
	              sqlite3_errmsg(s->book->db));
}

/* A row, number 1, in each table that has a reader; sights 1 to 4: a BS, an FS by wires, an offset
 * by a tube, and an FS scaled from a photograph. Nobody but the reader looks at them. */
static void make(struct shelf *s)
{
	static const char rows[] =
	    "PRAGMA foreign_keys=OFF;"
	    "INSERT INTO mark(id, name, typed, unit, elevation, u_typed, u, time) VALUES"
	    "(1, 'A', '10', 'm', 10000000000, '1 mm', 1000000, 't');"
	    "INSERT INTO run(id, name, kind, time) VALUES(1, 'a', 'crossing', 't');"
	    "INSERT INTO instrument(id, name, tolerance, tilt, tilt_u, time) VALUES"
	    "(1, 'L1', '0.1 mm/m', '0.02 mm/m', '0.01 mm/m', 't');"
	    "INSERT INTO rod(id, name, zero, scale, expansion, reference, longest, time) VALUES"
	    "(1, 'R1', '1 mm', '20', '11.5', '20', '5 m', 't');"
	    "INSERT INTO tolerance(id, name, figures, time) VALUES(1, 'canal', 'section=9 mm', "
	    "'t');"
	    "INSERT INTO pegtest(id, instrument, unit, standings, tilt, tilt_u, time, k, dk) VALUES"
	    "(1, 'L1', 'm', '30,1.5,30,1.2; 5,1.5,55,1.2', '0.01 mm/m', '0.02 mm/m', 't', '0.13', "
	    "'4');"
	    "INSERT INTO fieldtest(id, instrument, extent, sigma, unit, pairs, time) VALUES"
	    "(1, 'L1', 'full', '0.3 mm', 'm', '1.5,1.2; x1.5,1.3', 't');"
	    "INSERT INTO water(id, run, station, unit, typed, reading, time) VALUES"
	    "(1, 1, 'A', 'm', '0.4', 400000000, 't');"
	    "INSERT INTO air(id, run, unit, pressure, low, low_height, high, high_height, time) "
	    "VALUES(1, 1, 'm', '1010', '15', '1', '14', '6', 't');"
	    "INSERT INTO gauge(id, run, station, unit, typed, reading, time) VALUES"
	    "(1, 1, 'G', 'm', '2.4', 2400000000, 't');"
	    "INSERT INTO setout(id, run, station, unit, typed, wanted, time) VALUES"
	    "(1, 1, 'S', 'm', '13', 13000000000, 't');"
	    "INSERT INTO head(id, run, day, party, time) VALUES(1, 1, '2026-05-04', 'two', 't');"
	    "INSERT INTO plan(id, name, figures, time) VALUES(1, 'far', 'k' || char(9) || '0.2' || "
	    "char(10), 't');"
	    "INSERT INTO seal(id, run, figures, time) VALUES(1, 1, 'k' || char(9) || '0.2' || "
	    "char(10), 't');"
	    "INSERT INTO aside(id, run, mark, state, why, time) VALUES(1, 1, 'A', 'aside', 'bent', "
	    "'t');"
	    "INSERT INTO closing(id, run, state, why, time, known) VALUES(1, 1, 'closed', '', 't', "
	    "'10000000000 0 A' || char(10));"
	    "INSERT INTO result(id, kind, subject, figures, seq, time) VALUES(1, 'run', 'a', 'x', "
	    "1, 't');"
	    "INSERT INTO sight(id, run, place, kind, station, unit, typed, reading, "
	    "distance_typed, "
	    "distance, method, instrument, rod, time, limit_typed, reading_limit) VALUES"
	    "(1, 1, 1000, 'BS', 'A', 'm', '1.5', 1500000000, '40', 40000000000, 'rod', 'L1', 'R1', "
	    "'t', '2 mm', 2000000);"
	    "INSERT INTO sight(id, run, place, kind, station, unit, typed, reading, upper_typed, "
	    "middle_typed, lower_typed, upper, middle, lower, distance, method, time, u_typed, "
	    "reading_u) VALUES"
	    "(2, 1, 2000, 'FS', 'B', 'm', '', 1500000000, '1.6', '1.5', '1.4', 1600000000, "
	    "1500000000, 1400000000, 20000000000, 'rod', 't', '1 mm', 1000000);"
	    "INSERT INTO sight(id, run, place, kind, station, unit, typed, reading, method, time, "
	    "ends) VALUES(3, 1, 3000, 'OFF', 'C', 'm', '0.4', 400000000, 'tube', 't', '1.4; 1');";
	shelf_open(s, LEVEL_M);
	sqlite3_db_config(s->book->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
	run_sql(s, rows);
	run_sql(s, "PRAGMA ignore_check_constraints=ON");
}

#define NOT_TYPED "does not say what was typed"
#define CONTROL "a control or invisible character"

static const struct {
	const char *table;
	int id;
	const char *set, *words; /* NULL: it is read all the same */
} cases[] = {
    {"mark", 1, "name = ''", "no name"},
    {"mark", 1, "elevation = 11000000000", "the mark A " NOT_TYPED},
    {"mark", 1, "u = 2000000", "the mark A " NOT_TYPED},
    {"mark", 1, "u_typed = ''", "the mark A " NOT_TYPED},
    {"mark", 1, "u_typed = '', u = 0", NULL},
    {"mark", 1, "unit = 'ft'", "the mark A " NOT_TYPED},
    {"mark", 1, "unit = 'ft', u_typed = '1 mm', typed = '10 m'", NULL},
    {"mark", 1, "source = char(27)", CONTROL},
    {"mark", 1, "description = char(27)", CONTROL},
    {"mark", 1, "reach = char(27)", CONTROL},
    {"run", 1, "name = ' '", "name"},
    {"run", 1, "kind = 'line'", "a run is a loop, link, open or crossing, not \"line\""},
    {"run", 1, "plan = ' x'", "plan name begins or ends with a blank"},
    {"run", 1, "plan = 'x'", NULL},
    {"run", 1, "grade = 'none'", "is no grade"},
    {"run", 1, "turn = ' x'", "mark name begins or ends with a blank"},
    {"run", 1, "time = char(27)", CONTROL},
    {"instrument", 1, "name = ''", "no name"},
    {"instrument", 1, "tolerance = 'good'", "good"},
    {"instrument", 1, "tilt = 'good'", "good"},
    {"instrument", 1, "tilt_u = 'good'", "good"},
    {"instrument", 1, "tilt = ''", "come together"},
    {"instrument", 1, "tilt_u = ''", "come together"},
    {"instrument", 1, "tilt = '', tilt_u = ''", NULL},
    {"instrument", 1, "tilt_u = '0'", "above 0"},
    {"instrument", 1, "tilt_u = '-0.01 mm/m'", "above 0"},
    {"instrument", 1, "remark = char(27)", CONTROL},
    {"instrument", 1, "time = char(27)", CONTROL},
    {"rod", 1, "name = ''", "no name"},
    {"rod", 1, "zero = '1'", "the zero of a rod needs its unit, as in 0.3 mm"},
    {"rod", 1, "zero = '0'", NULL},
    {"rod", 1, "zero = '1 m'", NULL},
    {"rod", 1, "zero = '-1 m'", NULL},
    {"rod", 1, "zero = '1.001 m'", "the zero of a rod is within 1 m"},
    {"rod", 1, "zero = '-1.001 m'", "the zero of a rod is within 1 m"},
    {"rod", 1, "longest = '5'", "the length of a rod needs its unit"},
    {"rod", 1, "scale = '10000'", NULL},
    {"rod", 1, "scale = '10001'", "a number from -10000 to 10000"},
    {"rod", 1, "expansion = '1001'", "a number from -1000 to 1000"},
    {"rod", 1, "reference = '101'", "a number from -100 to 100"},
    {"rod", 1, "reference = 'warm'", "a number from -100 to 100, not \"warm\""},
    {"rod", 1, "reference = ''", "come together"},
    {"rod", 1, "expansion = ''", "come together"},
    {"rod", 1, "expansion = '', reference = ''", NULL},
    {"rod", 1, "remark = char(27)", CONTROL},
    {"tolerance", 1, "figures = 'section=far'", ""},
    {"tolerance", 1, "figures = char(27)", CONTROL},
    {"tolerance", 1, "name = ' x'", "blank"},
    {"pegtest", 1, "instrument = ''", "no name"},
    {"pegtest", 1, "standings = '30,1.5'", ""},
    {"pegtest", 1, "standings = char(27)", CONTROL},
    {"pegtest", 1, "tilt = 'x'", "x"},
    {"pegtest", 1, "tilt_u = 'x'", "x"},
    {"pegtest", 1, "k = '20.1'", "k of a peg test is a number from -20 to 20, not \"20.1\""},
    {"pegtest", 1, "k = '-20.1'", "from -20 to 20"},
    {"pegtest", 1, "k = '-20', dk = '20'", NULL},
    {"pegtest", 1, "k = '1e1'", "from -20 to 20"},
    {"pegtest", 1, "k = '', dk = ''", NULL},
    {"pegtest", 1, "dk = '-0.1'", "dk of a peg test is a number from 0 to 20"},
    {"pegtest", 1, "dk = '20.1'", "from 0 to 20"},
    {"pegtest", 1, "time = char(27)", CONTROL},
    {"pegtest", 1, "booked = char(27)", CONTROL},
    {"fieldtest", 1, "instrument = ''", "no name"},
    {"fieldtest", 1, "pairs = '1.5'", "a backsight and a foresight"},
    {"fieldtest", 1, "sigma = 'x'", "x"},
    {"fieldtest", 1, "time = char(27)", CONTROL},
    {"water", 1, "station = ''", "no name"},
    {"water", 1, "reading = 400000001", "the water reading at A " NOT_TYPED},
    {"water", 1, "typed = '0.5'", "the water reading at A " NOT_TYPED},
    {"water", 1, "unit = 'ft'", "the water reading at A " NOT_TYPED},
    {"water", 1, "time = char(27)", CONTROL},
    {"water", 1, "remark = char(27)", CONTROL},
    {"water", 1, "struck = char(27)", CONTROL},
    {"water", 1, "why = char(27)", CONTROL},
    {"air", 1, "pressure = char(27)", CONTROL},
    {"air", 1, "low = char(27)", CONTROL},
    {"air", 1, "time = char(27)", CONTROL},
    {"air", 1, "sky = char(27)", CONTROL},
    {"air", 1, "why = char(27)", CONTROL},
    {"air", 1, "low = 'warm'", NULL},
    {"gauge", 1, "station = ''", "no name"},
    {"gauge", 1, "reading = 2400000001", "the gauge reading at G " NOT_TYPED},
    {"gauge", 1, "unit = 'ft'", "the gauge reading at G " NOT_TYPED},
    {"gauge", 1, "time = char(27)", CONTROL},
    {"gauge", 1, "remark = char(27)", CONTROL},
    {"gauge", 1, "struck = char(27)", CONTROL},
    {"gauge", 1, "why = char(27)", CONTROL},
    {"setout", 1, "station = ''", "no name"},
    {"setout", 1, "wanted = 13000000001", "the set-out of S " NOT_TYPED},
    {"setout", 1, "unit = 'ft'", "the set-out of S " NOT_TYPED},
    {"setout", 1, "struck = char(27)", CONTROL},
    {"setout", 1, "why = char(27)", CONTROL},
    {"head", 1, "day = '2026-5-04'", "a day is written 2026-05-04"},
    {"head", 1, "day = '2026-13-04'", "a day is written 2026-05-04"},
    {"head", 1, "party = char(27)", CONTROL},
    {"head", 1, "checked_by = char(27)", CONTROL},
    {"head", 1, "time = char(27)", CONTROL},
    {"head", 1, "struck = char(27)", CONTROL},
    {"head", 1, "why = char(27)", CONTROL},
    {"plan", 1, "name = ''", "no name"},
    {"plan", 1, "figures = 'k' || char(9) || 'red' || char(10)", "red"},
    {"plan", 1, "time = char(27)", CONTROL},
    {"seal", 1, "figures = 'k' || char(9) || 'red' || char(10)", "red"},
    {"seal", 1, "why = char(27)", CONTROL},
    {"seal", 1, "time = char(27)", CONTROL},
    {"aside", 1, "mark = ''", "no name"},
    {"aside", 1, "why = char(27)", CONTROL},
    {"aside", 1, "time = char(27)", CONTROL},
    {"closing", 1, "why = char(27)", CONTROL},
    {"closing", 1, "time = char(27)", CONTROL},
    {"closing", 1, "known = 'x'", "cannot be read"},
    {"result", 1, "kind = 'line'", "result 1 is of no kind or time"},
    {"result", 1, "seq = -1", "result 1 is of no kind or time"},
    {"result", 1, "seq = 1", NULL},
    {"result", 1, "seq = 2", "result 1 is of no kind or time"},
    {"result", 1, "subject = 'a' || char(10) || 'b'", "result 1 is of no run"},
    {"result", 1, "kind = 'net', subject = 'a' || char(10) || 'b'", NULL},
    {"result", 1, "subject = ' a'", "blank"},
    {"result", 1, "time = char(27)", CONTROL},
    {"sight", 1, "station = ''", "no name"},
    {"sight", 1, "typed = '1.6'", "the sight on A " NOT_TYPED},
    {"sight", 1, "reading = 1500000001", "the sight on A " NOT_TYPED},
    {"sight", 1, "unit = 'ft'", "the sight on A " NOT_TYPED},
    {"sight", 1, "distance = 41000000000", "the sight on A " NOT_TYPED},
    {"sight", 1, "distance_typed = '41'", "the sight on A " NOT_TYPED},
    {"sight", 1, "distance_typed = ''", "the sight on A "},
    {"sight", 1, "distance_typed = '', distance = NULL", NULL},
    {"sight", 1, "limit_typed = '3 mm'", "the sight on A " NOT_TYPED},
    {"sight", 1, "limit_typed = ''", "the sight on A " NOT_TYPED},
    {"sight", 1, "reading_limit = NULL", "the sight on A " NOT_TYPED},
    {"sight", 1, "limit_typed = '', reading_limit = NULL", NULL},
    {"sight", 1, "reading_u = 1", "the sight on A " NOT_TYPED},
    {"sight", 1, "u_typed = '1 mm'", "the sight on A " NOT_TYPED},
    {"sight", 1, "distance_by = 'eye'", "sight 1 cannot be read"},
    {"sight", 1, "place = -1", "a length of the sight on A is out of range"},
    {"sight", 1, "place = 2305843009213693952", NULL},
    {"sight", 1, "place = 2305843009213693953", "a length of the sight on A is out of range"},
    {"sight", 1, "typed = '100', reading = 100000000000", NULL},
    {"sight", 1, "typed = '-100', reading = -100000000000", NULL},
    {"sight", 1, "typed = '100.1', reading = 100100000000", "is out of range"},
    {"sight", 1, "typed = '-100.1', reading = -100100000000", "is out of range"},
    {"sight", 1, "again = 1", NULL},
    {"sight", 2, "again = 1", "only a BS begins a second standing"},
    {"sight", 1, "ends = '1; 2'", "the sight to A cannot have two ends"},
    {"sight", 1, "method = 'tube'", "the sight to A cannot have this method"},
    {"sight", 1, "instrument = ' x'", "blank"},
    {"sight", 1, "rod = ' x'", "blank"},
    {"sight", 1, "instrument = '', rod = ''", NULL},
    {"sight", 1, "along = char(27)", CONTROL},
    {"sight", 1, "photo = char(27)", CONTROL},
    {"sight", 1, "photo_digest = char(27)", CONTROL},
    {"sight", 1, "remark = char(27)", CONTROL},
    {"sight", 1, "why = char(27)", CONTROL},
    {"sight", 1, "overridden = char(27)", CONTROL},
    {"sight", 1, "time = char(27)", CONTROL},
    {"sight", 1, "booked = char(27)", CONTROL},
    {"sight", 1, "struck = char(27)", CONTROL},
    {"sight", 1, "scaled = 'half'", NOT_TYPED},
    {"sight", 2, "typed = '1.501'", NULL},
    {"sight", 2, "typed = '1.5011'", "the sight on B " NOT_TYPED},
    {"sight", 2, "typed = '1.4989'", "the sight on B " NOT_TYPED},
    {"sight", 2, "typed = 'x'", "the sight on B " NOT_TYPED},
    {"sight", 2, "reading = 1500000001", "the sight on B " NOT_TYPED},
    {"sight", 2, "upper_typed = '1.7'", "the sight on B " NOT_TYPED},
    {"sight", 2, "middle_typed = '1.51'", "the sight on B " NOT_TYPED},
    {"sight", 2, "lower_typed = '1.3'", "the sight on B " NOT_TYPED},
    {"sight", 2, "upper = 1400000000, upper_typed = '1.4'", "the wires of the sight on B"},
    {"sight", 2, "lower = 1600000000, lower_typed = '1.6'", "the wires of the sight on B"},
    {"sight", 2, "distance_typed = '20', distance_by = ''", NULL},
    {"sight", 2, "distance_typed = '21', distance_by = ''", "the sight on B " NOT_TYPED},
    {"sight", 2, "u_typed = '2 mm'", "the sight on B " NOT_TYPED},
    {"sight", 2, "reading_u = NULL", "the sight on B " NOT_TYPED},
    {"sight", 3, "ends = ''", NULL},
    {"sight", 3, "ends = '1.4; 1.1'", "the ends of the offset to C do not make its height"},
    {"sight", 3, "method = 'tape'", "the offset to C cannot have two ends"},
    {"sight", 3, "method = 'tape', ends = ''", NULL},
    {"sight", 3, "method = 'rod', ends = ''", "cannot have this method"},
    {"sight", 3, "distance = 1, distance_typed = '0.000000001'", "cannot have a distance"},
    {"sight", 3, "distance_typed = '1'", "cannot have a distance"},
    {"sight", 3, "distance_by = 'map'", "cannot have a way to get a distance"},
    {"sight", 3, "instrument = 'L1'", "cannot have an instrument"},
    {"sight", 3, "rod = 'R1'", "cannot have a rod"},
    {"sight", 3, "limit_typed = '1 mm', reading_limit = 1000000", NULL},
    {"sight", 3, "u_typed = '1 mm', reading_u = 1000000", NULL},
    {"sight", 3,
     "limit_typed = '1 mm', reading_limit = 1000000, u_typed = '1 mm', reading_u = 1000000",
     "cannot have a limit and a u"},
};

START_TEST(test_each_column)
{
	struct shelf s;
	make(&s);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char sql[400];
		bool ok;
		run_sql(&s, "BEGIN");
		ck_assert_msg(row_reader(cases[i].table)(s.book, cases[i].id, &s.why), "%s: %s",
		              cases[i].table, s.why.text);
		snprintf(sql, sizeof sql, "UPDATE %s SET %s WHERE id = %d", cases[i].table,
		         cases[i].set, cases[i].id);
		run_sql(&s, sql);
		s.why = (struct fault){0};
		ok = row_reader(cases[i].table)(s.book, cases[i].id, &s.why);
		ck_assert_msg(ok == !cases[i].words, "%s: %s", sql, s.why.text);
		if (!ok)
			ck_assert_msg(s.why.kind == FAULT_SPOILED &&
			                  strstr(s.why.text, cases[i].words) != NULL,
			              "%s: %s", sql, s.why.text);
		run_sql(&s, "ROLLBACK");
	}
	shelf_close(&s);
}
END_TEST

START_TEST(test_readers)
{
	struct shelf s;
	make(&s);
	for (size_t i = 0; journal_table(i); i++) {
		bool (*reads)(struct book *, int64_t, struct fault *) =
		    row_reader(journal_table(i));
		ck_assert_msg((reads == NULL) == (strcmp(journal_table(i), "setting") == 0), "%s",
		              journal_table(i));
		if (!reads)
			continue;
		ck_assert_msg(reads(s.book, 1, &s.why), "%s", journal_table(i));
		ck_assert_msg(!reads(s.book, 99, &s.why), "%s", journal_table(i));
	}
	ck_assert_ptr_null(row_reader("none"));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("spoiled_rows", test_each_column, test_readers);
}
