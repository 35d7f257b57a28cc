/* Whether a run is ready to be closed, and from which shores a crossing was sighted: the rules of
 * the trade (common practice, no source). */
#include "closed.h"
#include "rodbook/level/ready.h"

static enum level_readiness ready(struct level_run run)
{
	struct level_terms terms = usual_terms();
	struct level_page page = {0};
	struct level_closing closing;
	enum level_readiness out;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	closing = level_close(&run, &page, &terms, level_tolerance_find("third-order", NULL), 0);
	out = level_ready(&run, &page, &closing);
	level_page_free(&page);
	return out;
}

#define BS(station, mm, m) sight(LEVEL_BS, station, MM(mm), METRES(m))
#define IS(station, mm, m) sight(LEVEL_IS, station, MM(mm), METRES(m))
#define FS(station, mm, m) sight(LEVEL_FS, station, MM(mm), METRES(m))
#define AT(on, elevation) known(on, METRES(elevation), 0)

START_TEST(test_ready)
{
	/* 12 mm sqrt 0.08 = 3.4 mm: 3 mm stand, 4 mm do not */
	struct level_sight closes[] = {AT(BS("A", 1500, 40), 10), AT(FS("A", 1503, 40), 10)};
	struct level_sight misses[] = {AT(BS("A", 1500, 40), 10), AT(FS("A", 1504, 40), 10)};
	struct level_sight unjudged[] = {AT(BS("A", 1500, 0), 10), AT(FS("A", 1504, 0), 10)};
	struct level_sight away[] = {AT(BS("A", 1500, 40), 10), FS("TP1", 1500, 40)};
	struct level_sight link[] = {AT(BS("A", 1500, 40), 10), AT(FS("B", 1500, 40), 10)};
	struct level_sight unset[] = {BS("A", 1500, 40), AT(FS("B", 1500, 40), 10)};
	struct level_sight open[] = {AT(BS("A", 1500, 40), 10), FS("TP1", 1500, 40),
	                             BS("TP1", 1500, 40), IS("P", 1500, 40)};
	struct level_sight gap[] = {AT(BS("A", 1500, 40), 10), FS("TP1", 1500, 40),
	                            BS("TP2", 1500, 40), AT(FS("A", 1500, 40), 10)};
	struct level_sight struck[] = {as(BS("A", 1500, 40), LEVEL_STRUCK)};
	struct level_sight undone[] = {AT(BS("A", 1500, 40), 10), AT(FS("A", 1500, 40), 10),
	                               as(BS("A", 1500, 40), LEVEL_STRUCK)};
	ck_assert_int_eq(ready(RUN(LEVEL_LOOP, closes)), LEVEL_READY);
	ck_assert_int_eq(ready(RUN(LEVEL_LOOP, misses)), LEVEL_OVER_ALLOWABLE);
	ck_assert_int_eq(ready(RUN(LEVEL_LINK, misses)), LEVEL_OVER_ALLOWABLE);
	ck_assert_int_eq(ready(RUN(LEVEL_OPEN, misses)), LEVEL_READY);
	ck_assert_int_eq(ready(RUN(LEVEL_CROSSING, misses)), LEVEL_READY);
	ck_assert_int_eq(ready(RUN(LEVEL_LOOP, unjudged)), LEVEL_READY);
	ck_assert_int_eq(ready(RUN(LEVEL_LOOP, away)), LEVEL_NOT_BACK);
	ck_assert_int_eq(ready(RUN(LEVEL_LOOP, link)), LEVEL_NOT_BACK);
	ck_assert_int_eq(ready(RUN(LEVEL_OPEN, away)), LEVEL_READY);
	ck_assert_int_eq(ready(RUN(LEVEL_LINK, away)), LEVEL_END_UNKNOWN);
	ck_assert_int_eq(ready(RUN(LEVEL_LINK, link)), LEVEL_READY);
	ck_assert_int_eq(ready(RUN(LEVEL_LINK, unset)), LEVEL_END_UNKNOWN);
	ck_assert_int_eq(ready(RUN(LEVEL_OPEN, open)), LEVEL_SETUP_OPEN);
	ck_assert_int_eq(ready(RUN(LEVEL_OPEN, gap)), LEVEL_LINE_BROKEN);
	ck_assert_int_eq(ready(RUN(LEVEL_OPEN, struck)), LEVEL_NO_SIGHTS);
	ck_assert_int_eq(ready(RUN(LEVEL_LOOP, undone)), LEVEL_READY);
	ck_assert_int_eq(ready((struct level_run){.kind = LEVEL_OPEN}), LEVEL_NO_SIGHTS);
	away[0].water_count = 1;
	ck_assert_int_eq(ready(RUN(LEVEL_CROSSING, away)), LEVEL_WATER_MISSING);
	away[1].water_count = 1;
	ck_assert_int_eq(ready(RUN(LEVEL_CROSSING, away)), LEVEL_READY);
}
END_TEST

static const char *shores(struct level_run run)
{
	struct level_shores got;
	ck_assert(level_shores(&run, METRES(100), &got));
	return got.first && got.second ? "both" : got.first ? "first" : got.second ? "second" : "";
}

START_TEST(test_shores)
{
	/* The instrument stands by the nearer mark; the long sight reaches over. */
	struct level_sight over[] = {BS("A", 1500, 5), FS("B", 1600, 800)};
	struct level_sight from_far[] = {BS("A", 1500, 800), FS("B", 1600, 5)};
	struct level_sight forth_and_back[] = {BS("A", 1500, 5), FS("B", 1600, 800),
	                                       BS("B", 1500, 5), FS("A", 1600, 800)};
	/* Forth, and on from the far shore by a sight back over the water. */
	struct level_sight reciprocal[] = {BS("A", 1500, 5), FS("B", 1600, 800), BS("B", 1600, 800),
	                                   FS("C", 1500, 5)};
	struct level_sight to_the_shore[] = {BS("A", 1500, 30),  FS("TP1", 1500, 30),
	                                     BS("TP1", 1500, 5), FS("B", 1500, 800),
	                                     BS("B", 1500, 40),  FS("C", 1500, 40)};
	/* Midway on an island: no sight tells from which shore. */
	struct level_sight midway[] = {BS("A", 1500, 400), FS("B", 1600, 405)};
	struct level_sight brook[] = {BS("A", 1500, 5), FS("B", 1600, 99)};
	struct level_sight struck[] = {BS("A", 1500, 5), as(FS("B", 1600, 800), LEVEL_STRUCK)};
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, over)), "first");
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, from_far)), "second");
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, forth_and_back)), "both");
	/* the second setup stands by C, where the first one stood: on the shore of the start */
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, reciprocal)), "first");
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, to_the_shore)), "first");
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, midway)), "");
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, brook)), "");
	ck_assert_str_eq(shores(RUN(LEVEL_CROSSING, struck)), "");
}
END_TEST

/* A reading is typed before its distance: in between nothing is judged by setups. */
START_TEST(test_awaits_distance)
{
	struct level_sight sights[] = {BS("A", 1500, 40), FS("A", 1504, 0)};
	struct level_run run = {.count = 2, .sight = sights};
	struct level_closing closing = {.provisional = true, .unknown_distances = 1};
	sights[1].state = LEVEL_DRAFT;
	ck_assert(level_awaits_distance(&run, &closing, 1));
	sights[1].distance = METRES(40);
	ck_assert(!level_awaits_distance(&run, &closing, 1));
	sights[1].distance = 0;
	sights[1].state = LEVEL_BOOKED;
	ck_assert(!level_awaits_distance(&run, &closing, 1));
	sights[1].state = LEVEL_DRAFT;
	closing.unknown_distances = 2;
	ck_assert(!level_awaits_distance(&run, &closing, 1));
	closing.unknown_distances = 1;
	closing.provisional = false;
	ck_assert(!level_awaits_distance(&run, &closing, 1));
}
END_TEST

int main(void)
{
	return RUN_TESTS("ready", test_ready, test_shores, test_awaits_distance);
}
