/* What crossings share: each source with its key and its direction. Errors that two crossings share
 * go by the marks between which they go, the day, the level and its state of adjustment. */
#include "rodbook/level/drop/allowance.h"

#include <math.h>

#include "sights.h"
#include "suite.h"

/* 20 and 800 m: L = 780 m, S = 639 600 m^2. */
static struct level_drop_sums crossing(const struct level_terms *terms)
{
	struct level_drop_sums sums = {0};
	struct level_reach near = {.distance = 20}, far = {.distance = 800, .method = LEVEL_TARGET};
	level_drop_add(&sums, terms, &near, &far);
	return sums;
}

static struct level_terms terms(void)
{
	struct level_terms out = usual_terms();
	out.drift = 0.00001;
	out.declared[0].bound = 0.002;
	out.declared[1].slope = 0.00001;
	out.water = 0.003;
	out.water_floor = 0.002;
	out.flow = 0.0001;
	out.depth = 3;
	out.wind = 7;
	return out;
}

static const struct level_ends ends = {
    .water = true,
    .mean = {{0.0005, 9, 0.0012}, {0.0006, 9, 0.0014}},
    .known_u = {0.001, 0.0005},
};

static struct level_identity identity(bool back)
{
	return (struct level_identity){.run = 1,
	                               .state = {2},
	                               .pair = 3,
	                               .start = back ? 5 : 4,
	                               .end = back ? 4 : 5,
	                               .back = back,
	                               .day = 6,
	                               .declared = {7, 8}};
}

/* The one source of this line with this bound, without its sign. */
static const struct level_source *find(const struct level_source *list, size_t count,
                                       enum level_allowance_line line, double bound)
{
	const struct level_source *found = NULL;
	for (size_t i = 0; i < count; i++)
		if (list[i].line == line && fabs(fabs(list[i].bound) - bound) < 1e-9) {
			ck_assert_ptr_null(found);
			found = &list[i];
		}
	ck_assert_msg(found != NULL, "no %s of %g", level_allowance_name(line), bound);
	return found;
}

struct pair {
	struct level_source here[LEVEL_SOURCES_MOST], there[LEVEL_SOURCES_MOST];
	size_t here_count, there_count;
};

/* One crossing, and another whose identity differs. */
static struct pair both(const struct level_terms *one, const struct level_identity *a,
                        const struct level_terms *two, const struct level_identity *b)
{
	struct pair out;
	struct level_drop_sums sums = crossing(one), other = crossing(two);
	out.here_count = level_sources(&sums, one, &ends, a, out.here);
	out.there_count = level_sources(&other, two, &ends, b, out.there);
	return out;
}

/* Whether the sources of a line and bound are one error, and whether they act the same way. */
static void check(const struct pair *p, enum level_allowance_line line, double bound, bool shared,
                  double direction)
{
	const struct level_source *here = find(p->here, p->here_count, line, bound);
	const struct level_source *there = find(p->there, p->there_count, line, bound);
	ck_assert_msg(level_key_same(&here->key, &there->key) == shared, "%s of %g: %s",
	              level_allowance_name(line), bound, shared ? "not shared" : "shared");
	ck_assert_msg(here->bound * there->bound * direction > 0, "%s of %g: direction",
	              level_allowance_name(line), bound);
	ck_assert(here->u * here->bound > 0 && there->u * there->bound > 0);
}

/* tau L = 78 mm; drift 2 x 7.8; declared 2, slope 7.8; water means 1.2 and 1.4, floors 2 and 2,
 * declared 3, flow 82 and wind set-up 1.6e-7 x 49 x 820/3 = 2.142933 mm; marks 2 and 1. */
START_TEST(test_same_crossing_another_day)
{
	struct level_terms t = terms();
	struct level_identity today = identity(false), later = identity(false);
	struct pair p;
	later.run = 9;
	later.day = 10;
	p = both(&t, &today, &t, &later);
	check(&p, LEVEL_LINE_INSTRUMENT, 0.078, true, 1);
	check(&p, LEVEL_LINE_DRIFT, 0.0156, true, 1);
	check(&p, LEVEL_LINE_DECLARED, 0.002, true, 1);
	check(&p, LEVEL_LINE_DECLARED, 0.0078, true, 1);
	check(&p, LEVEL_LINE_WATER, 0.0012, false, 1);
	check(&p, LEVEL_LINE_WATER, 0.0014, false, 1);
	check(&p, LEVEL_LINE_WATER, 0.003, false, 1);
	check(&p, LEVEL_LINE_WATER, 0.082, true, 1);
	check(&p, LEVEL_LINE_WATER, 0.002142933, false, 1);
	check(&p, LEVEL_LINE_KNOWN, 0.002, true, 1);
	check(&p, LEVEL_LINE_KNOWN, 0.001, true, 1);
	ck_assert(
	    !level_key_same(&p.here[2].key, &p.there[2].key)); /* readings are each their own */
	ck_assert_int_eq(p.here[2].line, LEVEL_LINE_READING);
}
END_TEST

START_TEST(test_same_day)
{
	struct level_terms t = terms();
	struct level_identity one = identity(false), two = identity(false);
	struct pair p;
	two.run = 9;
	p = both(&t, &one, &t, &two);
	check(&p, LEVEL_LINE_WATER, 0.003, true, 1);
	check(&p, LEVEL_LINE_WATER, 0.002142933, true, 1);
	check(&p, LEVEL_LINE_WATER, 0.0012, false, 1);
}
END_TEST

/* Back from the other shore the marks and the water err the other way, the level as before. */
START_TEST(test_back)
{
	struct level_terms t = terms();
	struct level_identity forth = identity(false), back = identity(true);
	struct pair p = both(&t, &forth, &t, &back);
	check(&p, LEVEL_LINE_INSTRUMENT, 0.078, true, 1);
	check(&p, LEVEL_LINE_DECLARED, 0.002, true, -1);
	check(&p, LEVEL_LINE_DECLARED, 0.0078, true, 1);
	check(&p, LEVEL_LINE_WATER, 0.003, true, -1);
	check(&p, LEVEL_LINE_WATER, 0.082, true, -1);
	check(&p, LEVEL_LINE_WATER, 0.002142933, true, -1);
}
END_TEST

/* An error of a mark acts one way at the start and the other way at the end, and so does the floor
 * of the water there. */
START_TEST(test_marks)
{
	struct level_terms t = terms();
	struct level_ends alike = ends;
	struct level_source forth[LEVEL_SOURCES_MOST], back[LEVEL_SOURCES_MOST];
	struct level_identity there = identity(false), home = identity(true);
	struct level_drop_sums sums = crossing(&t);
	size_t count, other;
	int marks = 0, floors = 0;
	alike.known_u[1] = 0.001;
	count = level_sources(&sums, &t, &alike, &there, forth);
	other = level_sources(&sums, &t, &alike, &home, back);
	for (size_t i = 0; i < count; i++)
		for (size_t j = 0; j < other; j++) {
			if (!level_key_same(&forth[i].key, &back[j].key))
				continue;
			ck_assert_int_eq(forth[i].line, back[j].line);
			if (forth[i].line == LEVEL_LINE_KNOWN) {
				ck_assert_double_eq_tol(forth[i].u, -back[j].u, 1e-15);
				marks++;
			}
			if (forth[i].line == LEVEL_LINE_WATER && fabs(forth[i].bound) == 0.002) {
				ck_assert_double_eq_tol(forth[i].u, -back[j].u, 1e-15);
				floors++;
			}
		}
	ck_assert_int_eq(marks, 2);
	ck_assert_int_eq(floors, 2);
	/* D = known end - known start */
	ck_assert_double_lt(find(forth, count, LEVEL_LINE_WATER, 0.0012)->u, 0);
	ck_assert_double_gt(find(forth, count, LEVEL_LINE_WATER, 0.0014)->u, 0);
}
END_TEST

/* With another tilt found the level is another one: tilt and drift are not shared. */
START_TEST(test_another_state)
{
	struct level_terms t = terms();
	struct level_identity before = identity(false), after = identity(false);
	struct pair p;
	after.state[0] = 11;
	p = both(&t, &before, &t, &after);
	check(&p, LEVEL_LINE_INSTRUMENT, 0.078, false, 1);
	check(&p, LEVEL_LINE_DRIFT, 0.0156, false, 1);
}
END_TEST

/* Other marks share nothing but the level and what goes with its slope. */
START_TEST(test_elsewhere)
{
	struct level_terms t = terms();
	struct level_identity here = identity(false), there = identity(false);
	struct pair p;
	there.pair = 20;
	there.start = 21;
	there.end = 22;
	p = both(&t, &here, &t, &there);
	check(&p, LEVEL_LINE_INSTRUMENT, 0.078, true, 1);
	check(&p, LEVEL_LINE_DECLARED, 0.002, false, 1);
	check(&p, LEVEL_LINE_DECLARED, 0.0078, true, 1);
	check(&p, LEVEL_LINE_WATER, 0.003, false, 1);
	check(&p, LEVEL_LINE_WATER, 0.082, false, 1);
	check(&p, LEVEL_LINE_KNOWN, 0.002, false, 1);
}
END_TEST

/* A tilt upward makes far readings too large, and the drop too small: a tested one counts with u,
 * and its limit is t u, 3.182 u of four sets (JCGM 100:2008, table G.2). */
START_TEST(test_tested_tilt)
{
	struct level_terms t = terms();
	struct level_drop_sums sums = crossing(&t);
	struct level_source list[LEVEL_SOURCES_MOST];
	struct level_identity who = identity(false);
	t.instrument[0] =
	    (struct level_instrument){.tolerance = 0.0001, .tested = true, .u = 0.00001, .sets = 4};
	level_sources(&sums, &t, &ends, &who, list);
	ck_assert_int_eq(list[0].line, LEVEL_LINE_INSTRUMENT);
	ck_assert_int_eq(list[0].instrument, 0);
	ck_assert_double_eq_tol(list[0].u, 0.0078, 1e-15);
	ck_assert_double_eq_tol(list[0].bound, 3.182 * 0.0078, 5e-6);
	ck_assert_double_eq_tol(list[0].sampled.variance, 0.0078 * 0.0078, 1e-15);
	ck_assert_double_eq_tol(list[0].sampled.fourth, pow(0.0078, 4) / 3, 1e-18);
	t.instrument[0].sets = 0;
	level_sources(&sums, &t, &ends, &who, list);
	ck_assert_double_eq_tol(list[0].bound, 2 * 0.0078, 1e-15);
	ck_assert_double_eq(list[0].sampled.variance, 0);
	ck_assert_int_eq(list[1].instrument, -1);
	/* one set has no spread of its own */
	t.instrument[0].sets = 1;
	level_sources(&sums, &t, &ends, &who, list);
	ck_assert_double_eq_tol(list[0].bound, 2 * 0.0078, 1e-15);
	ck_assert_double_eq(list[0].sampled.variance, 0);
}
END_TEST

/* What nobody is named for, nobody shares. */
START_TEST(test_nobody)
{
	static const struct level_identity nobody;
	struct level_terms t = terms();
	struct pair p = both(&t, &nobody, &t, &nobody);
	for (size_t i = 0; i < p.here_count; i++)
		for (size_t j = 0; j < p.there_count; j++)
			ck_assert(!level_key_same(&p.here[i].key, &p.there[j].key));
}
END_TEST

/* Lengths by tape, map or step that are equal are one; by wires each is its own. 800 m by map: u(d)
 * 8 m; b = sum s d; a = sum s (t - k d/R0). */
START_TEST(test_lengths)
{
	struct level_terms t = usual_terms();
	struct level_identity who = identity(false);
	struct level_length list[LEVEL_LENGTHS_MOST];
	size_t count = 0;
	t.distance_u[LEVEL_MAPPED] = t.distance_u[LEVEL_WIRED] = 0.01;
	t.distance_u[LEVEL_TAPED] = 0.001;
	level_length_add(list, &count, &t, &who, 1, 10, LEVEL_TAPED, 0);
	level_length_add(list, &count, &t, &who, -1, 800, LEVEL_MAPPED, 0);
	level_length_add(list, &count, &t, &who, -1, 800, LEVEL_MAPPED, 0);
	level_length_add(list, &count, &t, &who, -1, 800, LEVEL_WIRED, 0);
	level_length_add(list, &count, &t, &who, -1, 800, LEVEL_WIRED, 0);
	ck_assert_uint_eq(count, 4);
	ck_assert_double_eq_tol(list[0].u, 0.010, 1e-15);
	ck_assert_double_eq_tol(list[1].u, 8, 1e-12);
	ck_assert_double_eq_tol(list[1].b, -1600, 1e-12);
	ck_assert_double_eq_tol(list[1].a, 2 * 0.13 * 800 / 6371000, 1e-15);
	ck_assert_double_eq_tol(list[2].b, -800, 1e-12);
	ck_assert(!level_key_same(&list[2].key, &list[3].key));
	/* where the list is full, the rest joins its last */
	for (int i = 0; i < 2 * LEVEL_LENGTHS_MOST; i++)
		level_length_add(list, &count, &t, &who, 1, 1000 + i, LEVEL_MAPPED, 0);
	ck_assert_uint_eq(count, LEVEL_LENGTHS_MOST);
}
END_TEST

int main(void)
{
	return RUN_TESTS("sources", test_same_crossing_another_day, test_same_day, test_back,
	                 test_marks, test_another_state, test_elsewhere, test_tested_tilt,
	                 test_nobody, test_lengths);
}
