/* How a run closes. The drops h below are 0.87 d^2/12 742 000 m (k = 0.13): h(10) = 6 828 nm,
 * h(20) = 27 311 nm, h(200) = 2 731 125 nm, h(800) = 43 698 006 nm. */
#include "rodbook/level/page.h"

#include <stdlib.h>
#include <string.h>

#include "closed.h"
#include "worked_page.h"

/* Universiti Sains Malaysia, School of Civil Engineering, leveling exercise (civil.eng.usm.my):
 * sums 8.133 and 7.693, 29.670 against 29.660, and -2 mm a setup to spread. */
START_TEST(test_worked_page)
{
	struct level_run run = {
	    .kind = LEVEL_LINK, .count = WORKED_PAGE_SIGHTS, .sight = worked_page()};
	struct level_closing got = closed(&run, "setups", 0.005);
	ck_assert_int_eq(got.sum_bs, MM(8133));
	ck_assert_int_eq(got.sum_fs, MM(7693));
	ck_assert_int_eq(got.rises - got.falls, MM(440));
	ck_assert_int_eq(got.page_check, 0);
	ck_assert(got.page_holds);
	ck_assert_int_eq(got.start, MM(29230));
	ck_assert_int_eq(got.end, MM(29670));
	ck_assert_str_eq(got.start_station, "A");
	ck_assert_str_eq(got.end_station, "B");
	ck_assert(got.has_known_end && !got.end_assumed && !got.start_assumed);
	ck_assert_int_eq(got.known_end, MM(29660));
	ck_assert(got.has_misclosure);
	ck_assert_int_eq(got.misclosure, MM(10));
	ck_assert_int_eq(-got.misclosure / got.setups, -MM(2));
	/* 5 mm x sqrt 5 = 11.2 mm, 4 mm x sqrt 5 = 8.9 mm */
	ck_assert_int_eq(got.closes, LEVEL_YES);
	ck_assert_int_eq(got.allowable, 11180340);
	got = closed(&run, "setups", 0.004);
	ck_assert_int_eq(got.closes, LEVEL_NO);
	/* no distance is known: nothing by length, no correction, no drop, no grade */
	got = closed(&run, "third-order", 0);
	ck_assert_int_eq(got.unknown_distances, 10);
	ck_assert(!got.has_length && !got.has_corrected && !got.has_drop);
	ck_assert(!got.judged_corrected);
	/* 10 mm sqrt 5 = 22.4 mm, common practice, no source: 10 mm stand, for the time being */
	ck_assert(got.has_allowable && got.provisional);
	ck_assert_int_eq(got.allowable, 22360680);
	ck_assert_int_eq(got.closes, LEVEL_YES);
	ck_assert_str_eq(got.grade, "none");
}
END_TEST

START_TEST(test_nothing_yet)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), MM(7000), 0),
	    sight(LEVEL_IS, "P", MM(1000), METRES(20))};
	struct level_run empty = {.kind = LEVEL_LOOP}, begun = RUN(LEVEL_LOOP, sights);
	struct level_closing got = closed(&empty, "third-order", 0);
	ck_assert(!got.has_end && !got.has_misclosure && !got.has_drop && !got.has_known_end);
	ck_assert_int_eq(got.closes, LEVEL_UNKNOWN);
	ck_assert_str_eq(got.grade, "none");
	got = closed(&begun, "third-order", 0);
	ck_assert(!got.has_end && !got.has_misclosure && !got.has_drop && !got.has_known_end);
	ck_assert_str_eq(got.start_station, "A");
	ck_assert_int_eq(got.start, MM(7000));
	ck_assert_int_eq(got.setups, 0);
	ck_assert_int_eq(got.closes, LEVEL_UNKNOWN);
}
END_TEST

/* Two setups out and back, 50 m each way: K = 0.2 km, sqrt K = 0.447 214, and misclosure w. */
static struct level_run square(struct level_sight sights[4], enum level_run_kind kind, level_nm w)
{
	sights[0] = sight(LEVEL_BS, "A", MM(1500) + w, METRES(50));
	sights[1] = sight(LEVEL_FS, "TP1", MM(1200), METRES(50));
	sights[2] = sight(LEVEL_BS, "TP1", MM(1100), METRES(50));
	sights[3] = sight(LEVEL_FS, "A", MM(1400), METRES(50));
	return (struct level_run){.kind = kind, .count = 4, .sight = sights};
}

/* FGCC 1984, sec. 3.5, and EM 1110-1-1005, 2007 (both recalled), over 0.2 km of loop: 1.789, 2.236,
 * 2.683, 3.578, 5.367 and 10.733 mm. */
START_TEST(test_loop_grades)
{
	static const struct {
		int64_t um;
		const char *grade;
	} table[] = {
	    {0, "first order, class I"},
	    {1788, "first order, class I"},
	    {1789, "first order, class II"},
	    {2236, "first order, class II"},
	    {2237, "second order, class I"},
	    {2684, "second order, class II"},
	    {3578, "third order"},
	    {5367, "ordinary construction"},
	    {10733, "ordinary construction"},
	    {10734, "none"},
	};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		for (int sign = -1; sign <= 1; sign += 2) {
			struct level_sight sights[4];
			struct level_run run =
			    square(sights, LEVEL_LOOP, sign * table[i].um * 1000);
			struct level_closing got = closed(&run, "third-order", 0);
			ck_assert_int_eq(got.misclosure, sign * table[i].um * 1000);
			ck_assert_str_eq(got.grade, table[i].grade);
			ck_assert_int_eq(got.closes, table[i].um <= 5366 ? LEVEL_YES : LEVEL_NO);
		}
}
END_TEST

/* What just equals a grade is of that grade: over 0.25 km of loop, 2.000 000 mm. */
START_TEST(test_grade_at_the_limit)
{
	struct level_sight sights[4];
	struct level_run run = square(sights, LEVEL_LOOP, MM(2));
	for (size_t i = 0; i < 4; i++)
		sights[i].distance = MM(62500);
	ck_assert_str_eq(closed(&run, "third-order", 0).grade, "first order, class I");
	sights[0].reading++;
	ck_assert_str_eq(closed(&run, "third-order", 0).grade, "first order, class II");
}
END_TEST

START_TEST(test_loop)
{
	struct level_sight sights[4];
	struct level_run run = square(sights, LEVEL_LOOP, MM(2));
	struct level_closing got = closed(&run, "first-order-2", 0);
	ck_assert(got.start_assumed);
	ck_assert(got.has_known_end && !got.end_assumed);
	ck_assert_int_eq(got.known_end, 0);
	ck_assert_int_eq(got.length, METRES(200));
	ck_assert_int_eq(got.imbalance, 0);
	ck_assert(got.has_length && got.has_corrected && got.judged_corrected);
	ck_assert_int_eq(got.corrected, MM(2));
	ck_assert(got.has_allowable);
	/* 5 mm x sqrt 0.2 */
	ck_assert_int_eq(got.allowable, 2236068);
	ck_assert_int_eq(got.closes, LEVEL_YES);
	ck_assert(got.has_drop && !got.has_observed);
	ck_assert_double_eq(got.predicted, 0);
	/* balanced: what is predicted is nothing, and the allowance is all there is */
	ck_assert_double_eq(got.margin, -got.allowance.decides);
}
END_TEST

/* The misclosure that just equals what is allowed still closes. */
START_TEST(test_at_the_limit)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1505), 0),
	                               sight(LEVEL_FS, "A", MM(1500), 0)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	ck_assert_int_eq(closed(&run, "setups", 0.005).closes, LEVEL_YES);
	sights[0].reading++;
	ck_assert_int_eq(closed(&run, "setups", 0.005).closes, LEVEL_NO);
	sights[0].reading = MM(1495) - 1;
	ck_assert_int_eq(closed(&run, "setups", 0.005).closes, LEVEL_NO);
}
END_TEST

/* A link over unequal sights is judged with h taken off: booked -2.700 mm, and
 * h(200) - h(10) = +2.724 mm. First order, class I: 3 mm x sqrt 0.21 = 1.375 mm. */
START_TEST(test_link_judged_corrected)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(10)), MM(100000), 0),
	    known(sight(LEVEL_FS, "B", MM(1000), METRES(200)), 100502700000, 0),
	};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_closing got = closed(&run, "first-order-1", 0);
	ck_assert_int_eq(got.misclosure, -2700000);
	ck_assert(got.has_corrected && got.judged_corrected);
	ck_assert_int_le(llabs(got.corrected - (-2700000 + 2731125 - 6828)), 2);
	ck_assert_int_eq(got.closes, LEVEL_YES);
	ck_assert_str_eq(got.grade, "first order, class I");
	ck_assert_int_eq(got.imbalance, METRES(-190));
	ck_assert_int_eq(got.length, METRES(210));
	/* without a distance only the booked one is left, and by setups it can be judged */
	sights[0].distance = 0;
	got = closed(&run, "setups", 0.002);
	ck_assert(!got.has_corrected && !got.judged_corrected);
	ck_assert_int_eq(got.unknown_distances, 1);
	ck_assert_int_eq(got.closes, LEVEL_NO);
	got = closed(&run, "setups", 0.003);
	ck_assert_int_eq(got.closes, LEVEL_YES);
}
END_TEST

/* Known elevations weigh on a link, 2 x (1.0 + 0.5) and sqrt(1.00 + 0.25) mm, but not on a loop,
 * which ends on the very mark it began on. */
START_TEST(test_known_uncertainty)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(10)), MM(100000), MM(1)),
	    known(sight(LEVEL_FS, "B", MM(1000), METRES(200)), MM(100500), MM(1) / 2),
	};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_closing got = closed(&run, "third-order", 0);
	ck_assert_double_eq_tol(got.allowance.bound[LEVEL_LINE_KNOWN], 0.003, 1e-12);
	ck_assert_double_eq_tol(got.allowance.u[LEVEL_LINE_KNOWN], 0.001118034, 1e-9);
	strcpy(sights[1].station, "A");
	run.kind = LEVEL_LOOP;
	got = closed(&run, "third-order", 0);
	ck_assert_int_eq(got.known_end, MM(100000));
	ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_KNOWN], 0);
	ck_assert_double_eq(got.allowance.u[LEVEL_LINE_KNOWN], 0);
}
END_TEST

/* What closes on nothing says so. */
START_TEST(test_open)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), MM(100000), 0),
	    sight(LEVEL_FS, "B", MM(1000), METRES(800)),
	};
	static const enum level_run_kind kinds[] = {LEVEL_OPEN, LEVEL_LINK, LEVEL_LOOP};
	for (size_t i = 0; i < 3; i++) {
		struct level_run run = RUN(kinds[i], sights);
		struct level_closing got = closed(&run, "third-order", 0);
		ck_assert(got.has_end && got.page_holds);
		ck_assert_int_eq(got.end, MM(100500));
		ck_assert(!got.has_known_end && !got.has_misclosure && !got.has_corrected);
		ck_assert(got.has_allowable);
		ck_assert_int_eq(got.closes, LEVEL_UNKNOWN);
		ck_assert_str_eq(got.grade, "none");
		/* the drop can be planned all the same: h(800) - h(20) */
		ck_assert(got.has_drop && !got.has_observed);
		ck_assert_double_eq_tol(got.predicted, 0.043670695, 2e-9);
		/* from flat to round: 639 600/12 742 000 m */
		ck_assert_double_eq_tol(got.margin, 0.050196202 - got.allowance.decides, 2e-9);
		ck_assert_double_eq(got.allowance.bound[LEVEL_LINE_WATER], 0);
	}
}
END_TEST

/* A known end means nothing where the start is not known. */
START_TEST(test_link_from_unknown_start)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), METRES(20)),
	    known(sight(LEVEL_FS, "B", MM(1000), METRES(20)), MM(500), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_closing got = closed(&run, "third-order", 0);
	ck_assert(got.start_assumed && !got.has_known_end && !got.has_misclosure);
	ck_assert_int_eq(got.closes, LEVEL_UNKNOWN);
}
END_TEST

/* A broken line closes on nothing, though its sums stand. */
START_TEST(test_broken)
{
	struct level_sight sights[4];
	struct level_run run = square(sights, LEVEL_LOOP, 0);
	struct level_closing got;
	strcpy(sights[2].station, "TP2");
	got = closed(&run, "third-order", 0);
	ck_assert(!got.page_holds && !got.has_misclosure && !got.has_drop);
	ck_assert_int_eq(got.closes, LEVEL_UNKNOWN);
	ck_assert_str_eq(got.grade, "none");
	ck_assert_int_eq(got.setups, 2);
	ck_assert_int_eq(got.sum_bs, MM(2600));
	/* a known mark behind the break doesn't mend it */
	sights[2] = known(sights[2], MM(300), 0);
	got = closed(&run, "third-order", 0);
	ck_assert(!got.page_holds && !got.has_misclosure);
}
END_TEST

/* A setup begun and not finished changes nothing of what is closed. */
START_TEST(test_unfinished_setup)
{
	struct level_sight sights[6];
	struct level_run run = square(sights, LEVEL_LOOP, MM(2));
	struct level_closing before = closed(&run, "third-order", 0), after;
	sights[4] = sight(LEVEL_BS, "A", MM(1000), 0);
	sights[5] = sight(LEVEL_IS, "P", MM(500), METRES(700));
	run.count = 6;
	after = closed(&run, "third-order", 0);
	ck_assert(after.page_holds && after.has_length);
	ck_assert_int_eq(after.misclosure, before.misclosure);
	ck_assert_int_eq(after.length, before.length);
	ck_assert_int_eq(after.rises, before.rises);
	ck_assert_int_eq(after.falls, before.falls);
	ck_assert_int_eq(after.closes, before.closes);
	ck_assert_double_eq(after.margin, before.margin);
}
END_TEST

/* A draft closes a run as a booked sight does; struck and blank ones don't. */
START_TEST(test_states)
{
	struct level_sight sights[4];
	struct level_run run = square(sights, LEVEL_LOOP, MM(2));
	sights[3].state = LEVEL_DRAFT;
	ck_assert_int_eq(closed(&run, "third-order", 0).misclosure, MM(2));
	sights[3].state = LEVEL_BLANK;
	ck_assert(!closed(&run, "third-order", 0).has_misclosure);
	sights[3].state = LEVEL_STRUCK;
	ck_assert(!closed(&run, "third-order", 0).has_misclosure);
}
END_TEST

int main(void)
{
	return RUN_TESTS("closing", test_worked_page, test_nothing_yet, test_loop_grades,
	                 test_grade_at_the_limit, test_loop, test_at_the_limit,
	                 test_link_judged_corrected, test_known_uncertainty, test_open,
	                 test_link_from_unknown_start, test_broken, test_unfinished_setup,
	                 test_states);
}
