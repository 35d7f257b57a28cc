/* Adjustments in words: what was held, left out and spread. */
#include "rodbook/report/adjustment.h"

#include "books.h"
#include "suite.h"

static char *text;

static void print(struct shelf *s, struct report_adjust how)
{
	size_t size;
	bool passes;
	FILE *out;
	free(text);
	out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(report_adjust(out, s->book, &how, &passes, &s->why), "%s", s->why.text);
	ck_assert_int_eq(fclose(out), 0);
}

static void has(const char *line)
{
	ck_assert_msg(strstr(text, line) != NULL, "no \"%s\" in:\n%s", line, text);
}

static void has_not(const char *line)
{
	ck_assert_msg(strstr(text, line) == NULL, "\"%s\" in:\n%s", line, text);
}

static void setup(struct shelf *s, const char *from, const char *back, const char *to,
                  const char *fore)
{
	ck_assert(shelf_sight(s, LEVEL_BS, from, back, "50", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, to, fore, "50", ""));
}

static const char *const one[] = {"line"};
static const struct report_adjust spread = {.runs = one, .count = 1};

/* A known mark on the way; a start that is not known. */
START_TEST(test_spread)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	ck_assert(book_mark_set(s.book, "M", "10.001", NULL, NULL, &s.why));
	ck_assert(book_mark_set(s.book, "B", "10.003", NULL, NULL, &s.why));
	shelf_begin(&s, "line", LEVEL_LINK);
	setup(&s, "A", "1.500", "M", "1.500");
	setup(&s, "M", "1.500", "B", "1.500");
	print(&s, spread);
	has("run line, link, adjusted, in m\n");
	has("spread over 2 setups by distance\n");
	has("known marks on the way stay: each of the 2 parts is spread alone\n");
	has("sum BS 3.000, sum FS 3.000, ");
	has_not("is not known");
	has_not("sum of offsets");
	shelf_close(&s);
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "line", LEVEL_LOOP);
	setup(&s, "X", "1.500", "X", "1.502");
	print(&s, spread);
	has("spread over 1 setup by distance\n");
	has("the elevation of X is not known: it is taken as 0, and no mark is held\n");
	has_not("known marks on the way");
	shelf_close(&s);
}
END_TEST

/* Ten runs that are not complete: eight are named. */
START_TEST(test_left_out)
{
	struct shelf s;
	struct report_adjust how = {.net = true};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	shelf_begin(&s, "whole", LEVEL_OPEN);
	setup(&s, "A", "1.500", "B", "1.400");
	print(&s, how);
	has("net of 1 run, in m: 1 mark adjusted, 1 held\n");
	has_not("left out");
	for (int i = 0; i < 10; i++) {
		char name[16];
		snprintf(name, sizeof name, "half%d", i);
		shelf_begin(&s, name, LEVEL_OPEN);
		ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.500", "50", ""));
		if (i != 0 && i != 7 && i != 8)
			continue;
		print(&s, how);
		if (i == 0)
			has("not complete or not readable, and left out: half0\n");
		else if (i == 7)
			has("half6, half7\n");
		else
			has("half6, half7 and 1 more\n");
	}
	print(&s, how);
	has("left out: half0, half1, half2, half3, half4, half5, half6, half7 and 2 more\n");
	how.csv = true;
	print(&s, how);
	has("\nleft_out,half0,\nleft_out,half1,\n");
	has("\nleft_out,half9,\n");
	shelf_close(&s);
}
END_TEST

/* Lines that nothing checks, more than are named; two marks adjusted, two runs. */
START_TEST(test_unchecked)
{
	struct shelf s;
	struct report_adjust how = {.net = true};
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	for (int i = 0; i < 2; i++) {
		shelf_begin(&s, i ? "pair1" : "pair0", LEVEL_OPEN);
		setup(&s, "A", "1.500", "Q", i ? "1.401" : "1.400");
	}
	for (int i = 0; i < 10; i++) {
		char name[16], mark[16];
		snprintf(name, sizeof name, "spur%d", i);
		snprintf(mark, sizeof mark, "P%d", i);
		shelf_begin(&s, name, LEVEL_OPEN);
		setup(&s, "A", "1.500", mark, "1.400");
		if (i > 1)
			continue;
		print(&s, how);
		has("1 degree of freedom\n");
		has(i ? "spur0 from A to P0, spur1 from A to P1\n" : "spur0 from A to P0\n");
		has(i ? "net of 4 runs, in m: 3 marks adjusted, 1 held\n"
		      : "net of 3 runs, in m: 2 marks adjusted, 1 held\n");
	}
	print(&s, how);
	has("spur6 from A to P6, spur7 from A to P7 and 2 more\n");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("adjusted_words", test_spread, test_left_out, test_unchecked);
}
