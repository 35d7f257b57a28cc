/* Distances: their units, their words, their commas, and how they are shown. */
#include "rodbook/level/length.h"

#include <string.h>

#include "suite.h"

struct distance_case {
	const char *text;
	level_nm nm;
};

/* One mile of 5280 ft is 1609.344 m, 1 ft 0.3048 m, 1 in 25.4 mm (NIST SP 811 B.8). */
START_TEST(test_units_in_words)
{
	static const struct distance_case cases[] = {
	    {"2 m", 2000000000},        {"2 meter", 2000000000},     {"2 meters", 2000000000},
	    {"2 cm", 20000000},         {"2 mm", 2000000},           {"2 km", 2000000000000},
	    {"2 ft", 609600000},        {"2 feet", 609600000},       {"1 foot", 304800000},
	    {"2'", 609600000},          {"2 in", 50800000},          {"1 inch", 25400000},
	    {"2 inches", 50800000},     {"2\"", 50800000},           {"2 mi", 3218688000000},
	    {"1 mile", 1609344000000},  {"0.5 miles", 804672000000}, {"2 feet 3 inches", 685800000},
	    {"3 1/2 inches", 88900000},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		for (int bare = LEVEL_M; bare <= LEVEL_IN; bare++) {
			struct fault why = {0};
			level_nm length = -1, distance = -1;
			ck_assert_msg(
			    level_parse_length(cases[i].text, (enum level_unit)bare, &length, &why),
			    "%s: %s", cases[i].text, why.text);
			ck_assert(level_parse_distance(cases[i].text, (enum level_unit)bare,
			                               &distance, &why));
			ck_assert_msg(length == cases[i].nm && distance == length, "%s: %lld",
			              cases[i].text, (long long)length);
		}
}
END_TEST

/* Units that no distance has, and words that are nearly one. */
START_TEST(test_wrong_units)
{
	static const char *const wrong[] = {"2 kg",    "2 deg",   "2 yd",    "2 metre", "2 inchs",
	                                    "2 foots", "2 ft ft", "2 milez", "2 mi.",   "mile"};
	for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
		for (int bare = LEVEL_M; bare <= LEVEL_IN; bare++) {
			struct fault why = {0};
			level_nm nm;
			ck_assert_msg(
			    !level_parse_distance(wrong[i], (enum level_unit)bare, &nm, &why), "%s",
			    wrong[i]);
			ck_assert_int_eq(why.kind, FAULT_INPUT);
		}
}
END_TEST

/* 1860 ft = 566.928 m; 1 234 567 mm = 1234.567 m. */
START_TEST(test_commas_part_thousands_before_a_unit)
{
	static const struct distance_case parted[] = {
	    {"1,860 ft", 566928000000},   {"1,860ft", 566928000000},
	    {"1,860 feet", 566928000000}, {"1,860'", 566928000000},
	    {" +1,860 ft", 566928000000}, {"-1,860 ft", -566928000000},
	    {"1,860.5 ft", 567080400000}, {"1,234,567 mm", 1234567000000},
	    {"1,860' 6\"", 567080400000}, {"12,500 m", 12500000000000},
	    {"1,5 km", 1500000000000},    {"0,125 km", 125000000000},
	    {"1860 ft", 566928000000},
	};
	static const char *const refused[] = {"1,860",       "1,860 kg",    "1,86,000 ft",
	                                      "1,8600 1 ft", "1,860,00 ft", "1.860,5 ft",
	                                      ",860,000 ft"};
	level_nm nm;
	for (size_t i = 0; i < sizeof parted / sizeof *parted; i++) {
		struct fault why = {0};
		ck_assert_msg(level_parse_distance(parted[i].text, LEVEL_IN, &nm, &why), "%s: %s",
		              parted[i].text, why.text);
		ck_assert_msg(nm == parted[i].nm, "%s: %lld", parted[i].text, (long long)nm);
	}
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
		ck_assert_msg(!level_parse_distance(refused[i], LEVEL_FT, &nm, NULL), "%s",
		              refused[i]);
	/* A reading has no thousands. */
	ck_assert(!level_parse_length("1,860 ft", LEVEL_FT, &nm, NULL));
}
END_TEST

/* A refusal shows distances, not rod readings; a fraction of a mile is said to be the fault. */
START_TEST(test_refusals)
{
	static const struct {
		const char *text, *words;
		enum level_unit bare;
	} cases[] = {
	    {"1,860", "\"1,860\" with a comma needs its unit: write 1,860 ft", LEVEL_FT},
	    {"1,860", "\"1,860\" with a comma needs its unit: write 1,860 m", LEVEL_M},
	    {"far", "\"far\" is no distance: write 83.5 ft, 1,860 ft or 25.4 m", LEVEL_IN},
	    {"3/4 mi", "\"3/4 mi\": only inches have fractions; write decimals", LEVEL_FT},
	    {"1/2", "\"1/2\" is no distance: write 83.5, 1860, 1,860 ft or 25.4 m", LEVEL_FTIN},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct fault why = {0};
		level_nm nm;
		ck_assert(!level_parse_distance(cases[i].text, cases[i].bare, &nm, &why));
		ck_assert_str_eq(why.text, cases[i].words);
	}
}
END_TEST

START_TEST(test_shown_in_its_own_unit)
{
	char text[LEVEL_LENGTH_BYTES];
	struct level_style style = level_style_default(LEVEL_IN);
	const level_nm far = INT64_C(566928000000); /* 1860 ft */
	ck_assert_str_eq(level_format_distance(text, far, &style, false), "1860.00 ft");
	ck_assert_str_eq(level_format_distance(text, -far, &style, true), "-1860.00 ft");
	style = level_style_default(LEVEL_FTIN);
	ck_assert_str_eq(level_format_distance(text, far, &style, true), "+1860.00 ft");
	style = level_style_default(LEVEL_FT);
	style.decimals = 1;
	ck_assert_str_eq(level_format_distance(text, far, &style, false), "1860.0");
	style.distance = LEVEL_M;
	ck_assert_str_eq(level_format_distance(text, far, &style, false), "566.928 m");
	style = level_style_default(LEVEL_M);
	ck_assert_str_eq(level_format_distance(text, far, &style, false), "566.928");
}
END_TEST

int main(void)
{
	return RUN_TESTS("distance", test_units_in_words, test_wrong_units,
	                 test_commas_part_thousands_before_a_unit, test_refusals,
	                 test_shown_in_its_own_unit);
}
