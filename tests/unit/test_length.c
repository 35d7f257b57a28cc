/* Reading lengths as people write them. */
#include "rodbook/level/length.h"

#include <string.h>

#include "suite.h"

struct reading_case {
	const char *text;
	enum level_unit bare;
	level_nm nm;
};

static void check_read(const struct reading_case *at)
{
	struct fault why = {0};
	level_nm nm = -1;
	ck_assert_msg(level_parse_length(at->text, at->bare, &nm, &why), "\"%s\" refused: %s",
	              at->text, why.text);
	ck_assert_msg(nm == at->nm, "\"%s\" read as %lld nm, not %lld", at->text, (long long)nm,
	              (long long)at->nm);
}

#define CHECK_READ(cases)                                                                          \
	for (size_t i = 0; i < sizeof(cases) / sizeof *(cases); i++)                               \
	check_read(&(cases)[i])

/* 1 in = 25.4 mm, 1 ft = 304.8 mm exactly: international yard and pound agreement, 1959. */
START_TEST(test_written_forms)
{
	static const struct reading_case cases[] = {
	    {"1.432", LEVEL_M, 1432000000},
	    {"1.432", LEVEL_FT, 436473600},   /* 1.432 x 304 800 000 */
	    {"1.432", LEVEL_FTIN, 436473600}, /* a bare number of feet and inches is feet */
	    {"1.432", LEVEL_IN, 36372800},    /* 1.432 x 25 400 000 */
	    {"1.457 m", LEVEL_FT, 1457000000},
	    {"1.457m", LEVEL_IN, 1457000000},
	    {"1432 mm", LEVEL_FT, 1432000000},
	    {"143.2 cm", LEVEL_IN, 1432000000},
	    {"0.3 km", LEVEL_FT, 300000000000},
	    {"4.16 ft", LEVEL_M, 1267968000}, /* 4.16 x 304 800 000 */
	    {"4.16'", LEVEL_M, 1267968000},
	    {"57.375 in", LEVEL_M, 1457325000}, /* 57.375 x 25 400 000 */
	    {"57.375", LEVEL_IN, 1457325000},
	    {"57 3/8\"", LEVEL_M, 1457325000},
	    {"57 3/8", LEVEL_IN, 1457325000},
	    {"57 3/8''", LEVEL_FT, 1457325000},
	    {"57 3/8 in", LEVEL_FT, 1457325000},
	    {"57  3/8 \"", LEVEL_FT, 1457325000},
	    {"4' 9 3/8\"", LEVEL_M, 1457325000},
	    {"4' 9 3/8", LEVEL_M, 1457325000},
	    {"4'9 3/8\"", LEVEL_M, 1457325000},
	    {"4 ft 9.375 in", LEVEL_M, 1457325000},
	    {"4\xe2\x80\xb2 9 3/8\xe2\x80\xb3", LEVEL_M, 1457325000}, /* prime, double prime */
	    {"5' 3/8\"", LEVEL_M, 1533525000},
	    {"5'", LEVEL_M, 1524000000},
	    {"8' 11.999\"", LEVEL_M, 2743174600}, /* 107.999 x 25 400 000 */
	    {"1/64 in", LEVEL_M, 396875},
	    {"1/64", LEVEL_IN, 396875},
	    {"63/64\"", LEVEL_M, 25003125}, /* 63 x 396 875 */
	    {"0/2\"", LEVEL_M, 0},
	    {"0.00001 ft", LEVEL_M, 3048},
	    {"0.1 mm", LEVEL_FT, 100000},
	    {"0.000000001", LEVEL_M, 1},
	    {"0.000001 mm", LEVEL_IN, 1},
	    {".5", LEVEL_M, 500000000},
	    {"5.", LEVEL_M, 5000000000},
	    {"  1.5  ", LEVEL_M, 1500000000},
	    {" 1.5 m ", LEVEL_M, 1500000000},
	    {"0", LEVEL_M, 0},
	    {"007.5", LEVEL_M, 7500000000},
	    {"100000 km", LEVEL_M, LEVEL_LENGTH_LIMIT},
	};
	CHECK_READ(cases);
}
END_TEST

START_TEST(test_signs)
{
	static const struct reading_case cases[] = {
	    {"-1.432", LEVEL_M, -1432000000},
	    {"+1.432", LEVEL_M, 1432000000},
	    {"- 1.432", LEVEL_M, -1432000000},
	    {"-4' 9 3/8\"", LEVEL_M, -1457325000},
	    {"-0", LEVEL_M, 0},
	    {"-1/64 in", LEVEL_M, -396875},
	    {"-1 usft", LEVEL_M, -304800610},
	    {"-100000 km", LEVEL_M, -LEVEL_LENGTH_LIMIT},
	};
	CHECK_READ(cases);
}
END_TEST

/* 1 US survey foot = 1200/3937 m: US Metric Law of 1866; NIST SP 811, appendix B.6. Rounded once,
 * to 1 nm. */
START_TEST(test_survey_foot)
{
	static const struct reading_case cases[] = {
	    {"3937 usft", LEVEL_M, 1200000000000}, {"39.37 usft", LEVEL_M, 12000000000},
	    {"1 usft", LEVEL_M, 304800610},        /* 304 800 609.60 */
	    {"12.4 usft", LEVEL_M, 3779527559},    /* 3 779 527 559.055 */
	    {"5280 usft", LEVEL_M, 1609347218694}, /* 1 609 347 218 694.437: the survey mile */
	    {"0.00001 usft", LEVEL_M, 3048},       /* 3 048.006 */
	    {"0.000000005 usft", LEVEL_M, 2},      /* 1.524 */
	};
	CHECK_READ(cases);
}
END_TEST

/* A comma is a decimal mark only where it cannot part thousands. */
START_TEST(test_comma)
{
	static const struct reading_case cases[] = {
	    {"1,43", LEVEL_M, 1430000000},      {"1,4", LEVEL_M, 1400000000},
	    {"1,4325", LEVEL_M, 1432500000},    {"0,432", LEVEL_M, 432000000},
	    {",432", LEVEL_M, 432000000},       {"1234,567", LEVEL_M, 1234567000000},
	    {"1,45 m", LEVEL_FT, 1450000000},   {"-0,432", LEVEL_M, -432000000},
	    {"8' 6,25\"", LEVEL_M, 2597150000}, /* 102.25 x 25 400 000 */
	};
	static const char *const refused[] = {
	    "1,432",   "12,432", "123,432", "1,432,000", "1,43,2",    "1,432.5", "1,43.5",
	    "1.432,5", "1,",     ",",       "1, 43",     "12,432 ft", "1,,4",    "0,432,000"};
	level_nm nm = -1;
	CHECK_READ(cases);
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
		ck_assert_msg(!level_parse_length(refused[i], LEVEL_M, &nm, NULL),
		              "\"%s\" accepted", refused[i]);
	ck_assert_int_eq(nm, -1);
}
END_TEST

static void check_refused(const char *const *texts, size_t count, const char *said)
{
	for (size_t i = 0; i < count; i++)
		for (int unit = LEVEL_M; unit <= LEVEL_FTIN; unit++) {
			struct fault why = {0};
			level_nm nm = -1;
			ck_assert_msg(
			    !level_parse_length(texts[i], (enum level_unit)unit, &nm, &why),
			    "\"%s\" accepted", texts[i]);
			ck_assert_int_eq(why.kind, FAULT_INPUT);
			ck_assert_msg(strstr(why.text, said) != NULL, "\"%s\": %s", texts[i],
			              why.text);
			ck_assert_int_eq(nm, -1);
		}
}

#define CHECK_REFUSED(texts, said) check_refused(texts, sizeof(texts) / sizeof *(texts), said)

START_TEST(test_refusals)
{
	static const char *const junk[] = {
	    "1.5\t",
	    "\t1.5", /* a tab could hide that a number is bare */
	    "x",
	    "m",
	    "-",
	    "+",
	    "+-1",
	    "--1",
	    "1.2.3",
	    "1..2",
	    ".",
	    "1e3",
	    "0x10",
	    "nan",
	    "inf",
	    "1 2",
	    "1 m 2",
	    "1.5 q",
	    "1 metre",
	    "1M",
	    "1.5m2",
	    "1 m x",
	    "1 1/2",
	    "3/2 in",
	    "2/2 in",
	    "1/0 in",
	    "1/ in",
	    "/2 in",
	    "1//2 in",
	    "1/2/3 in",
	    "1.5 1/2 in",
	    "1/129 in",
	    "8' 6'",
	    "8' 6 ft",
	    "8' 6 m",
	    "8' -6\"",
	    "8' x",
	    "8.5' 6\"",
	    "8\" 6'",
	    "8'' 6",
	    "8' 6 1/2 1/2",
	    "1 mm 5",
	    "1 usft 5",
	    "1\n",
	    "1\n2",
	    "1234567890123456789",
	    "123456789012345678.123456789012345678",
	    "1234567890.0123456789",
	    "0.1234567890123456789",
	    "\xe2\x80\xb2",
	    "\xff",
	    "1\xe2\x80",
	};
	static const char *const fine[] = {"0.0000000001 m", "1.00000000005 m", "0.0000001 mm",
	                                   "1/128 in",       "1/3 in",          "0.000000001 ft",
	                                   "8' 0 1/3\"",     "0.000000001 in"};
	static const char *const parts[] = {"1/2 m", "1/2 ft", "1 1/2'", "1/4 mm"};
	static const char *const inches[] = {"8' 12\"", "8' 12.5", "0' 99 in", "8 ft 12 1/2 in"};
	static const char *const far[] = {"100000.000000000001 km", "100001 km",
	                                  "123456789012345678 m", "-100001 km",
	                                  "999999999999999999 usft"};
	static const char *const nothing[] = {"", " "};
	CHECK_REFUSED(junk, "is no length: write ");
	CHECK_REFUSED(nothing, "a length is missing: write ");
	CHECK_REFUSED(fine, "finer than a whole nanometer");
	CHECK_REFUSED(parts, "only inches have fractions");
	CHECK_REFUSED(inches, "12 or more inches");
	CHECK_REFUSED(far, "longer than 100 000 km");
}
END_TEST

/* What is refused at length, in a message of bounded length. */
START_TEST(test_long_text)
{
	char text[5000];
	struct fault why;
	level_nm nm;
	memset(text, '9', sizeof text - 1);
	text[sizeof text - 1] = '\0';
	ck_assert(!level_parse_length(text, LEVEL_M, &nm, &why));
	ck_assert_uint_lt(strlen(why.text), 200);
	ck_assert(!level_parse_length(text, LEVEL_M, &nm, NULL));
}
END_TEST

/* A bare number takes its unit along into a book of another one; what is no number has none. */
START_TEST(test_bare)
{
	char text[64];
	ck_assert(level_is_bare("1.5") && level_is_bare("57 3/8") && level_is_bare("-.5"));
	ck_assert(!level_is_bare("") && !level_is_bare(" ") && !level_is_bare("-"));
	ck_assert(!level_is_bare("1.5 m") && !level_is_bare("8'"));
	ck_assert_str_eq(level_carry_text(text, sizeof text, "57 3/8", LEVEL_IN, LEVEL_M),
	                 "57 3/8 in");
	ck_assert_str_eq(level_carry_text(text, sizeof text, "8.5", LEVEL_FTIN, LEVEL_M), "8.5 ft");
	ck_assert_str_eq(level_carry_text(text, sizeof text, "1.5", LEVEL_M, LEVEL_M), "1.5");
	ck_assert_str_eq(level_carry_text(text, sizeof text, "", LEVEL_M, LEVEL_FT), "");
	ck_assert_str_eq(level_carry_text(text, sizeof text, "1.5 m", LEVEL_FT, LEVEL_M), "1.5 m");
}
END_TEST

int main(void)
{
	return RUN_TESTS("reading lengths", test_bare, test_written_forms, test_signs,
	                 test_survey_foot, test_comma, test_refusals, test_long_text);
}
