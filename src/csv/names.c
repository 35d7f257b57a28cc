#include "csv/names.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct csv_name {
	char name[LEVEL_NAME_BYTES]; /* "": nothing is here */
	size_t number;
};

/* Where the name is, or where it would stand: FNV-1a (Fowler, Noll, Vo; RFC 9923), then one by one.
 */
static struct csv_name *place(const struct csv_names *names, const char *name)
{
	uint64_t hash = UINT64_C(0xcbf29ce484222325);
	size_t at;
	for (const char *c = name; *c; c++)
		hash = (hash ^ (unsigned char)*c) * UINT64_C(0x100000001b3);
	for (at = (size_t)hash & (names->room - 1);
	     *names->slot[at].name && strcmp(names->slot[at].name, name) != 0;
	     at = (at + 1) & (names->room - 1))
		continue;
	return &names->slot[at];
}

size_t csv_name_find(const struct csv_names *names, const char *name, size_t none)
{
	const struct csv_name *found = names->count ? place(names, name) : NULL;
	return found && *found->name ? found->number : none;
}

/* Half of the room stays free, so that the next free place is near. */
static bool grow(struct csv_names *names)
{
	struct csv_names more = {.count = names->count, .room = names->room ? 2 * names->room : 16};
	more.slot = calloc(more.room, sizeof *more.slot);
	if (!more.slot)
		return false;
	for (size_t i = 0; i < names->room; i++)
		if (*names->slot[i].name)
			*place(&more, names->slot[i].name) = names->slot[i];
	free(names->slot);
	*names = more;
	return true;
}

bool csv_name_add(struct csv_names *names, const char *name, size_t number)
{
	struct csv_name *at;
	if (2 * names->count >= names->room && !grow(names))
		return false;
	at = place(names, name);
	snprintf(at->name, sizeof at->name, "%s", name);
	at->number = number;
	names->count++;
	return true;
}
