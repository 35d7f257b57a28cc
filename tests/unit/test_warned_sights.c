/* Warnings about a sight held against those before it, at their limits: third order (FGCC,
 * Standards and Specifications for Geodetic Control Networks, 1984, recalled): sights 90 m, 10 m
 * apart, half intervals 3.1 mm as the set has it, line 0.5 m; 3 mm between standings (common
 * practice, no source). */
#include "rodbook/level/warnings.h"

#include <string.h>

#include "closed.h"

#define ONLY(warning) (1u << (warning))

static struct level_warned warned(const struct level_run *run, size_t at, level_nm stadia)
{
	struct level_page page = {0};
	struct level_terms terms = {.radius = 1e12};
	struct level_warned out;
	ck_assert(level_reduce(run, 0, &terms, &page));
	out = level_warn(run, &page, at, level_tolerance_find("third-order", NULL), stadia, 0.001);
	level_page_free(&page);
	return out;
}

static struct level_sight *setup(void)
{
	static struct level_sight sights[2];
	sights[0] = known(sight(LEVEL_BS, "A", MM(1500), METRES(60)), METRES(10), 0);
	sights[1] = sight(LEVEL_FS, "B", MM(1400), METRES(60));
	return sights;
}

START_TEST(test_distances)
{
	struct level_run run = {.kind = LEVEL_OPEN, .count = 2, .sight = setup()};
	struct level_warned got;
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
	run.sight[1].distance = METRES(70);
	got = warned(&run, 1, 0);
	ck_assert_uint_eq(got.set, 0);
	ck_assert_int_eq(got.distance, METRES(70));
	ck_assert_int_eq(got.other, METRES(60));
	run.sight[1].distance = METRES(70) + 1;
	ck_assert_uint_eq(warned(&run, 1, 0).set, ONLY(LEVEL_WARN_IMBALANCE));
	run.sight[1].distance = METRES(50) - 1;
	ck_assert_uint_eq(warned(&run, 1, 0).set, ONLY(LEVEL_WARN_IMBALANCE));
	run.sight[1].distance = METRES(50);
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
	/* what is not known is held against nothing */
	run.sight[1].distance = 0;
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
	run.sight[0].distance = 0;
	run.sight[1].distance = METRES(90);
	got = warned(&run, 1, 0);
	ck_assert_uint_eq(got.set, 0);
	ck_assert_int_eq(got.other, 0);
	run.sight[1].distance = METRES(90) + 1;
	ck_assert_uint_eq(warned(&run, 1, 0).set, ONLY(LEVEL_WARN_SIGHT));
	/* an IS hangs off the line, and its length is its own */
	run.sight[0].distance = METRES(10);
	run.sight[1].kind = LEVEL_IS;
	ck_assert_uint_eq(warned(&run, 1, 0).set, ONLY(LEVEL_WARN_SIGHT));
	/* on a crossing sights are long and unequal on purpose */
	run.sight[1].kind = LEVEL_FS;
	run.kind = LEVEL_CROSSING;
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
	/* but no tape is read through a level from beyond 100 m */
	run.sight[1].method = LEVEL_TAPE;
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
	run.sight[1].distance = METRES(100) + 1;
	ck_assert_uint_eq(warned(&run, 1, 0).set, ONLY(LEVEL_WARN_TAPE));
	run.sight[1].method = LEVEL_TARGET;
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
}
END_TEST

/* Distance typed and by wires: 0.5 m and a hundredth may be between, 1.1 m of 60. */
START_TEST(test_interval)
{
	struct level_run run = {.kind = LEVEL_OPEN, .count = 2, .sight = setup()};
	struct level_sight *bs = &run.sight[0];
	bs->wires = true;
	bs->upper = MM(1800);
	bs->middle = MM(1500);
	bs->lower = MM(1200);
	ck_assert_uint_eq(warned(&run, 0, METRES(60)).set, 0);
	bs->distance = METRES(60) + MM(1100);
	ck_assert_uint_eq(warned(&run, 0, METRES(60)).set, 0);
	ck_assert_int_eq(warned(&run, 0, METRES(60)).interval, METRES(60));
	bs->distance++;
	ck_assert_uint_eq(warned(&run, 0, METRES(60)).set, ONLY(LEVEL_WARN_INTERVAL));
	bs->distance = METRES(60) - MM(1100) - 1;
	ck_assert_uint_eq(warned(&run, 0, METRES(60)).set, ONLY(LEVEL_WARN_INTERVAL));
	bs->distance++;
	ck_assert_uint_eq(warned(&run, 0, METRES(60)).set, 0);
	/* nothing to compare */
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	bs->distance = 0;
	ck_assert_uint_eq(warned(&run, 0, METRES(60)).set, 0);
	/* half intervals: 300 and 303.1 mm, 1 nm more */
	bs->lower = MM(1196) + MM(9) / 10;
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	ck_assert_int_eq(warned(&run, 0, 0).half, 3100000);
	bs->lower--;
	ck_assert_uint_eq(warned(&run, 0, 0).set, ONLY(LEVEL_WARN_HALF));
}
END_TEST

/* A line lower than 0.5 m over the ground; a tape or a target stands on no ground. */
START_TEST(test_low_line)
{
	struct level_run run = {.kind = LEVEL_OPEN, .count = 1, .sight = setup()};
	run.sight[0].reading = MM(500);
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	run.sight[0].reading--;
	ck_assert_uint_eq(warned(&run, 0, 0).set, ONLY(LEVEL_WARN_CLEARANCE));
	run.sight[0].method = LEVEL_TARGET;
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	/* an offset has a sign of its own */
	run.sight[0].kind = LEVEL_OFF;
	run.sight[0].reading = -MM(500);
	ck_assert(!level_is_below(&run.sight[0]));
}
END_TEST

/* Neither a struck sight nor one that is not read yet has anything to warn of. */
START_TEST(test_not_counted)
{
	struct level_run run = {.kind = LEVEL_OPEN, .count = 1, .sight = setup()};
	run.sight[0].distance = METRES(200);
	ck_assert_uint_eq(warned(&run, 0, 0).set, ONLY(LEVEL_WARN_SIGHT));
	run.sight[0].state = LEVEL_DRAFT;
	ck_assert_uint_eq(warned(&run, 0, 0).set, ONLY(LEVEL_WARN_SIGHT));
	run.sight[0].state = LEVEL_STRUCK;
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	run.sight[0].state = LEVEL_BLANK;
	ck_assert_uint_eq(warned(&run, 0, 0).set, 0);
	ck_assert_int_eq(warned(&run, 0, 0).distance, METRES(200));
}
END_TEST

/* Rises of two standings, 3 mm and 1 nm more apart, told at the FS; not of a crossing. */
START_TEST(test_standings)
{
	struct level_sight sights[] = {known(sight(LEVEL_BS, "A", MM(1500), 0), METRES(10), 0),
	                               sight(LEVEL_FS, "B", MM(1000), 0),
	                               sight(LEVEL_BS, "A", MM(1503), 0),
	                               sight(LEVEL_FS, "B", MM(1000), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	sights[2].again = true;
	ck_assert_uint_eq(warned(&run, 3, 0).set, 0);
	ck_assert_int_eq(warned(&run, 3, 0).standings, MM(3));
	sights[2].reading++;
	ck_assert_uint_eq(warned(&run, 3, 0).set, ONLY(LEVEL_WARN_STANDINGS));
	ck_assert_uint_eq(warned(&run, 1, 0).set, 0);
	run.kind = LEVEL_CROSSING;
	ck_assert_uint_eq(warned(&run, 3, 0).set, 0);
}
END_TEST

/* A name met before: its setup is told. None for a BS, the start, and a mark that is known. */
START_TEST(test_used_names)
{
	struct level_sight sights[] = {as(sight(LEVEL_BS, "X", MM(1500), 0), LEVEL_STRUCK),
	                               sight(LEVEL_BS, "A", MM(1500), 0),
	                               sight(LEVEL_IS, "P", MM(1400), 0),
	                               sight(LEVEL_FS, "T", MM(1400), 0),
	                               sight(LEVEL_BS, "T", MM(1500), 0),
	                               sight(LEVEL_IS, "P", MM(1400), 0),
	                               sight(LEVEL_FS, "X", MM(1400), 0),
	                               sight(LEVEL_OFF, "U", MM(1400), 0),
	                               sight(LEVEL_BS, "U", MM(1400), 0),
	                               sight(LEVEL_FS, "U", MM(1400), 0)};
	struct level_run run = RUN(LEVEL_OPEN, sights);
	struct level_warned got = warned(&run, 5, 0);
	sights[7].method = LEVEL_TAPE;
	ck_assert_uint_eq(got.set, ONLY(LEVEL_WARN_NAME));
	ck_assert_int_eq(got.setup, 1);
	ck_assert_uint_eq(warned(&run, 4, 0).set, 0);
	ck_assert_uint_eq(warned(&run, 2, 0).set, 0);
	/* the X before is struck */
	ck_assert_uint_eq(warned(&run, 6, 0).set, 0);
	/* the U before is an offset behind the second setup */
	got = warned(&run, 9, 0);
	ck_assert_uint_eq(got.set, ONLY(LEVEL_WARN_NAME));
	ck_assert_int_eq(got.setup, 2);
	strcpy(sights[5].station, "A");
	ck_assert_uint_eq(warned(&run, 5, 0).set, 0);
	strcpy(sights[5].station, "P");
	sights[5].has_known = true;
	ck_assert_uint_eq(warned(&run, 5, 0).set, 0);
}
END_TEST

START_TEST(test_names)
{
	static const char *const names[] = {
	    "half intervals",  "long sight",  "imbalance",  "low line",
	    "interval",        "used name",   "spread",     "standings",
	    "station differs", "time back",   "time ahead", "below zero",
	    "curvature",       "near",        "look-alike", "decimals",
	    "no water",        "far by tape", "number",     "seals early"};
	struct level_warned all = {0};
	char text[LEVEL_REMARK_BYTES];
	level_warned_names(&all, text);
	ck_assert_str_eq(text, "");
	for (int i = 0; i < LEVEL_WARNINGS; i++) {
		ck_assert_str_eq(level_warning_name((enum level_warning)i), names[i]);
		all.set = ONLY(i) | ONLY(0);
		level_warned_names(&all, text);
		ck_assert_uint_eq(strlen(text),
		                  i ? strlen(names[i]) + strlen(names[0]) + 2 : strlen(names[0]));
		ck_assert_ptr_nonnull(strstr(text, names[i]));
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("warned_sights", test_distances, test_interval, test_low_line,
	                 test_not_counted, test_standings, test_used_names, test_names);
}
