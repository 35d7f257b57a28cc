/* Field tests as a book keeps them: what was typed, what is struck, what is refused. */
#include "books.h"
#include "rodbook/book/crossing.h"
#include "suite.h"

static int64_t begin(struct shelf *s, const char *instrument, bool full, const char *sigma)
{
	int64_t id = 0;
	ck_assert_msg(book_fieldtest_begin(s->book, instrument, full, sigma, &id, &s->why), "%s",
	              s->why.text);
	return id;
}

static void pair(struct shelf *s, int64_t id, const char *backsight, const char *foresight)
{
	ck_assert_msg(book_fieldtest_pair(s->book, id, backsight, foresight, &s->why), "%s",
	              s->why.text);
}

/* The only test of an instrument. */
static struct book_fieldtest only(struct shelf *s, const char *instrument)
{
	struct book_fieldtest *list, out;
	size_t count;
	ck_assert_msg(book_fieldtests(s->book, instrument, &list, &count, &s->why), "%s",
	              s->why.text);
	ck_assert_uint_eq(count, 1);
	out = list[0];
	free(list);
	return out;
}

START_TEST(test_kept)
{
	struct shelf s;
	struct book_fieldtest got, *list;
	size_t count;
	int64_t one, two;
	shelf_open(&s, LEVEL_FT);
	one = begin(&s, "L1", true, "0.7 mm/km");
	two = begin(&s, "L2", false, "");
	pair(&s, one, "4.5", "4.25");
	pair(&s, one, "1.5 m", "0");
	got = only(&s, "L1");
	ck_assert_int_eq(got.id, one);
	ck_assert_str_eq(got.instrument, "L1");
	ck_assert(got.full);
	ck_assert_str_eq(got.sigma, "0.7 mm/km");
	ck_assert_int_eq(got.unit, LEVEL_FT);
	ck_assert_str_eq(got.pairs, "4.5,4.25; 1.5 m,0");
	ck_assert_str_eq(got.time, "2026-05-04T09:30:00+02:00");
	got = only(&s, "L2");
	ck_assert_int_eq(got.id, two);
	ck_assert(!got.full);
	ck_assert_str_eq(got.sigma, "");
	ck_assert_str_eq(got.pairs, "");
	/* without a name all of them, in the order in which they were begun */
	ck_assert(book_fieldtests(s.book, NULL, &list, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert(list[0].id == one && list[1].id == two);
	free(list);
	ck_assert(book_fieldtests(s.book, "L3", &list, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(list);
	shelf_close(&s);
}
END_TEST

/* The last pair that counts is struck, then the one before it; a pair booked later goes first. */
START_TEST(test_struck)
{
	struct shelf s;
	int64_t id;
	shelf_open(&s, LEVEL_M);
	id = begin(&s, "L1", false, "");
	ck_assert(!book_fieldtest_strike(s.book, id, &s.why));
	FAULT(&s, FAULT_INPUT, "no pair to strike");
	pair(&s, id, "1.1", "1");
	pair(&s, id, "1.2", "1");
	pair(&s, id, "1.3", "1");
	ck_assert(book_fieldtest_strike(s.book, id, &s.why));
	ck_assert_str_eq(only(&s, "L1").pairs, "1.1,1; 1.2,1; x1.3,1");
	ck_assert(book_fieldtest_strike(s.book, id, &s.why));
	ck_assert_str_eq(only(&s, "L1").pairs, "1.1,1; x1.2,1; x1.3,1");
	pair(&s, id, "1.4", "1");
	ck_assert(book_fieldtest_strike(s.book, id, &s.why));
	ck_assert_str_eq(only(&s, "L1").pairs, "1.1,1; x1.2,1; x1.3,1; x1.4,1");
	ck_assert(book_fieldtest_strike(s.book, id, &s.why));
	ck_assert(!book_fieldtest_strike(s.book, id, &s.why));
	FAULT(&s, FAULT_INPUT, "no pair to strike");
	ck_assert(!book_fieldtest_strike(s.book, id + 1, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no such field test");
	shelf_close(&s);
}
END_TEST

START_TEST(test_refused_tests)
{
	static const struct {
		const char *instrument, *sigma, *words;
	} cases[] = {
	    {"", "", "instrument"},
	    {"a name that is longer than the forty characters of it", "", "instrument"},
	    {"L1", "0", "standard deviation"},
	    {"L1", "rubbish", "no length"},
	    {"L1", "0.7 mm/km\x1b", "sigma"},
	    {"L1", "0.00000000000000000000000000000000000000000000000000000000001", "sigma"},
	};
	struct shelf s;
	int64_t id;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		s.why = (struct fault){0};
		ck_assert_msg(!book_fieldtest_begin(s.book, cases[i].instrument, true,
		                                    cases[i].sigma, &id, &s.why),
		              "case %zu", i);
		FAULT(&s, FAULT_INPUT, cases[i].words);
	}
	shelf_close(&s);
}
END_TEST

/* A rod of 5 m, and 100 m at most without that (the book's own limits). */
START_TEST(test_refused_pairs)
{
	static const struct {
		const char *backsight, *foresight, *words;
	} cases[] = {
	    {"1.2,1", "1.1", "one length"}, {"1.2", "1.1;1", "one length"},
	    {"x1.2", "1.1", "one length"},  {"1.2", "1.1x", "one length"},
	    {"-0.001", "1", "from 0 to"},   {"1", "-0.001", "from 0 to"},
	    {"100.001", "1", "from 0 to"},  {"1", "100.001", "from 0 to"},
	    {"abc", "1", "length"},         {"1", "", "length"},
	    {"5.001", "1", "rod"},          {"1", "5.001", "rod"},
	};
	struct shelf s;
	int64_t id;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_set(s.book, "rod_length", "5", &s.why));
	id = begin(&s, "L1", false, "");
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		s.why = (struct fault){0};
		ck_assert_msg(!book_fieldtest_pair(s.book, id, cases[i].backsight,
		                                   cases[i].foresight, &s.why),
		              "case %zu", i);
		FAULT(&s, FAULT_INPUT, cases[i].words);
	}
	ck_assert(!book_fieldtest_pair(s.book, id + 1, "1", "1", &s.why));
	FAULT(&s, FAULT_INPUT, "there is no such field test");
	ck_assert_str_eq(only(&s, "L1").pairs, "");
	pair(&s, id, "5", "0");
	ck_assert_str_eq(only(&s, "L1").pairs, "5,0");
	shelf_close(&s);
}
END_TEST

/* Struck pairs do not count towards the most that a test has. */
START_TEST(test_read_pairs)
{
	char text[LEVEL_FIELDTEST_MOST * 8 + 40] = "x9,8; ", long_one[80];
	struct level_pair pairs[LEVEL_FIELDTEST_MOST];
	struct shelf s = {0};
	size_t count;
	ck_assert(book_read_pairs("1.5,1.25; x1.6,1.25; 0,100", LEVEL_M, pairs, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_int_eq(pairs[0].backsight, INT64_C(1500000000));
	ck_assert_int_eq(pairs[0].foresight, INT64_C(1250000000));
	ck_assert_int_eq(pairs[1].backsight, 0);
	ck_assert_int_eq(pairs[1].foresight, INT64_C(100000000000));
	ck_assert(book_read_pairs("", LEVEL_M, pairs, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	for (int i = 0; i < LEVEL_FIELDTEST_MOST; i++)
		strcat(text, "2,1; ");
	ck_assert(book_read_pairs(text, LEVEL_M, pairs, &count, &s.why));
	ck_assert_uint_eq(count, LEVEL_FIELDTEST_MOST);
	strcat(text, "x2,1; ");
	ck_assert(book_read_pairs(text, LEVEL_M, pairs, &count, &s.why));
	strcat(text, "2,1");
	ck_assert(!book_read_pairs(text, LEVEL_M, pairs, &count, &s.why));
	FAULT(&s, FAULT_INPUT, "at most");
	ck_assert(!book_read_pairs("1.5", LEVEL_M, pairs, &count, &s.why));
	FAULT(&s, FAULT_INPUT, "a backsight and a foresight");
	/* 63 characters are a reading, 64 are none */
	snprintf(long_one, sizeof long_one, "1,%-63d", 2);
	ck_assert(book_read_pairs(long_one, LEVEL_M, pairs, &count, &s.why));
	snprintf(long_one, sizeof long_one, "1,%-64d", 2);
	ck_assert(!book_read_pairs(long_one, LEVEL_M, pairs, &count, &s.why));
	FAULT(&s, FAULT_INPUT, "too long");
}
END_TEST

/* Pairs as long as they may be fill the text of 8000 characters before there are too many. */
START_TEST(test_no_room)
{
	struct shelf s;
	int64_t id;
	char reading[64];
	int pairs = 0;
	shelf_open(&s, LEVEL_M);
	id = begin(&s, "L1", false, "");
	snprintf(reading, sizeof reading, "%-53d", 1);
	ck_assert(book_begin(s.book, &s.why));
	while (book_fieldtest_pair(s.book, id, reading, reading, &s.why))
		pairs++;
	/* a pair of 53 + 1 + 53 characters and "; " before each but the first: 8000/109 = 73.4 */
	ck_assert_msg(pairs == 73, "%d: %s", pairs, s.why.text);
	FAULT(&s, FAULT_INPUT, "no room for more pairs");
	ck_assert(!book_finish(s.book, true, &s.why));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("fieldtests_booked", test_kept, test_struck, test_refused_tests,
	                 test_refused_pairs, test_read_pairs, test_no_room);
}
