/* What a length as typed may have been meant to say: slips of its digits and of its unit. */
#ifndef LEVEL_SLIP_SLIP_TEXT_H
#define LEVEL_SLIP_SLIP_TEXT_H

#include "rodbook/level/slips.h"

/* Longer texts are mostly blanks, and left alone. */
#define SLIP_TEXT_BYTES 64

struct slip_guess {
	enum level_slip_kind kind;
	level_nm likely;
	char from, to;
	enum level_read_in read_in;
};

/* A digit has at most two that look like it, and one behind it; a text one point. */
#define SLIP_GUESSES_MOST (3 * SLIP_TEXT_BYTES + 16)

struct slip_guesses {
	int count;
	struct slip_guess guess[SLIP_GUESSES_MOST];
};

/* Where a likely value is of use, in nm; roughly, to save work. And how many decimals a reading of
 * the run has at most: with a point shifted it has no more. */
struct slip_window {
	double low, high;
	int decimals;
};

/* The decimals of a length as it was typed; 0 for NULL. Of a set, of its finest reading. */
int slip_decimals(const char *text);

/* Adds a value to out, where it is in the window. */
void slip_guess_add(struct slip_guesses *out, enum level_slip_kind kind, level_nm likely,
                    const struct slip_window *window);

/* Each adds to out what the text, a length whose value is given, may have been meant to say.
 * Digits transposed or misread, in the whole units and in the fractions alike; digits transposed
 * across the point; the point one place off. */
void slip_guess_digits(const char *text, enum level_unit bare, level_nm value,
                       const struct slip_window *window, struct slip_guesses *out);
/* A whole unit or a tenth off: 1 or 0.1 m, 1 or 0.1 ft, of feet and inches 1 ft or 1 in, of inches
 * 1 ft, 10 in or 1 in. */
void slip_guess_whole(const char *text, enum level_unit bare, level_nm value,
                      const struct slip_window *window, struct slip_guesses *out);
/* Feet and inches only: what was read in another unit. */
void slip_guess_unit(const char *text, enum level_unit bare, level_nm value,
                     const struct slip_window *window, struct slip_guesses *out);

#endif
