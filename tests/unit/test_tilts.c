/* What the tilts of instruments, untested and tested, do to a crossing; the arithmetic by hand. */
#include <math.h>

#include "closed.h"

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

static struct level_closing two_setups(const struct level_terms *terms, int first, int second,
                                       bool back)
{
	struct level_sight sights[] = {
	    near_sight(),
	    far_sight(),
	    sight(LEVEL_BS, "REED", MM(1500), back ? METRES(400) : METRES(20)),
	    sight(LEVEL_FS, "ASH", MM(1500), back ? METRES(20) : METRES(400)),
	};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	sights[0].instrument = sights[1].instrument = first;
	sights[2].instrument = sights[3].instrument = second;
	return closed_with(&run, terms, "construction", 0);
}

/* 0.1 mm/m over 780 m and 0.05 mm/m over 380 m: 78 + 19 mm, sqrt((78^2 + 19^2)/3) = 46.350 117 mm,
 * whichever way each looks. One instrument alone keeps its sign: 0.1 mm/m over 780 + 380 or
 * 780 - 380 m. */
START_TEST(test_two_instruments)
{
	struct level_terms terms = usual_terms();
	terms.instrument[3].tolerance = 0.00005;
	for (int back = 0; back < 2; back++) {
		struct level_allowance got = two_setups(&terms, 0, 3, back).allowance;
		double both = back ? 0.040 : 0.116;
		ck_assert_double_eq_tol(got.bound[LEVEL_LINE_INSTRUMENT], 0.097, 1e-12);
		ck_assert_double_eq_tol(got.u[LEVEL_LINE_INSTRUMENT], 0.046350117, 1e-9);
		got = two_setups(&terms, 0, 0, back).allowance;
		ck_assert_double_eq_tol(got.bound[LEVEL_LINE_INSTRUMENT], both, 1e-12);
		ck_assert_double_eq_tol(got.u[LEVEL_LINE_INSTRUMENT], both / sqrt(3), 1e-12);
	}
}
END_TEST

/* A peg test counts where it is better, 2u/2 < tau/sqrt 3, or finds the tilt beyond the tolerance
 * by more than its own 2 u; not where it merely confirms. (Common practice, no source.) 0.1/sqrt 3
 * = 0.057 735 mm/m. */
START_TEST(test_what_counts)
{
	static const struct {
		bool tested;
		double tilt, u; /* um/m */
		bool counts;
	} table[] = {
	    {true, 10, 5, true},    {true, 0, 57.735, true}, {true, 0, 57.736, false},
	    {true, 50, 60, false},  {true, -219, 60, false}, {true, 219, 60, false},
	    {true, 221, 60, true},  {true, -221, 60, true},  {true, 500, 5, true},
	    {false, 500, 5, false}, {false, 0, 0, false},    {true, 0, 0, true},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_terms terms = usual_terms();
		struct level_closing got;
		double reach = 780e-6, tilt = table[i].counts ? table[i].tilt * reach : 0;
		terms.instrument[0] = (struct level_instrument){.tolerance = 0.0001,
		                                                .tested = table[i].tested,
		                                                .tilt = table[i].tilt * 1e-6,
		                                                .u = table[i].u * 1e-6};
		ck_assert_int_eq(level_test_counts(&terms, 0), table[i].counts);
		got = close_by(near_sight(), far_sight(), &terms);
		/* D = 45 mm - tilt x 780 m */
		ck_assert_double_eq_tol(got.observed, 0.045 - tilt, 1e-12);
		ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_INSTRUMENT],
		                        table[i].counts ? 2 * table[i].u * reach : 0.078, 1e-12);
		ck_assert_double_eq_tol(got.allowance.u[LEVEL_LINE_INSTRUMENT],
		                        table[i].counts ? table[i].u * reach : 0.078 / sqrt(3),
		                        1e-12);
		/* booked it stays; corrected h is off, 0.87 x 639 600/12 742 000 m, and the tilt */
		ck_assert_int_eq(got.misclosure, -MM(45));
		ck_assert_double_eq_tol(level_to_meters(got.corrected), -0.045 + 0.043670695 + tilt,
		                        3e-9);
	}
}
END_TEST

/* g = 764.52 m, g/4R = 0.03 mm/m: a tilt of 0.10 mm/m is between 0.10 (round) and 0.16 (flat), and
 * by more than its 2 u of 0.04 beyond 0.02 mm/m in both; one of -0.10 is -0.04 over flat ground.
 * 0.02 is more than 0.02/sqrt 3, so neither is the better one. (Common practice, no source.) */
START_TEST(test_what_counts_with_g)
{
	struct level_terms terms = usual_terms();
	struct level_instrument *with = &terms.instrument[0];
	*with = (struct level_instrument){.tolerance = 0.00002, .tested = true, .u = 0.00002};
	with->g = 4 * terms.radius * 0.00003;
	with->tilt = 0.0001;
	ck_assert(level_test_counts(&terms, 0));
	with->tilt = -0.0001;
	ck_assert(!level_test_counts(&terms, 0));
}
END_TEST

/* 0.87 x 100^2/12 742 000 m = 0.682 781 mm, and 0.05 mm/m over 100 m = 5 mm where the test counts.
 */
START_TEST(test_too_high)
{
	struct level_terms terms = usual_terms();
	struct level_sight far = sight(LEVEL_FS, "REED", MM(1500), METRES(100));
	terms.instrument[0] = (struct level_instrument){.tolerance = 0.0001, .tilt = 0.00005};
	ck_assert_double_eq_tol(level_too_high(&far, &terms), 0.000682781, 1e-9);
	terms.instrument[0].tested = true;
	ck_assert_double_eq_tol(level_too_high(&far, &terms), 0.005682781, 1e-9);
}
END_TEST

/* Elevations with curvature, refraction and a tilt of +0.01 mm/m off: an IS at 300 m read 1.510 m
 * is 7.000 - 0.010 + h(300) - h(20) + 0.0028 m; with k = 0.13 h is 6.145 031 and 0.027 311 mm. The
 * far mark: 7.000 - 0.045 + 0.043 670 695 + 0.0078 m. A second instrument has a tilt of its own,
 * -0.02 mm/m over 380 m after h(400) - h(20) = 10.897 190 mm. */
START_TEST(test_corrected_elevations)
{
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	struct level_sight sights[] = {near_sight(),
	                               sight(LEVEL_IS, "STONE", MM(1510), METRES(300)), far_sight(),
	                               sight(LEVEL_BS, "REED", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "ASH", MM(1500), METRES(400))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	terms.instrument[0] = (struct level_instrument){
	    .tolerance = 0.0001, .tested = true, .tilt = 0.00001, .u = 0.000005};
	terms.instrument[1] = (struct level_instrument){
	    .tolerance = 0.0001, .tested = true, .tilt = -0.00002, .u = 0.000005};
	sights[3].instrument = sights[4].instrument = 1;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert(page.row[1].has_corrected && page.row[2].has_corrected);
	ck_assert_double_eq_tol(level_to_meters(page.row[1].corrected),
	                        7 - 0.010 + 0.006145031 - 0.000027311 + 0.0028, 3e-9);
	ck_assert_double_eq_tol(level_to_meters(page.row[2].corrected),
	                        7 - 0.045 + 0.043670695 + 0.0078, 3e-9);
	ck_assert_double_eq_tol(level_to_meters(page.row[4].corrected),
	                        7 - 0.045 + 0.043670695 + 0.0078 + 0.010897190 - 0.0076, 3e-9);
	level_page_free(&page);
}
END_TEST

int main(void)
{
	return RUN_TESTS("tilts", test_two_instruments, test_what_counts, test_what_counts_with_g,
	                 test_too_high, test_corrected_elevations);
}
