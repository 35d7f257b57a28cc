/* How a crossing closes, and what its margin is. The drops h below are 0.87 d^2/12 742 000 m
 * (k = 0.13): h(20) = 27 311 nm, h(800) = 43 698 006 nm. */
#include "rodbook/level/page.h"

#include <stdlib.h>

#include "closed.h"

static struct level_terms crossing_terms(double tilt)
{
	struct level_terms out = usual_terms();
	out.instrument[0].tolerance = tilt;
	out.declared[0].bound = 0.002;
	out.water = 0.003;
	return out;
}

/* Across water, the long sight 800 m: observed drop 45 mm, predicted 43.670 695 mm;
 * flat would show -0.13 x 639 600/12 742 000 = -6.525 506 mm, so that 51.525 506 mm are shown.
 * Without the instrument the allowance is 10 (readings) + 7.538 848 (air) + 2 + 3 = 22.538 848 mm;
 * with tau = 0.1 mm/m over 780 m it is 100.538 848, with 0.01 mm/m 30.338 848. */
START_TEST(test_crossing)
{
	for (int far_is_bs = 0; far_is_bs < 2; far_is_bs++) {
		double sign = far_is_bs ? -1 : 1;
		struct level_sight near = sight(LEVEL_BS, "A", MM(1500), METRES(20));
		struct level_sight far = sight(LEVEL_FS, "B", MM(1545), METRES(800));
		struct level_sight sights[2];
		struct level_run run = RUN(LEVEL_CROSSING, sights);
		struct level_terms with = crossing_terms(0.0001);
		struct level_closing got;
		far.method = LEVEL_TARGET;
		near.kind = far_is_bs ? LEVEL_FS : LEVEL_BS;
		far.kind = far_is_bs ? LEVEL_BS : LEVEL_FS;
		sights[0] = known(far_is_bs ? far : near, MM(7000), 0);
		sights[1] = far_is_bs ? near : far;
		got = closed_with(&run, &with, "construction", 0);
		ck_assert(got.has_known_end && got.end_assumed);
		ck_assert_int_eq(got.known_end, MM(7000));
		ck_assert_int_eq(got.misclosure, far_is_bs ? MM(45) : -MM(45));
		ck_assert(got.has_corrected && !got.judged_corrected);
		ck_assert_int_le(llabs(llabs(got.corrected) - (45000000 - 43670695)), 2);
		/* 24 mm x sqrt 0.82 = 21.7 mm, and it is the booked misclosure that is judged */
		ck_assert_int_eq(got.closes, LEVEL_NO);
		ck_assert(got.has_drop && got.has_observed);
		ck_assert_double_eq_tol(got.observed, sign * 0.045, 1e-12);
		ck_assert_double_eq_tol(got.predicted, sign * 0.043670695, 2e-9);
		ck_assert_double_eq_tol(got.allowance.total_bound, 0.100538848, 1e-8);
		ck_assert_double_eq_tol(got.margin, 0.051525506 - 0.100538848, 1e-8);
		with = crossing_terms(0.00001);
		got = closed_with(&run, &with, "construction", 0);
		ck_assert_double_eq_tol(got.margin, 0.051525506 - 0.030338848, 1e-8);
		with.decides = LEVEL_BY_U95;
		got = closed_with(&run, &with, "construction", 0);
		/* mm^2: 7.8^2/3 = 20.28, + 18.98 + 14.190816 + 1.333333 + 3 = 57.784149;
		 * 2 x sqrt = 15.203177 */
		ck_assert_double_eq_tol(got.margin, 0.051525506 - 0.015203177, 1e-8);
		/* a far mark that stands higher than level: the margin falls below -allowance */
		sights[far_is_bs ? 0 : 1].reading = MM(1490);
		got = closed_with(&run, &with, "construction", 0);
		ck_assert_double_eq_tol(got.observed, sign * -0.010, 1e-12);
		ck_assert_double_eq_tol(got.margin, -0.010 + 0.006525506 - 0.015203177, 1e-8);
	}
}
END_TEST

/* Without its distances a crossing closes, but says nothing of a drop. */
START_TEST(test_crossing_without_distances)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "B", MM(1545), 0)};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got = closed(&run, "setups", 0.05);
	ck_assert_int_eq(got.misclosure, -MM(45));
	ck_assert(!got.has_corrected && !got.has_drop && !got.has_observed);
	ck_assert_int_eq(got.closes, LEVEL_YES);
}
END_TEST

/* Both shores of known elevation: the far one known 5 mm higher, read 40 mm below the near one. */
START_TEST(test_crossing_on_known_mark)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), MM(7000), MM(1)),
	    known(sight(LEVEL_FS, "B", MM(1540), METRES(800)), MM(7005), MM(1) / 2),
	};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got = closed(&run, "construction", 0);
	ck_assert(got.has_known_end && !got.end_assumed);
	ck_assert_int_eq(got.misclosure, -MM(45));
	ck_assert_double_eq_tol(got.observed, 0.045, 1e-12);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_KNOWN], 0.003, 1e-12);
}
END_TEST

/* Forth and back, the far reading an FS both times: D = P = 2h. Readings as a level 1.5 m above
 * the water would make them on this Earth: each h(d) too high. */
START_TEST(test_forth_and_back)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500) + 27311, METRES(20)), MM(7000), MM(1)),
	    sight(LEVEL_FS, "B", MM(1500) + 43698006, METRES(800)),
	    sight(LEVEL_BS, "B", MM(1500) + 27311, METRES(20)),
	    sight(LEVEL_FS, "A", MM(1500) + 43698006, METRES(800)),
	};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got = closed(&run, "construction", 0);
	ck_assert(got.has_observed);
	ck_assert_double_eq_tol(got.observed, 2 * 0.043670695, 1e-9);
	ck_assert_double_eq_tol(got.predicted, 2 * 0.043670695, 4e-9);
	ck_assert_int_le(llabs(got.corrected), 2);
	ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_KNOWN], 0);
	/* as a loop it is judged with h taken off, and closes as well as any */
	run.kind = LEVEL_LOOP;
	got = closed(&run, "first-order-1", 0);
	ck_assert_int_eq(got.misclosure, -87341390);
	ck_assert_int_le(llabs(got.corrected), 2);
	ck_assert_int_eq(got.closes, LEVEL_YES);
}
END_TEST

/* Equal sights have nothing to show: sgn(S) is 0, and whatever D is, no margin comes of it. */
START_TEST(test_balanced_crossing)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(400)), MM(7000), 0),
	    sight(LEVEL_FS, "B", MM(1600), METRES(400)),
	};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_closing got = closed(&run, "construction", 0);
	ck_assert(got.has_observed);
	ck_assert_double_eq_tol(got.observed, 0.1, 1e-12);
	ck_assert_double_eq(got.predicted, 0);
	ck_assert_double_eq(got.margin, -got.allowance.decides);
}
END_TEST

/* The far end is taken on the start's surface: how well its height is known does not matter. */
START_TEST(test_known_height_cancels)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), MM(7000), MM(500)),
	    sight(LEVEL_FS, "B", MM(1545), METRES(800)),
	};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	ck_assert_double_eq(closed(&run, "construction", 0).allowance.bound[LEVEL_LINE_KNOWN], 0);
	/* and where only the far one is known, the two are one surface all the same */
	sights[0].has_known = false;
	sights[1] = known(sights[1], MM(7000), MM(500));
	ck_assert(closed(&run, "construction", 0).has_observed);
	ck_assert_double_eq_tol(closed(&run, "construction", 0).observed, 0.045, 1e-12);
}
END_TEST

/* Forth and back on one mark the water cancels, whatever is declared for it. */
START_TEST(test_water_cancels)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "B", MM(1545), METRES(800)),
	                               sight(LEVEL_BS, "B", MM(1500), METRES(20)),
	                               sight(LEVEL_FS, "A", MM(1545), METRES(800))};
	struct level_run run = RUN(LEVEL_CROSSING, sights);
	struct level_terms with = crossing_terms(0.0001);
	ck_assert_double_eq(
	    closed_with(&run, &with, "construction", 0).allowance.bound[LEVEL_LINE_WATER], 0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("crossing", test_crossing, test_balanced_crossing,
	                 test_known_height_cancels, test_water_cancels,
	                 test_crossing_without_distances, test_crossing_on_known_mark,
	                 test_forth_and_back);
}
