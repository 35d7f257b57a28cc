/* What a set asks for beside the misclosure: sight lengths, imbalances, half intervals. FGCC,
 * Standards and Specifications for Geodetic Control Networks, 1984 (recalled): first order class I
 * 50 m, 2 and 4 m; class II 60 m, 5 and 10 m; second order 60 and 70 m, 5 and 10 m, 10 m; third 90
 * m, 10 and 10 m, half intervals 0.3 of a rod unit. */
#include "closed.h"

#include <string.h>

struct expected {
	const char *kept, *next;
	enum level_limit broken;
	level_nm by;
};

/* A loop out and back with these distances, closing exactly but for the air and the Earth. */
static void check(const double d[4], const struct expected *want)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), level_from_meters(d[0])),
	    sight(LEVEL_FS, "B", MM(1200), level_from_meters(d[1])),
	    sight(LEVEL_BS, "B", MM(1200), level_from_meters(d[2])),
	    sight(LEVEL_FS, "A", MM(1500), level_from_meters(d[3])),
	};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_closing got = closed(&run, "third-order", 0);
	ck_assert_str_eq(got.kept ? got.kept->name : "none", want->kept);
	ck_assert_str_eq(got.next ? got.next->name : "none", want->next);
	ck_assert_int_eq(got.broken, want->broken);
	if (want->broken != LEVEL_LIMIT_NONE)
		ck_assert_int_eq(got.broken_by, want->by);
}

START_TEST(test_limits)
{
	check((double[]){50, 50, 50, 50}, &(struct expected){"first-order-1", "none", 0, 0});
	check((double[]){50.1, 50.1, 50, 50},
	      &(struct expected){"first-order-2", "first-order-1", LEVEL_LIMIT_SIGHT, 50100000000});
	check((double[]){40, 43, 43, 40},
	      &(struct expected){"first-order-2", "first-order-1", LEVEL_LIMIT_SETUP_IMBALANCE,
	                         METRES(3)});
	/* 4.9 m a setup, 9.8 m in the sum of both: within 5 and 10 */
	check((double[]){44.9, 40, 44.9, 40},
	      &(struct expected){"first-order-2", "first-order-1", LEVEL_LIMIT_SETUP_IMBALANCE,
	                         4900000000});
	check((double[]){65, 65, 65, 65}, &(struct expected){"second-order-2", "second-order-1",
	                                                     LEVEL_LIMIT_SIGHT, METRES(65)});
	check((double[]){90, 90, 90, 90},
	      &(struct expected){"third-order", "second-order-2", LEVEL_LIMIT_SIGHT, METRES(90)});
	check((double[]){91, 91, 91, 91},
	      &(struct expected){"construction", "third-order", LEVEL_LIMIT_SIGHT, METRES(91)});
	check((double[]){80, 69, 69, 80},
	      &(struct expected){"construction", "third-order", LEVEL_LIMIT_SETUP_IMBALANCE,
	                         METRES(11)});
	/* 6 and 5.5 m a setup are within 10, their sum is not */
	check((double[]){50, 44, 50, 44.5}, &(struct expected){"construction", "third-order",
	                                                       LEVEL_LIMIT_IMBALANCE, 11500000000});
}
END_TEST

/* 1.600, 1.500, 1.404: half intervals 100 and 96 mm, 4 apart, over the 3 of a centimeter rod. */
START_TEST(test_half_intervals)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), METRES(20)), sight(LEVEL_FS, "B", MM(1500), METRES(20)),
	    sight(LEVEL_BS, "B", MM(1500), METRES(20)), sight(LEVEL_FS, "A", MM(1500), METRES(20))};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_closing got;
	sights[1].wires = true;
	sights[1].upper = MM(1600);
	sights[1].middle = MM(1500);
	sights[1].lower = MM(1404);
	ck_assert_int_eq(level_half_difference(&sights[1]), MM(4));
	got = closed(&run, "third-order", 0);
	ck_assert_str_eq(got.kept->name, "construction");
	ck_assert_int_eq(got.broken, LEVEL_LIMIT_HALF);
	sights[1].lower = MM(1403);
	got = closed(&run, "third-order", 0);
	ck_assert_str_eq(got.kept->name, "first-order-1");
	ck_assert_ptr_null(got.next);
}
END_TEST

/* A set of the book's own that is to be graded stands among the others by its strictness: 5 mm
 * between the second class of the first order and the first of the second. */
START_TEST(test_graded_own_set)
{
	struct level_sight sights[] = {known(sight(LEVEL_BS, "A", MM(1500), METRES(50)), 0, 0),
	                               sight(LEVEL_FS, "B", MM(1500), METRES(50)),
	                               sight(LEVEL_BS, "B", MM(1500), METRES(50)),
	                               known(sight(LEVEL_FS, "C", MM(1500), METRES(50)), MM(2), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	struct level_tolerance own;
	struct level_closing got;
	/* misses by 2 mm: over 4 sqrt 0.2 = 1.79 mm, within 5 sqrt 0.2 = 2.24 mm */
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert(level_parse_tolerance("dam", "graded=yes; section=5 mm", &own, NULL));
	got = level_close(&run, &page, &with, &own, 0);
	ck_assert_str_eq(got.kept->name, "dam");
	ck_assert_str_eq(got.next->name, "first-order-2");
	ck_assert_str_eq(got.grade, "dam");
	/* 1 mm: not kept, and the others follow */
	ck_assert(level_parse_tolerance("dam", "graded=yes; section=1 mm", &own, NULL));
	got = level_close(&run, &page, &with, &own, 0);
	ck_assert_str_eq(got.kept->name, "second-order-1");
	/* laxest of all, and not to be graded */
	ck_assert(level_parse_tolerance("dam", "graded=yes; section=90 mm", &own, NULL));
	ck_assert_str_eq(level_close(&run, &page, &with, &own, 0).kept->name, "second-order-1");
	sights[3].known = MM(30);
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert_str_eq(level_close(&run, &page, &with, &own, 0).kept->name, "dam");
	ck_assert(level_parse_tolerance("dam", "section=90 mm", &own, NULL));
	ck_assert_ptr_null(level_close(&run, &page, &with, &own, 0).kept);
	level_page_free(&page);
}
END_TEST

/* Rises of two standings 4 mm apart: over the 3 mm (common practice, no source) of every set. */
START_TEST(test_standings)
{
	struct level_sight sights[] = {known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), 0, 0),
	                               sight(LEVEL_FS, "B", MM(1500), METRES(20)),
	                               sight(LEVEL_BS, "A", MM(1504), METRES(20)),
	                               known(sight(LEVEL_FS, "B", MM(1500), METRES(20)), MM(2), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_closing got;
	sights[2].again = true;
	got = closed(&run, "third-order", 0);
	ck_assert_int_eq(got.misclosure, 0);
	ck_assert_int_eq(got.standings, MM(4));
	ck_assert_ptr_null(got.kept);
	ck_assert_int_eq(got.broken, LEVEL_LIMIT_STANDINGS);
}
END_TEST

/* Without distances nothing is known to be kept. */
START_TEST(test_unknown)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), 0),
	                               sight(LEVEL_FS, "A", MM(1500), 0)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_closing got = closed(&run, "setups", 0.002);
	ck_assert_ptr_null(got.kept);
	ck_assert_ptr_null(got.next);
}
END_TEST

/* A book's own set: "name=value; ..." with units. */
START_TEST(test_own_set)
{
	struct level_tolerance set;
	struct fault why = {0};
	ck_assert(level_parse_tolerance(
	    "town", "section=10 mm; sight=0.05 km; tilt=5 arcsec; source=the town's own rule", &set,
	    &why));
	ck_assert_double_eq(set.per_km[0], 0.010);
	ck_assert_double_eq(set.per_km[1], 0.010);
	ck_assert_double_eq(set.sight, 50);
	ck_assert_double_eq_tol(set.tilt, 24.2407e-6, 1e-10);
	ck_assert_str_eq(set.title, "town");
	ck_assert_str_eq(set.source, "the town's own rule");
	ck_assert(!set.graded);
	ck_assert(!level_parse_tolerance("town", "section=10", &set, &why));
	ck_assert(!level_parse_tolerance("town", "section", &set, &why));
	ck_assert(!level_parse_tolerance("town", "color=red", &set, &why));
	ck_assert(!level_parse_tolerance("town", "section=-1 mm", &set, &why));
	ck_assert(!level_parse_tolerance("", "section=1 mm", &set, &why));
}
END_TEST

int main(void)
{
	return RUN_TESTS("limits", test_limits, test_half_intervals, test_unknown,
	                 test_graded_own_set, test_own_set, test_standings);
}
