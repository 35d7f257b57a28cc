/* A book that somebody else writes to. */
#include "rodbook/book/book.h"

#include "books.h"
#include "suite.h"

/* While another program writes nothing is begun, and the book stays as it was. */
START_TEST(test_busy)
{
	struct shelf s;
	struct book *other;
	struct book_run_info *runs;
	size_t count;
	int64_t id = 0;
	shelf_open(&s, LEVEL_M);
	other = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(other);
	ck_assert_msg(book_begin(other, &s.why), "%s", s.why.text);
	ck_assert(!book_run_add(s.book, "a", LEVEL_LOOP, &id, &s.why));
	ck_assert(!book_mark_set(s.book, "A", "10", NULL, NULL, &s.why));
	ck_assert(book_finish(other, true, &s.why));
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	free(runs);
	ck_assert_uint_eq(count, 0);
	book_close(other);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("busy", test_busy);
}
