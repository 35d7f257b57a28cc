/* Warnings about sights as they stand alone. That a set's standard deviation may be three times
 * what the method reads by is common practice, no source. */
#include "rodbook/level/warnings.h"

#include <string.h>

#include "closed.h"

static struct level_warned warned(struct level_sight sight, double u)
{
	struct level_run run = {.kind = LEVEL_OPEN, .sight = &sight, .count = 1};
	struct level_page page = {0};
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS};
	struct level_warned out;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	out = level_warn(&run, &page, 0, level_tolerance_find("third-order", NULL), 0, u);
	level_page_free(&page);
	return out;
}

static bool has(struct level_warned warned, enum level_warning warning)
{
	return warned.set & 1u << warning;
}

START_TEST(test_spread)
{
	struct level_sight set = sight(LEVEL_BS, "PEG", MM(1432), METRES(30));
	ck_assert(!has(warned(set, 0.0008), LEVEL_WARN_SPREAD));
	set.set_count = 3;
	set.set_sd = 0.0024;
	ck_assert(!has(warned(set, 0.0008), LEVEL_WARN_SPREAD));
	set.set_sd = 0.0025;
	ck_assert(has(warned(set, 0.0008), LEVEL_WARN_SPREAD));
	ck_assert(!has(warned(set, 0.001), LEVEL_WARN_SPREAD));
}
END_TEST

/* 0.3 of a unit of the rod, 3 mm, may part the half intervals in third order (FGCC 1984, recalled).
 */
START_TEST(test_wires)
{
	struct level_sight wires = sight(LEVEL_BS, "PEG", MM(1432), METRES(30));
	wires.upper = MM(1582);
	wires.middle = MM(1430);
	wires.lower = MM(1282);
	ck_assert(!has(warned(wires, 0.001), LEVEL_WARN_HALF));
	wires.wires = true;
	ck_assert(has(warned(wires, 0.001), LEVEL_WARN_HALF));
	wires.middle = MM(1431);
	ck_assert(!has(warned(wires, 0.001), LEVEL_WARN_HALF));
}
END_TEST

/* A mark of an earlier setup, met again by its name. */
START_TEST(test_used_name)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), 0),   sight(LEVEL_FS, "TP1", MM(1400), 0),
	    sight(LEVEL_BS, "TP1", MM(1500), 0), sight(LEVEL_FS, "TP2", MM(1400), 0),
	    sight(LEVEL_BS, "TP2", MM(1500), 0), sight(LEVEL_FS, "TP1", MM(1400), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = {0};
	struct level_terms terms = usual_terms();
	struct level_warned out;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	out = level_warn(&run, &page, 5, level_tolerance_find("third-order", NULL), 0, 0.001);
	ck_assert(has(out, LEVEL_WARN_NAME));
	ck_assert_int_eq(out.setup, 1);
	out = level_warn(&run, &page, 3, level_tolerance_find("third-order", NULL), 0, 0.001);
	ck_assert(!has(out, LEVEL_WARN_NAME));
	level_page_free(&page);
}
END_TEST

/* What is read below zero is asked about once, and a line below a ceiling runs above no ground. */
START_TEST(test_below_zero)
{
	struct level_sight at = sight(LEVEL_BS, "CEILING", -MM(2100), METRES(30));
	char names[LEVEL_REMARK_BYTES];
	struct level_warned warned_of = warned(at, 0.001);
	ck_assert_uint_eq(warned_of.set, 1u << LEVEL_WARN_BELOW);
	level_warned_names(&warned_of, names);
	ck_assert_str_eq(names, "below zero");
	at.reading = 0;
	ck_assert(!has(warned(at, 0.001), LEVEL_WARN_BELOW));
	ck_assert(has(warned(at, 0.001), LEVEL_WARN_CLEARANCE));
	/* all names together have room beside a sight */
	warned_of.set = (1u << LEVEL_WARNINGS) - 1;
	level_warned_names(&warned_of, names);
	ck_assert_uint_le(strlen(names), LEVEL_REMARK_CHARS);
}
END_TEST

/* What a crossing shows: its BS over `near` m, its FS over `far` m reading `drop` mm more; the
 * water is read 10 times at both ends, or not at all. */
static double radius_shown(double near, double far, int drop, int waters)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(400), level_from_meters(near)),
	    sight(LEVEL_FS, "B", MM(400 + drop), level_from_meters(far))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms terms = usual_terms();
	struct level_closing closing;
	struct level_warned got = {0};
	sights[0].water_count = sights[1].water_count = waters;
	closing = closed_with(&run, &terms, "third-order", 0);
	level_warn_curvature(&run, &closing, &terms, &got);
	ck_assert_uint_eq(got.set, got.radius == 0 ? 0 : 1u << LEVEL_WARN_CURVATURE);
	ck_assert_int_eq(got.farthest, got.set ? level_from_meters(fmax(near, far)) : 0);
	return got.radius;
}

/* 1860 in for 1860 ft: 47.244 m. S'/2C by hand: (47.244^2 - 0.3048^2)/(2 (0.0220 + 0.13 x 2231.9/(2
 * x 6371000))) = 50.7 km. The same drop over 566.928 m is what the Earth shows. */
START_TEST(test_more_curvature_than_water_has)
{
	ck_assert_double_eq_tol(radius_shown(0.3048, 47.244, 22, 10), 50.7e3, 100);
	ck_assert_double_eq_tol(radius_shown(0.3048, 47.244, -22, 10), -50.8e3, 100);
	ck_assert_double_eq_tol(radius_shown(47.244, 0.3048, -22, 10), 50.7e3, 100);
	ck_assert(radius_shown(0.3048, 566.928, 22, 10) == 0);
	/* an ordinary sight, wherever its readings lie within what it is read by */
	for (int drop = -5; drop <= 5; drop++)
		ck_assert_msg(radius_shown(3, 65, drop, 10) == 0, "%d mm over 65 m", drop);
	/* nothing is shown while no water is read */
	ck_assert(radius_shown(0.3048, 47.244, 22, 0) == 0);
	ck_assert(radius_shown(3, 65, 1100, 0) == 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("warnings", test_spread, test_wires, test_used_name, test_below_zero,
	                 test_more_curvature_than_water_has);
}
