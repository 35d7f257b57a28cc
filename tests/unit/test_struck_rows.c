/* Rows of a run that are struck by their number, each for a reason; and what a mark, a run and a
 * sight are told beside their figures. */
#include "books.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/crossing.h"
#include "rodbook/book/gauge.h"
#include "rodbook/book/journal.h"
#include "rodbook/book/setout.h"
#include "suite.h"

static int64_t run_of(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(book_water_add(s->book, s->run.info.id, "W", "0.4", "", "calm", &s->why));
	ck_assert(book_gauge_add(s->book, s->run.info.id, "G", "2.4", "", "", &s->why));
	ck_assert(book_setout_set(s->book, s->run.info.id, "S", "13", &s->why));
	ck_assert(
	    book_air_add(s->book, s->run.info.id, &(struct book_air){.pressure = "1010"}, &s->why));
	shelf_take(s, s->run.info.id);
	return s->run.info.id;
}

typedef bool strike_row(struct book *, int64_t, int64_t, const char *, struct fault *);
static const struct {
	strike_row *strike;
	const char *words, *act, *what;
} rows[] = {{book_water_strike, "a water reading is struck for a reason: say why", "strike water",
             "water at W"},
            {book_gauge_strike, "a gauge reading is struck for a reason: say why", "strike gauge",
             "gauge at G"},
            {book_setout_strike, "a set-out is struck for a reason: say why", "strike set-out",
             "set-out of S"},
            {book_air_strike, "the air is struck for a reason: say why", "strike air",
             "air of 2026-05-04T09:30:00+02:00"}};

static bool take_last(const struct book_entry *entry, void *context)
{
	snprintf(context, 200, "%s, %s", entry->act, entry->what);
	return true;
}

static const char *last_entry(struct shelf *s)
{
	static char said[200];
	struct book_journal_order order = {0};
	said[0] = '\0';
	ck_assert(book_journal(s->book, &order, take_last, said, &s->why));
	return said;
}

START_TEST(test_for_a_reason)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct shelf s;
		int64_t run = run_of(&s);
		char wanted[100], long_reason[125];
		memset(long_reason, 'a', sizeof long_reason);
		long_reason[121] = '\0';
		ck_assert(!rows[i].strike(s.book, run, 1, "", &s.why));
		FAULT(&s, FAULT_INPUT, rows[i].words);
		ck_assert(!rows[i].strike(s.book, run, 1, long_reason, &s.why));
		ck_assert_int_eq(s.why.kind, FAULT_INPUT);
		ck_assert(!rows[i].strike(s.book, run, 1, "a\x1b", &s.why));
		ck_assert(!rows[i].strike(s.book, run, 7, "rain", &s.why));
		ck_assert_str_eq(last_entry(&s), "air, air of 2026-05-04T09:30:00+02:00");
		long_reason[120] = '\0';
		ck_assert_msg(rows[i].strike(s.book, run, 1, long_reason, &s.why), "%s",
		              s.why.text);
		snprintf(wanted, sizeof wanted, "%s, %s", rows[i].act, rows[i].what);
		ck_assert_str_eq(last_entry(&s), wanted);
		shelf_close(&s);
	}
}
END_TEST

START_TEST(test_closed)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct shelf s;
		int64_t run = run_of(&s);
		ck_assert(book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
		shelf_take(&s, run);
		ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
		ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
		ck_assert_msg(book_run_close(s.book, &s.run, "paced", &s.why), "%s", s.why.text);
		ck_assert(!rows[i].strike(s.book, run, 1, "rain", &s.why));
		FAULT(&s, FAULT_INPUT, "closed");
		ck_assert(book_run_reopen(s.book, run, "rain", &s.why));
		ck_assert(rows[i].strike(s.book, run, 1, "rain", &s.why));
		shelf_close(&s);
	}
}
END_TEST

static struct book_mark mark_of(struct shelf *s, const char *name)
{
	struct book_mark *marks, out = {0};
	size_t count;
	ck_assert(book_marks(s->book, &marks, &count, &s->why));
	for (size_t i = 0; i < count; i++)
		if (strcmp(marks[i].name, name) == 0)
			out = marks[i];
	free(marks);
	return out;
}

START_TEST(test_described)
{
	struct shelf s;
	struct book_mark mark;
	struct book_witness before, after;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "1 mm", "list", &s.why));
	ck_assert(book_mark_describe(s.book, "A", "a bolt", "by the gate", &s.why));
	mark = mark_of(&s, "A");
	ck_assert_str_eq(mark.description, "a bolt");
	ck_assert_str_eq(mark.reach, "by the gate");
	ck_assert_str_eq(mark.typed, "10");
	ck_assert_str_eq(mark.u_typed, "1 mm");
	ck_assert_str_eq(mark.source, "list");
	ck_assert_int_eq(mark.u, 1000000);
	/* one of the two, and the same again, which is no change */
	ck_assert(book_mark_describe(s.book, "A", NULL, "by the oak", &s.why));
	ck_assert(book_witness(s.book, &before, &s.why));
	ck_assert(book_mark_describe(s.book, "A", "a bolt", NULL, &s.why));
	ck_assert(book_mark_describe(s.book, "A", "a bolt", "by the oak", &s.why));
	ck_assert(book_witness(s.book, &after, &s.why));
	ck_assert_int_eq(before.seq, after.seq);
	ck_assert(book_mark_describe(s.book, "A", "a peg", NULL, &s.why));
	mark = mark_of(&s, "A");
	ck_assert_str_eq(mark.description, "a peg");
	ck_assert_str_eq(mark.reach, "by the oak");
	/* both stay with another elevation */
	ck_assert(book_mark_set(s.book, "A", "11", NULL, NULL, &s.why));
	mark = mark_of(&s, "A");
	ck_assert_str_eq(mark.description, "a peg");
	ck_assert_str_eq(mark.reach, "by the oak");
	ck_assert_str_eq(mark.source, "");
	ck_assert(!book_mark_describe(s.book, "B", "a peg", NULL, &s.why));
	FAULT(&s, FAULT_INPUT, "there is no mark B in this book");
	ck_assert_str_eq(s.why.field, "mark");
	ck_assert(!book_mark_describe(s.book, "A", "\x1b", NULL, &s.why));
	ck_assert_str_eq(s.why.field, "description");
	ck_assert(!book_mark_describe(s.book, "A", NULL, "\x1b", &s.why));
	ck_assert_str_eq(s.why.field, "reach");
	shelf_close(&s);
}
END_TEST

/* The surface of the water, and what keeps a mark from being set or struck. */
START_TEST(test_marks)
{
	static const struct {
		const char *name, *elevation, *u, *source, *field, *words;
	} cases[] = {
	    {"", "10", "", "", "name", "no name"},
	    {"A", "high", "", "", "elevation", "high"},
	    {"A", "", "", "", "elevation", ""},
	    {"A", "10", "little", "", "u", "little"},
	    {"A", "10", "-1 mm", "", "u", "an uncertainty is 0 or more"},
	    {"A", "10", "", "\x1b", "source", "control"},
	    {"A", "10.000000000000000000000000000000000000000000000000000000", "", "", "elevation",
	     "the elevation is too long for a length"},
	    {"A", "10", "0.00000000000000000000000000000000000000000000000000000000", "", "u",
	     "the uncertainty is too long for a length"},
	};
	struct shelf s;
	struct book_witness before, after;
	shelf_open(&s, LEVEL_M);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ck_assert_msg(!book_mark_set(s.book, cases[i].name, cases[i].elevation, cases[i].u,
		                             cases[i].source, &s.why),
		              "case %zu", i);
		FAULT(&s, FAULT_INPUT, cases[i].words);
		ck_assert_str_eq(s.why.field, cases[i].field);
	}
	ck_assert(book_mark_set(s.book, "A", "10", "0", NULL, &s.why));
	ck_assert(book_mark_surface(s.book, "A", true, &s.why));
	ck_assert(mark_of(&s, "A").surface);
	ck_assert(book_witness(s.book, &before, &s.why));
	ck_assert(book_mark_surface(s.book, "A", true, &s.why));
	ck_assert(book_witness(s.book, &after, &s.why));
	ck_assert_int_eq(before.seq, after.seq);
	ck_assert(book_mark_set(s.book, "A", "11", NULL, NULL, &s.why));
	ck_assert(mark_of(&s, "A").surface);
	ck_assert(book_mark_surface(s.book, "A", false, &s.why));
	ck_assert(!mark_of(&s, "A").surface);
	ck_assert(!book_mark_surface(s.book, "B", true, &s.why));
	ck_assert_str_eq(s.why.field, "mark");
	ck_assert(!book_mark_strike(s.book, "B", &s.why));
	FAULT(&s, FAULT_INPUT, "there is no mark B");
	ck_assert(book_mark_strike(s.book, "A", &s.why));
	ck_assert_str_eq(mark_of(&s, "A").name, "");
	ck_assert(!book_mark_strike(s.book, "A", &s.why));
	shelf_close(&s);
}
END_TEST

/* A bare grade is in the unit that the book has then: 40 x 0.3048 m = 12.192 m, level from 0 on. */
START_TEST(test_grade)
{
	struct shelf s;
	struct book_run_info info;
	shelf_open(&s, LEVEL_FT);
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert_msg(book_run_set_grade(s.book, s.run.info.id, "40", &s.why), "%s", s.why.text);
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	ck_assert_str_eq(info.grade, "12.192 m; 0 m; 0");
	ck_assert(!book_run_set_grade(s.book, s.run.info.id, "steep", &s.why));
	FAULT(&s, FAULT_INPUT, "is no grade");
	ck_assert(book_run_set_grade(s.book, s.run.info.id, "", &s.why));
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	ck_assert_str_eq(info.grade, "");
	ck_assert(!book_run_set_grade(s.book, 99, "40", &s.why));
	/* only a loop turns */
	ck_assert(book_run_set_turn(s.book, s.run.info.id, "P", &s.why));
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	ck_assert_str_eq(info.turn, "P");
	ck_assert(!book_run_set_turn(s.book, s.run.info.id, " P", &s.why));
	ck_assert(book_run_set_turn(s.book, s.run.info.id, "", &s.why));
	shelf_begin(&s, "b", LEVEL_OPEN);
	ck_assert(!book_run_set_turn(s.book, s.run.info.id, "P", &s.why));
	FAULT(&s, FAULT_INPUT, "only a loop goes out to a mark and back: make run b a loop");
	ck_assert(book_run_set_turn(s.book, s.run.info.id, "", &s.why));
	shelf_close(&s);
}
END_TEST

/* Asked before a reason is: the same as book_strike() would refuse. */
START_TEST(test_may_strike)
{
	static const struct {
		size_t at;
		bool setup;
		const char *words; /* NULL: it may */
	} cases[] = {
	    {0, false, "hang on its BS"},
	    {1, false, NULL},
	    {2, false, "the line goes on from this FS"},
	    {3, false, "hang on its BS"},
	    {4, false, NULL},
	    {0, true, NULL},
	    {1, true, NULL},
	    {2, true, NULL},
	    {4, true, NULL},
	    {5, false, "struck already"},
	    {5, true, "struck already"},
	};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	ck_assert(shelf_book(&s, LEVEL_BS, "B", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "C", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "Q", "1") || shelf_book(&s, LEVEL_BS, "C", "1"));
	ck_assert(shelf_strike(&s, 5));
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		bool may = book_may_strike(s.book, &s.run, cases[i].at, cases[i].setup, &s.why);
		ck_assert_msg(may == !cases[i].words, "case %zu: %s", i, s.why.text);
		if (!may)
			FAULT(&s, FAULT_INPUT, cases[i].words);
	}
	ck_assert_str_eq(s.run.note[5].why, "struck");
	ck_assert_str_eq(book_strike_reason("struck"), "");
	ck_assert_str_eq(book_strike_reason("rain"), "rain");
	/* what has changed since is looked at again first */
	ck_assert(book_run_rename(s.book, s.run.info.id, "b", &s.why));
	ck_assert(!book_may_strike(s.book, &s.run, 4, false, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_STALE);
	shelf_close(&s);
}
END_TEST

START_TEST(test_sky)
{
	static const char *const skies[][2] = {
	    {"", ""},       {"sun", "4"},   {"cloud", "1"},     {"water", "1"},    {"rain", NULL},
	    {"suns", NULL}, {"sunny", "4"}, {"cloudy", "1"},    {"overcast", "1"}, {"shade", "1"},
	    {"s", "4"},     {"over", "1"},  {"cloudless", NULL}};
	for (size_t i = 0; i < sizeof skies / sizeof *skies; i++) {
		struct fault why = {0};
		const char *dk;
		ck_assert(book_pegtest_sky(skies[i][0], &dk, &why) == (skies[i][1] != NULL));
		ck_assert_str_eq(dk, skies[i][1] ? skies[i][1] : "");
		ck_assert_int_eq(why.kind, skies[i][1] ? FAULT_NONE : FAULT_INPUT);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("struck_rows", test_for_a_reason, test_closed, test_described, test_marks,
	                 test_grade, test_may_strike, test_sky);
}
