/* What a page must have room for, and the extremes of its setups. */
#include "rodbook/level/page.h"

#include <math.h>

#include "sights.h"
#include "suite.h"

static struct level_page reduced(const struct level_run *run)
{
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	ck_assert(level_reduce(run, 0, &with, &page));
	return page;
}

static struct level_extent extent_of(struct level_sight *sights, size_t count)
{
	struct level_run run = {.kind = LEVEL_OPEN, .count = count, .sight = sights};
	struct level_page page = reduced(&run);
	struct level_extent out = *level_page_extent(&page);
	level_page_free(&page);
	return out;
}

static void check(const struct level_extent *got, const struct level_extent *want)
{
	ck_assert_int_eq(got->reading, want->reading);
	ck_assert_int_eq(got->height, want->height);
	ck_assert_int_eq(got->distance, want->distance);
	ck_assert_int_eq(got->negative, want->negative);
	ck_assert_int_eq(got->below, want->below);
	ck_assert_int_eq(got->wires, want->wires);
	ck_assert_int_eq(got->intermediate, want->intermediate);
}

/* One BS on a known mark: its elevation and its HI, whichever is the greater. */
START_TEST(test_of_one_sight)
{
	static const struct {
		int reading, known;
		struct level_extent want;
	} table[] = {
	    {1500, 10000, {MM(1500), MM(11500), METRES(30), false, false, false, false}},
	    {-1500, 10000, {MM(1500), MM(10000), METRES(30), false, true, false, false}},
	    /* -0.5 and 1.0; 0.5 and -1.5; -3 and -1 */
	    {1500, -500, {MM(1500), MM(1000), METRES(30), true, false, false, false}},
	    {-2000, 500, {MM(2000), MM(1500), METRES(30), true, true, false, false}},
	    {2000, -3000, {MM(2000), MM(3000), METRES(30), true, false, false, false}},
	    {0, 0, {0, 0, METRES(30), false, false, false, false}},
	    {1500, -1500, {MM(1500), MM(1500), METRES(30), true, false, false, false}},
	};
	struct level_page empty = {0};
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		struct level_sight bs = known(
		    sight(LEVEL_BS, "A", MM(table[i].reading), METRES(30)), MM(table[i].known), 0);
		struct level_extent got = extent_of(&bs, 1);
		check(&got, &table[i].want);
	}
	check(level_page_extent(&empty), &(struct level_extent){0});
}
END_TEST

/* What was is kept by later, smaller sights; a struck one counts by what stands in its row, and a
 * blank one has nothing. */
START_TEST(test_of_several)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(30)), MM(10000), 0),
	    sight(LEVEL_IS, "B", -MM(2600), METRES(50)),
	    as(sight(LEVEL_FS, "C", MM(2700), METRES(60)), LEVEL_STRUCK),
	    sight(LEVEL_FS, "C", MM(1000), METRES(20)),
	    as(sight(LEVEL_BS, "C", MM(4000), METRES(90)), LEVEL_BLANK)};
	struct level_extent got = extent_of(sights, 1),
	                    want = {MM(1500), MM(11500), METRES(30), false, false, false, false};
	check(&got, &want);
	/* 11.5 + 2.6 */
	got = extent_of(sights, 2);
	want = (struct level_extent){MM(2600), MM(14100), METRES(50), false, true, false, true};
	check(&got, &want);
	sights[1].wires = true;
	got = extent_of(sights, 5);
	want = (struct level_extent){MM(2700), MM(14100), METRES(60), false, true, true, true};
	check(&got, &want);
	/* a struck IS makes the column all the same */
	sights[1].state = LEVEL_STRUCK;
	sights[1].wires = false;
	got = extent_of(sights, 4);
	want = (struct level_extent){MM(2700), MM(11500), METRES(60), false, true, false, true};
	check(&got, &want);
	/* an FS below zero, and nothing after it that is */
	sights[1].kind = LEVEL_FS;
	sights[3] = sights[0];
	got = extent_of(sights, 4);
	ck_assert(got.below && !got.negative && !got.intermediate && !got.wires);
}
END_TEST

/* Two standings, and a setup after them. Sights of 20 and 30, 25 and 60, 10 and 10 m; half
 * intervals that differ by 4 and 2 mm; rises of 500 and 503 mm, and 9 mm or so of curvature are
 * less apart. */
START_TEST(test_extremes)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), MM(10000), 0),
	    sight(LEVEL_FS, "B", MM(1000), METRES(30)),
	    sight(LEVEL_BS, "A", MM(1503), METRES(25)),
	    sight(LEVEL_FS, "B", MM(1000), METRES(60)),
	    sight(LEVEL_BS, "B", MM(1500), METRES(10)),
	    sight(LEVEL_FS, "C", MM(1000), METRES(10))};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page;
	const struct level_sums *sums;
	double apart;
	sights[2].again = true;
	sights[3].wires = true;
	sights[3].upper = MM(1300);
	sights[3].middle = MM(1002);
	sights[3].lower = MM(700);
	sights[4].wires = true;
	sights[4].upper = MM(1550);
	sights[4].middle = MM(1501);
	sights[4].lower = MM(1450);
	page = reduced(&run);
	sums = level_page_sums(&page);
	ck_assert_int_eq(sums->longest, METRES(60));
	ck_assert_int_eq(sums->setup_imbalance, METRES(35));
	ck_assert_int_eq(sums->half, MM(4));
	/* 3 mm + (0.87 d^2/2R of 60, 25, 30 and 20 m: 3600 - 625 - 900 + 400) */
	apart = 0.003 + 0.87 * 2475 / 2 / LEVEL_MEAN_RADIUS;
	ck_assert_double_eq_tol(level_to_meters(sums->standings), apart, 2e-9);
	ck_assert_double_eq_tol(level_to_meters(page.row[3].line.differ), apart, 2e-9);
	ck_assert_int_eq(page.row[5].line.differ, 0);
	ck_assert_int_eq(sums->setups, 2);
	ck_assert_int_eq(sums->unknown_distances, 0);
	ck_assert_int_eq(level_page_standings(&page), 3);
	/* the mean of both, 22.5 and 45 m, and the 10 m of the other one */
	ck_assert_int_eq(sums->bs_length, MM(32500));
	ck_assert_int_eq(sums->fs_length, METRES(55));
	/* longest first, and the later ones shorter */
	level_page_free(&page);
	sights[0].distance = METRES(70);
	sights[3].distance = 0;
	page = reduced(&run);
	sums = level_page_sums(&page);
	ck_assert_int_eq(sums->longest, METRES(70));
	ck_assert_int_eq(sums->setup_imbalance, METRES(40));
	ck_assert_int_eq(sums->unknown_distances, 1);
	level_page_free(&page);
}
END_TEST

/* A further standing that ends elsewhere breaks the line there; an earlier break stays the first.
 */
START_TEST(test_standing_elsewhere)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), 0), MM(10000), 0),
	    sight(LEVEL_FS, "B", MM(1000), 0),
	    sight(LEVEL_BS, "A", MM(1500), 0),
	    sight(LEVEL_FS, "C", MM(1000), 0),
	    sight(LEVEL_BS, "Z", MM(1500), 0),
	    sight(LEVEL_FS, "Y", MM(1500), 0),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page;
	sights[2].again = true;
	page = reduced(&run);
	ck_assert_uint_eq(page.row[2].line.broken_row, SIZE_MAX);
	ck_assert_uint_eq(page.row[3].line.broken_row, 3);
	ck_assert_uint_eq(page.row[5].line.broken_row, 3);
	level_page_free(&page);
	/* a second standing that names another mark is a new setup, off the line */
	sights[2].station[0] = 'X';
	page = reduced(&run);
	ck_assert_uint_eq(page.row[5].line.broken_row, 2);
	level_page_free(&page);
}
END_TEST

/* Again, where nothing was yet: the first sight of all, and behind an offset to the same mark. */
START_TEST(test_again_after_nothing)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), 0), MM(10000), 0),
	    sight(LEVEL_FS, "B", MM(1000), 0), sight(LEVEL_OFF, "C", MM(2000), 0),
	    sight(LEVEL_BS, "C", MM(1500), 0), sight(LEVEL_FS, "D", MM(1000), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page;
	sights[0].again = sights[3].again = true;
	page = reduced(&run);
	ck_assert(page.row[0].has_elevation);
	ck_assert_int_eq(page.row[0].elevation, MM(10000));
	ck_assert_uint_eq(page.row[0].line.first_row, 0);
	ck_assert_uint_eq(page.row[3].line.first_row, 3);
	ck_assert_int_eq(page.row[4].elevation, MM(13000));
	ck_assert_int_eq(page.row[4].line.standings, 1);
	level_page_free(&page);
}
END_TEST

/* How far a reading stands too high: h of 800 m, 0.87 x 640 000/12 742 000 m; a tested tilt of 0.05
 * mm/m, 40 mm; and a rod that reads 1 mm too high. */
START_TEST(test_too_high)
{
	struct level_sight far = sight(LEVEL_FS, "B", MM(1500), METRES(800));
	struct level_terms with = usual_terms();
	double h = 0.87 * 640000 / 12742000;
	ck_assert_double_eq_tol(level_too_high(&far, &with), h, 1e-7);
	far.rod_error = 0.001;
	ck_assert_double_eq_tol(level_too_high(&far, &with), h + 0.001, 1e-7);
	with.instrument[0] =
	    (struct level_instrument){.tolerance = 0.0001, .tested = true, .tilt = 0.00005};
	ck_assert_double_eq_tol(level_too_high(&far, &with), h + 0.041, 1e-7);
	with.instrument[0].u = 0.001;
	ck_assert_double_eq_tol(level_too_high(&far, &with), h + 0.001, 1e-7);
}
END_TEST

/* Every member of a sight as one end of a setup. */
START_TEST(test_reach)
{
	struct level_sight on = sight(LEVEL_FS, "B", MM(1500), METRES(800));
	struct level_reach got;
	on.method = LEVEL_TAPE;
	on.instrument = 3;
	on.rod_error = 0.001;
	on.set_count = 7;
	on.set_sd = 0.002;
	on.limit = MM(4);
	on.u = MM(5);
	on.declared = true;
	got = level_reach_of(&on);
	ck_assert_double_eq(got.distance, 800);
	ck_assert_int_eq(got.method, LEVEL_TAPE);
	ck_assert_int_eq(got.instrument, 3);
	ck_assert_double_eq(got.rod_error, 0.001);
	ck_assert_int_eq(got.set_count, 7);
	ck_assert_double_eq(got.set_sd, 0.002);
	ck_assert_double_eq(got.limit, 0.004);
	ck_assert_double_eq(got.u, 0.005);
	ck_assert(got.declared);
}
END_TEST

int main(void)
{
	return RUN_TESTS("extents", test_of_one_sight, test_of_several, test_extremes,
	                 test_standing_elsewhere, test_again_after_nothing, test_too_high,
	                 test_reach);
}
