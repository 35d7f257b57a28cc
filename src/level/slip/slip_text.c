#include "level/slip/slip_text.h"
#include "level/wide.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

static void add(struct slip_guesses *out, struct slip_guess guess, const struct slip_window *window)
{
	double likely = (double)guess.likely;
	if (likely >= window->low && likely <= window->high && out->count < SLIP_GUESSES_MOST)
		out->guess[out->count++] = guess;
}

void slip_guess_add(struct slip_guesses *out, enum level_slip_kind kind, level_nm likely,
                    const struct slip_window *window)
{
	add(out, (struct slip_guess){.kind = kind, .likely = likely}, window);
}

/* A text that can be altered digit by digit, and what one unit of each digit is worth, in nm; 0
 * where it is no digit, or one that cannot be altered. */
struct digits {
	char text[SLIP_TEXT_BYTES];
	enum level_unit bare;
	level_nm value;
	level_nm worth[SLIP_TEXT_BYTES];
};

/* What a digit is worth is asked of the reading of lengths itself: the text is read with the digit
 * one higher, or where that is no length, one lower. */
static level_nm worth_of(struct digits *d, size_t i)
{
	char digit = d->text[i];
	level_nm worth = 0, value;
	for (int step = 1; step >= -1 && !worth; step -= 2) {
		char other = (char)(digit + step);
		if (!isdigit((unsigned char)other))
			continue;
		d->text[i] = other;
		if (level_parse_length(d->text, d->bare, &value, NULL))
			worth = (value - d->value) * step;
	}
	d->text[i] = digit;
	return worth;
}

static bool take_digits(struct digits *d, const char *text, enum level_unit bare, level_nm value)
{
	bool denominator = false;
	if (!text || strlen(text) >= sizeof d->text)
		return false;
	*d = (struct digits){.bare = bare, .value = value};
	for (size_t i = 0; text[i]; i++)
		/* A comma is a decimal mark here, but may be none behind another digit. */
		d->text[i] = text[i] == ',' ? '.' : text[i];
	for (size_t i = 0; d->text[i]; i++) {
		bool digit = isdigit((unsigned char)d->text[i]);
		denominator = d->text[i] == '/' || (denominator && digit);
		/* Nobody misreads what a rod is divided by. */
		if (digit && !denominator)
			d->worth[i] = worth_of(d, i);
	}
	return true;
}

static bool reached(const struct digits *d, level_nm change, const struct slip_window *window)
{
	/* A survey foot rounds each of the two readings that a worth is made of. */
	double likely = (double)(d->value + change), slack = 20;
	return likely >= window->low - slack && likely <= window->high + slack;
}

static void misread(struct digits *d, size_t i, const struct slip_window *window,
                    struct slip_guesses *out)
{
	static const char *const look_alike[] = {"", "7", "", "8", "", "6", "59", "1", "3", "6"};
	char digit = d->text[i];
	for (const char *other = look_alike[digit - '0']; *other; other++) {
		struct slip_guess guess = {.kind = LEVEL_SLIP_MISREAD, .from = digit, .to = *other};
		if (!reached(d, (*other - digit) * d->worth[i], window))
			continue;
		d->text[i] = *other;
		if (level_parse_length(d->text, d->bare, &guess.likely, NULL))
			add(out, guess, window);
		d->text[i] = digit;
	}
}

/* The digit at index i and the one behind it, or behind the point. */
static void transposed(struct digits *d, size_t i, const struct slip_window *window,
                       struct slip_guesses *out)
{
	bool across = d->text[i + 1] == '.';
	size_t j = i + 1 + across;
	char first = d->text[i], second = d->text[j];
	struct slip_guess guess = {.kind = across ? LEVEL_SLIP_ACROSS : LEVEL_SLIP_TRANSPOSED};
	if (!d->worth[j] || first == second ||
	    !reached(d, (second - first) * (d->worth[i] - d->worth[j]), window))
		return;
	d->text[i] = second;
	d->text[j] = first;
	if (level_parse_length(d->text, d->bare, &guess.likely, NULL))
		add(out, guess, window);
	d->text[i] = first;
	d->text[j] = second;
}

static void swap(char *one, char *other)
{
	char kept = *one;
	*one = *other;
	*other = kept;
}

int slip_decimals(const char *text)
{
	int most = 0;
	while (text && (text = strpbrk(text, ".,")) != NULL) {
		int decimals = (int)strspn(++text, "0123456789");
		most = decimals > most ? decimals : most;
	}
	return most;
}

/* Of these the zeros at the end say nothing. */
static int decimals_needed(const char *text)
{
	int decimals = slip_decimals(text);
	const char *point = strchr(text, '.');
	while (decimals > 0 && point[decimals] == '0')
		decimals--;
	return decimals;
}

/* The point one place further on, or one place before. A text has no more than one. */
static void shifted(struct digits *d, const struct slip_window *window, struct slip_guesses *out)
{
	char *point = strchr(d->text, '.');
	struct slip_guess guess = {.kind = LEVEL_SLIP_SHIFTED};
	for (int step = -1; point && step <= 1; step += 2) {
		if ((step < 0 && point == d->text) || !isdigit((unsigned char)point[step]))
			continue;
		swap(point, point + step);
		if (decimals_needed(d->text) <= window->decimals &&
		    level_parse_length(d->text, d->bare, &guess.likely, NULL))
			add(out, guess, window);
		swap(point, point + step);
	}
}

void slip_guess_digits(const char *text, enum level_unit bare, level_nm value,
                       const struct slip_window *window, struct slip_guesses *out)
{
	struct digits d;
	if (!take_digits(&d, text, bare, value))
		return;
	for (size_t i = 0; d.text[i]; i++) {
		if (!d.worth[i])
			continue;
		misread(&d, i, window, out);
		transposed(&d, i, window, out);
	}
	shifted(&d, window, out);
}

/* How a length is written; both feet and inches count as such with or without a mark behind the
 * inches. */
enum notation { METRIC, FEET, FEET_INCHES, INCHES };

static enum notation notation_of(const char *text, enum level_unit bare)
{
	static const char *const feet[] = {"ft", "\xe2\x80\xb2", "'"};
	static const char *const inches[] = {"in", "\xe2\x80\xb3", "\"", "''"};
	if (level_is_bare(text))
		return bare == LEVEL_M ? METRIC : bare == LEVEL_IN ? INCHES : FEET;
	for (size_t i = 0; i < sizeof feet / sizeof *feet; i++) {
		const char *mark = strstr(text, feet[i]);
		if (mark && strncmp(mark, "''", 2) != 0)
			return mark[strcspn(mark, "0123456789")] ? FEET_INCHES : FEET;
	}
	for (size_t i = 0; i < sizeof inches / sizeof *inches; i++)
		if (strstr(text, inches[i]))
			return INCHES;
	return METRIC;
}

void slip_guess_whole(const char *text, enum level_unit bare, level_nm value,
                      const struct slip_window *window, struct slip_guesses *out)
{
	static const level_nm steps[][3] = {
	    [METRIC] = {LEVEL_NM_PER_M, LEVEL_NM_PER_M / 10, 0},
	    [FEET] = {LEVEL_NM_PER_FT, LEVEL_NM_PER_FT / 10, 0},
	    [FEET_INCHES] = {LEVEL_NM_PER_FT, LEVEL_NM_PER_IN, 0},
	    [INCHES] = {LEVEL_NM_PER_FT, 10 * LEVEL_NM_PER_IN, LEVEL_NM_PER_IN},
	};
	const level_nm *step = steps[notation_of(text, bare)];
	for (int i = 0; i < 3 && step[i]; i++) {
		slip_guess_add(out, LEVEL_SLIP_WHOLE, value - step[i], window);
		slip_guess_add(out, LEVEL_SLIP_WHOLE, value + step[i], window);
	}
}

static void add_unit(struct slip_guesses *out, level_nm likely, enum level_read_in read_in,
                     const struct slip_window *window)
{
	add(out, (struct slip_guess){.kind = LEVEL_SLIP_UNIT, .likely = likely, .read_in = read_in},
	    window);
}

/* 4 ft 6 in booked as 4.6, or 4 ft 11 in as 4.11; or a metric face of the rod. */
static void feet_guess(const char *text, level_nm value, const struct slip_window *window,
                       struct slip_guesses *out)
{
	level_nm rest = value % LEVEL_NM_PER_FT, whole = value - rest;
	const char *point = strpbrk(text, ".,");
	level_nm hundredths = rest / (LEVEL_NM_PER_FT / 100), size = llabs(hundredths);
	if (rest)
		add_unit(out, whole + level_round_ratio(rest * 10, 12), LEVEL_READ_INCHES, window);
	if (point && strspn(point + 1, "0123456789") == 2 && (size == 10 || size == 11))
		add_unit(out, whole + hundredths * LEVEL_NM_PER_IN, LEVEL_READ_INCHES, window);
	add_unit(out, level_round_ratio((level_wide)value * LEVEL_NM_PER_M, LEVEL_NM_PER_FT),
	         LEVEL_READ_METERS, window);
}

/* 4.6 ft booked as 4' 6", or 4.11 as 4' 11". */
static void feet_inches_guess(level_nm value, const struct slip_window *window,
                              struct slip_guesses *out)
{
	level_nm rest = value % LEVEL_NM_PER_FT, whole = value - rest;
	if (rest && llabs(rest) < 10 * LEVEL_NM_PER_IN)
		add_unit(out, whole + level_round_ratio(rest * 12, 10), LEVEL_READ_TENTHS, window);
	else if (rest && rest % LEVEL_NM_PER_IN == 0)
		add_unit(out, whole + rest / LEVEL_NM_PER_IN * (LEVEL_NM_PER_FT / 100),
		         LEVEL_READ_TENTHS, window);
}

void slip_guess_unit(const char *text, enum level_unit bare, level_nm value,
                     const struct slip_window *window, struct slip_guesses *out)
{
	switch (notation_of(text, bare)) {
	case METRIC:
		return;
	case FEET:
		feet_guess(text, value, window, out);
		return;
	case FEET_INCHES:
		feet_inches_guess(value, window, out);
		return;
	case INCHES:
		add_unit(out, level_round_ratio((level_wide)value * 12, 10), LEVEL_READ_TENTHS,
		         window);
		add_unit(out, level_round_ratio((level_wide)value * 100, 254),
		         LEVEL_READ_CENTIMETERS, window);
		return;
	}
}
