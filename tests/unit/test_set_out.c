/* Where a rod reads on a mark that is set out. Worked by hand: PEG stands at 12.345 and is read at
 * 1.500, so HI is 13.845, and a mark at 12.195 has the rod at 1.650. */
#include "rodbook/level/page.h"

#include "sights.h"
#include "suite.h"

#define WANTED MM(12195)

/* What is set out from the last of some sights. */
static struct level_set_out last_of(struct level_sight *sights, size_t count)
{
	struct level_run run = {.kind = LEVEL_OPEN, .sight = sights, .count = count};
	struct level_page page = {0};
	struct level_terms terms = usual_terms();
	struct level_set_out out;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	out = level_set_out(&run, &page, count - 1, &terms, WANTED);
	level_page_free(&page);
	return out;
}
#define LAST_OF(sights) last_of(sights, sizeof(sights) / sizeof *(sights))

static struct level_sight peg(level_nm distance)
{
	return known(sight(LEVEL_BS, "PEG", MM(1500), distance), MM(12345), 0);
}

/* An FS closes its setup, an IS does not, and a line is there without either: read 1.700, the mark
 * must go up by 0.050, and read 1.640 down by 0.010. */
START_TEST(test_rod)
{
	struct level_sight is[] = {peg(0), sight(LEVEL_IS, "STAKE", MM(1700), 0)};
	struct level_sight fs[] = {peg(0), sight(LEVEL_IS, "POST", MM(900), 0),
	                           sight(LEVEL_FS, "STAKE", MM(1640), 0)};
	struct level_sight bs[] = {peg(0)};
	struct level_set_out out = LAST_OF(is);
	ck_assert(out.has && out.has_move && !out.corrected);
	ck_assert_int_eq(out.rod, MM(1650));
	ck_assert_int_eq(out.move, MM(50));
	out = LAST_OF(fs);
	ck_assert(out.has && out.has_move && !out.corrected);
	ck_assert_int_eq(out.rod, MM(1650));
	ck_assert_int_eq(out.move, MM(-10));
	out = LAST_OF(bs);
	ck_assert(out.has && !out.has_move);
	ck_assert_int_eq(out.rod, MM(1650));
	is[1] = as(is[1], LEVEL_BLANK);
	out = LAST_OF(is);
	ck_assert(out.has && !out.has_move);
	ck_assert_int_eq(out.rod, MM(1650));
}
END_TEST

/* The second setup counts: TP comes to 13.845 - 1.000 = 12.845, and a BS of 0.400 there gives a HI
 * of 13.245. Before any elevation is known, and behind a struck BS, there is no line. */
START_TEST(test_line)
{
	struct level_sight two[] = {peg(0), sight(LEVEL_FS, "TP", MM(1000), 0),
	                            sight(LEVEL_BS, "TP", MM(400), 0),
	                            sight(LEVEL_FS, "STAKE", MM(1050), 0)};
	struct level_sight none[] = {as(peg(0), LEVEL_STRUCK),
	                             sight(LEVEL_IS, "STAKE", MM(1700), 0)};
	struct level_set_out out = LAST_OF(two);
	ck_assert(out.has);
	ck_assert_int_eq(out.rod, MM(1050));
	ck_assert_int_eq(out.move, 0);
	ck_assert(!LAST_OF(none).has);
}
END_TEST

/* With k = 0.13 a reading is too high by 0.0683 K^2 m (K in km; Ghilani and Wolf, recalled): at 300
 * m by 0.0683 (0.09 - 0.0009) m = 6.09 mm more than at 30 m. One distance alone corrects nothing.
 */
START_TEST(test_corrected)
{
	struct level_sight far[] = {peg(METRES(30)),
	                            sight(LEVEL_IS, "STAKE", MM(1700), METRES(300))};
	struct level_set_out out = LAST_OF(far);
	ck_assert(out.corrected);
	ck_assert_double_eq_tol(level_to_meters(out.rod), 1.65609, 0.00001);
	ck_assert_double_eq_tol(level_to_meters(out.move), 0.04391, 0.00001);
	far[1].distance = 0;
	out = LAST_OF(far);
	ck_assert(!out.corrected);
	ck_assert_int_eq(out.rod, MM(1650));
	far[1].distance = METRES(300);
	far[0].distance = 0;
	ck_assert(!LAST_OF(far).corrected);
}
END_TEST

int main(void)
{
	return RUN_TESTS("set_out", test_rod, test_line, test_corrected);
}
