/* The level looked through last, in whatever run: a new run begins with it. */
#include "rodbook/book/crossing.h"
#include "unit/books.h"
#include "unit/suite.h"

static const char *last(struct shelf *s)
{
	static char name[LEVEL_NAME_BYTES];
	strcpy(name, "untouched");
	ck_assert_msg(book_last_instrument(s->book, name, &s->why), "%s", s->why.text);
	return name;
}

START_TEST(test_last)
{
	struct shelf s;
	struct book_instrument level = {.name = "L1", .tolerance = "0.1 mm/m"};
	shelf_open(&s, LEVEL_M);
	ck_assert_str_eq(last(&s), "");
	ck_assert(book_instrument_set(s.book, &level, &s.why));
	ck_assert_str_eq(last(&s), "");
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert_msg(shelf_sight(&s, LEVEL_BS, "A", "1.5", "", "L1"), "%s", s.why.text);
	ck_assert_str_eq(last(&s), "L1");
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1.5", "", ""));
	ck_assert_str_eq(last(&s), "");
	/* of another run, and not of a struck sight */
	shelf_begin(&s, "b", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "1.5", "", "L1"));
	ck_assert_str_eq(last(&s), "L1");
	ck_assert(shelf_strike(&s, 0));
	ck_assert_str_eq(last(&s), "");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("last level", test_last);
}
