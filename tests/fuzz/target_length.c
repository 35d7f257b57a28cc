/* Lengths and sets: what is read, written in any style and unit, is read again as the same. */
#include <stdio.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/level/length.h"
#include "rodbook/level/set.h"
#include "level/wide.h"

static const char *const seeds[] = {"1.432",
                                    "57 3/8\"",
                                    "4' 9 3/8\"",
                                    "57.375 in",
                                    "1.457 m",
                                    "1432 mm",
                                    "0.3 km",
                                    "12.4 usft",
                                    "1,432",
                                    "-0.25",
                                    "1.432; x1.533; 1.431",
                                    "4'",
                                    "0.00001 ft",
                                    "+3",
                                    "3/8",
                                    "100000 km",
                                    "1\xe2\x80\xb2 2\xe2\x80\xb3",
                                    "12,345.6",
                                    "1 1/64; 2",
                                    NULL};
static const char *const dictionary[] = {
    " m",           " mm", " cm", " km", " ft", " in", " usft", "'", "\"",     " 1/64",
    " 3/8\"",       ";",   "; x", ",",   ".",   "-",   "+",     " ", "000000", "\xe2\x80\xb2",
    "\xe2\x80\xb3", NULL};

/* The nm of a plain decimal number of a unit, rounded half away from zero. */
static bool decimal_nm(const char *text, level_nm unit, level_nm *out)
{
	bool negative = *text == '-', point = false;
	level_wide number = 0, scale = 1;
	for (text += negative; *text; text++) {
		if (*text == '.' && !point) {
			point = true;
			continue;
		}
		if (*text < '0' || *text > '9')
			return false;
		number = number * 10 + (*text - '0');
		scale *= point ? 10 : 1;
	}
	*out = level_round_ratio(negative ? -number * unit : number * unit, scale);
	return true;
}

static void check_exact(level_nm value, const struct level_style *style)
{
	static const level_nm units[] = {LEVEL_NM_PER_M, LEVEL_NM_PER_FT, LEVEL_NM_PER_IN,
	                                 LEVEL_NM_PER_IN};
	char buf[LEVEL_LENGTH_BYTES];
	level_nm back = 0;
	level_format_exact(buf, value, style);
	FUZZ_LAW(decimal_nm(buf, units[style->unit], &back) && back == value,
	         "%lld nm is written exactly as \"%s\", which is %lld", (long long)value, buf,
	         (long long)back);
	if (style->unit != LEVEL_M)
		return;
	back = 0;
	FUZZ_LAW(level_parse_length(buf, LEVEL_M, &back, NULL) && back == value,
	         "%lld nm is written exactly as \"%s\", which is read as %lld", (long long)value,
	         buf, (long long)back);
}

static void check_shown(level_nm value, const struct level_style *style, bool plus)
{
	char buf[LEVEL_LENGTH_BYTES];
	level_nm back = 0, unit = style->unit == LEVEL_M    ? LEVEL_NM_PER_M
	                          : style->unit == LEVEL_FT ? LEVEL_NM_PER_FT
	                                                    : LEVEL_NM_PER_IN;
	level_wide place = 1, twice;
	level_format_length(buf, value, style, plus);
	/* A sixth decimal of a foot is no whole number of nm, so it is shown but not read. */
	if (style->unit == LEVEL_FT && style->decimals > 5)
		return;
	for (int i = 0; style->unit <= LEVEL_FT && i < style->decimals; i++)
		place *= 10;
	if (style->unit > LEVEL_FT)
		place = style->fraction;
	if (!level_parse_length(buf, style->unit, &back, NULL)) {
		/* Rounding up may leave the range that is read. */
		FUZZ_LAW(value > LEVEL_LENGTH_LIMIT - LEVEL_NM_PER_M ||
		             value < LEVEL_NM_PER_M - LEVEL_LENGTH_LIMIT,
		         "%lld nm is shown as \"%s\", which cannot be read", (long long)value, buf);
		return;
	}
	twice = 2 * ((level_wide)back - value) * place;
	FUZZ_LAW((twice < 0 ? -twice : twice) <= unit, "%lld nm is shown as \"%s\"",
	         (long long)value, buf);
}

static void check_set(const char *text, enum level_unit unit)
{
	struct level_set set, back;
	char carried[4000];
	for (int here = 0; here < 4; here++) {
		if (!level_parse_set(text, unit, &set, NULL))
			return;
		level_carry_set(carried, sizeof carried, text, unit, (enum level_unit)here);
		if (!FUZZ_LAW(level_parse_set(carried, (enum level_unit)here, &back, NULL),
		              "the set \"%s\" is carried as \"%s\", which cannot be read", text,
		              carried))
			continue;
		FUZZ_LAW(set.count == back.count && set.struck == back.struck &&
		             set.mean == back.mean &&
		             memcmp(set.reading, back.reading,
		                    sizeof *set.reading * (size_t)set.count) == 0,
		         "the set \"%s\" is carried as \"%s\", which is another", text, carried);
	}
}

static bool one(const char *text, unsigned options)
{
	enum level_unit unit = (enum level_unit)(options & 3);
	struct level_style style = {(enum level_unit)(options >> 2 & 3),
	                            (int)((options >> 4 & 15) % 7), 1 << (options >> 8 & 7) % 7,
	                            LEVEL_M};
	struct fault why = {0};
	level_nm value = -7, back;
	char carried[FUZZ_INPUT_MOST + 16];
	check_set(text, unit);
	if (!level_parse_length(text, unit, &value, &why)) {
		FUZZ_LAW(value == -7 && why.kind == FAULT_INPUT && *why.text,
		         "\"%s\" is refused without a reason, or leaves a value", text);
		return level_is_set(text) &&
		       level_parse_set(text, unit, &(struct level_set){0}, NULL);
	}
	if (!FUZZ_LAW(value >= -LEVEL_LENGTH_LIMIT && value <= LEVEL_LENGTH_LIMIT,
	              "\"%s\" is read as %lld nm, beyond the limit", text, (long long)value))
		return true;
	check_exact(value, &style);
	style.unit = LEVEL_M;
	check_exact(value, &style);
	style.unit = (enum level_unit)(options >> 2 & 3);
	check_shown(value, &style, options >> 12 & 1);
	for (int here = 0; here < 4; here++) {
		level_carry_text(carried, sizeof carried, text, unit, (enum level_unit)here);
		back = 0;
		FUZZ_LAW(level_parse_length(carried, (enum level_unit)here, &back, NULL) &&
		             back == value,
		         "\"%s\" of unit %d is carried to unit %d as \"%s\"", text, (int)unit, here,
		         carried);
	}
	return true;
}

const struct fuzz_target fuzz_target = {
    .name = "length",
    .words = "lengths and sets, read, written in every style and read again",
    .seeds = seeds,
    .dictionary = dictionary,
    .tries = 60000,
    .one = one,
};
