/* Names that a user gave several at a time. */
#include "work/names.h"

#include <stdlib.h>
#include <string.h>

static bool is_known(const char *text, const char *const *known, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(text, known[i]) == 0)
			return true;
	return false;
}

static bool make_room(const struct work_names *given, struct work_parts *out)
{
	size_t bytes = 1, names = 1;
	for (size_t i = 0; i < given->count; i++) {
		bytes += strlen(given->text[i]) + 1;
		names++;
		for (const char *at = given->text[i]; *at; at++)
			names += *at == ',';
	}
	out->room = malloc(bytes);
	out->name = calloc(names, sizeof *out->name);
	return out->room && out->name;
}

/* Takes a name of so many bytes; returns where the next one has room, NULL where there is none. */
static char *take(struct work_parts *out, char *room, const char *from, size_t size)
{
	while (size && *from == ' ') {
		from++;
		size--;
	}
	while (size && from[size - 1] == ' ')
		size--;
	if (size == 0)
		return NULL;
	memcpy(room, from, size);
	room[size] = '\0';
	out->name[out->count++] = room;
	return room + size + 1;
}

bool work_part(const struct work_names *given, const char *const *known, size_t known_count,
               struct work_parts *out, struct fault *why)
{
	char *room;
	*out = (struct work_parts){0};
	if (!make_room(given, out))
		return fault_memory(why);
	room = out->room;
	for (size_t i = 0; i < given->count; i++) {
		const char *text = given->text[i];
		bool whole = is_known(text, known, known_count);
		for (bool more = true; more;) {
			size_t size = whole ? strlen(text) : strcspn(text, ",");
			room = take(out, room, text, size);
			if (!room)
				return fault_say(
				    why, FAULT_INPUT,
				    "a name is missing in \"%.160s\": write them as in A,B",
				    given->text[i]);
			more = text[size] == ',';
			text += size + more;
		}
	}
	return true;
}

void work_parts_free(struct work_parts *parts)
{
	free(parts->name);
	free(parts->room);
	*parts = (struct work_parts){0};
}
