/* Reading lengths as people write them. */
#include "rodbook/level/length.h"
#include "level/wide.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* A unit as an exact ratio: n/d nm. */
struct unit_word {
	const char *word;
	level_wide n, d;
	bool feet, inches;
};

#define MILE (5280 * LEVEL_NM_PER_FT)

/* Longer words first, so that "mm" is not read as "m". */
static const struct unit_word unit_words[] = {
    {"usft", 1200 * INT64_C(1000000000), 3937, false, false},
    {"mm", 1000000, 1, false, false},
    {"cm", 10000000, 1, false, false},
    {"km", 1000 * LEVEL_NM_PER_M, 1, false, false},
    {"miles", MILE, 1, false, false},
    {"mile", MILE, 1, false, false},
    {"mi", MILE, 1, false, false},
    {"meters", LEVEL_NM_PER_M, 1, false, false},
    {"meter", LEVEL_NM_PER_M, 1, false, false},
    {"m", LEVEL_NM_PER_M, 1, false, false},
    {"feet", LEVEL_NM_PER_FT, 1, true, false},
    {"foot", LEVEL_NM_PER_FT, 1, true, false},
    {"ft", LEVEL_NM_PER_FT, 1, true, false},
    {"''", LEVEL_NM_PER_IN, 1, false, true},
    {"'", LEVEL_NM_PER_FT, 1, true, false},
    {"\xe2\x80\xb2", LEVEL_NM_PER_FT, 1, true, false}, /* prime */
    {"inches", LEVEL_NM_PER_IN, 1, false, true},
    {"inch", LEVEL_NM_PER_IN, 1, false, true},
    {"in", LEVEL_NM_PER_IN, 1, false, true},
    {"\"", LEVEL_NM_PER_IN, 1, false, true},
    {"\xe2\x80\xb3", LEVEL_NM_PER_IN, 1, false, true}, /* double prime */
};

/* 18 digits times a unit stay far inside 128 bits. */
#define DIGITS_MAX 18
#define FRACTION_MAX 128

struct number {
	level_wide n, d;
	bool fraction;
};

static const char *skip_blanks(const char *at)
{
	while (*at == ' ')
		at++;
	return at;
}

/* Reads digits into *value; NULL when there are too many. */
static const char *read_digits(const char *at, level_wide *value, int *count)
{
	*value = 0;
	*count = 0;
	while (isdigit((unsigned char)*at)) {
		*value = *value * 10 + (*at++ - '0');
		if (++*count > DIGITS_MAX)
			return NULL;
	}
	return at;
}

/* A comma is a decimal mark only where it cannot part thousands: not with three digits behind it
 * and one to three, not beginning with 0, before it. */
static bool comma_is_decimal(const char *comma, int digits_before, bool leading_zero)
{
	int after = 0;
	while (isdigit((unsigned char)comma[1 + after]))
		after++;
	if (after == 0 || comma[1 + after] == ',' || comma[1 + after] == '.')
		return false;
	return after != 3 || digits_before == 0 || digits_before > 3 || leading_zero;
}

static bool read_fraction(const char **at, struct number *number)
{
	level_wide n, d;
	int digits;
	const char *next = read_digits(*at, &n, &digits);
	if (!next || !digits || *next != '/')
		return false;
	next = read_digits(next + 1, &d, &digits);
	if (!next || !digits || d == 0 || d > FRACTION_MAX || n >= d)
		return false;
	number->n = number->n * d + n;
	number->d = d;
	number->fraction = true;
	*at = next;
	return true;
}

/* Reads `12`, `1.432`, `.5`, `1/2` or `57 3/8`. */
static bool read_number(const char **at, struct number *number)
{
	level_wide whole, part;
	int before, after = 0;
	const char *start = *at;
	const char *next = read_digits(start, &whole, &before);
	*number = (struct number){.n = whole, .d = 1};
	if (!next)
		return false;
	if (before && *next == '/') {
		number->n = 0;
		return read_fraction(at, number);
	}
	if (*next == '.' || (*next == ',' && comma_is_decimal(next, before, *start == '0'))) {
		next = read_digits(next + 1, &part, &after);
		if (!next || before + after > DIGITS_MAX)
			return false;
		for (int i = 0; i < after; i++)
			number->d *= 10;
		number->n = whole * number->d + part;
	} else if (before && *next == ' ') {
		const char *second = skip_blanks(next);
		if (isdigit((unsigned char)*second) && read_fraction(&second, number))
			next = second;
	}
	if (before + after == 0)
		return false;
	*at = next;
	return true;
}

static const struct unit_word *read_unit(const char **at)
{
	for (size_t i = 0; i < sizeof unit_words / sizeof *unit_words; i++) {
		const char *word = unit_words[i].word;
		size_t size;
		if (*word != **at)
			continue;
		size = strlen(word);
		if (strncmp(*at, word, size) == 0) {
			*at += size;
			return &unit_words[i];
		}
	}
	return NULL;
}

static const struct unit_word *bare_unit(enum level_unit unit)
{
	const char *word = unit == LEVEL_M ? "m" : unit == LEVEL_IN ? "in" : "ft";
	return read_unit(&word);
}

/* What a refusal says: the word for what was wanted, and examples by the unit of a bare number. */
struct wording {
	const char *what, *examples[4];
};

static const struct wording length_words = {
    "length",
    {[LEVEL_M] = "1.432, 1432 mm or 4' 8 3/8\"",
     [LEVEL_FT] = "4.16, 4' 2\" or 1.268 m",
     [LEVEL_FTIN] = "4' 9 3/8\", 4.78 (feet), 3/8 in or 1.457 m",
     [LEVEL_IN] = "57 3/8, 57.375, 4' 9 3/8\" or 1.457 m"}};

static const struct wording distance_words = {"distance",
                                              {[LEVEL_M] = "25.4, 83 ft or 1.2 km",
                                               [LEVEL_FT] = "83.5, 1860, 1,860 ft or 25.4 m",
                                               [LEVEL_FTIN] = "83.5, 1860, 1,860 ft or 25.4 m",
                                               [LEVEL_IN] = "83.5 ft, 1,860 ft or 25.4 m"}};

static bool refuse(const char *text, enum level_unit bare, const struct wording *words,
                   struct fault *why)
{
	if (!text[strspn(text, " ")])
		return fault_say(why, FAULT_INPUT, "a %s is missing: write %s", words->what,
		                 words->examples[bare]);
	return fault_say(why, FAULT_INPUT, "\"%.60s\" is no %s: %swrite %s", text, words->what,
	                 strchr(text, ',') ? "a comma may part thousands; " : "",
	                 words->examples[bare]);
}

/* number x unit, exactly; the survey foot alone is rounded. */
static bool to_nm(const struct number *number, const struct unit_word *unit, level_wide *nm)
{
	level_wide n = number->n * unit->n;
	level_wide d = number->d * unit->d;
	*nm = (2 * n + d) / (2 * d);
	return unit->d != 1 || n % d == 0;
}

static bool parse(const char *text, enum level_unit bare, level_nm *out,
                  const struct wording *words, struct fault *why)
{
	const char *at = skip_blanks(text);
	bool negative = *at == '-';
	struct number number;
	const struct unit_word *unit;
	level_wide total, inches = 0;
	bool exact, marked;

	if (*at == '-' || *at == '+')
		at = skip_blanks(at + 1);
	if (!read_number(&at, &number))
		return refuse(text, bare, words, why);
	at = skip_blanks(at);
	unit = read_unit(&at);
	marked = unit != NULL;
	if (!marked)
		unit = bare_unit(bare);
	if (number.fraction && marked && !unit->inches)
		return fault_say(why, FAULT_INPUT,
		                 "\"%.60s\": only inches have fractions; write decimals", text);
	if (number.fraction && !unit->inches)
		return refuse(text, bare, words, why);
	exact = to_nm(&number, unit, &total);
	at = skip_blanks(at);
	if (marked && unit->feet && isdigit((unsigned char)*at) && number.d == 1) {
		if (!read_number(&at, &number))
			return refuse(text, bare, words, why);
		at = skip_blanks(at);
		unit = read_unit(&at);
		if (unit && !unit->inches)
			return refuse(text, bare, words, why);
		unit = bare_unit(LEVEL_IN);
		exact = to_nm(&number, unit, &inches) && exact;
		if (inches >= LEVEL_NM_PER_FT)
			return fault_say(
			    why, FAULT_INPUT,
			    "\"%.60s\" has 12 or more inches beside its feet: write feet "
			    "and 0 to 11 inches",
			    text);
		total += inches;
		at = skip_blanks(at);
	}
	if (*at)
		return refuse(text, bare, words, why);
	if (!exact)
		return fault_say(why, FAULT_INPUT,
		                 "\"%.60s\" is finer than a whole nanometer: write it coarser",
		                 text);
	if (total > LEVEL_LENGTH_LIMIT)
		return fault_say(why, FAULT_INPUT, "\"%.60s\" is longer than 100 000 km", text);
	*out = (level_nm)(negative ? -total : total);
	return true;
}

bool level_parse_length(const char *text, enum level_unit bare, level_nm *out, struct fault *why)
{
	return parse(text, bare, out, &length_words, why);
}

/* The length of `1,860` or `1,860,000` at the start of a text whose digits are parted by threes; 0
 * where they are not. */
static size_t parted_by_threes(const char *text)
{
	size_t size = strspn(text, "0123456789");
	if (size == 0 || size > 3 || *text == '0' || text[size] != ',')
		return 0;
	while (text[size] == ',') {
		if (strspn(text + size + 1, "0123456789") != 3)
			return 0;
		size += 4;
	}
	return size;
}

char *level_plain_distance(char *buf, size_t size, const char *text)
{
	const char *at = text + strspn(text, " -+"), *behind;
	size_t parted = parted_by_threes(at), used;
	behind = at + parted;
	if (*behind == '.')
		behind += 1 + strspn(behind + 1, "0123456789");
	behind += strspn(behind, " ");
	snprintf(buf, size, "%s", text);
	/* Without a unit behind it 1,860 may be less than two as well. */
	if (!parted || !read_unit(&behind))
		return buf;
	used = (size_t)(at - text);
	for (size_t i = used; buf[i]; i++)
		if (buf[i] != ',' || i >= (size_t)(at - text) + parted)
			buf[used++] = buf[i];
	buf[used] = '\0';
	return buf;
}

bool level_parse_distance(const char *text, enum level_unit bare, level_nm *out, struct fault *why)
{
	char plain[100];
	const char *at = text + strspn(text, " -+");
	size_t parted = parted_by_threes(at);
	if (strchr(text, ',') && strlen(text) < sizeof plain)
		text = level_plain_distance(plain, sizeof plain, text);
	if (parted && at[parted + strspn(at + parted, " ")] == '\0')
		return fault_say(why, FAULT_INPUT,
		                 "\"%.60s\" with a comma needs its unit: write %.20s %s", text, at,
		                 bare == LEVEL_M ? "m" : "ft");
	return parse(text, bare, out, &distance_words, why);
}
