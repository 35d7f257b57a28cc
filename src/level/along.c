#include "rodbook/level/along.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* Digits, and a decimal part where `decimals`; *whole is how many digits stand before the point. */
static bool is_number(const char *text, size_t size, bool decimals, size_t *whole)
{
	size_t rest;
	*whole = strspn(text, "0123456789");
	if (*whole == 0 || *whole > 9)
		return false;
	if (*whole >= size)
		return *whole == size;
	rest = strspn(text + *whole + 1, "0123456789");
	return decimals && text[*whole] == '.' && *whole + 1 + rest == size && rest > 0;
}

static enum level_unit counted_in(enum level_unit unit)
{
	return unit == LEVEL_M ? LEVEL_M : LEVEL_FT;
}

bool level_parse_along(const char *text, enum level_unit unit, level_nm *along, struct fault *why)
{
	const char *plus = strchr(text, '+');
	enum level_unit counted = counted_in(unit);
	level_nm before = 0, behind = 0;
	char head[24];
	size_t digits, whole = plus ? (size_t)(plus - text) : 0;
	if (!plus) {
		if (level_parse_length(text, counted, along, NULL) && *along >= 0 &&
		    *along <= LEVEL_DISTANCE_LIMIT)
			return true;
	} else if (whole < sizeof head && is_number(text, whole, false, &digits) &&
	           is_number(plus + 1, strlen(plus + 1), true, &digits) &&
	           (digits == 2 || digits == 3)) {
		int times = digits == 3 ? 1000 : 100;
		memcpy(head, text, whole);
		head[whole] = '\0';
		if (level_parse_length(head, counted, &before, NULL) &&
		    level_parse_length(plus + 1, counted, &behind, NULL) &&
		    before <= LEVEL_DISTANCE_LIMIT / times) {
			*along = before * times + behind;
			if (*along <= LEVEL_DISTANCE_LIMIT)
				return true;
		}
	}
	return fault_say(why, FAULT_INPUT,
	                 "\"%.40s\" is no place along a line: write a distance from its start, or "
	                 "0+050 for 50 %s, 12+50 for 1250",
	                 text, counted == LEVEL_M ? "m" : "ft");
}

char *level_carry_along(char *buf, size_t size, const char *text, enum level_unit unit,
                        enum level_unit here)
{
	struct level_style exactly = {.unit = counted_in(unit)};
	char exact[LEVEL_LENGTH_BYTES];
	level_nm along = 0;
	if (*text && counted_in(unit) != counted_in(here) &&
	    (strchr(text, '+') || level_is_bare(text)) &&
	    level_parse_along(text, unit, &along, NULL))
		snprintf(buf, size, "%s %s", level_format_exact(exact, along, &exactly),
		         level_unit_name(exactly.unit));
	else
		snprintf(buf, size, "%s", text);
	return buf;
}

/* Digits behind the point of a number. */
static int decimals_of(const char *text)
{
	const char *point = strchr(text, '.');
	return point ? (int)strlen(point + 1) : 0;
}

/* So many are whole nanometers, of a foot too. */
#define MOST_DECIMALS 5

static bool is_plain(const char *text, enum level_unit unit, level_nm *along)
{
	return text[strspn(text, "0123456789.+")] == '\0' && decimals_of(text) <= MOST_DECIMALS &&
	       level_parse_along(text, unit, along, NULL);
}

bool level_next_along(const char *before, const char *last, enum level_unit unit, char *next,
                      size_t size)
{
	const char *plus = strchr(last, '+');
	int decimals = decimals_of(before), places = plus ? (int)strcspn(plus + 1, ".") : 0;
	level_nm from = 0, to = 0,
	         step = counted_in(unit) == LEVEL_M ? LEVEL_NM_PER_M : LEVEL_NM_PER_FT;
	int64_t whole, rest, times = places == 3 ? 1000 : 100;
	char fraction[MOST_DECIMALS + 2] = "";
	next[0] = '\0';
	if (!is_plain(before, unit, &from) || !is_plain(last, unit, &to))
		return false;
	if (to == from)
		return false;
	to += to - from;
	if (to < 0 || to > LEVEL_DISTANCE_LIMIT)
		return false;
	if (decimals_of(last) > decimals)
		decimals = decimals_of(last);
	whole = to / step;
	rest = to % step;
	for (int i = 0; i < decimals; i++)
		step /= 10;
	if (decimals)
		snprintf(fraction, sizeof fraction, ".%0*" PRId64, decimals, rest / step);
	if (plus)
		snprintf(next, size, "%0*" PRId64 "+%0*" PRId64 "%s", (int)(plus - last),
		         whole / times, places, whole % times, fraction);
	else
		snprintf(next, size, "%" PRId64 "%s", whole, fraction);
	return true;
}
