/* Names with a number each, found without looking at all the others. */
#ifndef CSV_NAMES_H
#define CSV_NAMES_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/sight.h"

/* Begins with all members 0; end with free(names.slot). */
struct csv_names {
	struct csv_name *slot;
	size_t count, room; /* room: a power of two, more than count */
};

/* The number of a name, or `none`. */
size_t csv_name_find(const struct csv_names *names, const char *name, size_t none);
/* Adds a name that is not there; at most LEVEL_NAME_BYTES with its NUL. False: memory is short. */
bool csv_name_add(struct csv_names *names, const char *name, size_t number);
#endif
