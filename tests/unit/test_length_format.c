/* Writing lengths, and units. */
#include "rodbook/level/length.h"

#include "suite.h"
#include "level/wide.h"

struct writing_case {
	level_nm nm;
	struct level_style style;
	bool plus;
	const char *text;
};

START_TEST(test_decimals)
{
	static const struct writing_case cases[] = {
	    {1432000000, {LEVEL_M, 3, 64, LEVEL_M}, false, "1.432"},
	    {1432000000, {LEVEL_M, 0, 64, LEVEL_M}, false, "1"},
	    {1432000000, {LEVEL_M, 6, 64, LEVEL_M}, false, "1.432000"},
	    /* half away from zero */
	    {1432500000, {LEVEL_M, 3, 64, LEVEL_M}, false, "1.433"},
	    {1432499999, {LEVEL_M, 3, 64, LEVEL_M}, false, "1.432"},
	    {1433500000, {LEVEL_M, 3, 64, LEVEL_M}, false, "1.434"},
	    {-1432500000, {LEVEL_M, 3, 64, LEVEL_M}, false, "-1.433"},
	    {-1432499999, {LEVEL_M, 3, 64, LEVEL_M}, false, "-1.432"},
	    {500000000, {LEVEL_M, 0, 64, LEVEL_M}, false, "1"},
	    {-500000000, {LEVEL_M, 0, 64, LEVEL_M}, false, "-1"},
	    /* no negative zero, and no + on zero */
	    {-400000, {LEVEL_M, 3, 64, LEVEL_M}, false, "0.000"},
	    {-499999999, {LEVEL_M, 0, 64, LEVEL_M}, true, "0"},
	    {400000, {LEVEL_M, 3, 64, LEVEL_M}, true, "0.000"},
	    {0, {LEVEL_M, 3, 64, LEVEL_M}, true, "0.000"},
	    {10000000, {LEVEL_M, 3, 64, LEVEL_M}, true, "+0.010"},
	    {-10000000, {LEVEL_M, 3, 64, LEVEL_M}, true, "-0.010"},
	    /* 4.16 ft = 1 267 968 000 nm; 1.000 m = 3.280 839 9 ft */
	    {1267968000, {LEVEL_FT, 2, 64, LEVEL_M}, false, "4.16"},
	    {1000000000, {LEVEL_FT, 5, 64, LEVEL_M}, false, "3.28084"},
	    {1524000, {LEVEL_FT, 2, 64, LEVEL_M}, false, "0.01"}, /* half of 0.01 ft */
	    {1523999, {LEVEL_FT, 2, 64, LEVEL_M}, false, "0.00"},
	    {LEVEL_LENGTH_LIMIT, {LEVEL_M, 6, 64, LEVEL_M}, false, "100000000.000000"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char buf[LEVEL_LENGTH_BYTES];
		ck_assert_str_eq(
		    level_format_length(buf, cases[i].nm, &cases[i].style, cases[i].plus),
		    cases[i].text);
	}
}
END_TEST

START_TEST(test_fractions)
{
	static const struct writing_case cases[] = {
	    {1457325000, {LEVEL_IN, 3, 64, LEVEL_M}, false, "57 3/8"},
	    {1457325000, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "4' 9 3/8\""},
	    {-1457325000, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "-4' 9 3/8\""},
	    {1457325000, {LEVEL_FTIN, 3, 64, LEVEL_M}, true, "+4' 9 3/8\""},
	    /* reduced: 32/64, 48/64, 2/64 and 63/64 of an inch */
	    {12700000, {LEVEL_IN, 3, 64, LEVEL_M}, false, "1/2"},
	    {19050000, {LEVEL_IN, 3, 64, LEVEL_M}, false, "3/4"},
	    {793750, {LEVEL_IN, 3, 64, LEVEL_M}, false, "1/32"},
	    {25003125, {LEVEL_IN, 3, 64, LEVEL_M}, false, "63/64"},
	    {-12700000, {LEVEL_IN, 3, 64, LEVEL_M}, false, "-1/2"},
	    {12700000, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "0' 0 1/2\""},
	    {304800000, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "1' 0\""},
	    {0, {LEVEL_FTIN, 3, 64, LEVEL_M}, true, "0' 0\""},
	    {0, {LEVEL_IN, 3, 64, LEVEL_M}, true, "0"},
	    /* half of 1/64 in is 198 437.5 nm; half of 1/16 in is 793 750 nm */
	    {198437, {LEVEL_IN, 3, 64, LEVEL_M}, false, "0"},
	    {198438, {LEVEL_IN, 3, 64, LEVEL_M}, false, "1/64"},
	    {793750, {LEVEL_IN, 3, 16, LEVEL_M}, false, "1/16"},
	    {-793750, {LEVEL_IN, 3, 16, LEVEL_M}, false, "-1/16"},
	    {793749, {LEVEL_IN, 3, 16, LEVEL_M}, false, "0"},
	    {-793749, {LEVEL_IN, 3, 16, LEVEL_M}, true, "0"},
	    /* rounding that carries into the inch and the foot */
	    {25399999, {LEVEL_IN, 3, 64, LEVEL_M}, false, "1"},
	    {304799999, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "1' 0\""},
	    {12700000, {LEVEL_IN, 3, 1, LEVEL_M}, false, "1"},
	    {12699999, {LEVEL_IN, 3, 1, LEVEL_M}, false, "0"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char buf[LEVEL_LENGTH_BYTES];
		ck_assert_str_eq(
		    level_format_length(buf, cases[i].nm, &cases[i].style, cases[i].plus),
		    cases[i].text);
	}
}
END_TEST

START_TEST(test_exact)
{
	static const struct writing_case cases[] = {
	    {1432000000, {LEVEL_M, 3, 64, LEVEL_M}, false, "1.432"},
	    {1432000000, {LEVEL_M, 0, 64, LEVEL_M}, false, "1.432"},
	    {1432000001, {LEVEL_M, 3, 64, LEVEL_M}, false, "1.432000001"},
	    {-1432100000, {LEVEL_M, 3, 64, LEVEL_M}, false, "-1.4321"},
	    {1267968000, {LEVEL_FT, 2, 64, LEVEL_M}, false, "4.16"},
	    {3048, {LEVEL_FT, 2, 64, LEVEL_M}, false, "0.00001"},
	    {396875, {LEVEL_IN, 3, 64, LEVEL_M}, false, "0.015625"}, /* 1/64 */
	    {1457325000, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "57.375"},
	    {0, {LEVEL_M, 3, 64, LEVEL_M}, false, "0.000"},
	    {0, {LEVEL_FTIN, 3, 64, LEVEL_M}, false, "0"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char buf[LEVEL_LENGTH_BYTES];
		ck_assert_str_eq(level_format_exact(buf, cases[i].nm, &cases[i].style),
		                 cases[i].text);
	}
}
END_TEST

START_TEST(test_units)
{
	static const char *const names[] = {"m", "ft", "ftin", "in"};
	static const char *const in_files[] = {"m", "ft", "in", "in"};
	static const char *const none[] = {"", "mm", "M", "foot", "ft ", "usft"};
	enum level_unit unit = LEVEL_IN;
	for (int i = LEVEL_M; i <= LEVEL_IN; i++) {
		ck_assert_str_eq(level_unit_name((enum level_unit)i), names[i]);
		ck_assert_str_eq(level_file_unit((enum level_unit)i), in_files[i]);
		ck_assert(level_unit_find(names[i], &unit));
		ck_assert_int_eq(unit, i);
		ck_assert_int_eq(level_style_default((enum level_unit)i).unit, i);
	}
	for (size_t i = 0; i < sizeof none / sizeof *none; i++)
		ck_assert(!level_unit_find(none[i], &unit));
	ck_assert_int_eq(level_style_default(LEVEL_M).decimals, 3);
	ck_assert_int_eq(level_style_default(LEVEL_FT).decimals, 2);
	ck_assert_int_eq(level_style_default(LEVEL_FTIN).fraction, 64);
	ck_assert_int_eq(level_style_default(LEVEL_IN).fraction, 64);
}
END_TEST

START_TEST(test_bare)
{
	static const char *const bare[] = {"1.432",  "-1.432", "+1", "0,432",
	                                   "57 3/8", "1/64",   ".5", " 5 "};
	static const char *const marked[] = {"1.432 m", "57 3/8\"", "4' 9", "1432mm", "1 usft", ""};
	for (size_t i = 0; i < sizeof bare / sizeof *bare; i++)
		ck_assert(level_is_bare(bare[i]));
	for (size_t i = 0; i < sizeof marked / sizeof *marked; i++)
		ck_assert(!level_is_bare(marked[i]));
}
END_TEST

START_TEST(test_carry)
{
	static const struct {
		const char *text;
		enum level_unit unit, here;
		const char *carried;
	} table[] = {
	    {"1.432", LEVEL_M, LEVEL_FT, "1.432 m"},
	    {"1.432", LEVEL_M, LEVEL_M, "1.432"},
	    {"57 3/8", LEVEL_IN, LEVEL_M, "57 3/8 in"},
	    {"4.16", LEVEL_FT, LEVEL_IN, "4.16 ft"},
	    {"4.16", LEVEL_FTIN, LEVEL_M, "4.16 ft"},
	    {"4' 9 3/8\"", LEVEL_FTIN, LEVEL_M, "4' 9 3/8\""},
	    {"1432 mm", LEVEL_M, LEVEL_FT, "1432 mm"},
	};
	char buf[LEVEL_LENGTH_BYTES], small[6];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		ck_assert_str_eq(
		    level_carry_text(buf, sizeof buf, table[i].text, table[i].unit, table[i].here),
		    table[i].carried);
	ck_assert_str_eq(level_carry_text(small, sizeof small, "1.432", LEVEL_M, LEVEL_FT),
	                 "1.432");
}
END_TEST

START_TEST(test_rounding)
{
	ck_assert_int_eq(level_round_ratio(5, 2), 3);
	ck_assert_int_eq(level_round_ratio(-5, 2), -3);
	ck_assert_int_eq(level_round_ratio(4, 3), 1);
	ck_assert_int_eq(level_round_ratio(5, 3), 2);
	ck_assert_int_eq(level_round_ratio(-4, 3), -1);
	ck_assert_int_eq(level_round_ratio(0, 7), 0);
	ck_assert_int_eq(level_round_ratio((level_wide)INT64_MAX * 1000, 1000), INT64_MAX);
	ck_assert_int_eq(level_from_meters(1.5e-9), 2);
	ck_assert_int_eq(level_from_meters(-1.5e-9), -2);
	ck_assert_int_eq(level_from_meters(29.67), 29670000000);
	ck_assert_double_eq_tol(level_to_meters(-1432000000), -1.432, 1e-15);
}
END_TEST

int main(void)
{
	return RUN_TESTS("writing lengths", test_decimals, test_fractions, test_exact, test_units,
	                 test_bare, test_carry, test_rounding);
}
