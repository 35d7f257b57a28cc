/* Numbers for property tests: the same seed each time, printed, and RODBOOK_SEED for another one.
 * xorshift64* (Vigna 2016, ACM Trans. Math. Softw. 42, 30). */
#ifndef UNIT_CHANCE_H
#define UNIT_CHANCE_H

#include <inttypes.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

static inline uint64_t chance_seed(const char *what)
{
	const char *given = getenv("RODBOOK_SEED");
	uint64_t seed = given ? strtoull(given, NULL, 10) : 20260504;
	seed = seed ? seed : 1;
	printf("%s: RODBOOK_SEED=%" PRIu64 "\n", what, seed);
	fflush(stdout);
	/* Seeds that differ by one second are spread apart. */
	return seed * UINT64_C(0x9e3779b97f4a7c15) | 1;
}

static inline uint64_t chance_next(uint64_t *state)
{
	*state ^= *state >> 12;
	*state ^= *state << 25;
	*state ^= *state >> 27;
	return *state * UINT64_C(2685821657736338717);
}

/* A whole number from low to high, both included. */
static inline int64_t chance(uint64_t *state, int64_t low, int64_t high)
{
	return low + (int64_t)(chance_next(state) % ((uint64_t)(high - low) + 1));
}

#endif
