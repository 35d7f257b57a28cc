/* Which errors the crossings of a book share, by the names in it: an instrument in one state of
 * adjustment, each mark, what is declared between two marks. (Common practice, no source.) */
#include "work/crossing/crossings.h"

#include <math.h>

#include "books.h"
#include "suite.h"

/* A crossing over a level that reads 5 m and 800 m away. */
static void cross(struct shelf *s, const char *name, const char *from, const char *to,
                  const char *level)
{
	shelf_begin(s, name, LEVEL_CROSSING);
	ck_assert_msg(shelf_sight(s, LEVEL_BS, from, "1.500", "5", level), "%s", s->why.text);
	ck_assert_msg(shelf_sight(s, LEVEL_FS, to, "1.540", "800", level), "%s", s->why.text);
}

/* Pegs 60 m apart, A 0.250 above B: from 5 m off A a tilt reads B higher by what is given. */
static void pegs(struct shelf *s, const char *far)
{
	struct book_pegtest test = {.instrument = "L1"};
	struct level_peg_result result;
	snprintf(test.standings, sizeof test.standings, "30,1.500,30,1.250; 5,1.500,55,%s", far);
	ck_assert_msg(book_pegtest_add(s->book, &test, &result, &s->why), "%s", s->why.text);
}

static void lake(struct shelf *s)
{
	static const char *const marks[] = {"EAST", "WEST", "NORTH"};
	shelf_open(s, LEVEL_M);
	for (size_t i = 0; i < 3; i++)
		ck_assert(book_mark_set(s->book, marks[i], "10", "1 mm", NULL, &s->why));
	for (int i = 1; i < 3; i++) {
		struct book_instrument level = {.tolerance = "0.1 mm/m"};
		snprintf(level.name, sizeof level.name, "L%d", i);
		ck_assert(book_instrument_set(s->book, &level, &s->why));
	}
	ck_assert(book_set(s->book, "declared", "bog=2 mm", &s->why));
}

static void load(struct shelf *s, const char *const *names, size_t count, struct crossings *out)
{
	ck_assert_msg(crossings_load(s->book, names, count, out, &s->why), "%s", s->why.text);
}

/* The n-th source of a line that has an effect. */
static const struct level_source *of(const struct crossings *all, size_t crossing,
                                     enum level_allowance_line line, int n)
{
	const struct level_crossing *c = &all->ready[crossing];
	for (size_t i = 0; i < c->sources; i++)
		if (c->source[i].line == line && c->source[i].bound != 0 && n-- == 0)
			return &c->source[i];
	ck_abort_msg("crossing %zu has too few sources of line %d", crossing, line);
	return NULL;
}

/* 1 for one error with one effect, -1 with opposite effects, 0 for two errors. */
static int share(const struct level_source *a, const struct level_source *b)
{
	return !level_key_same(&a->key, &b->key) ? 0 : a->u * b->u > 0 ? 1 : -1;
}

START_TEST(test_shared_marks)
{
	static const char *const names[] = {"forth", "again", "back", "north"};
	struct shelf s;
	struct crossings all;
	const struct level_source *bog, *start;
	lake(&s);
	cross(&s, "forth", "EAST", "WEST", "L1");
	cross(&s, "again", "EAST", "WEST", "L1");
	cross(&s, "back", "WEST", "EAST", "L1");
	cross(&s, "north", "EAST", "NORTH", "L1");
	load(&s, names, 4, &all);
	ck_assert_uint_eq(all.count, 4);
	bog = of(&all, 0, LEVEL_LINE_DECLARED, 0);
	ck_assert_int_eq(share(bog, of(&all, 1, LEVEL_LINE_DECLARED, 0)), 1);
	ck_assert_int_eq(share(bog, of(&all, 2, LEVEL_LINE_DECLARED, 0)), -1);
	ck_assert_int_eq(share(bog, of(&all, 3, LEVEL_LINE_DECLARED, 0)), 0);
	/* a mark too high as start makes the rise less, as end more */
	start = of(&all, 0, LEVEL_LINE_KNOWN, 0);
	ck_assert_int_eq(share(start, of(&all, 1, LEVEL_LINE_KNOWN, 0)), 1);
	ck_assert_int_eq(share(start, of(&all, 2, LEVEL_LINE_KNOWN, 1)), -1);
	ck_assert_int_eq(share(start, of(&all, 2, LEVEL_LINE_KNOWN, 0)), 0);
	ck_assert_int_eq(share(start, of(&all, 3, LEVEL_LINE_KNOWN, 0)), 1);
	ck_assert_int_eq(share(start, of(&all, 3, LEVEL_LINE_KNOWN, 1)), 0);
	/* readings are each crossing's own */
	ck_assert_int_eq(
	    share(of(&all, 0, LEVEL_LINE_READING, 0), of(&all, 1, LEVEL_LINE_READING, 0)), 0);
	crossings_free(&all);
	shelf_close(&s);
}
END_TEST

/* Two levels are two errors; one level is another error once its tilt is found anew. */
START_TEST(test_states_of_levels)
{
	static const char *const names[] = {"one",  "two",   "more", "tested",
	                                    "anew", "still", "plain"};
	static const int index[] = {0, 1, 0, 0, 0, 0, 2};
	struct shelf s;
	struct crossings all;
	const struct level_source *tilt[7];
	lake(&s);
	cross(&s, "one", "EAST", "WEST", "L1");
	cross(&s, "two", "EAST", "WEST", "L2");
	cross(&s, "more", "EAST", "NORTH", "L1");
	pegs(&s, "1.251");
	cross(&s, "tested", "EAST", "WEST", "L1");
	pegs(&s, "1.252");
	cross(&s, "anew", "EAST", "WEST", "L1");
	cross(&s, "still", "WEST", "NORTH", "L1");
	cross(&s, "plain", "EAST", "WEST", "");
	load(&s, names, 7, &all);
	ck_assert_int_eq(all.instruments, 3);
	ck_assert_str_eq(all.instrument[0], "L1");
	ck_assert_str_eq(all.instrument[1], "L2");
	ck_assert_str_eq(all.instrument[2], "");
	for (size_t i = 0; i < 7; i++) {
		tilt[i] = of(&all, i, LEVEL_LINE_INSTRUMENT, 0);
		ck_assert_int_eq(tilt[i]->instrument, index[i]);
		ck_assert_double_eq_tol(fabs(all.ready[i].s_d[index[i]]), 795, 1e-9);
		for (int other = 0; other < 3; other++)
			ck_assert(other == index[i] || all.ready[i].s_d[other] == 0);
	}
	ck_assert_int_eq(share(tilt[0], tilt[1]), 0);
	ck_assert_int_eq(share(tilt[0], tilt[6]), 0);
	ck_assert_int_eq(share(tilt[0], tilt[2]), 1);
	ck_assert_int_eq(share(tilt[0], tilt[3]), 0);
	ck_assert_int_eq(share(tilt[0], tilt[4]), 0);
	ck_assert_int_eq(share(tilt[3], tilt[4]), 0);
	ck_assert_int_eq(share(tilt[4], tilt[5]), 1);
	crossings_free(&all);
	shelf_close(&s);
}
END_TEST

START_TEST(test_which)
{
	static const char *const one[] = {"back"}, *const twice[] = {"forth", "back", "forth"},
	                         *const none[] = {"none"};
	struct shelf s;
	struct crossings all;
	lake(&s);
	cross(&s, "forth", "EAST", "WEST", "L1");
	shelf_begin(&s, "half", LEVEL_CROSSING);
	ck_assert(shelf_sight(&s, LEVEL_BS, "EAST", "1.5", "5", "L1"));
	shelf_begin(&s, "path", LEVEL_LOOP);
	load(&s, NULL, 0, &all);
	ck_assert_uint_eq(all.count, 1);
	ck_assert_str_eq(all.row[0].run, "forth");
	ck_assert_str_eq(all.row[0].day, "2026-05-04");
	ck_assert_uint_eq(all.left_count, 1);
	ck_assert_str_eq(all.left[0].name, "half");
	ck_assert_int_eq(all.decides, LEVEL_BY_U95);
	crossings_free(&all);
	ck_assert(book_set(s.book, "decides", "all", &s.why));
	cross(&s, "back", "WEST", "EAST", "L1");
	load(&s, one, 1, &all);
	ck_assert_uint_eq(all.count, 1);
	ck_assert_str_eq(all.row[0].run, "back");
	/* if all add up, where any was sealed so */
	ck_assert_int_eq(all.decides, LEVEL_BY_ALL);
	crossings_free(&all);
	ck_assert(!crossings_load(s.book, twice, 3, &all, &s.why));
	FAULT(&s, FAULT_INPUT, "forth is named twice");
	crossings_free(&all);
	ck_assert(!crossings_load(s.book, none, 1, &all, &s.why));
	FAULT(&s, FAULT_INPUT, "none");
	crossings_free(&all);
	shelf_close(&s);
}
END_TEST

/* No more than seven levels are told apart. */
START_TEST(test_too_many_levels)
{
	struct shelf s;
	struct crossings all;
	lake(&s);
	for (int i = 1; i <= LEVEL_INSTRUMENTS; i++) {
		struct book_instrument level = {.tolerance = "0.1 mm/m"};
		snprintf(level.name, sizeof level.name, "L%d", i);
		ck_assert(book_instrument_set(s.book, &level, &s.why));
		cross(&s, level.name, "EAST", "WEST", level.name);
	}
	load(&s, NULL, 0, &all);
	ck_assert_int_eq(all.instruments, LEVEL_INSTRUMENTS);
	crossings_free(&all);
	cross(&s, "plain", "EAST", "WEST", "");
	ck_assert(!crossings_load(s.book, NULL, 0, &all, &s.why));
	FAULT(&s, FAULT_INPUT, "instruments are not combined");
	crossings_free(&all);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("crossings", test_shared_marks, test_states_of_levels, test_which,
	                 test_too_many_levels);
}
