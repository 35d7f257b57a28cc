/* How large a misclosure may be. */
#include "rodbook/level/tolerance.h"

#include <math.h>
#include <string.h>

#include "suite.h"

static double allowed(const char *name, enum level_run_kind kind, double km, int setups)
{
	const struct level_tolerance *set = level_tolerance_find(name, NULL);
	double out = -1;
	ck_assert_ptr_nonnull(set);
	ck_assert(level_allowable(set, kind, true, km, setups, 0.002, &out));
	return out;
}

/* FGCC, Standards and Specifications for Geodetic Control Networks, 1984, sec. 3.5 (recalled):
 * section 3, 4, 6, 8, 12 and loop 4, 5, 6, 8, 12 mm x sqrt(K). US Army Corps of Engineers EM
 * 1110-1-1005, 2007 (recalled): ordinary construction 24 mm x sqrt(K). */
START_TEST(test_by_length)
{
	static const struct {
		const char *name;
		double section, loop; /* mm at 1 km */
	} table[] = {
	    {"first-order-1", 3, 4},  {"first-order-2", 4, 5}, {"second-order-1", 6, 6},
	    {"second-order-2", 8, 8}, {"third-order", 12, 12}, {"construction", 24, 24},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		double section = table[i].section / 1000, loop = table[i].loop / 1000;
		ck_assert_double_eq_tol(allowed(table[i].name, LEVEL_LINK, 1, 9), section, 1e-12);
		ck_assert_double_eq_tol(allowed(table[i].name, LEVEL_LOOP, 1, 9), loop, 1e-12);
		ck_assert_double_eq_tol(allowed(table[i].name, LEVEL_OPEN, 1, 9), section, 1e-12);
		ck_assert_double_eq_tol(allowed(table[i].name, LEVEL_CROSSING, 1, 9), section,
		                        1e-12);
		/* four times as long, twice as much; a quarter, half */
		ck_assert_double_eq_tol(allowed(table[i].name, LEVEL_LINK, 4, 9), 2 * section,
		                        1e-12);
		ck_assert_double_eq_tol(allowed(table[i].name, LEVEL_LOOP, 0.25, 9), loop / 2,
		                        1e-12);
	}
	/* 12 mm x sqrt 2.25 */
	ck_assert_double_eq_tol(allowed("third-order", LEVEL_LINK, 2.25, 1), 0.018, 1e-12);
}
END_TEST

/* EM 1110-1-1005 (recalled) gives 0.1 ft x sqrt(miles) for 24 mm x sqrt(K), and 0.05 for third
 * order's 12: the same to about one in a thousand. */
START_TEST(test_feet_and_miles)
{
	for (double miles = 0.1; miles < 30; miles *= 1.7) {
		double foot = 0.3048, km = miles * 1.609344;
		double construction = 0.1 * sqrt(miles) * foot, third = 0.05 * sqrt(miles) * foot;
		ck_assert_double_eq_tol(allowed("construction", LEVEL_LINK, km, 1), construction,
		                        0.0012 * construction);
		ck_assert_double_eq_tol(allowed("third-order", LEVEL_LINK, km, 1), third,
		                        0.0012 * third);
	}
}
END_TEST

/* USGS Techniques and Methods 3-A19, Kenney, 2010: 0.003 ft x sqrt(n), never over 0.015 ft. */
START_TEST(test_stream_gauge)
{
	static const struct {
		int setups;
		double feet;
	} table[] = {{1, 0.003},  {4, 0.006},  {9, 0.009},  {24, 0.0146969},
	             {25, 0.015}, {26, 0.015}, {400, 0.015}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_double_eq_tol(allowed("stream-gauge", LEVEL_LOOP, 1, table[i].setups) /
		                            0.3048,
		                        table[i].feet, 1e-7);
}
END_TEST

/* m x sqrt(n) with m given: common practice, no source. */
START_TEST(test_setups)
{
	ck_assert_double_eq_tol(allowed("setups", LEVEL_LINK, 1, 1), 0.002, 1e-12);
	ck_assert_double_eq_tol(allowed("setups", LEVEL_LOOP, 1, 16), 0.008, 1e-12);
	ck_assert_double_eq_tol(allowed("setups", LEVEL_LOOP, 100, 16), 0.008, 1e-12);
}
END_TEST

/* Without a length, or without a setup, there is nothing to judge by. */
START_TEST(test_unknown)
{
	const struct level_tolerance *third = level_tolerance_find("third-order", NULL);
	const struct level_tolerance *gauge = level_tolerance_find("stream-gauge", NULL);
	double out = -1;
	ck_assert(!level_allowable(third, LEVEL_LOOP, false, 1, 4, 0, &out));
	ck_assert(!level_allowable(third, LEVEL_LOOP, true, 0, 4, 0, &out));
	ck_assert(!level_allowable(gauge, LEVEL_LOOP, true, 1, 0, 0, &out));
	ck_assert(!level_allowable(level_tolerance_find("setups", NULL), LEVEL_LOOP, true, 1, 4, 0,
	                           &out));
	ck_assert_double_eq(out, -1);
	ck_assert(level_allowable(gauge, LEVEL_LOOP, false, 0, 4, 0, &out));
	ck_assert_double_eq_tol(out, 0.0018288, 1e-12);
}
END_TEST

START_TEST(test_sets)
{
	size_t count = 0;
	const struct level_tolerance *sets = level_tolerances(&count);
	double before[2] = {0, 0};
	ck_assert_uint_eq(count, 8);
	ck_assert_str_eq(sets[count - 1].name, "setups");
	for (size_t i = 0; i < count; i++) {
		ck_assert_ptr_eq(level_tolerance_find(sets[i].name, NULL), &sets[i]);
		ck_assert_uint_gt(strlen(sets[i].title), 0);
		ck_assert_uint_gt(strlen(sets[i].source), 0);
		if (!sets[i].graded)
			continue;
		/* strictest first, so that the first one met is the grade */
		for (int j = 0; j < 2; j++) {
			ck_assert_double_gt(sets[i].per_km[j], before[j]);
			before[j] = sets[i].per_km[j];
		}
	}
	ck_assert_ptr_null(level_tolerance_find("fourth-order", NULL));
	ck_assert_ptr_null(level_tolerance_find("", NULL));
}
END_TEST

int main(void)
{
	return RUN_TESTS("tolerance", test_by_length, test_feet_and_miles, test_stream_gauge,
	                 test_setups, test_unknown, test_sets);
}
