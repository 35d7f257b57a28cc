/* Books from elsewhere may be large and of a shape that nobody levels: they take seconds all the
 * same, and not minutes. */
#include <time.h>

#include "fault/forge.h"
#include "unit/books.h"
#include "unit/suite.h"

#define SECONDS_MOST 20 /* of processor time, under sanitizers too */

static double used(clock_t since)
{
	return (double)(clock() - since) / CLOCKS_PER_SEC;
}

static void make(struct shelf *s, const char *sql)
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "a", LEVEL_CROSSING);
	book_close(s->book);
	forge(s->path, sql);
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s", s->why.text);
}

#define COUNT(n) "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < " #n ") "
#define SIGHTS(station, n)                                                                         \
	COUNT(n)                                                                                   \
	"INSERT INTO sight(run, place, kind, station, unit, typed, reading, method, time) SELECT " \
	"1, i, iif(i % 2, 'BS', 'FS'), " station ", 'm', '1', 1000000000, 'rod', '' FROM n;"
#define WATERS(station, n)                                                                         \
	COUNT(n)                                                                                   \
	"INSERT INTO water(run, station, unit, typed, reading, time) SELECT 1, " station ", 'm', " \
	"'1', 1000000000, '' FROM n;"

/* Water read at every station, and at one of them only. */
START_TEST(test_waters)
{
	static const char *const books[] = {SIGHTS("'TP' || (i / 2)", 20000)
	                                        WATERS("'TP' || (i / 10)", 100000),
	                                    SIGHTS("'TP1'", 20000) WATERS("'TP1'", 100000)};
	for (size_t i = 0; i < sizeof books / sizeof *books; i++) {
		struct shelf s;
		clock_t begun;
		make(&s, books[i]);
		begun = clock();
		shelf_take(&s, 1);
		ck_assert_double_lt(used(begun), SECONDS_MOST);
		ck_assert_uint_eq(s.run.run.count, 20000);
		/* ten readings at each station, or all */
		ck_assert_int_eq(s.run.run.sight[9].water_count, i ? 100000 : 10);
		ck_assert_int_eq(s.run.run.sight[9].water, 1000000000);
		shelf_close(&s);
	}
}
END_TEST

/* A run is copied out of a book of many marks. */
START_TEST(test_copy)
{
	static const char *const names[] = {"a"};
	struct shelf s, to;
	struct work_taken counts = {0};
	clock_t begun;
	make(&s, SIGHTS("'M' || (i / 2)", 20000)
	             COUNT(100000) "INSERT INTO mark(name, typed, unit, elevation, time) SELECT "
	                           "'M' || (i + 9990), '1', "
	                           "'m', 1000000000, '' FROM n");
	shelf_open(&to, LEVEL_M);
	begun = clock();
	ck_assert_msg(work_copy_runs(to.book, s.book, s.path, names, 1, &counts, &to.why), "%s",
	              to.why.text);
	ck_assert_double_lt(used(begun), SECONDS_MOST);
	/* those on M9991 to M10000 */
	ck_assert_uint_eq(counts.marks, 10);
	ck_assert_uint_eq(counts.sights, 20000);
	shelf_close(&to);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("large", test_waters, test_copy);
}
