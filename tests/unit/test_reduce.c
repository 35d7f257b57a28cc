/* The page, row by row. */
#include "rodbook/level/page.h"

#include <stdlib.h>
#include <string.h>

#include "sights.h"
#include "worked_page.h"
#include "suite.h"

static struct level_page reduced(const struct level_run *run)
{
	struct level_terms with = usual_terms();
	struct level_page page = {0};
	ck_assert(level_reduce(run, 0, &with, &page));
	ck_assert_uint_eq(page.count, run->count);
	return page;
}

static void check_elevation(const struct level_page *page, size_t row, level_nm elevation)
{
	ck_assert_msg(page->row[row].has_elevation, "row %zu has none", row);
	ck_assert_msg(page->row[row].elevation == elevation, "row %zu: %lld, not %lld", row,
	              (long long)page->row[row].elevation, (long long)elevation);
}

START_TEST(test_worked_page)
{
	struct level_run run = {
	    .kind = LEVEL_LINK, .count = WORKED_PAGE_SIGHTS, .sight = worked_page()};
	struct level_page page = reduced(&run);
	/* by hand: 29.230 + 1.717 = 30.947 - 1.432 = 29.515; 30.947 - 1.716 = 29.231; + 2.918
	 * = 32.149
	 * - 2.272 = 29.877; 32.149 - 0.953 = 31.196; + 0.816 = 32.012 - 3.005 = 29.007; + 1.436 =
	 * 30.443 - 1.391 = 29.052; + 1.246 = 30.298 - 1.353 = 28.945, - 1.462 = 28.836, - 0.628 =
	 * 29.670, which the exercise prints */
	static const int elevations[] = {29230, 29515, 29231, 29231, 29877, 31196, 31196,
	                                 29007, 29007, 29052, 29052, 28945, 28836, 29670};
	static const int instrument[] = {30947, 0,     0, 32149, 0, 0, 32012,
	                                 0,     30443, 0, 30298, 0, 0, 0};
	static const int steps[] = {0,     285, -284, 0, 646,  1319, 0,
	                            -2189, 0,   45,   0, -107, -109, 834};
	static const int setups[] = {1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 5, 5, 5, 5};
	const struct level_sums *sums = level_page_sums(&page);
	for (size_t i = 0; i < 14; i++) {
		const struct level_row *row = &page.row[i];
		check_elevation(&page, i, MM(elevations[i]));
		ck_assert_int_eq(row->has_hi, instrument[i] != 0);
		if (row->has_hi)
			ck_assert_int_eq(row->hi, MM(instrument[i]));
		ck_assert_int_eq(row->has_step, steps[i] != 0);
		ck_assert_int_eq(row->step, MM(steps[i]));
		ck_assert_int_eq(row->setup, setups[i]);
	}
	ck_assert_int_eq(sums->bs, MM(8133));
	ck_assert_int_eq(sums->fs, MM(7693));
	/* rises 0.285 + 0.646 + 1.319 + 0.045 + 0.834, falls 0.284 + 2.189 + 0.107 + 0.109 */
	ck_assert_int_eq(sums->rises, MM(3129));
	ck_assert_int_eq(sums->falls, MM(2689));
	ck_assert_int_eq(sums->setups, 5);
	ck_assert_int_eq(sums->unknown_distances, 10);
	ck_assert_uint_eq(level_page_line(&page)->start_row, 0);
	ck_assert_uint_eq(level_page_line(&page)->end_row, 13);
	ck_assert_uint_eq(level_page_line(&page)->broken_row, SIZE_MAX);
	level_page_free(&page);
	ck_assert_ptr_null(page.row);
	ck_assert_uint_eq(page.count, 0);
}
END_TEST

START_TEST(test_empty)
{
	struct level_run run = {.kind = LEVEL_OPEN};
	struct level_page page = {0};
	struct level_terms with = usual_terms();
	ck_assert_int_eq(level_page_sums(&page)->setups, 0);
	ck_assert_uint_eq(level_page_line(&page)->start_row, SIZE_MAX);
	ck_assert(level_reduce(&run, 0, &with, &page));
	ck_assert(level_reduce(&run, 7, &with, &page));
	ck_assert_uint_eq(page.count, 0);
	ck_assert_int_eq(level_page_sums(&page)->bs, 0);
	level_page_free(&page);
	level_page_free(&page);
}
END_TEST

/* A setup still without its FS is shown, and not summed. */
START_TEST(test_incomplete_setup)
{
	struct level_run run = {.kind = LEVEL_LINK, .count = 5, .sight = worked_page()};
	struct level_page page = reduced(&run);
	const struct level_sums *sums = level_page_sums(&page);
	check_elevation(&page, 4, MM(29877));
	ck_assert_int_eq(page.row[3].hi, MM(32149));
	ck_assert_int_eq(page.row[4].step, MM(646));
	ck_assert_int_eq(page.row[4].setup, 2);
	ck_assert_int_eq(sums->bs, MM(1717));
	ck_assert_int_eq(sums->fs, MM(1716));
	ck_assert_int_eq(sums->rises, MM(285));
	ck_assert_int_eq(sums->falls, MM(284));
	ck_assert_int_eq(sums->setups, 1);
	ck_assert_int_eq(sums->unknown_distances, 2);
	level_page_free(&page);
}
END_TEST

/* A draft counts; struck and blank rows do not, and stay on the page without a figure. */
START_TEST(test_states)
{
	struct level_sight sights[] = {
	    as(sight(LEVEL_BS, "A", MM(9999), 0), LEVEL_STRUCK),
	    known(sight(LEVEL_BS, "A", MM(1500), 0), MM(100000), 0),
	    as(sight(LEVEL_FS, "B", MM(900), 0), LEVEL_STRUCK),
	    as(sight(LEVEL_FS, "B", MM(1000), 0), LEVEL_DRAFT),
	    as(sight(LEVEL_BS, "B", MM(700), 0), LEVEL_BLANK),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	check_elevation(&page, 1, MM(100000));
	check_elevation(&page, 3, MM(100500));
	for (size_t i = 0; i < 5; i += 2) {
		ck_assert(!page.row[i].has_elevation && !page.row[i].has_hi);
		ck_assert(!page.row[i].has_step && !page.row[i].has_corrected);
		ck_assert_int_eq(page.row[i].setup, 0);
	}
	ck_assert_int_eq(level_page_sums(&page)->bs, MM(1500));
	ck_assert_int_eq(level_page_sums(&page)->fs, MM(1000));
	ck_assert_uint_eq(level_page_line(&page)->start_row, 1);
	ck_assert_uint_eq(level_page_line(&page)->bs_row, SIZE_MAX);
	level_page_free(&page);
}
END_TEST

/* IS and FS whose BS is struck belong to no setup. */
START_TEST(test_orphans)
{
	struct level_sight sights[] = {
	    as(known(sight(LEVEL_BS, "A", MM(1500), 0), MM(100000), 0), LEVEL_STRUCK),
	    sight(LEVEL_IS, "P", MM(1200), 0),
	    sight(LEVEL_FS, "B", MM(1000), 0),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	for (size_t i = 0; i < 3; i++) {
		ck_assert(!page.row[i].has_elevation);
		ck_assert_int_eq(page.row[i].setup, 0);
	}
	ck_assert_int_eq(level_page_sums(&page)->setups, 0);
	ck_assert_uint_eq(level_page_line(&page)->end_row, SIZE_MAX);
	level_page_free(&page);
}
END_TEST

/* Where the start has no known elevation it is taken as 0. */
START_TEST(test_unknown_start)
{
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), 0),
	                               sight(LEVEL_FS, "B", MM(2000), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	check_elevation(&page, 0, 0);
	check_elevation(&page, 1, -MM(500));
	level_page_free(&page);
	/* whatever stands in a field that says it is not filled in */
	sights[0].known = MM(77);
	page = reduced(&run);
	check_elevation(&page, 0, 0);
	level_page_free(&page);
}
END_TEST

/* Where a BS is not on the mark where the line stands, nothing is carried over: what follows has
 * elevations only from a known mark. */
START_TEST(test_broken_line)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), MM(100000), 0),
	    sight(LEVEL_FS, "B", MM(1000), METRES(20)),
	    sight(LEVEL_BS, "C", MM(1200), METRES(20)),
	    sight(LEVEL_FS, "D", MM(1100), METRES(20)),
	    known(sight(LEVEL_BS, "E", MM(1000), METRES(20)), MM(50000), 0),
	    sight(LEVEL_FS, "F", MM(2000), METRES(20)),
	    sight(LEVEL_BS, "F", MM(1000), METRES(20)),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	check_elevation(&page, 1, MM(100500));
	ck_assert(page.row[1].has_corrected);
	ck_assert(!page.row[2].has_elevation && !page.row[2].has_hi);
	ck_assert(!page.row[3].has_elevation);
	ck_assert_int_eq(page.row[3].step, MM(100));
	check_elevation(&page, 4, MM(50000));
	check_elevation(&page, 5, MM(49000));
	check_elevation(&page, 6, MM(49000));
	for (size_t i = 2; i < 7; i++) {
		ck_assert(!page.row[i].has_corrected);
		ck_assert_uint_eq(page.row[i].line.broken_row, 2);
	}
	ck_assert_uint_eq(page.row[1].line.broken_row, SIZE_MAX);
	level_page_free(&page);
}
END_TEST

/* A setup left without its FS breaks the line too. */
START_TEST(test_setup_left_open)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), 0), MM(100000), 0),
	    sight(LEVEL_IS, "P", MM(1000), 0),
	    sight(LEVEL_BS, "P", MM(1200), 0),
	    sight(LEVEL_FS, "B", MM(1100), 0),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	ck_assert_uint_eq(level_page_line(&page)->broken_row, 2);
	ck_assert(!page.row[3].has_elevation);
	ck_assert_int_eq(level_page_sums(&page)->setups, 1);
	ck_assert_int_eq(level_page_sums(&page)->bs, MM(1200));
	ck_assert_int_eq(level_page_sums(&page)->rises, MM(100));
	level_page_free(&page);
}
END_TEST

/* So does a second BS on the mark where the line stood before the first. */
START_TEST(test_second_bs)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), 0), MM(100000), 0),
	    sight(LEVEL_FS, "B", MM(1000), 0),
	    sight(LEVEL_BS, "B", MM(1200), 0),
	    sight(LEVEL_BS, "B", MM(1300), 0),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	ck_assert_uint_eq(page.row[2].line.broken_row, SIZE_MAX);
	ck_assert_uint_eq(page.row[3].line.broken_row, 3);
	level_page_free(&page);
}
END_TEST

/* A known mark on the way does not move the line: it checks it. */
START_TEST(test_known_mark_on_the_way)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), 0), MM(100000), 0),
	    known(sight(LEVEL_FS, "B", MM(1000), 0), MM(100490), 0),
	    known(sight(LEVEL_BS, "B", MM(1200), 0), MM(100490), 0),
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	check_elevation(&page, 1, MM(100500));
	check_elevation(&page, 2, MM(100500));
	level_page_free(&page);
}
END_TEST

/* Corrected elevations, with h = (1 - k) d^2/2R = 0.87 d^2/12 742 000 (d^4/8R^3 is under 1 nm):
 * h(10) = 6 828 nm, h(100) = 682 781 nm, h(200) = 2 731 125 nm, h(800) = 43 698 006 nm.
 * Each reading is h too high, so an elevation read by IS or FS is h(d) too low and one carried by
 * a BS is h(d) too high. */
START_TEST(test_corrected)
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(10)), MM(100000), 0),
	    sight(LEVEL_IS, "P", MM(1000), METRES(100)),
	    sight(LEVEL_IS, "Q", MM(1000), 0),
	    sight(LEVEL_FS, "B", MM(1400), METRES(800)),
	    sight(LEVEL_BS, "B", MM(1300), METRES(200)),
	    sight(LEVEL_FS, "C", MM(1000), METRES(10)),
	    sight(LEVEL_BS, "C", MM(1000), 0),
	    sight(LEVEL_IS, "R", MM(1000), METRES(10)),
	    sight(LEVEL_FS, "D", MM(1000), METRES(10)),
	    sight(LEVEL_BS, "D", MM(1000), METRES(10)),
	};
	static const struct {
		bool has;
		level_nm nm;
	} expected[] = {
	    {true, MM(100000)},
	    {true, MM(100500) + 682781 - 6828},
	    {false, 0}, /* its distance is not known */
	    {true, MM(100100) + 43698006 - 6828},
	    {true, MM(100100) + 43698006 - 6828},
	    {true, MM(100400) + 43698006 - 6828 - 2731125 + 6828},
	    {true, MM(100400) + 43698006 - 6828 - 2731125 + 6828},
	    {false, 0}, /* the distance of its BS is not known */
	    {false, 0},
	    {false, 0}, /* nor anything from there on */
	};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	for (size_t i = 0; i < run.count; i++) {
		ck_assert_msg(page.row[i].has_corrected == expected[i].has, "row %zu", i);
		/* a nm a sight for the rounding above */
		if (expected[i].has)
			ck_assert_msg(llabs(page.row[i].corrected - expected[i].nm) <= 4,
			              "row %zu: %lld, not %lld", i,
			              (long long)page.row[i].corrected, (long long)expected[i].nm);
	}
	ck_assert_int_eq(level_page_sums(&page)->bs_length, METRES(210));
	ck_assert_int_eq(level_page_sums(&page)->fs_length, METRES(820));
	ck_assert_int_eq(level_page_sums(&page)->unknown_distances, 1);
	level_page_free(&page);
}
END_TEST

/* A rise of nothing counts as neither, and a step is from the reading before it. */
START_TEST(test_steps)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1500), 0), sight(LEVEL_IS, "P", MM(1500), 0),
	    sight(LEVEL_IS, "Q", MM(2000), 0), sight(LEVEL_FS, "B", MM(1200), 0),
	    sight(LEVEL_BS, "B", MM(4000), 0), sight(LEVEL_FS, "C", MM(0), 0),
	};
	static const int steps[] = {0, 0, -500, 800, 0, 4000};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_page page = reduced(&run);
	for (size_t i = 0; i < run.count; i++) {
		ck_assert_int_eq(page.row[i].has_step, sights[i].kind != LEVEL_BS);
		ck_assert_int_eq(page.row[i].step, MM(steps[i]));
	}
	ck_assert_int_eq(level_page_sums(&page)->rises, MM(4800));
	ck_assert_int_eq(level_page_sums(&page)->falls, MM(500));
	level_page_free(&page);
}
END_TEST

int main(void)
{
	return RUN_TESTS("reduce", test_worked_page, test_empty, test_incomplete_setup, test_states,
	                 test_orphans, test_unknown_start, test_broken_line, test_setup_left_open,
	                 test_second_bs, test_known_mark_on_the_way, test_corrected, test_steps);
}
