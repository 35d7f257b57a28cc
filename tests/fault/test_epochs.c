/* No memory at any place of comparing two epochs: it is said, and never a part shown for the whole.
 */
#include <string.h>

#include "rodbook/report/changes.h"
#include "unit/books.h"
#include "unit/suite.h"
#include "fault/failing.h"

static void run_of(struct shelf *s, const char *name, const char *rise)
{
	shelf_begin(s, name, LEVEL_LOOP);
	ck_assert(shelf_sight(s, LEVEL_BS, "A", "2", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "P", "1", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_BS, "P", "1", "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "B", rise, "40", ""));
	ck_assert(shelf_sight(s, LEVEL_BS, "B", rise, "40", ""));
	ck_assert(shelf_sight(s, LEVEL_FS, "A", "2.001", "40", ""));
}

/* How large the text is; 0 where there is none. */
static size_t shown(struct shelf *s, enum report_form form, long at)
{
	const char *then = "a", *now = "b", *held = "A,B";
	const struct report_changes how = {
	    .epoch = {{&then, 1}, {&now, 1}}, .epochs = 2, .hold = {&held, 1}};
	FILE *out = tmpfile();
	bool agree, ok;
	long size;
	ck_assert_ptr_nonnull(out);
	/* Its buffer is there before anything fails. */
	fputc(' ', out);
	asked = 0;
	fail_at = at;
	ok = report_changes(out, s->book, &how, form, &agree, &s->why);
	fail_at = 0;
	/* Where memory was short for the end of the transaction, it stays open. */
	book_release(s->book);
	size = ftell(out);
	fclose(out);
	return ok ? (size_t)size : 0;
}

START_TEST(test_each_allocation)
{
	static const enum report_form forms[] = {REPORT_AS_TEXT, REPORT_AS_CSV, REPORT_AS_SVG};
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "", "", &s.why));
	ck_assert(book_mark_set(s.book, "B", "11", "", "", &s.why));
	run_of(&s, "a", "1");
	run_of(&s, "b", "1.004");
	for (int f = 0; f < 3; f++) {
		size_t whole = shown(&s, forms[f], 0), size = 0;
		long refused = 0;
		ck_assert_msg(whole > 50, "%s", s.why.text);
		for (long at = 1; at < 10000 && (at == 1 || asked >= at - 1); at++) {
			s.why = (struct fault){0};
			size = shown(&s, forms[f], at);
			if (size)
				ck_assert_uint_eq(size, whole);
			else
				ck_assert_int_ne(s.why.kind, FAULT_INPUT);
			refused += !size;
		}
		ck_assert_uint_eq(size, whole);
#ifndef __SANITIZE_ADDRESS__
		ck_assert_int_gt(refused, 10);
#endif
	}
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("epochs", test_each_allocation);
}
