/* The line of a run's long sight: what k hangs on. */
#include <math.h>

#include "rodbook/level/page.h"
#include "suite.h"

static struct level_sight sight(enum level_kind kind, double reading, double distance, double water)
{
	return (struct level_sight){.kind = kind,
	                            .reading = level_from_meters(reading),
	                            .distance = level_from_meters(distance),
	                            .water = level_from_meters(water),
	                            .water_count = water > 0 ? 3 : 0};
}

/* Near mark 0.4 m above its water, read 2.0 m: the line begins 2.4 m above the water. */
START_TEST(test_by_near_mark)
{
	struct level_sight sights[] = {sight(LEVEL_BS, 2.0, 6, 0.4),
	                               sight(LEVEL_FS, 2.3, 1480, 0.3)};
	struct level_run run = {.sight = sights, .count = 2};
	struct level_sightline line;
	ck_assert(level_run_sightline(&run, 6371000, &line));
	ck_assert_double_eq_tol(line.height, 2.4, 1e-12);
	ck_assert_double_eq_tol(line.distance, 1480, 1e-9);
	sights[0].water_count = 0;
	ck_assert(level_run_sightline(&run, 6371000, &line));
	ck_assert(isnan(line.height));
}
END_TEST

/* A long BS seals before its near sight is there: the far mark 1.0 m above its water, read 2.6 m at
 * 1000 m, and half of 1000^2/(2 x 6 371 000) = 78.480 mm less. With the near sight it is that
 * one's. */
START_TEST(test_long_bs)
{
	struct level_sight sights[] = {sight(LEVEL_BS, 2.6, 1000, 1.0),
	                               sight(LEVEL_FS, 3.0, 5, 0.5)};
	struct level_run run = {.sight = sights, .count = 1};
	struct level_sightline line;
	ck_assert(level_run_sightline(&run, 6371000, &line));
	ck_assert_double_eq_tol(line.height, 3.6 - 0.039240, 1e-6);
	run.count = 2;
	ck_assert(level_run_sightline(&run, 6371000, &line));
	ck_assert_double_eq_tol(line.height, 3.5, 1e-12);
}
END_TEST

/* low and high of several readings are the worst of them, whichever was the last. */
START_TEST(test_mean_of_two)
{
	const struct level_sightline line = {2.4, 800, 6371000};
	struct level_air_reading list[2];
	struct level_k_found one[2], both;
	for (int i = 0; i < 2; i++) {
		list[i] = level_air_nothing();
		list[i].low = 15;
		list[i].low_height = 1;
		list[i].high = 15.1;
		list[i].high_height = 3;
		list[i].thermometer_u = i ? 0.1 : 0.4;
		one[i] = level_k_mean(&list[i], 1, &line, LEVEL_OVER_WATER);
	}
	ck_assert_double_gt(one[0].chosen.low, one[1].chosen.low + 0.1);
	both = level_k_mean(list, 2, &line, LEVEL_OVER_WATER);
	ck_assert_double_ge(both.chosen.low, one[0].chosen.low - 1e-12);
	ck_assert_double_ge(both.chosen.high, one[0].chosen.high - 1e-12);
}
END_TEST

int main(void)
{
	return RUN_TESTS("sightline", test_by_near_mark, test_long_bs, test_mean_of_two);
}
