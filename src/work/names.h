/* Names that a user gave several at a time. */
#ifndef WORK_NAMES_H
#define WORK_NAMES_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/fault.h"

/* Texts as they were given: each a name, or several parted by commas. */
struct work_names {
	const char *const *text;
	size_t count;
};

/* The names, one by one. */
struct work_parts {
	const char **name;
	size_t count;
	char *room; /* that they stand in */
};

/* Parts texts into names, without the blanks around them. A text that is whole one of the known
 * names is that one, whatever commas are in it. Refuses with FAULT_INPUT where nothing stands
 * before, between or behind commas; whether the names are known is the caller's question. Free with
 * work_parts_free() whatever it returns. */
bool work_part(const struct work_names *given, const char *const *known, size_t known_count,
               struct work_parts *out, struct fault *why);
void work_parts_free(struct work_parts *parts);

#endif
