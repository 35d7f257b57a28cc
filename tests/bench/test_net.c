/* Nets of 2 000 marks and 6 000 lines with all standard deviations and residuals, measured against
 * multiplying two plain matrices of 400 x 400 in the same minute on the same machine: a ratio, not
 * a time. A lattice is what nets on the ground are like; lines at random fill the factor far more
 * than any net on the ground can. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "../unit/chance.h"
#include "../unit/sights.h"
#include "../unit/suite.h"
#include "rodbook/level/net.h"

#define MARKS 2000
#define LINES 6000
#define SIDE 400
#define TIMES 5
#define RATIO_LATTICE 3.0
#define RATIO_RANDOM 25.0

static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static int by_size(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static double median(double times[TIMES])
{
	qsort(times, TIMES, sizeof *times, by_size);
	return times[TIMES / 2];
}

static double matrices[3][SIDE][SIDE];

static double floor_seconds(void)
{
	double times[TIMES];
	for (size_t i = 0; i < SIDE * SIDE; i++) {
		matrices[0][i / SIDE][i % SIDE] = (double)(i % 7);
		matrices[1][i / SIDE][i % SIDE] = (double)(i % 11);
	}
	for (int t = 0; t < TIMES; t++) {
		double from = seconds();
		for (size_t i = 0; i < SIDE; i++)
			for (size_t k = 0; k < SIDE; k++)
				for (size_t j = 0; j < SIDE; j++)
					matrices[2][i][j] += matrices[0][i][k] * matrices[1][k][j];
		times[t] = seconds() - from;
	}
	ck_assert_double_gt(matrices[2][SIDE - 1][SIDE - 1], 0);
	return median(times);
}

static struct level_net_mark marks[MARKS];
static struct level_net_line lines[LINES];

static void add_line(size_t *count, size_t from, size_t to, uint64_t *state)
{
	if (*count < LINES)
		lines[(*count)++] = (struct level_net_line){from, to, chance(state, -1000, 1000),
		                                            (double)chance(state, 50, 5000) / 1000};
}

/* 50 x 40 marks under numbers out of order, each with its neighbors and one across. */
static size_t make_lattice(uint64_t *state)
{
	static size_t number[MARKS];
	size_t count = 0;
	for (size_t i = 0; i < MARKS; i++)
		number[i] = i;
	for (size_t i = MARKS - 1; i > 0; i--) {
		size_t j = (size_t)chance(state, 0, (int64_t)i), swap = number[i];
		number[i] = number[j];
		number[j] = swap;
	}
	for (size_t i = 0; i < MARKS; i++) {
		if (i % 50 < 49)
			add_line(&count, number[i], number[i + 1], state);
		if (i + 50 < MARKS)
			add_line(&count, number[i], number[i + 50], state);
		if (i % 50 < 49 && i + 51 < MARKS)
			add_line(&count, number[i], number[i + 51], state);
	}
	while (count < LINES)
		add_line(&count, number[count % MARKS], number[count % MARKS], state);
	return count;
}

static size_t make_random(uint64_t *state)
{
	size_t count = 0;
	for (size_t i = 1; i < MARKS; i++)
		add_line(&count, (size_t)chance(state, 0, (int64_t)i - 1), i, state);
	while (count < LINES)
		add_line(&count, (size_t)chance(state, 0, MARKS - 1),
		         (size_t)chance(state, 0, MARKS - 1), state);
	return count;
}

static void measure(const char *what, size_t count, double floor, double ratio)
{
	struct level_net net = {.marks = MARKS, .lines = count, .mark = marks, .line = lines};
	double times[TIMES], taken;
	for (size_t i = 0; i < MARKS; i++)
		marks[i] = (struct level_net_mark){"M", i == 0, 0};
	for (int t = 0; t < TIMES; t++) {
		struct level_net_result r;
		double from = seconds();
		ck_assert(level_net_adjust(&net, NULL, NULL, &r, NULL));
		times[t] = seconds() - from;
		ck_assert_int_eq(r.freedom, LINES - (MARKS - 1));
		level_net_free(&r);
	}
	taken = median(times);
	printf("%d marks, %d lines, %s: %.1f ms (x %.2f of %.1f ms)\n", MARKS, LINES, what,
	       taken * 1e3, taken / floor, floor * 1e3);
	ck_assert_double_le(taken, ratio * floor);
}

START_TEST(test_large_net)
{
	uint64_t state = chance_seed("a large net");
	double floor = floor_seconds();
	measure("a lattice", make_lattice(&state), floor, RATIO_LATTICE);
	measure("at random", make_random(&state), floor, RATIO_RANDOM);
}
END_TEST

int main(void)
{
	return RUN_TESTS("a large net", test_large_net);
}
