#include "screen/entry.h"

#include "rodbook/level/offset.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* Both ways of reading, in the order in which Enter goes. */
static const enum work_text one_value[] = {WORK_SIGHT,    WORK_STATION, WORK_READING,
                                           WORK_DISTANCE, WORK_METHOD,  WORK_REMARK};
static const struct field_place one_value_places[] = {
    {0, 1, 7, 3, 3, "Sight"},
    {0, 11, 19, 16, LEVEL_STATION_CHARS, "Station"},
    {0, 37, 45, 33, BOOK_SET_CHARS, "Reading"},
    {1, 1, 10, 12, 40, "Distance"},
    {1, 24, 31, 6, 6, "Method"},
    {1, 39, 46, 33, LEVEL_REMARK_CHARS, "Remark"},
};
static const enum work_text three_wires[] = {WORK_SIGHT, WORK_STATION,  WORK_UPPER,  WORK_MIDDLE,
                                             WORK_LOWER, WORK_DISTANCE, WORK_METHOD, WORK_REMARK};
static const struct field_place three_wires_places[] = {
    {0, 1, 7, 3, 3, "Sight"},    {0, 11, 19, 12, LEVEL_STATION_CHARS, "Station"},
    {0, 33, 39, 8, 40, "Upper"}, {0, 48, 55, 8, 40, "Middle"},
    {0, 64, 70, 8, 40, "Lower"}, {1, 1, 10, 12, 40, "Distance"},
    {1, 24, 31, 6, 6, "Method"}, {1, 39, 46, 33, LEVEL_REMARK_CHARS, "Remark"},
};

#define MOST_PLACES 8

struct entry {
	bool wires;
	struct field_place places[MOST_PLACES];
	const enum work_text *order;
	int count;
	struct fields *fields;
	char word[12]; /* of a choice, as far as it is typed */
	/* readings of the way that is not shown, from WORK_READING on */
	char kept[WORK_LOWER - WORK_READING + 1][BOOK_SET_BYTES];
};

bool entry_is_number(enum work_text field)
{
	return field >= WORK_READING && field <= WORK_DISTANCE;
}

static int index_of(const struct entry *entry, enum work_text field)
{
	for (int i = 0; i < entry->count; i++)
		if (entry->order[i] == field)
			return i;
	return -1;
}

enum work_text entry_field_named(const char *name)
{
	/* It has all fields but the reading. */
	for (size_t i = 0; i < sizeof three_wires / sizeof *three_wires; i++)
		if (work_text_named(name) == three_wires[i])
			return three_wires[i];
	return WORK_READING;
}

/* The readings of either way; what is not shown is kept beside the form. */
static bool is_kept(enum work_text field)
{
	return field >= WORK_READING && field <= WORK_LOWER;
}

struct entry *entry_open(const struct book_draft *draft)
{
	const char *texts[WORK_TEXTS];
	struct book_draft from = *draft;
	struct entry *entry = calloc(1, sizeof *entry);
	if (!entry)
		return NULL;
	entry->wires = draft->wires;
	entry->order = draft->wires ? three_wires : one_value;
	entry->count = (int)(draft->wires ? sizeof three_wires / sizeof *three_wires
	                                  : sizeof one_value / sizeof *one_value);
	for (enum work_text f = WORK_READING; f <= WORK_LOWER; f++)
		strcpy(entry->kept[f - WORK_READING], work_draft_text(&from, f, NULL));
	for (int i = 0; i < entry->count; i++)
		texts[i] = work_draft_text(&from, entry->order[i], NULL);
	memcpy(entry->places, draft->wires ? three_wires_places : one_value_places,
	       (size_t)entry->count * sizeof *entry->places);
	if (draft->distance_unit != draft->unit)
		entry->places[index_of(entry, WORK_DISTANCE)].name =
		    draft->distance_unit == LEVEL_M ? "Dist. m" : "Dist. ft";
	entry->fields = fields_open(ENTRY_ROWS, entry->places, entry->count, texts);
	if (!entry->fields) {
		free(entry);
		return NULL;
	}
	entry_set_focus(entry, (enum work_text)draft->focus);
	return entry;
}

void entry_close(struct entry *entry)
{
	if (!entry)
		return;
	fields_close(entry->fields);
	free(entry);
}

void entry_read(const struct entry *entry, struct book_draft *draft)
{
	draft->wires = entry->wires;
	draft->focus = (int)entry_focus(entry);
	for (enum work_text f = 0; f < WORK_TEXTS; f++) {
		size_t size;
		char *out = work_draft_text(draft, f, &size);
		int i = index_of(entry, f);
		if (i >= 0)
			fields_text(entry->fields, i, out, size);
		else if (is_kept(f))
			strcpy(out, entry->kept[f - WORK_READING]);
	}
}

enum work_text entry_focus(const struct entry *entry)
{
	return entry->order[fields_focus(entry->fields)];
}

void entry_set_focus(struct entry *entry, enum work_text field)
{
	int i = index_of(entry, field);
	entry->word[0] = '\0';
	fields_go(entry->fields, i >= 0 ? i : index_of(entry, WORK_STATION));
}

void entry_continue(struct entry *entry)
{
	fields_continue(entry->fields);
}

bool entry_is_fresh(const struct entry *entry)
{
	return fields_are_fresh(entry->fields);
}

void entry_move_reading(struct entry *entry, const char *reading, const char *station)
{
	enum work_text field = entry->wires ? WORK_UPPER : WORK_READING;
	fields_set(entry->fields, index_of(entry, WORK_STATION), station);
	entry_set_focus(entry, field);
	entry_choose(entry, field, reading);
	fields_continue(entry->fields);
}

void entry_move_name(struct entry *entry, const char *name, const char *reading)
{
	entry_choose(entry, WORK_READING, reading);
	entry_set_focus(entry, WORK_STATION);
	entry_choose(entry, WORK_STATION, name);
	fields_continue(entry->fields);
}

void entry_part_wire(struct entry *entry, const char *wire, const char *rest)
{
	enum work_text field = entry_focus(entry);
	entry_choose(entry, field, wire);
	entry_set_focus(entry, field + 1);
	entry_choose(entry, field + 1, rest);
	fields_continue(entry->fields);
}

void entry_choose(struct entry *entry, enum work_text field, const char *text)
{
	fields_set(entry->fields, index_of(entry, field), text);
}

static bool begins(const char *name, const char *typed)
{
	for (; *typed; name++, typed++)
		if (toupper((unsigned char)*name) != toupper((unsigned char)*typed))
			return false;
	return true;
}

/* The name that begins as typed, in whatever case; -1 where none does. */
static int named(const char *const *names, int count, const char *typed)
{
	for (int i = 0; i < count; i++)
		if (begins(names[i], typed))
			return i;
	return -1;
}

/* Sight and method are chosen by their word, as far as it is typed, or onward with a blank; a
 * letter typed once more goes to the next word that begins with it. A digit that was meant for
 * another field must not choose. */
static int choose(struct entry *entry, wint_t typed, int now, const char *const *names, int count)
{
	size_t used = strlen(entry->word);
	int i;
	if (typed == ' ') {
		entry->word[0] = '\0';
		return (now + 1) % count;
	}
	if (typed > 127)
		return -1;
	if (used + 1 < sizeof entry->word) {
		entry->word[used] = (char)typed;
		entry->word[used + 1] = '\0';
		i = named(names, count, entry->word);
		if (i >= 0)
			return i;
	}
	entry->word[0] = (char)typed;
	entry->word[1] = '\0';
	for (int next = 1; next <= count; next++) {
		i = (now + next + count) % count;
		if (begins(names[i], entry->word))
			return i;
	}
	entry->word[0] = '\0';
	return -1;
}

static enum field_answer choice_key(struct entry *entry, const struct key *key,
                                    const char *const *names, int count)
{
	int i = fields_focus(entry->fields), now = -1, next;
	char text[16];
	if (key->kind == KEY_IS_CODE && (key->value == KEY_BACKSPACE || key->value == KEY_DC))
		return FIELDS_REFUSED;
	if (key->kind == KEY_IS_TEXT && key->pasted)
		return FIELDS_REFUSED;
	if (key->kind == KEY_IS_CODE || key->value == '\t') {
		entry->word[0] = '\0';
		return fields_key(entry->fields, key);
	}
	fields_text(entry->fields, i, text, sizeof text);
	for (int n = 0; n < count; n++)
		if (strcmp(names[n], text) == 0)
			now = n;
	next = choose(entry, key->value, now, names, count);
	if (next < 0)
		return key->value < 32 ? FIELDS_IGNORED : FIELDS_REFUSED;
	fields_set(entry->fields, i, names[next]);
	return FIELDS_TYPED;
}

/* The methods of the kind of sight in the form. Gives how many. */
static int methods_of(const struct entry *entry, const char *names[LEVEL_ANY_METHODS])
{
	char text[16];
	enum level_kind kind = LEVEL_BS;
	int count = 0;
	fields_text(entry->fields, index_of(entry, WORK_SIGHT), text, sizeof text);
	level_kind_find(text, &kind);
	for (int i = 0; i < LEVEL_ANY_METHODS; i++)
		if (level_method_suits(kind, (enum level_method)i))
			names[count++] = level_method_name((enum level_method)i);
	return count;
}

bool entry_is_plus(const struct key *key)
{
	return key->kind == KEY_IS_CODE ? key->value == TERM_KEY_PLUS
	                                : key->value == '+' && !key->pasted;
}

/* Whether a + books, or belongs to the text. */
static bool plus_books(const struct entry *entry, enum work_text focus)
{
	char text[BOOK_SET_BYTES];
	if (fields_are_fresh(entry->fields))
		return true;
	if (fields_behind_blank(entry->fields))
		return focus == WORK_DISTANCE;
	fields_text(entry->fields, index_of(entry, focus), text, sizeof text);
	return focus != WORK_STATION || !*text || text[strspn(text, "0123456789")] != '\0';
}

enum field_answer entry_key(struct entry *entry, const struct key *key)
{
	const char *kinds[] = {level_kind_name(LEVEL_BS), level_kind_name(LEVEL_IS),
	                       level_kind_name(LEVEL_FS), level_kind_name(LEVEL_OFF)};
	const char *methods[LEVEL_ANY_METHODS];
	enum work_text focus = entry_focus(entry);
	if (term_is_control(key, 'b'))
		return FIELDS_DONE;
	if (entry_is_plus(key) && (key->kind == KEY_IS_CODE || plus_books(entry, focus)))
		return FIELDS_DONE;
	if (focus == WORK_SIGHT)
		return choice_key(entry, key, kinds, LEVEL_KINDS);
	if (focus == WORK_METHOD)
		return choice_key(entry, key, methods, methods_of(entry, methods));
	return fields_key(entry->fields, key);
}

void entry_show(struct entry *entry, int row)
{
	fields_show(entry->fields, row);
}

WINDOW *entry_window(struct entry *entry)
{
	return fields_window(entry->fields);
}
