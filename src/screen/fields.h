/* Text fields on the screen: ncurses' form library in a pad of fixed size, which no resizing can
 * break. The entry form and every question are made of these. */
#ifndef SCREEN_FIELDS_H
#define SCREEN_FIELDS_H

#include "screen/term.h"

struct fields;

struct field_place {
	int row, label, column, width, most; /* most: characters it takes */
	const char *name;
};

enum field_answer {
	FIELDS_IGNORED, /* not a key of the fields */
	FIELDS_MOVED,   /* another field, or another place in it */
	FIELDS_TYPED,   /* a text changed */
	FIELDS_REFUSED, /* it cannot stand there */
	FIELDS_DONE,    /* Enter on the last field */
	FIELDS_ACCEPT,  /* Ctrl-K or Ctrl-B, from any field; this and the following by fields_read()
	                   only */
	FIELDS_BACK,    /* Escape */
	FIELDS_HELP,    /* F1 or Ctrl-G */
	FIELDS_RESIZED, /* the window: to paint anew, and nothing else */
	FIELDS_GONE,    /* the terminal */
};

#define FIELDS_MOST 32

/* Opens fields with these texts. NULL where memory is short. */
struct fields *fields_open(int rows, const struct field_place *places, int count,
                           const char *const *texts);
void fields_close(struct fields *fields);
/* A field's text, trimmed, cut to size. */
void fields_text(const struct fields *fields, int i, char *out, size_t size);
void fields_set(struct fields *fields, int i, const char *text);
/* Whether a blank stands before the cursor. */
bool fields_behind_blank(const struct fields *fields);
int fields_focus(const struct fields *fields);
/* Moves to a field; what is typed next replaces its text. */
void fields_go(struct fields *fields, int i);
/* What is typed next adds to the text. */
void fields_continue(struct fields *fields);
/* Whether what is typed next replaces the text. */
bool fields_are_fresh(const struct fields *fields);
enum field_answer fields_key(struct fields *fields, const struct key *key);
/* Waits for a key and takes it; Up and Down go to other fields too. One that is ignored is in *key.
 */
enum field_answer fields_read(struct fields *fields, struct key *key);
/* A character into the field; what is pasted may not end anything. */
enum field_answer fields_type(struct fields *fields, wint_t typed);
/* Shows the rows from this screen row on, cursor in place. */
void fields_show(struct fields *fields, int row);
WINDOW *fields_window(struct fields *fields);

#endif
