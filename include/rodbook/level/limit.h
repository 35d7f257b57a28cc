/* A reading with its own limit, as it is typed: "4 +- 1/4", "4 in +- 1/8 in", "1.432 +- 0.002".
 * "declared" behind it says that a declared line of the allowance has its uncertainty already. */
#ifndef RODBOOK_LEVEL_LIMIT_H
#define RODBOOK_LEVEL_LIMIT_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/fault.h"

#define LEVEL_LIMITED_BYTES 328
#define LEVEL_LIMIT_BYTES 64

struct level_limited {
	char reading[LEVEL_LIMITED_BYTES]; /* or a set */
	char limit[LEVEL_LIMIT_BYTES];     /* empty: none is typed */
	bool declared;
};

/* Parts a text. A bare limit behind a reading that names its unit has that unit, "4 in +- 1/8", and
 * behind a set that of the last one.
 * FAULT_INPUT where a limit is missing behind its sign, stands twice, or is too long. */
bool level_split_limit(const char *typed, struct level_limited *out, struct fault *why);
/* The other way; returns buf. */
char *level_join_limit(char *buf, size_t size, const struct level_limited *parts);

#endif
