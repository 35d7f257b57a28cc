/* Names and remarks: what may be shown. */
#include "rodbook/level/sight.h"

#include <string.h>

#include "suite.h"

static void check_texts(const char *const *texts, size_t count, bool good, const char *said)
{
	for (size_t i = 0; i < count; i++) {
		struct fault why = {0};
		bool got = level_check_text(texts[i], 40, "station name", &why);
		ck_assert_msg(got == good, "text %zu (\"%s\"): %s", i, texts[i], why.text);
		ck_assert_msg(strstr(why.text, said) != NULL, "text %zu: %s", i, why.text);
	}
}

#define CHECK_TEXTS(texts, good, said)                                                             \
	check_texts(texts, sizeof(texts) / sizeof *(texts), good, said)

START_TEST(test_good)
{
	static const char *const good[] = {
	    "",
	    "TP1",
	    "north shore, nail 3",
	    "caf\xc3\xa9",
	    "\xce\x94h",
	    "\xe6\xb0\xb4\xe9\x9d\xa2",
	    "\xf0\x9f\x8c\x8a",
	    "\xc2\xa0",
	    "\xed\x9f\xbf",
	    "\xf0\x90\x80\x80",
	};
	CHECK_TEXTS(good, true, "");
}
END_TEST

/* The Unicode Standard, table 3-7 (well-formed UTF-8 byte sequences): no other bytes are text. */
START_TEST(test_bad_bytes)
{
	static const char *const bad[] = {
	    "\x80",
	    "\xbf",
	    "a\x80",
	    "\xff",
	    "\xfe",
	    "\xf8\x88\x80\x80\x80",
	    "\xfc\x84\x80\x80\x80\x80",
	    /* cut short */
	    "\xc3",
	    "\xe6\xb0",
	    "\xf0\x9f\x8c",
	    "\xc3"
	    "a",
	    "\xe6\xb0"
	    "a",
	    "\xf0\x9f\x8c"
	    "a",
	    "\xe6"
	    "a\x80",
	    /* overlong: NUL, /, U+07FF, U+FFFF */
	    "\xc0\x80",
	    "\xc0\xaf",
	    "\xc1\xbf",
	    "\xe0\x80\xaf",
	    "\xe0\x9f\xbf",
	    "\xf0\x80\x80\xaf",
	    "\xf0\x8f\xbf\xbf",
	    /* surrogates, and above U+10FFFF */
	    "\xed\xa0\x80",
	    "\xed\xbf\xbf",
	    "\xf4\x90\x80\x80",
	    "\xf5\x80\x80\x80",
	    "\xf7\xbf\xbf\xbf",
	};
	CHECK_TEXTS(bad, false, "the station name is not UTF-8 text");
}
END_TEST

START_TEST(test_controls)
{
	static const char *const bad[] = {
	    "\x01", "\t",   "\n",       "\r",       "a\x1b[2J",
	    "\x1f", "\x7f", "\xc2\x80", "\xc2\x9b", "\xc2\x9f",
	};
	CHECK_TEXTS(bad, false, "control or invisible character");
}
END_TEST

/* Unicode's bidirectional controls, its default ignorable characters and its combining marks. */
START_TEST(test_invisible)
{
	static const char *const bad[] = {
	    "a\xc2\xad",    /* U+00AD soft hyphen */
	    "e\xcc\x81",    /* U+0301 combining acute */
	    "\xcc\x80",     /* U+0300, first of its block */
	    "a\xcd\xaf",    /* U+036F, last of its block */
	    "\xd8\x9c",     /* U+061C Arabic letter mark */
	    "\xe2\x80\x8b", /* U+200B zero width space */
	    "\xe2\x80\x8d", /* U+200D zero width joiner */
	    "\xe2\x80\x8e", /* U+200E left-to-right mark */
	    "\xe2\x80\x8f", /* U+200F right-to-left mark */
	    "\xe2\x80\xa8", /* U+2028 line separator */
	    "TP1\xe2\x80\xae"
	    "1",                /* U+202E right-to-left override */
	    "\xe2\x81\xa0",     /* U+2060 word joiner */
	    "\xe2\x81\xa6",     /* U+2066 left-to-right isolate */
	    "\xe2\x81\xa9",     /* U+2069 pop directional isolate */
	    "\xe2\x83\x90",     /* U+20D0 combining above */
	    "\xef\xb8\x8f",     /* U+FE0F variation selector 16 */
	    "\xef\xbb\xbf",     /* U+FEFF byte order mark */
	    "\xf3\xa0\x81\x81", /* U+E0041 tag */
	    "\xf0\x9f\x8f\xbd", /* U+1F3FD, which colors the emoji before it */
	    "\xef\xbf\xbf",     /* U+FFFF, no character */
	    "a\xd6\xbf",        /* U+05BF Hebrew point */
	    "a\xe0\xb8\xb1",    /* U+0E31 Thai vowel above */
	    "a\xe3\x82\x99",    /* U+3099 combining voiced sound mark */
	    "\xe3\x85\xa4",     /* U+3164 Hangul filler */
	    "a\xe1\x85\xa1",    /* U+1161 Hangul medial vowel */
	};
	CHECK_TEXTS(bad, false, "control or invisible character");
}
END_TEST

/* Forty characters of one, two, three and four bytes, and one more of each. */
START_TEST(test_length_limit)
{
	static const char *const characters[] = {"a", "\xc3\xa9", "\xe6\xb0\xb4",
	                                         "\xf0\x9f\x8c\x8a"};
	for (size_t i = 0; i < 4; i++) {
		char text[41 * 4 + 1] = "";
		struct fault why;
		for (int j = 0; j < LEVEL_STATION_CHARS; j++)
			strcat(text, characters[i]);
		ck_assert_uint_lt(strlen(text), LEVEL_STATION_BYTES);
		ck_assert(level_check_text(text, LEVEL_STATION_CHARS, "station name", &why));
		strcat(text, characters[i]);
		ck_assert(!level_check_text(text, LEVEL_STATION_CHARS, "station name", &why));
		ck_assert_ptr_nonnull(strstr(why.text, "at most 40"));
		ck_assert(!level_check_text(text, LEVEL_STATION_CHARS, "station name", NULL));
	}
	ck_assert(level_check_text("", 0, "remark", NULL));
	ck_assert_uint_ge(LEVEL_REMARK_BYTES, LEVEL_REMARK_CHARS * 4 + 1);
	ck_assert_uint_ge(LEVEL_NAME_BYTES, LEVEL_NAME_CHARS * 4 + 1);
}
END_TEST

/* Whatever a terminal would obey is shown in letters: control characters of both sets, also as a
 * raw byte, and those that turn the direction of what follows. */
START_TEST(test_shown)
{
	static const struct {
		const char *text, *shown;
	} table[] = {
	    {"north shore", "north shore"},
	    {"a\033[2Jb", "a<U+001B>[2Jb"},
	    {"a\xc2\x9b"
	     "2J",
	     "a<U+009B>2J"},
	    {"a\x9b"
	     "2J",
	     "a<9B>2J"},
	    {"\xe2\x80\xae"
	     "101",
	     "<U+202E>101"},
	    {"\xe2\x81\xa6x\xe2\x80\x8b", "<U+2066>x<U+200B>"},
	    {"caf\xc3\xa9\x7f", "caf\xc3\xa9<U+007F>"},
	    {"cut off \xe6\xb0", "cut off <E6><B0>"},
	    {"a\tb\n", "a<U+0009>b<U+000A>"},
	};
	struct fault why;
	char out[64], small[9];
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		ck_assert_str_eq(level_show_text(out, sizeof out, table[i].text, false),
		                 table[i].shown);
		fault_say(&why, FAULT_INPUT, "%s", table[i].text);
		ck_assert_str_eq(why.text, table[i].shown);
	}
	ck_assert_str_eq(level_show_text(out, sizeof out, "a\tb\n\033", true), "a\tb\n<U+001B>");
	/* neither a character nor an escape is cut in two */
	ck_assert_str_eq(level_show_text(small, sizeof small, "1234567\xc3\xa9", false), "1234567");
	ck_assert_str_eq(level_show_text(small, sizeof small, "1\033", false), "1");
}
END_TEST

int main(void)
{
	return RUN_TESTS("text", test_shown, test_good, test_bad_bytes, test_controls,
	                 test_invisible, test_length_limit);
}
