/* A setup that stands twice, or more often, between the same marks: both kept, the mean used. The
 * figures are worked by hand. */
#include "books.h"
#include "chance.h"
#include "closed.h"
#include "rodbook/level/spread.h"

static struct level_sight again(struct level_sight bs)
{
	bs.again = true;
	return bs;
}

/* A to TP1 twice: rises 1.234 - 0.567 = 0.667 and 1.450 - 0.781 = 0.669, mean 0.668; then TP1 to B:
 * 1.100 - 1.300 = -0.200. From 10.000: TP1 at 10.668, B at 10.468. Sum BS (1.234 + 1.450)/2 + 1.100
 * = 2.442, sum FS 2.442 - 0.468 = 1.974. */
static size_t twice(struct level_sight out[8])
{
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1234), METRES(30)), MM(10000), 0),
	    sight(LEVEL_FS, "TP1", MM(567), METRES(32)),
	    again(sight(LEVEL_BS, "A", MM(1450), METRES(28))),
	    sight(LEVEL_FS, "TP1", MM(781), METRES(34)),
	    sight(LEVEL_BS, "TP1", MM(1100), METRES(20)),
	    known(sight(LEVEL_FS, "B", MM(1300), METRES(20)), MM(10465), 0)};
	memcpy(out, sights, sizeof sights);
	return sizeof sights / sizeof *sights;
}

START_TEST(test_mean)
{
	struct level_sight sights[8];
	struct level_run run = {LEVEL_LINK, twice(sights), sights, ""};
	struct level_terms terms = {.radius = (double)INFINITY};
	struct level_page page = {0};
	struct level_closing c;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert_int_eq(page.row[1].elevation, MM(10667));
	/* the second standing begins on A again: HI 10.000 + 1.450 */
	ck_assert_int_eq(page.row[2].elevation, MM(10000));
	ck_assert_int_eq(page.row[2].hi, MM(11450));
	/* and until its FS is read the first one counts */
	ck_assert_int_eq(page.row[2].line.end, MM(10667));
	ck_assert_int_eq(page.row[2].sums.setups, 1);
	ck_assert_int_eq(page.row[3].elevation, MM(10668));
	ck_assert_int_eq(page.row[3].line.differ, MM(2));
	ck_assert_int_eq(page.row[3].sums.setups, 1);
	ck_assert_int_eq(page.row[4].elevation, MM(10668));
	ck_assert_int_eq(page.row[5].elevation, MM(10468));
	c = closed_with(&run, &terms, "third-order", 0);
	ck_assert(c.page_holds);
	ck_assert_int_eq(c.sum_bs, MM(2442));
	ck_assert_int_eq(c.sum_fs, MM(1974));
	ck_assert_int_eq(c.misclosure, MM(3));
	ck_assert_int_eq(c.setups, 2);
	ck_assert_int_eq(c.standings, MM(2));
	/* lengths are those of one way: (30 + 28)/2 + 20, (32 + 34)/2 + 20 */
	ck_assert_int_eq(c.length, METRES(49) + METRES(53));
	ck_assert_int_eq(c.imbalance, METRES(49) - METRES(53));
	level_page_free(&page);
}
END_TEST

/* From any row on the page comes out the same. */
START_TEST(test_from_row)
{
	struct level_sight sights[8];
	struct level_run run = {LEVEL_LINK, twice(sights), sights, ""};
	struct level_terms terms = usual_terms();
	for (size_t from = 0; from < run.count; from++) {
		struct level_page whole = {0}, part = {0};
		ck_assert(level_reduce(&run, 0, &terms, &whole));
		ck_assert(level_reduce(&run, 0, &terms, &part));
		ck_assert(level_reduce(&run, from, &terms, &part));
		for (size_t i = 0; i < run.count; i++) {
			ck_assert_int_eq(whole.row[i].elevation, part.row[i].elevation);
			ck_assert_int_eq(whole.row[i].corrected, part.row[i].corrected);
			ck_assert_int_eq(whole.row[i].sums.bs, part.row[i].sums.bs);
			ck_assert_double_eq(whole.row[i].sums.drop.drop,
			                    part.row[i].sums.drop.drop);
		}
		level_page_free(&whole);
		level_page_free(&part);
	}
}
END_TEST

/* Three standings, the mean of which is not whole: rises 0.667, 0.669, 0.669 make 0.668 333 333. */
START_TEST(test_three)
{
	struct level_sight sights[] = {
	    sight(LEVEL_BS, "A", MM(1234), 0),        sight(LEVEL_FS, "B", MM(567), 0),
	    again(sight(LEVEL_BS, "A", MM(1450), 0)), sight(LEVEL_FS, "B", MM(781), 0),
	    again(sight(LEVEL_BS, "A", MM(1500), 0)), sight(LEVEL_IS, "P", MM(1000), 0),
	    sight(LEVEL_FS, "B", MM(831), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_terms terms = {.radius = (double)INFINITY};
	struct level_page page = {0};
	struct level_closing c = closed_with(&run, &terms, "third-order", 0);
	ck_assert(c.page_holds);
	ck_assert_int_eq(c.end, 668333333);
	ck_assert_int_eq(c.standings, MM(2));
	ck_assert(level_reduce(&run, 0, &terms, &page));
	/* an IS hangs on its own line of sight: 0 + 1.500 - 1.000 */
	ck_assert_int_eq(page.row[5].elevation, MM(500));
	level_page_free(&page);
}
END_TEST

/* What a mean of two does to errors: a reading of 0.5 mm each, four of them, makes 1 mm for one
 * standing (0.5 x sqrt 2) and 0.5 mm for the mean of two (0.5 x sqrt 4 / 2); bounds 2 x 0.5 x 2 for
 * either. Tilt and air are those of a single setup of the mean distances. */
START_TEST(test_allowance)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS,
	                            .k = 0.13,
	                            .dk_low = 0.15,
	                            .dk_high = 0.15,
	                            .instrument = {{.tolerance = 0.0001}},
	                            .reading_fixed = {0.0005, 0.001, 0.0003}};
	struct level_sight once[] = {sight(LEVEL_BS, "A", MM(1234), METRES(30)),
	                             sight(LEVEL_FS, "B", MM(567), METRES(60))};
	struct level_sight both[] = {once[0], once[1],
	                             again(sight(LEVEL_BS, "A", MM(1450), METRES(30))),
	                             sight(LEVEL_FS, "B", MM(783), METRES(60))};
	struct level_run single = RUN(LEVEL_OPEN, once), twofold = RUN(LEVEL_OPEN, both);
	struct level_closing one = closed_with(&single, &terms, "third-order", 0);
	struct level_closing two = closed_with(&twofold, &terms, "third-order", 0);
	ck_assert_double_eq_tol(one.allowance.u[LEVEL_LINE_READING], 0.0005 * sqrt(2), 1e-12);
	ck_assert_double_eq_tol(two.allowance.u[LEVEL_LINE_READING], 0.0005, 1e-12);
	ck_assert_double_eq_tol(two.allowance.bound[LEVEL_LINE_READING], 0.002, 1e-12);
	for (int line = 0; line < LEVEL_ALLOWANCE_LINES; line++) {
		if (line == LEVEL_LINE_READING)
			continue;
		ck_assert_double_eq_tol(one.allowance.u[line], two.allowance.u[line], 1e-15);
		ck_assert_double_eq_tol(one.allowance.bound[line], two.allowance.bound[line],
		                        1e-15);
	}
	ck_assert_double_eq_tol(one.predicted, two.predicted, 1e-15);
}
END_TEST

/* Standings near either mark of a wide river: their rises differ by twice h, which is no fault.
 * Over a sphere the readings of a level line, from near A and from near B. */
START_TEST(test_from_both_banks)
{
	struct level_terms terms = {.radius = LEVEL_MEAN_RADIUS, .k = 0};
	level_nm h = level_from_meters(level_curvature(600, LEVEL_MEAN_RADIUS) -
	                               level_curvature(10, LEVEL_MEAN_RADIUS));
	struct level_sight sights[] = {sight(LEVEL_BS, "A", MM(1500), METRES(10)),
	                               sight(LEVEL_FS, "B", MM(1200) + h, METRES(600)),
	                               again(sight(LEVEL_BS, "A", MM(1800) + h, METRES(600))),
	                               sight(LEVEL_FS, "B", MM(1500), METRES(10))};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_closing c = closed_with(&run, &terms, "third-order", 0);
	ck_assert_int_eq(c.end, MM(300));
	ck_assert_int_le(c.standings, 2);
	ck_assert_double_eq_tol(c.predicted, 0, 1e-12);
}
END_TEST

/* Any run whose every setup stands again with the same readings closes as it did; and sums are
 * those of the means. */
START_TEST(test_property)
{
	uint64_t seed = chance_seed("standings");
	for (int n = 0; n < 300; n++) {
		struct level_sight once[40], all[200];
		size_t setups = (size_t)chance(&seed, 1, 20), count = 0, many = 0;
		struct level_run single, repeated;
		struct level_closing a, b;
		for (size_t i = 0; i < setups; i++) {
			char from[24], to[24];
			int standings = (int)chance(&seed, 1, 4);
			snprintf(from, sizeof from, "P%zu", i);
			snprintf(to, sizeof to, "P%zu", i + 1);
			struct level_sight bs = sight(LEVEL_BS, from, MM(chance(&seed, 500, 2500)),
			                              METRES(chance(&seed, 1, 90)));
			struct level_sight fs = sight(LEVEL_FS, to, MM(chance(&seed, 500, 2500)),
			                              METRES(chance(&seed, 1, 90)));
			once[count++] = bs;
			once[count++] = fs;
			for (int k = 0; k < standings; k++) {
				all[many++] = k ? again(bs) : bs;
				all[many++] = fs;
			}
		}
		single = (struct level_run){LEVEL_OPEN, count, once, ""};
		repeated = (struct level_run){LEVEL_OPEN, many, all, ""};
		a = closed(&single, "third-order", 0);
		b = closed(&repeated, "third-order", 0);
		ck_assert(b.page_holds);
		ck_assert_int_eq(a.end, b.end);
		ck_assert_int_eq(a.sum_bs, b.sum_bs);
		ck_assert_int_eq(a.length, b.length);
		ck_assert_int_eq(a.setups, b.setups);
		ck_assert_int_eq(b.standings, 0);
		ck_assert_double_eq_tol(a.predicted, b.predicted, 1e-12);
	}
}
END_TEST

/* Spread over A - TP1 (stood twice, mean length 30 + 32 ... 62) and TP1 - B (40 of 102 m): misses
 * by 3 mm, so TP1 gets -3 x 62/102 = -1.823 529 mm, once, and B all of it. The radius is that of a
 * flat Earth, so that nothing else is taken off. */
START_TEST(test_spread)
{
	struct level_sight sights[8];
	struct level_run run = {LEVEL_LINK, twice(sights), sights, ""};
	struct level_terms terms = {.radius = (double)INFINITY};
	struct level_page page = {0};
	struct level_closing c = closed_with(&run, &terms, "third-order", 0);
	struct level_spread spread;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	ck_assert(level_spread(&run, &page, &c, NULL, &spread, NULL));
	ck_assert(!spread.row[1].has);
	ck_assert_int_eq(spread.row[3].correction, -1823529);
	ck_assert_int_eq(spread.row[3].adjusted, MM(10668) - 1823529);
	ck_assert_int_eq(spread.row[5].correction, -MM(3));
	level_spread_free(&spread);
	level_page_free(&page);
}
END_TEST

static bool book_again(struct shelf *s, const char *station, const char *reading)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, LEVEL_BS, station, reading, &sight, &note));
	sight.again = true;
	if (!book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

/* Where a further standing may be booked, and what may still be done to the ones before it. */
START_TEST(test_order)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "twice", LEVEL_OPEN);
	ck_assert(!book_again(&s, "A", "1.2"));
	FAULT(&s, FAULT_INPUT, "follows a setup that has its FS");
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.234"));
	ck_assert(!book_again(&s, "A", "1.2"));
	FAULT(&s, FAULT_INPUT, "read the FS first");
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "0.567"));
	ck_assert(!book_again(&s, "B", "1.2"));
	FAULT(&s, FAULT_INPUT, "begins on the BS mark of the first, A");
	ck_assert(book_again(&s, "A", "1.450"));
	ck_assert(s.run.run.sight[2].again);
	ck_assert(!shelf_book(&s, LEVEL_FS, "C", "0.781"));
	FAULT(&s, FAULT_INPUT, "ends on the FS mark of the first, B");
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "0.781"));
	COUNTED(&s, "BS A 1.234, FS B 0.567, BS A 1.450, FS B 0.781");
	/* the first standing keeps its marks while a second one stands on them */
	ck_assert(!shelf_change(&s, 1, LEVEL_FS, "C", "0.567"));
	FAULT(&s, FAULT_INPUT, "strike the later standing first");
	ck_assert(!shelf_change(&s, 0, LEVEL_BS, "D", "1.234"));
	ck_assert(!book_strike(s.book, &s.run, 0, true, "", &s.why));
	FAULT(&s, FAULT_INPUT, "strike that one first");
	ck_assert(!shelf_insert(&s, 2, LEVEL_BS, "B", "1.0"));
	/* but its readings can be changed */
	ck_assert(shelf_change(&s, 1, LEVEL_FS, "B", "0.568"));
	ck_assert(shelf_book(&s, LEVEL_BS, "B", "1.1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "C", "1.3"));
	COUNTED(&s, "BS A 1.234, FS B 0.568, BS A 1.450, FS B 0.781, BS B 1.1, FS C 1.3");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("standings", test_mean, test_from_row, test_three, test_allowance,
	                 test_from_both_banks, test_property, test_spread, test_order);
}
