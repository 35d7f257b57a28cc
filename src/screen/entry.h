/* The entry form: the fields of one sight. */
#ifndef SCREEN_ENTRY_H
#define SCREEN_ENTRY_H

#include "rodbook/work/sight.h"
#include "screen/fields.h"

struct entry;

#define ENTRY_ROWS 2

/* Opens the form with these texts and the focus on draft->focus. NULL where memory is short. */
struct entry *entry_open(const struct book_draft *draft);
void entry_close(struct entry *entry);
/* The texts as they stand, trimmed; used, at and inserts are left alone. */
void entry_read(const struct entry *entry, struct book_draft *draft);
enum work_text entry_focus(const struct entry *entry);
void entry_set_focus(struct entry *entry, enum work_text field);
/* Puts a text into a field that both ways of reading have. */
void entry_choose(struct entry *entry, enum work_text field, const char *text);
/* The field goes on where it was left: typing adds to it. */
void entry_continue(struct entry *entry);
/* Whether the field in focus was just come to: typing replaces what it holds. */
bool entry_is_fresh(const struct entry *entry);
/* Moves what was typed into the station to the reading, where typing goes on; the station is
 * `station` again. */
void entry_move_reading(struct entry *entry, const char *reading, const char *station);
/* Moves what was typed into the reading to the station, where typing goes on; the reading is
 * `reading` again. */
void entry_move_name(struct entry *entry, const char *name, const char *reading);
/* The upper or middle wire in focus is whole, and the next is begun, where typing goes on. */
void entry_part_wire(struct entry *entry, const char *wire, const char *rest);
/* Whether the key is a + that somebody typed. */
bool entry_is_plus(const struct key *key);
/* FIELDS_DONE: Enter on the last field, + or Ctrl-B: book. A + that belongs to a text is typed:
 * behind a blank, where it begins +- or joins words; behind the digits of a station such as 12+50.
 */
enum field_answer entry_key(struct entry *entry, const struct key *key);
void entry_show(struct entry *entry, int row);
WINDOW *entry_window(struct entry *entry);
bool entry_is_number(enum work_text field);
/* The field of that name, WORK_READING where the form has none. */
enum work_text entry_field_named(const char *name);

#endif
