/* Crossings closed by water read at both shores, and what the water brings into the allowance; the
 * arithmetic by hand. Rules of combination: JCGM 100:2008 (GUM), 4.3.7, 5.1.2, 6.3.3
 * and G.4; t95 from its table G.2. */
#include <math.h>

#include "closed.h"

static struct level_sight with_water(struct level_sight on, int count, level_nm mean, double sd)
{
	on.water_count = count;
	on.water = mean;
	on.water_sd = sd;
	return on;
}

/* 20 m and 800 m, the far mark read 45 mm lower. */
static struct level_sight near_sight(void)
{
	return known(sight(LEVEL_BS, "OAK", MM(1500), METRES(20)), MM(7000), 0);
}

static struct level_sight far_sight(void)
{
	return sight(LEVEL_FS, "REED", MM(1545), METRES(800));
}

static struct level_closing close_by(struct level_sight near, struct level_sight far,
                                     const struct level_terms *terms)
{
	struct level_sight sights[] = {near, far};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	return closed_with(&run, terms, "construction", 0);
}

/* OAK stands 400 mm above the water and REED 430 mm, so REED should come out 30 mm higher. It comes
 * out 45 mm lower: a drop of 75 mm. */
START_TEST(test_by_water)
{
	struct level_terms terms = usual_terms();
	struct level_closing got = close_by(with_water(near_sight(), 3, MM(400), 0.002),
	                                    with_water(far_sight(), 3, MM(430), 0.002), &terms);
	ck_assert(got.by_water && got.has_known_end && !got.end_assumed && !got.water_missing);
	ck_assert_int_eq(got.known_end, MM(7030));
	ck_assert_int_eq(got.misclosure, -MM(75));
	ck_assert_double_eq_tol(got.observed, 0.075, 1e-12);
	/* a mark below the water */
	got = close_by(with_water(near_sight(), 3, -MM(100), 0.002),
	               with_water(far_sight(), 3, MM(430), 0.002), &terms);
	ck_assert_int_eq(got.known_end, MM(7530));
	/* the long sight the BS, from the far shore */
	struct level_sight bs = far_sight(), fs = near_sight();
	bs.kind = LEVEL_BS;
	fs.kind = LEVEL_FS;
	fs.has_known = false;
	got =
	    close_by(with_water(bs, 3, MM(430), 0.002), with_water(fs, 3, MM(400), 0.002), &terms);
	ck_assert_double_eq_tol(got.observed, -0.075, 1e-12);
	ck_assert_double_eq(got.finding.turn, -1);
}
END_TEST

/* The water tells more than old elevations: it closes the crossing, and they bring no error. */
START_TEST(test_water_before_known_elevations)
{
	struct level_terms terms = usual_terms();
	struct level_sight near = known(near_sight(), MM(7000), MM(5));
	struct level_sight far = known(far_sight(), MM(9999), MM(5));
	struct level_closing got = close_by(with_water(near, 2, MM(400), 0.001),
	                                    with_water(far, 2, MM(430), 0.001), &terms);
	ck_assert(got.by_water);
	ck_assert_int_eq(got.known_end, MM(7030));
	ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_KNOWN], 0);
	got = close_by(near, far, &terms);
	ck_assert(!got.by_water);
	ck_assert_int_eq(got.known_end, MM(9999));
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_KNOWN], 0.020, 1e-12);
}
END_TEST

/* Water at one shore only closes nothing. */
START_TEST(test_water_missing)
{
	struct level_terms terms = usual_terms();
	for (int end = 0; end < 2; end++) {
		struct level_sight near = near_sight(), far = far_sight();
		struct level_closing got;
		if (end)
			far = with_water(far, 3, MM(430), 0.002);
		else
			near = with_water(near, 3, MM(400), 0.002);
		got = close_by(near, far, &terms);
		ck_assert(got.water_missing && !got.by_water && !got.has_known_end);
		ck_assert(!got.has_misclosure && !got.has_observed && got.has_drop);
		ck_assert_double_eq_tol(got.margin, got.separation - got.allowance.decides, 1e-15);
		ck_assert_int_eq(got.finding.none, LEVEL_NO_WATER);
		ck_assert_double_eq(got.ends.mean[0].u, 0);
		ck_assert_double_eq(got.ends.mean[1].u, 0);
	}
}
END_TEST

/* Forth and back on one mark the water cancels; a link is held to its known mark. */
START_TEST(test_water_that_does_not_count)
{
	struct level_terms terms = usual_terms();
	struct level_sight sights[] = {with_water(near_sight(), 3, MM(400), 0.002), far_sight(),
	                               sight(LEVEL_BS, "REED", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "OAK", MM(1545), METRES(800))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got;
	sights[3] = with_water(sights[3], 3, MM(410), 0.002);
	got = closed_with(&run, &terms, "construction", 0);
	ck_assert(!got.by_water && !got.water_missing && got.has_observed);
	ck_assert_int_eq(got.known_end, MM(7000));
	ck_assert_double_eq_tol(got.observed, 0.090, 1e-12);
	ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_WATER], 0);
	run.kind = LEVEL_LINK;
	run.count = 2;
	sights[1] = known(with_water(far_sight(), 3, MM(430), 0.002), MM(6955), 0);
	got = closed_with(&run, &terms, "construction", 0);
	ck_assert(!got.by_water && !got.water_missing);
	ck_assert_int_eq(got.misclosure, 0);
	ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_WATER], 0);
}
END_TEST

static struct level_mean_u mean_of(int count, double sd)
{
	struct level_terms terms = usual_terms(); /* a tape of 1 mm */
	return close_by(with_water(near_sight(), count, MM(400), sd),
	                with_water(far_sight(), 1, MM(430), 0), &terms)
	    .ends.mean[0];
}

/* Four readings of standard deviation 3 mm: 1.5 mm with 3 degrees of freedom. Closer together than
 * a tape reads, t95 sd < 2 x 1 mm, they are as good as the tape: 1 mm/sqrt 4. Two that agree to
 * 0.2 mm are weak evidence still: 12.71 x 0.2 > 2. */
START_TEST(test_mean)
{
	struct level_mean_u got = mean_of(4, 0.003);
	ck_assert_double_eq_tol(got.u, 0.0015, 1e-15);
	ck_assert_double_eq(got.freedom, 3);
	got = mean_of(2, 0.002);
	ck_assert_double_eq_tol(got.u, 0.002 / sqrt(2), 1e-15);
	ck_assert_double_eq(got.freedom, 1);
	got = mean_of(4, 0.0005);
	ck_assert_double_eq_tol(got.u, 0.0005, 1e-15);
	ck_assert(isinf(got.freedom));
	got = mean_of(2, 0.0002);
	ck_assert_double_eq_tol(got.u, 0.0002 / sqrt(2), 1e-15);
	ck_assert_double_eq_tol(got.bound, 12.706 * 0.0002 / sqrt(2), 1e-7);
	got = mean_of(2, 0.0001);
	ck_assert_double_eq_tol(got.u, 0.001 / sqrt(2), 1e-15);
	ck_assert_double_eq_tol(got.bound, 0.002 / sqrt(2), 1e-15);
	/* one reading has no spread */
	got = mean_of(1, 0);
	ck_assert_double_eq_tol(got.u, 0.001, 1e-15);
	ck_assert(isinf(got.freedom));
}
END_TEST

/* Six readings of 6 mm and eleven of 4 mm: u = 2.449 490 and 1.206 045 mm, t95 of 5 and 10 degrees
 * of freedom 2.57 and 2.23. Bound 3 + 2.57 x 2.449 490 + 2.23 x 1.206 045 = 11.985 mm, u = sqrt(9/3
 * + 6 + 16/11) = 3.233 349 mm. */
START_TEST(test_water_line)
{
	struct level_terms terms = usual_terms();
	struct level_closing got;
	terms.water = 0.003;
	got = close_by(with_water(near_sight(), 6, MM(400), 0.006),
	               with_water(far_sight(), 11, MM(430), 0.004), &terms);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_WATER], 0.011985, 0.00002);
	ck_assert_double_eq_tol(got.allowance.u[LEVEL_LINE_WATER], 0.003233349, 1e-9);
}
END_TEST

/* Each end where water was read has the floor, however still; what is declared comes on top. */
START_TEST(test_floor)
{
	static const struct {
		double water, floor, bound;
	} table[] = {
	    {0.001, 0.003, 0.007}, {0.005, 0.003, 0.011}, {0, 0.002, 0.004}, {0.002, 0, 0.002}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_terms terms = usual_terms();
		struct level_closing got;
		terms.water = table[i].water;
		terms.water_floor = table[i].floor;
		got = close_by(near_sight(), far_sight(), &terms);
		ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_WATER], table[i].water,
		                        1e-15);
		/* without any reading it says nothing all the same */
		ck_assert_int_eq(got.finding.none, LEVEL_NO_WATER);
		/* a hundred readings that agree: twice 2 x 1 mm/sqrt 100 more */
		got = close_by(with_water(near_sight(), 100, MM(400), 0),
		               with_water(far_sight(), 100, MM(430), 0), &terms);
		ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_WATER],
		                        table[i].bound + 0.0004, 1e-15);
	}
}
END_TEST

/* No error but the waves. */
static struct level_allowance only_waves(int near_count, double near_sd, int far_count,
                                         double far_sd)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS};
	return close_by(with_water(near_sight(), near_count, MM(400), near_sd),
	                with_water(far_sight(), far_count, MM(430), far_sd), &terms)
	    .allowance;
}

/* JCGM 100:2008, table G.2: 12.71, 4.30, 2.57, 2.23, 2.09, 2.01 for 1, 2, 5, 10, 20, 50. */
START_TEST(test_factor)
{
	static const struct {
		int count;
		double t95;
	} table[] = {{2, 12.71}, {3, 4.30}, {6, 2.57}, {11, 2.23}, {21, 2.09}, {51, 2.01}};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		/* waves at one shore */
		struct level_allowance got = only_waves(table[i].count, 0.006, 1, 0);
		double u = 0.006 / sqrt(table[i].count);
		ck_assert_double_eq_tol(got.total_u95 / got.u_total, table[i].t95, 0.005);
		ck_assert_double_eq_tol(got.total_u95, table[i].t95 * u, 0.005 * u);
		ck_assert_double_eq_tol(got.total_bound, table[i].t95 * u, 0.005 * u);
	}
	/* alike at both shores: bound 2 x 2.57 u, at 95 % 2.23 x sqrt 2 u of 10 degrees */
	struct level_allowance got = only_waves(6, 0.006, 6, 0.006);
	double u = 0.006 / sqrt(6);
	ck_assert_double_eq_tol(got.total_bound, 2 * 2.57 * u, 0.01 * u);
	ck_assert_double_eq_tol(got.total_u95, 2.23 * sqrt(2) * u, 0.01 * u);
	/* of two readings each, 4.30 x sqrt 2 u of 2 degrees is less than 12.71 u of one */
	got = only_waves(2, 0.006, 2, 0.006);
	u = 0.006 / sqrt(2);
	ck_assert_double_eq_tol(got.freedom, 2, 1e-12);
	ck_assert_double_eq_tol(got.total_u95, 12.706 * u, 0.001 * u);
}
END_TEST

/* A rod of u = sqrt 6 mm/sqrt 2 read twice, and three waves of sqrt 3 x sqrt 4 mm, u = 2 mm with 2
 * degrees of freedom: u = sqrt(6 + 4), 2 x (10/4)^2 = 12.5 degrees; t95 of 12 and 13 is 2.179 and
 * 2.160 (from memory), so that U is 2.17 sqrt 10 = 6.86 mm, though the waves alone need 4.3027 x 2
 * = 8.6053 mm; with a rod of u = sqrt 21 mm 78.125 degrees and t95 = 1.991, so 2 x 5 = 10 mm. */
START_TEST(test_sampled_and_not)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS,
	                            .reading_fixed = {0.001 * sqrt(3)}};
	struct level_allowance got = close_by(with_water(near_sight(), 3, MM(400), 0.002 * sqrt(3)),
	                                      with_water(far_sight(), 1, MM(430), 0), &terms)
	                                 .allowance;
	ck_assert_double_eq_tol(got.freedom, 12.5, 1e-9);
	ck_assert_double_eq_tol(got.total_u95, 0.0086053, 1e-6);
	terms.reading_fixed[LEVEL_ROD] = 0.001 * sqrt(10.5);
	got = close_by(with_water(near_sight(), 3, MM(400), 0.002 * sqrt(3)),
	               with_water(far_sight(), 1, MM(430), 0), &terms)
	          .allowance;
	ck_assert_double_eq_tol(got.freedom, 78.125, 1e-9);
	ck_assert_double_eq_tol(got.total_u95, 0.010, 1e-9);
}
END_TEST

/* However many readings, and without any, the factor stays at 2. */
START_TEST(test_factor_of_many)
{
	struct level_terms terms = usual_terms();
	struct level_allowance got = only_waves(2001, 0.006, 2001, 0.006);
	ck_assert_double_eq_tol(got.total_u95, 2 * got.u_total, 1e-15);
	got = close_by(near_sight(), far_sight(), &terms).allowance;
	ck_assert(isinf(got.freedom));
	ck_assert_double_eq_tol(got.total_u95, 2 * got.u_total, 1e-15);
}
END_TEST

/* Flowing water is not level: 0.1 m/km over 820 m of sights is 82 mm. */
START_TEST(test_flow)
{
	struct level_terms terms = usual_terms();
	struct level_closing got;
	terms.water = 0.003;
	terms.flow = 0.0001;
	got = close_by(near_sight(), far_sight(), &terms);
	ck_assert(got.has_observed && got.finding.none != LEVEL_NO_SLOPE);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_WATER], 0.085, 1e-12);
	/* sqrt((9 + 6724)/3) mm */
	ck_assert_double_eq_tol(got.allowance.u[LEVEL_LINE_WATER], 0.047374395, 1e-9);
	terms.flow = 0;
	ck_assert_double_eq_tol(
	    close_by(near_sight(), far_sight(), &terms).allowance.bound[LEVEL_LINE_WATER], 0.003,
	    1e-15);
}
END_TEST

/* One way over a stream of unknown slope shows nothing; forth and back it does. */
START_TEST(test_flow_undeclared)
{
	struct level_terms terms = usual_terms();
	struct level_sight sights[] = {near_sight(), far_sight(),
	                               sight(LEVEL_BS, "REED", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "OAK", MM(1545), METRES(800))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got;
	terms.flow = -1;
	/* water readings at both shores do not make a stream level */
	got = close_by(with_water(near_sight(), 3, MM(400), 0.002),
	               with_water(far_sight(), 3, MM(430), 0.002), &terms);
	ck_assert(got.by_water && got.finding.none == LEVEL_NO_SLOPE && !got.has_observed);
	ck_assert(got.has_drop && got.has_misclosure);
	ck_assert_double_eq_tol(got.margin, got.separation - got.allowance.decides, 1e-15);
	got = closed_with(&run, &terms, "construction", 0);
	ck_assert(got.finding.none != LEVEL_NO_SLOPE && got.has_observed);
	ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_WATER], 0);
}
END_TEST

/* Back at its start a run has no use for water: the misclosure is the sum of both drops. */
START_TEST(test_there_and_back)
{
	struct level_terms terms = usual_terms();
	struct level_sight sights[] = {
	    with_water(near_sight(), 3, MM(400), 0.002),
	    with_water(far_sight(), 3, MM(430), 0.002),
	    sight(LEVEL_BS, "REED", MM(1300), METRES(20)),
	    sight(LEVEL_FS, "OAK", MM(1345), METRES(800)),
	};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got = closed_with(&run, &terms, "construction", 0);
	ck_assert(got.back && !got.by_water && !got.water_missing);
	ck_assert_int_eq(got.misclosure, -MM(90));
	ck_assert_double_eq_tol(got.observed, 0.090, 1e-12);
	run.count = 2;
	ck_assert(!closed_with(&run, &terms, "construction", 0).back);
}
END_TEST

int main(void)
{
	return RUN_TESTS("water_ends", test_by_water, test_water_before_known_elevations,
	                 test_water_missing, test_water_that_does_not_count, test_mean,
	                 test_water_line, test_floor, test_factor, test_sampled_and_not,
	                 test_factor_of_many, test_flow, test_flow_undeclared, test_there_and_back);
}
