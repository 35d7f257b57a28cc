/* Two epochs of small nets, reckoned by hand, and of a published one. */
#include <math.h>

#include "sights.h"
#include "suite.h"
#include "two_epochs.h"

/* One known mark A and a mark P, two lines of 1 km each time. First P stands 1.001 m above A (1.000
 * and 1.002), then 0.991 (0.990 and 0.992): residuals 1 mm, s^2 = 2 mm^2 with 1 degree of freedom
 * each time, pooled 2 mm^2 with 2; q = 1/2 each time, so the change of -10 mm has the standard
 * deviation sqrt(2 (1/2 + 1/2)) = 1.414 mm. t of 2 degrees of freedom is 4.303, of infinitely many
 * 1.960 (tables of t, recalled). */
static const struct level_net_mark one_held[] = {{"A", true, METRES(10)}, {"P", false, 0}};
static const struct level_net_line first_lines[] = {{0, 1, MM(1000), 1}, {0, 1, MM(1002), 1}};
static const struct level_net_line second_lines[] = {{0, 1, MM(990), 1}, {1, 0, -MM(992), 1}};

START_TEST(test_by_hand)
{
	struct pair p;
	const struct level_change *c;
	compare(&p, LIST(one_held), LIST(first_lines), LIST(second_lines), 0);
	ck_assert_uint_eq(p.out.count, 1);
	c = p.out.change;
	ck_assert_uint_eq(c->mark.first, 1);
	ck_assert_int_eq(c->before, MM(11001));
	ck_assert_int_eq(c->after, MM(10991));
	ck_assert_int_eq(c->change, -MM(10));
	ck_assert_int_eq(p.out.freedom, 2);
	ck_assert(p.out.has_variance);
	ck_assert_double_eq_tol(p.out.variance, 2e-6, 1e-15);
	ck_assert_double_eq_tol(c->sd, sqrt(2e-6), 1e-12);
	ck_assert_double_eq_tol(c->limit, 4.303 * sqrt(2e-6), 1e-6);
	ck_assert(c->has_sd && c->has_limit && c->significant == LEVEL_YES);
	done(&p);
}
END_TEST

START_TEST(test_stated)
{
	/* 6 mm stated: sd 6 mm, limit 11.76 mm: the same change is none. 5 mm: 9.80 mm. */
	struct pair p;
	compare(&p, LIST(one_held), LIST(first_lines), LIST(second_lines), 0.006);
	ck_assert_double_eq_tol(p.out.change->sd, 0.006, 1e-12);
	ck_assert_double_eq_tol(p.out.change->limit, 0.011760, 1e-6);
	ck_assert_int_eq(p.out.change->significant, LEVEL_NO);
	done(&p);
	compare(&p, LIST(one_held), LIST(first_lines), LIST(second_lines), 0.005);
	ck_assert_double_eq_tol(p.out.change->limit, 0.009800, 1e-6);
	ck_assert_int_eq(p.out.change->significant, LEVEL_YES);
	done(&p);
}
END_TEST

START_TEST(test_pooled)
{
	/* Three lines in the second epoch: 0.990, 0.993, 0.996, so s^2 = 18/2 mm^2 with 2 degrees
	 * of freedom; pooled with 2 mm^2 of 1: (1 x 2 + 2 x 9)/3 = 6.667. q 1/2 and 1/3. */
	const struct level_net_line three[] = {
	    {0, 1, MM(990), 1}, {0, 1, MM(993), 1}, {0, 1, MM(996), 1}};
	struct pair p;
	compare(&p, LIST(one_held), LIST(first_lines), LIST(three), 0);
	ck_assert_int_eq(p.out.freedom, 3);
	ck_assert_double_eq_tol(p.out.variance, 20e-6 / 3, 1e-15);
	ck_assert_double_eq_tol(p.out.change->sd, sqrt(20e-6 / 3 * (1.0 / 2 + 1.0 / 3)), 1e-12);
	/* t of 3 degrees of freedom: 3.182 (tables, recalled). */
	ck_assert_double_eq_tol(p.out.factor, 3.182, 5e-4);
	done(&p);
	/* One epoch without a degree of freedom adds none: 2 mm^2 with 1, t 12.706. */
	compare(&p, LIST(one_held), LIST(first_lines), second_lines, 1, 0);
	ck_assert_int_eq(p.out.freedom, 1);
	ck_assert_double_eq_tol(p.out.variance, 2e-6, 1e-15);
	ck_assert_double_eq_tol(p.out.change->sd, sqrt(2e-6 * 1.5), 1e-12);
	ck_assert_double_eq_tol(p.out.factor, 12.706, 5e-4);
	done(&p);
}
END_TEST

START_TEST(test_nothing_checks)
{
	/* One line each time: no degree of freedom, so no standard deviation and no limit. */
	struct pair p;
	compare(&p, LIST(one_held), first_lines, 1, second_lines, 1, 0);
	ck_assert_int_eq(p.out.change->change, -MM(10));
	ck_assert(!p.out.has_variance && !p.out.change->has_sd && !p.out.change->has_limit);
	ck_assert_int_eq(p.out.change->significant, LEVEL_UNKNOWN);
	ck_assert_double_eq(p.out.factor, 0);
	ck_assert_int_eq(p.out.agrees, LEVEL_UNKNOWN);
	done(&p);
	/* A stated one does without. */
	compare(&p, LIST(one_held), first_lines, 1, second_lines, 1, 0.001);
	ck_assert_double_eq_tol(p.out.change->sd, sqrt(2e-6), 1e-12);
	ck_assert_int_eq(p.out.change->significant, LEVEL_YES);
	done(&p);
}
END_TEST

START_TEST(test_one_held)
{
	/* A held mark alone is on no trial. */
	struct pair p;
	compare(&p, LIST(one_held), LIST(first_lines), LIST(second_lines), 0.001);
	ck_assert_uint_eq(p.out.held_count, 1);
	ck_assert_uint_eq(p.out.tested, 0);
	ck_assert(p.out.held[0].untied);
	ck_assert_int_eq(p.out.agrees, LEVEL_UNKNOWN);
	ck_assert_int_eq(p.out.fits, LEVEL_UNKNOWN);
	done(&p);
}
END_TEST

/* The first epoch: data of Strang and Borre, Linear Algebra, Geodesy, and GPS, 1997, ch. 8
 * (recalled). No published pair of epochs is recalled reliably, so the second one is made of it:
 * the line from A to E reads 40 mm less. Both reckoned outside of this program, by normal equations
 * written out and inverted in Python: then E 10.744503, F 11.997620 m and s^2 5.56339e-5, now
 * E 10.729066, F 11.991881 m and s^2 1.596729e-4, 3 degrees of freedom each; pooled 1.076534e-4.
 * Free on A, with 1 degree each, pooled 1.621244e-4: B has changed by -26.443 mm, sd 23.556, C by
 * -14.004, sd 23.897. t of 6 degrees of freedom is 2.447 (tables, recalled). */
START_TEST(test_published)
{
	const struct level_net_mark marks[] = {{"A", true, MM(10021)},
	                                       {"B", true, MM(10321)},
	                                       {"C", true, MM(11002)},
	                                       {"E", false, 0},
	                                       {"F", false, 0}};
	enum { A, B, C, E, F };
	const struct level_net_line then[] = {{A, E, MM(732), 0.970},
	                                      {A, F, MM(1978), 1.002},
	                                      {B, E, MM(420), 1.070},
	                                      {C, F, MM(988), 1.110},
	                                      {E, F, MM(1258), 0.890}},
	                            now[] = {{A, E, MM(692), 0.970},
	                                     {A, F, MM(1978), 1.002},
	                                     {B, E, MM(420), 1.070},
	                                     {C, F, MM(988), 1.110},
	                                     {E, F, MM(1258), 0.890}};
	struct pair p;
	const struct level_change *e, *f;
	compare(&p, LIST(marks), LIST(then), LIST(now), 0);
	ck_assert_uint_eq(p.out.count, 2);
	e = &p.out.change[0];
	f = &p.out.change[1];
	ck_assert_double_eq_tol(level_to_meters(e->before), 10.744503, 5e-7);
	ck_assert_double_eq_tol(level_to_meters(e->after), 10.729066, 5e-7);
	ck_assert_double_eq_tol(level_to_meters(e->change), -0.015436441, 1e-9);
	ck_assert_double_eq_tol(level_to_meters(f->change), -0.005738400, 1e-9);
	ck_assert_int_eq(p.out.freedom, 6);
	ck_assert_double_eq_tol(p.out.variance, 1.0765340e-4, 1e-11);
	ck_assert_double_eq_tol(e->sd, 0.008977561, 1e-9);
	ck_assert_double_eq_tol(f->sd, 0.009075934, 1e-9);
	ck_assert_double_eq_tol(e->limit, 2.447 * 0.008977561, 2e-6);
	ck_assert_int_eq(e->significant, LEVEL_NO);
	ck_assert_int_eq(p.out.free_freedom, 2);
	ck_assert_double_eq_tol(p.out.free_variance, 1.6212439e-4, 1e-11);
	ck_assert_double_eq_tol(level_to_meters(p.out.held[1].change), -0.026443047, 1e-9);
	ck_assert_double_eq_tol(p.out.held[1].sd, 0.023555652, 1e-9);
	ck_assert_double_eq_tol(level_to_meters(p.out.held[2].change), -0.014004193, 1e-9);
	ck_assert_double_eq_tol(p.out.held[2].sd, 0.023896973, 1e-9);
	ck_assert_int_eq(p.out.agrees, LEVEL_YES);
	done(&p);
	/* With 3 mm stated E has changed by more than its limit: 1.960 x 3 mm x root of 2 x
	 * 0.37433.
	 */
	compare(&p, LIST(marks), LIST(then), LIST(now), 0.003);
	ck_assert_double_eq_tol(p.out.change[0].limit, 0.0050876, 2e-6);
	ck_assert_int_eq(p.out.change[0].significant, LEVEL_YES);
	done(&p);
}
END_TEST

int main(void)
{
	return RUN_TESTS("changes", test_by_hand, test_stated, test_pooled, test_nothing_checks,
	                 test_one_held, test_published);
}
