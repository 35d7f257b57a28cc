/* What measuring programs share: times of a child, and what many turns come to. */
#ifndef BENCH_MEASURED_H
#define BENCH_MEASURED_H

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <check.h>

static inline int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

/* The value that `share` of the turns do not pass, by nearest rank: 0.5 is the median. Puts them in
 * order. */
static inline double rank_of(double *turns, size_t count, double share)
{
	size_t rank = (size_t)ceil(share * (double)count);
	qsort(turns, count, sizeof *turns, by_size);
	return turns[rank ? rank - 1 : 0];
}

/* e of cost = c size^e, by least squares of the logarithms; NAN of fewer than two sizes. */
static inline double exponent_of(const double *size, const double *cost, size_t count)
{
	double x = 0, y = 0, xx = 0, xy = 0, n = (double)count;
	for (size_t i = 0; i < count; i++) {
		x += log(size[i]) / n;
		y += log(cost[i]) / n;
	}
	for (size_t i = 0; i < count; i++) {
		xx += (log(size[i]) - x) * (log(size[i]) - x);
		xy += (log(size[i]) - x) * (log(cost[i]) - y);
	}
	return count < 2 ? NAN : xy / xx;
}

/* The CPU time of a child that ends well or has something to say, seconds. */
static inline double spent(pid_t child)
{
	struct rusage use;
	int status;
	ck_assert_int_gt(child, 0);
	ck_assert_int_eq(wait4(child, &status, 0, &use), child);
	ck_assert(WIFEXITED(status) && WEXITSTATUS(status) <= 1);
	return (double)(use.ru_utime.tv_sec + use.ru_stime.tv_sec) +
	       (double)(use.ru_utime.tv_usec + use.ru_stime.tv_usec) / 1e6;
}

#endif
