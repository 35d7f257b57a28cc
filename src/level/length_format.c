/* Writing lengths, and turning meters into them. */
#include "rodbook/level/length.h"
#include "level/wide.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const unit_names[] = {
    [LEVEL_M] = "m", [LEVEL_FT] = "ft", [LEVEL_FTIN] = "ftin", [LEVEL_IN] = "in"};

const char *level_unit_name(enum level_unit unit)
{
	return unit_names[unit];
}

const char *level_unit_words(enum level_unit unit)
{
	static const char *const words[] = {"m", "ft", "feet and inches", "inches"};
	return words[unit];
}

char *level_style_words(char buf[LEVEL_LENGTH_BYTES], const struct level_style *style)
{
	bool own = style->distance != style->unit;
	snprintf(buf, LEVEL_LENGTH_BYTES, "%s%s%s", level_unit_words(style->unit),
	         own ? ", distances in " : "", own ? level_unit_name(style->distance) : "");
	return buf;
}

char *level_distance_title(char buf[LEVEL_LENGTH_BYTES], const char *name,
                           const struct level_style *style)
{
	if (style->distance == style->unit)
		snprintf(buf, LEVEL_LENGTH_BYTES, "%s", name);
	else
		snprintf(buf, LEVEL_LENGTH_BYTES, "dist %s", level_unit_name(style->distance));
	return buf;
}

const char *level_unit_after(enum level_unit unit)
{
	static const char *const after[] = {" m", " ft", "", " in"};
	return after[unit];
}

bool level_unit_find(const char *name, enum level_unit *unit)
{
	for (int i = LEVEL_M; i <= LEVEL_IN; i++)
		if (strcmp(name, unit_names[i]) == 0) {
			*unit = (enum level_unit)i;
			return true;
		}
	return false;
}

struct level_style level_style_default(enum level_unit unit)
{
	return (struct level_style){.unit = unit,
	                            .decimals = unit == LEVEL_FT ? 2 : 3,
	                            .fraction = 64,
	                            .distance = level_distance_unit(unit)};
}

enum level_unit level_distance_unit(enum level_unit unit)
{
	return unit == LEVEL_M ? LEVEL_M : LEVEL_FT;
}

struct level_style level_distance_style(const struct level_style *style)
{
	return style->distance == style->unit ? *style : level_style_default(style->distance);
}

level_nm level_round_ratio(level_wide n, level_wide d)
{
	return (level_nm)(n < 0 ? -((-2 * n + d) / (2 * d)) : (2 * n + d) / (2 * d));
}

level_nm level_from_meters(double meters)
{
	return (level_nm)llround(meters * (double)LEVEL_NM_PER_M);
}

double level_to_meters(level_nm value)
{
	return (double)value / (double)LEVEL_NM_PER_M;
}

static int64_t unit_nm(enum level_unit unit)
{
	return unit == LEVEL_M    ? LEVEL_NM_PER_M
	       : unit == LEVEL_FT ? LEVEL_NM_PER_FT
	                          : LEVEL_NM_PER_IN;
}

static int64_t power_of_ten(int exponent)
{
	int64_t power = 1;
	while (exponent-- > 0)
		power *= 10;
	return power;
}

static const char *sign_of(int64_t counted, bool plus)
{
	return counted < 0 ? "-" : plus && counted > 0 ? "+" : "";
}

static void format_decimal(char *buf, level_nm value, int64_t unit, int decimals, bool plus)
{
	int64_t scale = power_of_ten(decimals);
	int64_t counted = level_round_ratio((level_wide)value * scale, unit);
	int64_t size = counted < 0 ? -counted : counted;
	if (decimals == 0)
		snprintf(buf, LEVEL_LENGTH_BYTES, "%s%" PRId64, sign_of(counted, plus), size);
	else
		snprintf(buf, LEVEL_LENGTH_BYTES, "%s%" PRId64 ".%0*" PRId64,
		         sign_of(counted, plus), size / scale, decimals, size % scale);
}

static void format_fraction(char *buf, level_nm value, int fraction, bool feet, bool plus)
{
	int64_t counted = level_round_ratio((level_wide)value * fraction, LEVEL_NM_PER_IN);
	int64_t size = counted < 0 ? -counted : counted;
	int64_t inches = size / fraction;
	int n = (int)(size % fraction), d = fraction;
	char tail[32] = "", head[32] = "";
	while (n && n % 2 == 0) {
		n /= 2;
		d /= 2;
	}
	if (feet) {
		snprintf(head, sizeof head, "%" PRId64 "' ", inches / 12);
		inches %= 12;
	}
	if (n)
		snprintf(tail, sizeof tail, "%s%d/%d", inches || feet ? " " : "", n, d);
	if (inches || feet || !n)
		snprintf(buf, LEVEL_LENGTH_BYTES, "%s%s%" PRId64 "%s%s", sign_of(counted, plus),
		         head, inches, tail, feet ? "\"" : "");
	else
		snprintf(buf, LEVEL_LENGTH_BYTES, "%s%s", sign_of(counted, plus), tail);
}

char *level_format_length(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                          const struct level_style *style, bool plus)
{
	if (style->unit == LEVEL_M || style->unit == LEVEL_FT)
		format_decimal(buf, value, unit_nm(style->unit), style->decimals, plus);
	else
		format_fraction(buf, value, style->fraction, style->unit == LEVEL_FTIN, plus);
	return buf;
}

char *level_format_distance(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                            const struct level_style *style, bool plus)
{
	struct level_style own = level_distance_style(style);
	level_format_length(buf, value, &own, plus);
	if (own.unit != style->unit)
		strcat(buf, level_unit_after(own.unit));
	return buf;
}

char *level_format_distance_unit(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                                 const struct level_style *style)
{
	struct level_style own = level_distance_style(style);
	level_format_length(buf, value, &own, false);
	return strcat(buf, level_unit_after(own.unit));
}

char *level_format_exact(char buf[LEVEL_LENGTH_BYTES], level_nm value,
                         const struct level_style *style)
{
	int64_t unit = unit_nm(style->unit);
	int decimals = style->unit == LEVEL_M || style->unit == LEVEL_FT ? style->decimals : 0;
	for (; decimals < 10; decimals++) {
		int64_t scale = power_of_ten(decimals);
		level_wide counted = level_round_ratio((level_wide)value * scale, unit);
		/* Beyond this the digits before the point leave no room for more behind it. */
		if (level_round_ratio(counted * unit, scale) == value || counted > INT64_MAX / 10 ||
		    counted < -(INT64_MAX / 10))
			break;
	}
	format_decimal(buf, value, unit, decimals, false);
	return buf;
}

const char *level_file_unit(enum level_unit unit)
{
	return unit == LEVEL_FTIN ? "in" : unit_names[unit];
}

bool level_is_bare(const char *text)
{
	return strpbrk(text, "0123456789") && text[strspn(text, "-+0123456789.,/ ")] == '\0';
}

bool level_is_like_reading(const char *name)
{
	/* A sign behind figures is none of a reading: 12+50.5 is a place along a line. */
	return level_is_bare(name) && strpbrk(name, "./,") &&
	       !strpbrk(name + strcspn(name, "0123456789.,/"), "+-");
}

int level_decimals(const char *text)
{
	const char *mark = strpbrk(text, ".,");
	if (!level_is_bare(text) || strpbrk(text, "/ "))
		return -1;
	return mark ? (int)strlen(mark + 1) : 0;
}

char *level_carry_text(char *buf, size_t size, const char *text, enum level_unit unit,
                       enum level_unit here)
{
	char with[LEVEL_LENGTH_BYTES], plain[LEVEL_LENGTH_BYTES];
	bool add = unit != here && level_is_bare(text);
	snprintf(with, sizeof with, "%.80s %s", text, unit == LEVEL_FTIN ? "ft" : unit_names[unit]);
	/* A bare 1,860 says nothing; with a unit behind it, it would. */
	add = add && strcmp(level_plain_distance(plain, sizeof plain, with), with) == 0;
	snprintf(buf, size, "%s", add ? with : text);
	return buf;
}
