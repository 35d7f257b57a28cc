/* What a rescue makes of a book that is sound. */
#include "rodbook/book/rescue.h"

#include "books.h"
#include "rodbook/book/journal.h"
#include "suite.h"

static void hear(const char *what, const char *why, void *context)
{
	(void)what;
	(void)why;
	++*(int *)context;
}

/* A book in which nothing is damaged is rescued entry for entry, and says all that the old one
 * says. */
START_TEST(test_rescued_whole)
{
	struct shelf s;
	struct book_rescued out;
	struct book_verified verified, again;
	char path[160];
	int heard = 0;
	struct book *made;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "1 mm", NULL, &s.why));
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	ck_assert(shelf_strike(&s, 1));
	ck_assert(book_verify(s.book, 0, &verified, &s.why));
	ck_assert_str_eq(verified.difference, "");
	snprintf(path, sizeof path, "%s/new.rodbook", s.dir);
	ck_assert_msg(book_rescue(s.path, path, shelf_clock, hear, &heard, &out, &s.why), "%s",
	              s.why.text);
	ck_assert(out.whole && out.certain);
	ck_assert_uint_eq(out.differ, 0);
	ck_assert_uint_eq(out.lost, 0);
	ck_assert_int_eq(heard, 0);
	made = book_open(path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(made);
	ck_assert(book_verify(made, 0, &again, &s.why));
	ck_assert_str_eq(again.digest, verified.digest);
	book_close(made);
	/* and never over a file that is there */
	ck_assert(!book_rescue(s.path, path, shelf_clock, hear, &heard, &out, &s.why));
	ck_assert_int_eq(s.why.kind, FAULT_FILE);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("rescue", test_rescued_whole);
}
