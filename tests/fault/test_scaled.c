/* A scaled reading altered behind the program's back, with its text, its nanometers and the
 * journal: the scaling gives it away. */
#include "fault/forge.h"
#include "rodbook/work/sight.h"
#include "unit/books.h"
#include "unit/suite.h"

static void booked(struct shelf *s)
{
	struct work_typed typed = {.text[WORK_SIGHT] = "BS",
	                           .text[WORK_STATION] = "A",
	                           .text[WORK_READING] = "scaled",
	                           .text[WORK_SCALED] = "0@0; 1@100; hair 50; u 1"};
	struct work_booked out;
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "up", LEVEL_OPEN);
	ck_assert_msg(work_book_sight(s->book, "up", &typed, &out, &s->why), "%s", s->why.text);
	ck_assert_int_eq(out.sight.reading, 500000000);
	ck_assert_int_eq(out.sight.limit, 20000000);
}

static void assert_noticed(const char *sql)
{
	struct shelf s;
	int64_t id;
	booked(&s);
	id = s.run.info.id;
	book_run_free(&s.run);
	ck_assert(book_load(s.book, id, &s.run, &s.why));
	book_run_free(&s.run);
	book_close(s.book);
	forge(s.path, sql);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert(!s.book || !book_load(s.book, id, &s.run, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_SPOILED);
	s.run = (struct book_run){0};
	shelf_close(&s);
}

START_TEST(test_noticed)
{
	assert_noticed("UPDATE sight SET reading = 600000000, typed = '0.6'");
	assert_noticed("UPDATE sight SET reading_limit = 10000000, limit_typed = '0.01'");
	assert_noticed("UPDATE sight SET reading_limit = NULL, limit_typed = ''");
	assert_noticed("UPDATE sight SET scaled = '0@0; 1@100; hair 60; u 1'");
	assert_noticed("UPDATE sight SET scaled = 'half'");
	assert_noticed("UPDATE sight SET scaled = '0@0; 1@100; hair 50; u 2'");
}
END_TEST

int main(void)
{
	return RUN_TESTS("scaled", test_noticed);
}
