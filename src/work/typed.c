/* The one list of the texts of a sight: their names, and where notes and half-typed forms keep
 * them. */
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "rodbook/level/along.h"
#include "rodbook/level/limit.h"
#include "rodbook/level/scale.h"
#include "rodbook/level/set.h"
#include "rodbook/work/sight.h"
#include "work/typed.h"

#define IN_NOTE(member)                                                                            \
	.note = offsetof(struct book_note, member),                                                \
	.note_size = sizeof((struct book_note *)NULL)->member,                                     \
	.kept = offsetof(struct book_kept, member)
#define IN_DRAFT(member)                                                                           \
	.draft = offsetof(struct book_draft, member),                                              \
	.draft_size = sizeof((struct book_draft *)NULL)->member
#define IN_BOTH(member) IN_NOTE(member), IN_DRAFT(member)

/* How a text goes to another unit. */
enum carried { AS_IT_IS, AS_LENGTH, AS_SET, AS_PLACE, AS_DISTANCE, AS_SCALING };

static const struct kept {
	const char *name;
	size_t note, note_size, kept, draft, draft_size; /* size 0: not kept there as a text */
	enum carried carried;
} texts[WORK_TEXTS] = {
    [WORK_SIGHT] = {"sight", IN_DRAFT(kind)},
    [WORK_STATION] = {"station", IN_DRAFT(station)},
    [WORK_READING] = {"reading", IN_BOTH(reading), AS_SET},
    [WORK_UPPER] = {"upper", IN_BOTH(upper), AS_LENGTH},
    [WORK_MIDDLE] = {"middle", IN_BOTH(middle), AS_LENGTH},
    [WORK_LOWER] = {"lower", IN_BOTH(lower), AS_LENGTH},
    [WORK_DISTANCE] = {"distance", IN_BOTH(distance), AS_DISTANCE},
    [WORK_METHOD] = {"method", IN_DRAFT(method)},
    [WORK_REMARK] = {"remark", IN_BOTH(remark)},
    [WORK_TIME] = {"time", IN_BOTH(time)},
    [WORK_UNIT] = {"unit"},
    [WORK_INSTRUMENT] = {"instrument", IN_BOTH(instrument)},
    [WORK_ROD] = {"rod", IN_BOTH(rod)},
    [WORK_AGAIN] = {"again"},
    [WORK_ALONG] = {"along", IN_BOTH(along), AS_PLACE},
    [WORK_PHOTO] = {"photo", IN_BOTH(photo)},
    [WORK_DISTANCE_BY] = {"distance_by", IN_NOTE(distance_by)},
    [WORK_DISTANCE_UNIT] = {"distance_unit", IN_NOTE(distance_unit)},
    [WORK_LIMIT] = {"limit", IN_NOTE(limit)},
    [WORK_U] = {"u", IN_NOTE(u)},
    [WORK_DECLARED] = {"declared"},
    [WORK_PHOTO_DIGEST] = {"photo_digest", IN_NOTE(photo_digest)},
    [WORK_SCALED] = {"scaled", IN_BOTH(scaled), AS_SCALING},
    [WORK_ENDS] = {"ends", IN_NOTE(ends)},
    [WORK_BOOKED] = {"booked", IN_NOTE(booked)},
};

const char *work_text_name(enum work_text text)
{
	return texts[text].name;
}

enum work_text work_text_named(const char *name)
{
	enum work_text text = 0;
	while (text < WORK_TEXTS && (!name || strcmp(texts[text].name, name) != 0))
		text++;
	return text;
}

const char *work_note_text(const struct book_kept *note, enum work_text text)
{
	return texts[text].note_size ? *(const char *const *)((const char *)note + texts[text].kept)
	                             : NULL;
}

char *work_draft_text(struct book_draft *draft, enum work_text text, size_t *size)
{
	if (size)
		*size = texts[text].draft_size;
	return texts[text].draft_size ? (char *)draft + texts[text].draft : NULL;
}

/* A length is carried to another unit with that unit behind it. */
#define UNIT_BYTES 4

bool typed_to_note(const struct work_typed *typed, struct book_note *note, enum work_text *failed)
{
	bool ok = true;
	for (enum work_text t = 0; t < WORK_TEXTS; t++) {
		size_t room = texts[t].note_size - (texts[t].carried ? UNIT_BYTES : 0);
		const char *text = typed->text[t] ? typed->text[t] : "";
		if (!texts[t].note_size)
			continue;
		if (strlen(text) < room) {
			strcpy((char *)note + texts[t].note, text);
		} else if (ok) {
			*failed = t;
			ok = false;
		}
	}
	return ok;
}

/* A reading, or a set, with what it may be off by. */
static void carry_limited(char *out, size_t size, const char *text, enum level_unit from,
                          enum level_unit to)
{
	struct level_limited parts;
	char reading[sizeof parts.reading], limit[sizeof parts.limit];
	if (!level_split_limit(text, &parts, NULL)) {
		level_carry_set(out, size, text, from, to);
		return;
	}
	level_carry_set(reading, sizeof reading, parts.reading, from, to);
	level_carry_text(limit, sizeof limit, parts.limit, from, to);
	strcpy(parts.reading, reading);
	strcpy(parts.limit, limit);
	level_join_limit(out, size, &parts);
}

static void carry(char *out, size_t size, const char *text, const struct kept *kept,
                  enum level_unit from, enum level_unit to)
{
	switch (kept->carried) {
	case AS_IT_IS:
		snprintf(out, size, "%s", text);
		break;
	case AS_LENGTH:
		level_carry_text(out, size, text, from, to);
		break;
	case AS_SET:
		carry_limited(out, size, text, from, to);
		break;
	case AS_PLACE:
		level_carry_along(out, size, text, from, to);
		break;
	case AS_SCALING:
		level_carry_scaling(out, size, text, from, to);
		break;
	case AS_DISTANCE:
		break;
	}
}

/* A form shows what a reading may be off by behind it. */
static void put_limit(const struct level_sight *sight, const struct book_kept *note,
                      enum level_unit unit, struct book_draft *draft)
{
	struct level_limited parts = {.declared = sight->declared}, again;
	char joined[sizeof draft->reading];
	if (sight->wires)
		return;
	snprintf(parts.reading, sizeof parts.reading, "%s", draft->reading);
	if (*note->limit)
		level_carry_text(parts.limit, sizeof parts.limit, note->limit, note->unit, unit);
	level_join_limit(joined, sizeof joined, &parts);
	/* Given apart, a bare limit is in the book's unit also beside a reading that names its own.
	 */
	if (level_split_limit(joined, &again, NULL) && strcmp(again.limit, parts.limit) != 0) {
		level_carry_text(parts.limit, sizeof parts.limit, note->limit, note->unit,
		                 note->unit == LEVEL_M ? LEVEL_FT : LEVEL_M);
		level_join_limit(joined, sizeof joined, &parts);
	}
	strcpy(draft->reading, joined);
}

/* A distance, with its way behind it where that is typed there. */
static void carry_distance(char out[BOOK_TYPED_BYTES], const char *text, enum level_unit from,
                           enum level_unit to)
{
	char length[BOOK_TYPED_BYTES], way[12], carried[BOOK_TYPED_BYTES + UNIT_BYTES + 12];
	book_split_distance(text, length, sizeof length, way);
	level_carry_text(carried, BOOK_TYPED_BYTES + UNIT_BYTES, length, from, to);
	if (strcmp(carried, length) == 0)
		snprintf(carried, sizeof carried, "%s", text);
	else if (*way)
		snprintf(carried + strlen(carried), sizeof way + 1, " %s", way);
	carried[BOOK_TYPED_BYTES - 1] = '\0';
	strcpy(out, carried);
}

/* Takes the unit off a distance where a bare one is in it. */
static void strip_distance(char text[BOOK_TYPED_BYTES], enum level_unit unit)
{
	char length[BOOK_TYPED_BYTES], way[12];
	const char *name = level_unit_name(unit);
	size_t size, tail = strlen(name) + 1;
	book_split_distance(text, length, sizeof length, way);
	size = strlen(length);
	if (size <= tail || length[size - tail] != ' ' ||
	    strcmp(length + size - tail + 1, name) != 0)
		return;
	length[size - tail] = '\0';
	/* Thousands are parted only where a unit stands behind them. */
	if (level_is_bare(length) && !strchr(length, ','))
		snprintf(text, BOOK_TYPED_BYTES, "%s%s%s", length, *way ? " " : "", way);
}

void work_draft_of(const struct level_sight *sight, const struct book_kept *note,
                   const struct level_style *style, struct book_draft *draft)
{
	*draft = (struct book_draft){.used = true,
	                             .at = sight->id,
	                             .wires = sight->wires,
	                             .again = sight->again,
	                             .unit = style->unit,
	                             .distance_unit = style->distance};
	for (enum work_text t = 0; t < WORK_TEXTS; t++)
		if (texts[t].note_size && texts[t].draft_size)
			carry((char *)draft + texts[t].draft, texts[t].draft_size,
			      work_note_text(note, t), &texts[t], note->unit, style->unit);
	carry_distance(draft->distance, note->distance,
	               book_distance_unit(note->unit, note->distance_unit), style->distance);
	put_limit(sight, note, style->unit, draft);
	strcpy(draft->kind, level_kind_name(sight->kind));
	strcpy(draft->method, level_method_name(sight->method));
	strcpy(draft->station, sight->station);
	if (*note->distance_by && *note->distance)
		snprintf(draft->distance + strlen(draft->distance),
		         sizeof draft->distance - strlen(draft->distance), " %s",
		         note->distance_by);
	/* A form shows no blanks around a text, and a row that nobody typed on must look unchanged.
	 */
	for (enum work_text t = 0; t < WORK_TEXTS; t++)
		if (texts[t].draft_size)
			level_trim((char *)draft + texts[t].draft);
}

void work_draft_carry(struct book_draft *draft, const struct level_style *style)
{
	char distance[BOOK_TYPED_BYTES];
	for (enum work_text t = 0; t < WORK_TEXTS; t++) {
		char carried[BOOK_SET_BYTES], *text = work_draft_text(draft, t, NULL);
		if (!texts[t].carried || texts[t].carried == AS_DISTANCE)
			continue;
		carry(carried, texts[t].draft_size, text, &texts[t], draft->unit, style->unit);
		strcpy(text, carried);
	}
	strcpy(distance, draft->distance);
	carry_distance(draft->distance, distance, draft->distance_unit, style->distance);
	if (style->distance != style->unit)
		strip_distance(draft->distance, style->distance);
	draft->unit = style->unit;
	draft->distance_unit = style->distance;
}

/* Whether a text belongs to the other way of reading than the draft's. */
static bool is_other_way(const struct book_draft *draft, enum work_text text)
{
	return draft->wires ? text == WORK_READING : text >= WORK_UPPER && text <= WORK_LOWER;
}

bool work_drafts_differ(const struct book_draft *a, const struct book_draft *b)
{
	bool differ = a->wires != b->wires;
	for (enum work_text t = 0; !differ && t < WORK_TEXTS; t++)
		differ =
		    texts[t].draft_size && !is_other_way(b, t) &&
		    strcmp((const char *)a + texts[t].draft, (const char *)b + texts[t].draft) != 0;
	return differ;
}

struct work_typed work_draft_typed(const struct book_draft *draft, struct work_parted *parted)
{
	struct work_typed typed = {.wires = draft->wires};
	for (enum work_text t = 0; t < WORK_TEXTS; t++)
		if (texts[t].draft_size && !is_other_way(draft, t))
			typed.text[t] = (const char *)draft + texts[t].draft;
	book_split_distance(draft->distance, parted->length, sizeof parted->length, parted->way);
	typed.text[WORK_DISTANCE] = parted->length;
	typed.text[WORK_DISTANCE_BY] = parted->way;
	if (draft->again && strcmp(draft->kind, "BS") == 0)
		typed.text[WORK_AGAIN] = "again";
	return typed;
}

/* While an offset has the height that both ends of its tube made, it keeps them. */
static void keep_ends(struct work_typed *typed, const struct book_kept *note, enum level_unit unit)
{
	const char *kind = typed->text[WORK_SIGHT], *reading = typed->text[WORK_READING];
	struct level_limited parts;
	if (kind && reading && strcmp(kind, level_kind_name(LEVEL_OFF)) == 0 &&
	    note->unit == unit && level_split_limit(reading, &parts, NULL) &&
	    strcmp(parts.reading, note->reading) == 0)
		typed->text[WORK_ENDS] = note->ends;
}

void work_typed_keep(struct work_typed *typed, const struct level_sight *sight,
                     const struct book_kept *note, enum level_unit unit, struct work_parted *parted)
{
	const char *photo = typed->text[WORK_PHOTO];
	level_carry_text(parted->u, sizeof parted->u, note->u, note->unit, unit);
	typed->text[WORK_U] = parted->u;
	if (photo && strcmp(photo, note->photo) == 0)
		typed->text[WORK_PHOTO_DIGEST] = note->photo_digest;
	keep_ends(typed, note, unit);
	if (!sight->wires || !typed->wires)
		return;
	level_carry_text(parted->limit, sizeof parted->limit, note->limit, note->unit, unit);
	typed->text[WORK_LIMIT] = parted->limit;
	typed->text[WORK_DECLARED] = sight->declared ? "declared" : "";
}
