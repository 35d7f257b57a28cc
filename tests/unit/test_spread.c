/* Misclosures spread over a run, against pages reckoned by hand. */
#include "rodbook/level/spread.h"

#include <string.h>

#include "closed.h"
#include "worked_page.h"

static bool spread(const struct level_run *run, const enum level_by *by, struct level_spread *out,
                   struct fault *why)
{
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	struct level_closing closing;
	bool ok;
	ck_assert(level_reduce(run, 0, &terms, &page));
	closing = level_close(run, &page, &terms, level_tolerance_find("construction", NULL), 0);
	ok = level_spread(run, &page, &closing, by, out, why);
	level_page_free(&page);
	return ok;
}

static void row_is(const struct level_spread *s, size_t i, level_nm correction, level_nm adjusted)
{
	ck_assert(s->row[i].has);
	ck_assert_int_eq(s->row[i].correction, correction);
	ck_assert_int_eq(s->row[i].adjusted, adjusted);
}

START_TEST(test_worked_page)
{
	/* -2 mm a setup, as the exercise says; the elevations by hand. */
	struct level_run run = {
	    .kind = LEVEL_LINK, .count = WORKED_PAGE_SIGHTS, .sight = worked_page()};
	struct level_spread s;
	ck_assert(spread(&run, NULL, &s, NULL));
	ck_assert_int_eq(s.by, LEVEL_BY_SETUPS);
	ck_assert(s.fallback && !s.corrected);
	ck_assert_int_eq(s.misclosure, MM(10));
	row_is(&s, 0, 0, MM(29230));
	row_is(&s, 1, -MM(2), MM(29513));   /* P1: 30.947 - 1.432 = 29.515 */
	row_is(&s, 2, -MM(2), MM(29229));   /* 30.947 - 1.716 = 29.231 */
	row_is(&s, 4, -MM(4), MM(29873));   /* P2: 29.231 + 2.918 - 2.272 = 29.877 */
	row_is(&s, 5, -MM(4), MM(31192));   /* 31.196 */
	row_is(&s, 7, -MM(6), MM(29001));   /* 29.007 */
	row_is(&s, 9, -MM(8), MM(29044));   /* 29.052 */
	row_is(&s, 11, -MM(10), MM(28935)); /* P3: 30.298 - 1.353 = 28.945 */
	row_is(&s, 12, -MM(10), MM(28826));
	row_is(&s, 13, -MM(10), MM(29660));
	ck_assert(!s.row[3].has);
	ck_assert(s.row[0].fixed && s.row[13].fixed && !s.row[5].fixed);
	/* x (1 - x/l) after two of five setups: 2 x 3/5. */
	ck_assert_double_eq_tol(s.row[5].share, 1.2, 1e-12);
	level_spread_free(&s);
}
END_TEST

/* Sights all equal in a setup, so that there is nothing to correct: 40, 60 and 100 m of line. */
static struct level_sight *link_by_distance(void)
{
	static struct level_sight sights[6];
	struct level_sight fresh[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(20)), METRES(100), 0),
	    sight(LEVEL_FS, "P", MM(1000), METRES(20)),
	    sight(LEVEL_BS, "P", MM(1500), METRES(30)),
	    sight(LEVEL_FS, "Q", MM(1000), METRES(30)),
	    sight(LEVEL_BS, "Q", MM(1500), METRES(50)),
	    known(sight(LEVEL_FS, "B", MM(1000), METRES(50)), MM(101493), 0)};
	memcpy(sights, fresh, sizeof fresh);
	return sights;
}

START_TEST(test_by_distance)
{
	/* 7 mm over 200 m: 1.4, 3.5, 7; by setups 7/3 mm, 14/3 mm, rounded to 1 nm, and 7. */
	struct level_run run = {.kind = LEVEL_LINK, .count = 6, .sight = link_by_distance()};
	enum level_by by = LEVEL_BY_SETUPS;
	struct level_spread s;
	ck_assert(spread(&run, NULL, &s, NULL));
	ck_assert_int_eq(s.by, LEVEL_BY_DISTANCE);
	ck_assert(!s.fallback && s.corrected);
	ck_assert_int_eq(s.misclosure, MM(7));
	row_is(&s, 1, -1400000, 100498600000);
	row_is(&s, 3, -3500000, 100996500000);
	row_is(&s, 5, -MM(7), MM(101493));
	/* 0.04 km of 0.2: 0.04 x 0.8 */
	ck_assert_double_eq_tol(s.row[1].share, 0.032, 1e-12);
	level_spread_free(&s);
	ck_assert(spread(&run, &by, &s, NULL));
	row_is(&s, 1, -2333333, MM(100500) - 2333333);
	row_is(&s, 3, -4666667, MM(101000) - 4666667);
	row_is(&s, 5, -MM(7), MM(101493));
	level_spread_free(&s);
}
END_TEST

START_TEST(test_known_on_the_way)
{
	/* P is known 2 mm above where the line comes: it stays, and what is left of the 7 mm, 9,
	 * goes over the 160 m behind it. 24 mm sqrt 0.04 and sqrt 0.16 are 4.8 and 9.6 mm. */
	struct level_run run = {.kind = LEVEL_LINK, .count = 6, .sight = link_by_distance()};
	struct level_spread s;
	struct fault why = {0};
	run.sight[1] = known(run.sight[1], MM(100502), 0);
	run.sight[2] = known(run.sight[2], MM(100502), 0);
	ck_assert(spread(&run, NULL, &s, NULL));
	ck_assert_int_eq(s.sections, 2);
	row_is(&s, 1, MM(2), MM(100502));
	ck_assert(s.row[1].fixed);
	row_is(&s, 3, MM(2) - 3375000, MM(101002) - 3375000);
	row_is(&s, 5, -MM(7), MM(101493));
	level_spread_free(&s);
	/* A mark that does not hold is no miss to spread, until it is set aside. */
	run.sight[1].known = run.sight[2].known = MM(100505);
	ck_assert(!spread(&run, NULL, &s, &why));
	ck_assert_msg(strstr(why.text, "P does not hold") != NULL, "%s", why.text);
	run.sight[1].aside = run.sight[2].aside = true;
	ck_assert(spread(&run, NULL, &s, NULL));
	ck_assert_int_eq(s.sections, 1);
	level_spread_free(&s);
}
END_TEST

START_TEST(test_corrected)
{
	/* One setup of 100 m back and 10 m forth: h = 0.87 d^2 / 12 742 000 m, so 0.675954 mm
	 * between the two (rounded to 1 nm: 675 953 or so) come off before anything is spread. */
	struct level_sight sights[] = {
	    known(sight(LEVEL_BS, "A", MM(1500), METRES(100)), METRES(100), 0),
	    sight(LEVEL_IS, "near", MM(1200), METRES(10)), sight(LEVEL_IS, "unknown", MM(1200), 0),
	    known(sight(LEVEL_FS, "B", MM(1200), METRES(10)), METRES(100), 0)};
	struct level_run run = RUN(LEVEL_LINK, sights);
	struct level_spread s;
	sights[3].known = MM(100302);
	ck_assert(spread(&run, NULL, &s, NULL));
	ck_assert(s.corrected);
	ck_assert_int_le(llabs(s.misclosure - (-MM(2) - 675954)), 1);
	ck_assert_int_eq(s.row[3].adjusted, MM(100302));
	/* The IS that stands as far as the end is read the same; the other one cannot be
	 * corrected, and hangs off the start mark as it stands. */
	ck_assert_int_eq(s.row[1].adjusted, MM(100302));
	ck_assert(!s.row[1].uncorrected && s.row[2].uncorrected);
	ck_assert_int_eq(s.row[2].from, MM(100300));
	level_spread_free(&s);
}
END_TEST

START_TEST(test_loop_without_datum)
{
	/* A loop on an unknown mark closes; a known mark on the way cannot be held against it. */
	struct level_sight sights[] = {sight(LEVEL_BS, "X", MM(1500), 0),
	                               known(sight(LEVEL_FS, "M", MM(1000), 0), METRES(50), 0),
	                               known(sight(LEVEL_BS, "M", MM(1000), 0), METRES(50), 0),
	                               sight(LEVEL_FS, "X", MM(1504), 0)};
	struct level_run run = RUN(LEVEL_LOOP, sights);
	struct level_spread s;
	ck_assert(spread(&run, NULL, &s, NULL));
	ck_assert(s.start_assumed);
	ck_assert_int_eq(s.sections, 1);
	row_is(&s, 1, MM(2), MM(502));
	row_is(&s, 3, MM(4), 0);
	level_spread_free(&s);
}
END_TEST

static void refused(const struct level_run *run, const enum level_by *by, const char *words)
{
	struct level_spread s;
	struct fault why = {0};
	ck_assert(!spread(run, by, &s, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert_msg(strstr(why.text, words) != NULL, "%s", why.text);
}

START_TEST(test_refused)
{
	struct level_run run = {.kind = LEVEL_OPEN, .count = 6, .sight = link_by_distance()};
	enum level_by by = LEVEL_BY_DISTANCE;
	refused(&run, NULL, "open run");
	run.kind = LEVEL_CROSSING;
	refused(&run, NULL, "observed drop");
	run.kind = LEVEL_LINK;
	run.sight[1].distance = 0;
	refused(&run, &by, "distances not known: 1");
	run.sight[5].has_known = false;
	refused(&run, NULL, "does not end on a known mark");
	run.sight[2].station[0] = 'Z';
	refused(&run, NULL, "page check");
	run.count = 0;
	refused(&run, NULL, "does not end on a known mark");
}
END_TEST

int main(void)
{
	return RUN_TESTS("spread", test_worked_page, test_by_distance, test_known_on_the_way,
	                 test_corrected, test_loop_without_datum, test_refused);
}
