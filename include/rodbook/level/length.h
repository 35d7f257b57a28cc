/* Lengths: exact whole nanometers, read from and written to the units of the trade.
 *
 * Units: 1 ft = 0.3048 m and 1 in = 25.4 mm exactly (international yard and pound agreement of
 * 1959); US survey foot = 1200/3937 m (US Metric Law of 1866, NIST SP 811 B.6). Every unit but
 * the survey foot holds its own decimals and sixty-fourths exactly; the survey foot is rounded
 * once, to 1 nm, half away from zero. */
#ifndef RODBOOK_LEVEL_LENGTH_H
#define RODBOOK_LEVEL_LENGTH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rodbook/level/fault.h"

typedef int64_t level_nm;

#define LEVEL_NM_PER_M INT64_C(1000000000)
#define LEVEL_NM_PER_FT INT64_C(304800000)
#define LEVEL_NM_PER_IN INT64_C(25400000)

/* No length that is read may exceed this many nm either way (100,000 km). */
#define LEVEL_LENGTH_LIMIT INT64_C(100000000000000000)

enum level_unit { LEVEL_M, LEVEL_FT, LEVEL_FTIN, LEVEL_IN };

/* How lengths are shown: m and ft with `decimals` (0 to 6), ftin and in to the nearest
 * 1/`fraction` in (1, 2, 4, 8, 16, 32 or 64). Distances are shown, and meant by a bare number, in
 * `distance`: m or ft, never inches. */
struct level_style {
	enum level_unit unit;
	int decimals;
	int fraction;
	enum level_unit distance;
};

#define LEVEL_LENGTH_BYTES 96

/* "m", "ft", "ftin", "in". */
const char *level_unit_name(enum level_unit unit);
/* "m", "ft", "feet and inches", "inches": after the word in. */
const char *level_unit_words(enum level_unit unit);
/* "inches, distances in ft": after the word in, where distances are typed too. Returns buf. */
char *level_style_words(char buf[LEVEL_LENGTH_BYTES], const struct level_style *style);
/* "dist ft" where distances have a unit of their own, else name: over a column. Returns buf. */
char *level_distance_title(char buf[LEVEL_LENGTH_BYTES], const char *name,
                           const struct level_style *style);
/* What stands behind a length that has just been formatted: " m", " ft", " in"; feet and inches
 * have their own signs, and "". */
const char *level_unit_after(enum level_unit unit);
/* Writes the unit so named; false for any other name. */
bool level_unit_find(const char *name, enum level_unit *unit);
/* The style a new book of that unit begins with: 3 decimals of a meter, 2 of a foot, 1/64 in. */
struct level_style level_style_default(enum level_unit unit);
/* The unit of distances where nobody chose one: m beside m, ft beside ft, ftin and in. */
enum level_unit level_distance_unit(enum level_unit unit);
/* How a distance is shown by a style: in its unit of distances, with the style's decimals where
 * both are one unit, else with those that a new book of that unit begins with. */
struct level_style level_distance_style(const struct level_style *style);

/* Reads `1.432`, `57 3/8"`, `4' 9 3/8"`, `57.375 in`, `1.457 m`, `1432 mm`, `0.3 km`, `12.4 usft`,
 * `1.2 mi` (1 mi = 5280 ft, NIST SP 811 B.8), and units written out: feet, foot, inch, inches,
 * meter, meters, mile, miles; a bare number is in unit `bare` (feet where that is ftin). A comma is
 * a decimal mark only where it cannot part thousands. Refuses what is no length, what is finer than
 * 1 nm can hold, and magnitudes beyond LEVEL_LENGTH_LIMIT. A sign is read; whether one is allowed
 * is the caller's. */
bool level_parse_length(const char *text, enum level_unit bare, level_nm *out, struct fault *why);

/* Reads a distance: as level_parse_length(), and `1,860 ft`, whose commas part thousands, because
 * it names its unit. */
bool level_parse_distance(const char *text, enum level_unit bare, level_nm *out, struct fault *why);
/* Copies a distance without commas that part thousands, where it names its unit. Returns buf. */
char *level_plain_distance(char *buf, size_t size, const char *text);

/* Writes a length for people, rounded once, half away from zero; `plus` puts a + before positive
 * values. m, ft and in carry no unit mark, ftin carries ' and ". Returns buf. */
char *level_format_length(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                          const struct level_style *style, bool plus);

/* Writes a distance for people, likewise, with its unit behind it where that is not the style's.
 * Returns buf. */
char *level_format_distance(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                            const struct level_style *style, bool plus);
/* The same, always with its unit behind it. */
char *level_format_distance_unit(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                                 const struct level_style *style);

/* Writes a length for files: a plain decimal number that, rounded to 1 nm, is the same length, with
 * at least the style's decimals and at most 10, in the unit that level_file_unit() names. (Means
 * and converted lengths need the rounding; what was read from a rod comes out exact.) Returns
 * buf. */
char *level_format_exact(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                         const struct level_style *style);
/* The unit of numbers in files: the book's, but "in" for ftin, which a number cannot hold. */
const char *level_file_unit(enum level_unit unit);

/* Whether the text is a bare number, so that its meaning hangs on the book's unit. */
bool level_is_bare(const char *text);
/* Whether a name is more likely a reading: a bare number with a decimal mark or a fraction, and no
 * sign behind its figures as in 12+50.5. */
bool level_is_like_reading(const char *name);
/* Digits behind the decimal mark of a length that was read as one plain number, 0 where it has no
 * mark; -1 for what names its unit or has a fraction. */
int level_decimals(const char *text);
/* Copies a length as typed into buf, with its unit behind it where it is bare and `unit`, which it
 * was typed in, is not `here`; one whose comma may part thousands stays bare, which nothing takes.
 * Returns buf. */
char *level_carry_text(char *buf, size_t size, const char *text, enum level_unit unit,
                       enum level_unit here);

/* Meters to nm, rounded half away from zero; the one place where a computed double becomes a
 * length. */
level_nm level_from_meters(double meters);
double level_to_meters(level_nm value);

#endif
