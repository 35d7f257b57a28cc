/* What must hold for lengths of any size. */
#include "rodbook/level/length.h"

#include <string.h>

#include "chance.h"
#include "suite.h"
#include "level/wide.h"

static level_nm any_length(uint64_t *state)
{
	static const level_nm scales[] = {1000, 100000000, 5 * LEVEL_NM_PER_M,
	                                  2000 * LEVEL_NM_PER_M, LEVEL_LENGTH_LIMIT};
	level_nm scale = scales[chance(state, 0, 4)];
	return chance(state, -scale, scale);
}

static void check_back(level_nm nm, const struct level_style *style)
{
	char buf[LEVEL_LENGTH_BYTES];
	enum level_unit unit;
	level_nm back = 0;
	struct fault why = {0};
	level_format_exact(buf, nm, style);
	ck_assert(level_unit_find(level_file_unit(style->unit), &unit));
	ck_assert_msg(level_parse_length(buf, unit, &back, &why), "%lld nm as \"%s\": %s",
	              (long long)nm, buf, why.text);
	ck_assert_msg(back == nm, "%lld nm as \"%s\" read back as %lld", (long long)nm, buf,
	              (long long)back);
}

static struct level_style any_style(uint64_t *state, enum level_unit unit)
{
	return (struct level_style){.unit = unit,
	                            .decimals = (int)chance(state, 0, 6),
	                            .fraction = 1 << chance(state, 0, 6)};
}

/* Any whole number of nm, in meters. */
START_TEST(test_exact_meters)
{
	uint64_t state = chance_seed("exact meters");
	for (int i = 0; i < 5000; i++) {
		struct level_style style = any_style(&state, LEVEL_M);
		check_back(any_length(&state), &style);
	}
}
END_TEST

/* What can be booked in feet and inches: hundred-thousandths of a foot, sixty-fourths of an inch.
 */
START_TEST(test_exact_feet)
{
	uint64_t state = chance_seed("exact feet");
	for (int i = 0; i < 5000; i++) {
		struct level_style feet = any_style(&state, LEVEL_FT);
		struct level_style inches = any_style(&state, i % 2 ? LEVEL_FTIN : LEVEL_IN);
		check_back(any_length(&state) / 3048 * 3048, &feet);
		check_back(any_length(&state) / 396875 * 396875, &inches);
	}
}
END_TEST

/* A shown length reads back within half of its last place, sign and all. */
START_TEST(test_shown)
{
	static const level_nm units[] = {LEVEL_NM_PER_M, LEVEL_NM_PER_FT};
	uint64_t state = chance_seed("shown lengths");
	for (int i = 0; i < 5000; i++) {
		enum level_unit unit = (enum level_unit)chance(&state, LEVEL_M, LEVEL_IN);
		struct level_style style = any_style(&state, unit);
		level_nm nm = any_length(&state), back = 0;
		level_wide twice, place = 1;
		char buf[LEVEL_LENGTH_BYTES];
		level_format_length(buf, nm, &style, i % 2);
		if (unit <= LEVEL_FT) {
			for (int j = 0; j < style.decimals; j++)
				place *= 10;
			/* 0.000001 ft is no whole number of nm, so it is shown but not read. */
			if (unit == LEVEL_FT && style.decimals > 5)
				continue;
		} else {
			place = style.fraction;
		}
		ck_assert_msg(level_parse_length(buf, unit, &back, NULL), "\"%s\"", buf);
		twice = 2 * (level_wide)(back - nm) * place;
		twice = twice < 0 ? -twice : twice;
		ck_assert_msg(twice <= (unit <= LEVEL_FT ? units[unit] : LEVEL_NM_PER_IN),
		              "%lld nm as \"%s\"", (long long)nm, buf);
		/* Half goes away from zero. */
		if (twice == (unit <= LEVEL_FT ? units[unit] : LEVEL_NM_PER_IN))
			ck_assert(nm < 0 ? back < nm : back > nm);
	}
}
END_TEST

/* What was typed for one unit means the same length when it is carried to another. */
START_TEST(test_carried)
{
	static const char *const tails[] = {"",       ".25", ",5",        " 3/8",
	                                    " 1/2\"", "' 7", ".125 usft", " mm"};
	uint64_t state = chance_seed("carried lengths");
	for (int i = 0; i < 5000; i++) {
		enum level_unit unit = (enum level_unit)chance(&state, LEVEL_M, LEVEL_IN);
		enum level_unit here = (enum level_unit)chance(&state, LEVEL_M, LEVEL_IN);
		char text[40], carried[60];
		long long whole = chance(&state, -5000, 5000);
		level_nm typed, back;
		snprintf(text, sizeof text, "%lld%s", whole, tails[chance(&state, 0, 7)]);
		if (!level_parse_length(text, unit, &typed, NULL))
			continue;
		level_carry_text(carried, sizeof carried, text, unit, here);
		ck_assert_msg(level_parse_length(carried, here, &back, NULL), "\"%s\"", carried);
		ck_assert_msg(back == typed, "\"%s\" carried as \"%s\"", text, carried);
	}
}
END_TEST

/* Text that is no length is refused or read, never worse, and a refusal always says why. */
START_TEST(test_any_text)
{
	static const char letters[] = "0123456789.,/'\" -+mftinuskc\t\xe2\x80\xb2\xb3\xff";
	uint64_t state = chance_seed("any text");
	for (int i = 0; i < 30000; i++) {
		char text[24];
		struct fault why = {0};
		level_nm nm = -7;
		int size = (int)chance(&state, 0, sizeof text - 1);
		for (int j = 0; j < size; j++)
			text[j] = letters[chance(&state, 0, sizeof letters - 2)];
		text[size] = '\0';
		if (level_parse_length(text, (enum level_unit)chance(&state, 0, 3), &nm, &why)) {
			ck_assert(nm >= -LEVEL_LENGTH_LIMIT && nm <= LEVEL_LENGTH_LIMIT);
		} else {
			ck_assert_int_eq(nm, -7);
			ck_assert_int_eq(why.kind, FAULT_INPUT);
			ck_assert(why.text[0]);
		}
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("length properties", test_exact_meters, test_exact_feet, test_shown,
	                 test_carried, test_any_text);
}
