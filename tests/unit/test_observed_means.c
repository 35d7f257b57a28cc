/* Rods and means of repeated readings. */
#include "rodbook/level/observed.h"

#include <math.h>

#include "unit/suite.h"

#define MM(n) ((level_nm)(n)*1000000)

/* Worked by hand: 1, 2, 3, 4 and 10 mm
 * have mean 4 mm and squares about it 9 + 4 + 1 + 0 + 36 = 50, so sd = sqrt(50/4) mm. */
START_TEST(test_tally)
{
	const int readings[] = {3, 1, 10, 2, 4};
	struct level_tally tally = {0};
	ck_assert_int_eq(level_tally_mean(&tally), 0);
	ck_assert_double_eq(level_tally_sd(&tally), 0);
	for (int i = 0; i < 5; i++) {
		level_tally_add(&tally, MM(1000 + readings[i]));
		if (i == 0)
			ck_assert_double_eq(level_tally_sd(&tally), 0);
	}
	ck_assert_int_eq(tally.count, 5);
	ck_assert_int_eq(level_tally_mean(&tally), MM(1004));
	ck_assert_double_eq_tol(level_tally_sd(&tally), 0.00353553390593, 1e-14);
}
END_TEST

START_TEST(test_mean_rounds_once)
{
	struct level_tally tally = {0};
	level_tally_add(&tally, 3);
	level_tally_add(&tally, 2);
	/* 2.5 away from 0, as everywhere, whichever came first */
	ck_assert_int_eq(level_tally_mean(&tally), 3);
	tally = (struct level_tally){0};
	level_tally_add(&tally, -3);
	level_tally_add(&tally, -2);
	ck_assert_int_eq(level_tally_mean(&tally), -3);
	level_tally_add(&tally, -3);
	ck_assert_int_eq(level_tally_mean(&tally), -3);
}
END_TEST

/* A 2 m reading: a zero of 0.3 mm reads too high by it, 100 ppm too long reads 0.2 mm too low; at 5
 * degrees, 15 below the reference, 10 ppm/K make units 150 ppm short, 0.3 mm too high. */
START_TEST(test_rod)
{
	const level_nm reading = 2 * LEVEL_NM_PER_M;
	ck_assert_double_eq_tol(level_rod_error(&(struct level_rod){.zero = 0.0003}, reading, NAN),
	                        0.0003, 1e-15);
	ck_assert_double_eq_tol(level_rod_error(&(struct level_rod){.scale = 100}, reading, NAN),
	                        -0.0002, 1e-15);
	ck_assert_double_eq_tol(
	    level_rod_error(&(struct level_rod){.expansion = 10, .reference = 20}, reading, 5),
	    0.0003, 1e-15);
	ck_assert_double_eq(
	    level_rod_error(&(struct level_rod){.expansion = 10, .reference = 20}, reading, NAN),
	    0);
}
END_TEST

int main(void)
{
	return RUN_TESTS("observed_means", test_tally, test_mean_rounds_once, test_rod);
}
