/* Notes in the memory that their texts take. */
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "book/run/load.h"

#define TEXT(member)                                                                               \
	{                                                                                          \
		offsetof(struct book_note, member), offsetof(struct book_kept, member)             \
	}

static const struct {
	size_t note, kept;
} texts[] = {
    TEXT(reading),      TEXT(upper),      TEXT(middle),        TEXT(lower),  TEXT(distance),
    TEXT(distance_by),  TEXT(instrument), TEXT(rod),           TEXT(along),  TEXT(photo),
    TEXT(photo_digest), TEXT(scaled),     TEXT(distance_unit), TEXT(limit),  TEXT(u),
    TEXT(ends),         TEXT(time),       TEXT(booked),        TEXT(remark), TEXT(overridden),
    TEXT(struck),       TEXT(why),
};
#define TEXTS (sizeof texts / sizeof *texts)
/* One that is left out would be no text at all. */
_Static_assert(offsetof(struct book_kept, texts) - offsetof(struct book_kept, reading) ==
                   TEXTS * sizeof(const char *),
               "each text of a kept note");

static const char **kept_text(struct book_kept *kept, size_t i)
{
	return (const char **)((char *)kept + texts[i].kept);
}

struct book_kept book_kept_of(const struct book_note *note)
{
	struct book_kept kept = {
	    .place = note->place, .replaces = note->replaces, .unit = note->unit};
	for (size_t i = 0; i < TEXTS; i++)
		*kept_text(&kept, i) = (const char *)note + texts[i].note;
	return kept;
}

struct book_note book_note_of(const struct book_kept *kept)
{
	struct book_kept from = *kept;
	struct book_note note = {
	    .place = kept->place, .replaces = kept->replaces, .unit = kept->unit};
	for (size_t i = 0; i < TEXTS; i++)
		strcpy((char *)&note + texts[i].note, *kept_text(&from, i));
	return note;
}

bool kept_make(const struct book_note *note, struct book_kept *out, struct fault *why)
{
	size_t size[TEXTS], room = 0;
	char *at;
	*out = book_kept_of(note);
	for (size_t i = 0; i < TEXTS; i++) {
		const char *text = *kept_text(out, i);
		size[i] = *text ? strlen(text) + 1 : 0;
		room += size[i];
	}
	out->texts = at = room ? malloc(room) : NULL;
	for (size_t i = 0; i < TEXTS; i++) {
		const char **text = kept_text(out, i);
		if (size[i] && at)
			memcpy(at, *text, size[i]);
		*text = size[i] && at ? at : "";
		at += at ? size[i] : 0;
	}
	return out->texts || !room || fault_memory(why);
}
