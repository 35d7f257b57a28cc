/* What the whole-screen views are made of: a list to choose from, and a question with fields.
 *
 * F1 and Ctrl-G show in each of them what can be done there, and what the line or the field is
 * under the cursor. A view hands over nothing but texts for that: of a hint, a detail or a bar of
 * keys the first line stands on the screen, and the lines behind it are shown by F1. */
#ifndef SCREEN_VIEW_VIEWS_H
#define SCREEN_VIEW_VIEWS_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/book/book.h"
#include "screen/fields.h"

struct book;

struct list_line {
	const char *name, *text; /* text NULL: a heading, on which the bar never stands */
	const char *detail;      /* shown below while the bar stands on the line; may be NULL */
};

/* Shows lines below a title and waits for Enter, Escape or one of the letters in `keys`; *at is
 * the line the bar stands on. Returns KEY_ENTER, the letter, or TERM_KEY_ESCAPE (also when the
 * terminal is gone). */
int list_choose(const char *title, const struct list_line *lines, size_t count, size_t *at,
                const char *keys, const char *key_line, const char *message);

/* What F1 shows: what `name` is (its text may be empty, its meaning NULL), and what the keys of the
 * bar do. */
struct hints {
	const char *name, *text, *meaning;
	const char *keys; /* the bar; lines behind its first one explain it better */
	const char *more; /* lines about keys that every such view has */
};
void view_hints(const char *title, const struct hints *hints);
/* The unit of bare readings and where the rod ends, in a sentence or two. Returns text. */
#define VIEW_LIMITS_BYTES 160
char *view_rod_limits(char text[VIEW_LIMITS_BYTES], const struct book_settings *settings);
/* The lines about the keys of every form. */
extern const char view_fields_keys[];
/* The bar of a view, with the key for these hints behind it where there is room. */
void view_bar(const char *keys);
/* The first line of a hint, a detail or a bar, from a row on. */
void view_first_line(int row, int rows, attr_t attribute, const char *text);

/* Enter at the field "reading" accepts: what follows it has a default that mostly serves. The field
 * "time" is refused where it is left, and 09:30 over another time is of its day. */
struct question {
	const char *label, *hint;
	char text[512];
	int most;          /* characters */
	const char *field; /* by which a fault names it (struct fault), or NULL */
};

/* The question when something was observed: the last one, so that it costs no key to whoever books
 * at once. */
#define QUESTION_TIME                                                                              \
	{                                                                                          \
		"Observed", HINT_TIME, "", BOOK_TIME_BYTES - 1, "time"                             \
	}
#define HINT_TIME                                                                                  \
	"When: 2026-05-04T09:30, or 09:30 of today; empty: now.\n"                                 \
	"  It is the time at which it was read, not the time at which it is typed.\n"              \
	"  What was read at one time is held together, and what lies hours apart is said."

/* Shows a text of lines, to scroll in, until the user turns back. */
void view_text(const char *title, const char *text);
/* The same, which a small letter or a / ends too: that key, else 0. */
int view_lettered(const char *title, const char *text);
/* The same with lines to choose from: row has where each begins in the text, in bytes, and count is
 * above 0. Whether one was chosen by Enter; *at is which, and where the choosing begins. */
bool view_choose(const char *title, const char *text, const long *row, size_t count, size_t *at);

/* Asks for the texts; false when the user turned back. The cursor begins in question *at (NULL: the
 * first); *at is where it stood at the end. */
bool ask(const char *title, struct question *questions, int count, int *at, const char *message);
/* The question that a fault names, else `at`: there what is refused can be mended. */
int question_at(const struct question *questions, int count, const struct fault *why, int at);
/* A reading that was typed as the station goes to its own question, and the station that `stood`
 * there comes back; whether it did. */
bool question_move_reading(struct question *station, struct question *reading, const char *stood);
/* Asks for a reason, which may come back empty. */
bool ask_reason(const char *title, const char *hint, char reason[LEVEL_REMARK_BYTES],
                const char *message);
typedef bool strike_entry(struct book *book, int64_t run, int64_t id, const char *reason,
                          struct fault *why);
/* Strikes an entry of a run for a reason, which is asked until there is one. */
void ask_strike(struct book *book, int64_t run, int64_t id, const char *title, strike_entry *strike,
                char *message, size_t size);

#endif
