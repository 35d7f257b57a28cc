/* Held marks of two epochs on trial, in small nets reckoned by hand. */
#include "sights.h"
#include "suite.h"
#include "two_epochs.h"

/* Two held marks, joined by lines of 1 km through P: B rises by 10 mm over A. With 1 mm stated the
 * change between them has sqrt(2 + 2) = 2 mm and the limit 1.960 x 2, for m = 1. */
START_TEST(test_two_held)
{
	const struct level_net_mark marks[] = {
	    {"A", true, METRES(10)}, {"B", true, METRES(12)}, {"P", false, 0}};
	const struct level_net_line then[] = {{0, 2, MM(1000), 1}, {2, 1, MM(1000), 1}},
	                            now[] = {{0, 2, MM(1005), 1}, {2, 1, MM(1005), 1}};
	struct pair p;
	compare(&p, LIST(marks), LIST(then), LIST(now), 0.001);
	ck_assert_uint_eq(p.out.tested, 1);
	ck_assert_int_eq(p.out.agrees, LEVEL_NO);
	ck_assert_uint_eq(p.out.held[0].from, 0);
	ck_assert_uint_eq(p.out.held[1].from, 0);
	ck_assert_int_eq(p.out.held[1].change, MM(10));
	ck_assert_double_eq_tol(p.out.held[1].sd, 0.002, 1e-12);
	ck_assert_double_eq_tol(p.out.held[1].limit, 0.003920, 1e-6);
	ck_assert_int_eq(p.out.held[1].moved, LEVEL_YES);
	/* Which of two has moved cannot be told. */
	ck_assert_uint_eq(p.out.explaining, 2);
	/* Between held marks P has not changed: 1/2 of each line. */
	ck_assert_int_eq(p.out.change->change, 0);
	done(&p);
	compare(&p, LIST(marks), LIST(then), LIST(now), 0.004);
	ck_assert_int_eq(p.out.agrees, LEVEL_YES);
	ck_assert_int_eq(p.out.held[1].moved, LEVEL_NO);
	ck_assert_uint_eq(p.out.explaining, 0);
	done(&p);
	/* Free, each net has 2 lines and 2 loose marks: without a stated one nothing is known. */
	compare(&p, LIST(marks), LIST(then), LIST(now), 0);
	ck_assert_int_eq(p.out.freedom, 2);
	ck_assert_int_eq(p.out.free_freedom, 0);
	ck_assert_int_eq(p.out.agrees, LEVEL_UNKNOWN);
	done(&p);
}
END_TEST

/* A star of lines of 1 km from P to the held marks A to D, the one moved by so many mm. */
static void star(struct pair *p, size_t held, size_t moved, int mm, double sigma)
{
	static const struct level_net_mark marks[] = {{"A", true, METRES(10)},
	                                              {"B", true, METRES(11)},
	                                              {"C", true, METRES(12)},
	                                              {"D", true, METRES(13)},
	                                              {"P", false, 0}};
	static struct level_net_mark used[5];
	static struct level_net_line lines[2][4];
	for (size_t i = 0; i < held; i++) {
		used[i] = marks[i];
		lines[0][i] = (struct level_net_line){held, i, MM(1000 * (int)i), 1};
		lines[1][i] = lines[0][i];
		lines[1][i].rise += i == moved ? MM(mm) : 0;
	}
	used[held] = marks[4];
	compare(p, used, held + 1, lines[0], held, lines[1], held, sigma);
}

START_TEST(test_which_moved)
{
	/* Any one of three and of four, the first of them too, is named; from the first one seen,
	 * sd sqrt(2 x 2) mm, and for m = 2 and 3 the normal quantiles of 1 - 0.0125 and 1 - 0.00833
	 * are 2.2414 and 2.3940 (tables, recalled). */
	struct pair p;
	for (size_t held = 3; held <= 4; held++)
		for (size_t moved = 0; moved < held; moved++) {
			double limit = held == 3 ? 2.2414 : 2.3940;
			star(&p, held, moved, 10, 0.001);
			ck_assert_uint_eq(p.out.tested, held - 1);
			ck_assert_int_eq(p.out.agrees, LEVEL_NO);
			ck_assert_double_eq_tol(p.out.free_factor, limit, 1e-4);
			ck_assert_double_eq_tol(p.out.held[1].sd, 0.002, 1e-12);
			ck_assert_double_eq_tol(p.out.held[1].limit, 0.002 * limit, 1e-6);
			ck_assert_uint_eq(p.out.explaining, 1);
			for (size_t i = 0; i < held; i++)
				ck_assert_int_eq(p.out.held[i].explains, i == moved);
			for (size_t i = 1; i < held; i++)
				ck_assert_int_eq(p.out.held[i].moved,
				                 moved == 0 || moved == i ? LEVEL_YES : LEVEL_NO);
			done(&p);
		}
	/* Within the limit they agree, and none explains anything. */
	star(&p, 3, 1, 4, 0.001);
	ck_assert_int_eq(p.out.agrees, LEVEL_YES);
	ck_assert_uint_eq(p.out.explaining, 0);
	done(&p);
}
END_TEST

START_TEST(test_two_moved)
{
	/* A stays, B goes up by 20 and C by 40 mm: no single one explains it. */
	const struct level_net_mark marks[] = {
	    {"A", true, METRES(10)}, {"B", true, METRES(11)}, {"C", true, METRES(12)}};
	const struct level_net_line then[] = {{0, 1, MM(1000), 1}, {1, 2, MM(1000), 1}},
	                            now[] = {{0, 1, MM(1020), 1}, {1, 2, MM(1020), 1}};
	struct pair p;
	compare(&p, LIST(marks), LIST(then), LIST(now), 0.001);
	ck_assert_int_eq(p.out.agrees, LEVEL_NO);
	ck_assert_uint_eq(p.out.explaining, 0);
	ck_assert_uint_eq(p.out.count, 0);
	done(&p);
}
END_TEST

START_TEST(test_fits)
{
	/* Two lines of 1 km from A to P, 1.000 and 1.002, two from P to B, 1.009 and 1.011, the
	 * same both times: free each net has v'Pv = 4 mm^2 and 2 degrees of freedom, s^2 of both 2
	 * mm^2. Held on A and B, 2 m apart, the misfit of 11 mm with variance 1 adds 121 mm^2 and 1
	 * degree: F = 121/2 = 60.5, and F of 2 and 4 at 95 % is 6.944 (tables, recalled). */
	const struct level_net_mark marks[] = {
	    {"A", true, METRES(10)}, {"B", true, METRES(12)}, {"P", false, 0}};
	struct level_net_line lines[] = {
	    {0, 2, MM(1000), 1}, {0, 2, MM(1002), 1}, {2, 1, MM(1009), 1}, {2, 1, MM(1011), 1}};
	struct pair p;
	compare(&p, LIST(marks), LIST(lines), LIST(lines), 0);
	ck_assert_int_eq(p.out.freedom, 6);
	ck_assert_double_eq_tol(p.out.variance, 250e-6 / 6, 1e-15);
	ck_assert_int_eq(p.out.free_freedom, 4);
	ck_assert_double_eq_tol(p.out.free_variance, 2e-6, 1e-15);
	ck_assert_int_eq(p.out.fits, LEVEL_NO);
	/* It is the same both times, so the marks hold. */
	ck_assert_int_eq(p.out.agrees, LEVEL_YES);
	done(&p);
	/* Against 6 and 7 mm stated, 121/36 = 3.36 and 121/49 = 2.47: F of 2 and infinity is 2.996,
	 * half of chi-square, 5.991 (tables, recalled). */
	compare(&p, LIST(marks), LIST(lines), LIST(lines), 0.006);
	ck_assert_int_eq(p.out.fits, LEVEL_NO);
	done(&p);
	compare(&p, LIST(marks), LIST(lines), LIST(lines), 0.007);
	ck_assert_int_eq(p.out.fits, LEVEL_YES);
	done(&p);
	/* 3 mm: 9/2 = 4.5. */
	lines[2].rise = MM(1001);
	lines[3].rise = MM(1003);
	compare(&p, LIST(marks), LIST(lines), LIST(lines), 0);
	ck_assert_int_eq(p.out.fits, LEVEL_YES);
	done(&p);
	/* 4 mm: 16/2 = 8. */
	lines[2].rise = MM(1002);
	lines[3].rise = MM(1004);
	compare(&p, LIST(marks), LIST(lines), LIST(lines), 0);
	ck_assert_int_eq(p.out.fits, LEVEL_NO);
	done(&p);
}
END_TEST

/* A and B hang together in both epochs, C and D too, E on its own; nothing joins the three parts.
 * In the second epoch B is joined to C as well, which the first one does not know of. */
START_TEST(test_parts)
{
	const struct level_net_mark marks[] = {{"A", true, METRES(10)}, {"B", true, METRES(11)},
	                                       {"C", true, METRES(12)}, {"D", true, METRES(13)},
	                                       {"E", true, METRES(14)}, {"P", false, 0}};
	const struct level_net_line then[] = {{0, 1, MM(1000), 1},
	                                      {2, 3, MM(1000), 1},
	                                      {4, 5, 0, 1}},
	                            now[] = {{0, 1, MM(1000), 1},
	                                     {2, 3, MM(1010), 1},
	                                     {1, 2, MM(1000), 1},
	                                     {4, 5, 0, 1}};
	struct pair p;
	compare(&p, LIST(marks), LIST(then), LIST(now), 0.001);
	ck_assert_uint_eq(p.out.tested, 2);
	ck_assert(p.out.held[4].untied && !p.out.held[0].untied);
	ck_assert_uint_eq(p.out.held[1].from, 0);
	ck_assert_uint_eq(p.out.held[3].from, 2);
	ck_assert_int_eq(p.out.held[1].moved, LEVEL_NO);
	ck_assert_int_eq(p.out.held[3].moved, LEVEL_YES);
	ck_assert_int_eq(p.out.held[3].change, MM(10));
	ck_assert_int_eq(p.out.agrees, LEVEL_NO);
	/* C or D: each stands against the other alone. */
	ck_assert_uint_eq(p.out.explaining, 2);
	ck_assert(p.out.held[2].explains && p.out.held[3].explains);
	/* Free, each part is a tree. */
	ck_assert_int_eq(p.out.free_freedom, 0);
	done(&p);
	/* The other way round B and C are joined in the first epoch alone. */
	compare(&p, LIST(marks), LIST(now), LIST(then), 0.001);
	ck_assert_uint_eq(p.out.tested, 2);
	ck_assert_uint_eq(p.out.held[3].from, 2);
	ck_assert_int_eq(p.out.held[3].change, -MM(10));
	ck_assert_int_eq(p.out.free_freedom, 0);
	done(&p);
}
END_TEST

int main(void)
{
	return RUN_TESTS("changes_held", test_two_held, test_which_moved, test_two_moved, test_fits,
	                 test_parts);
}
