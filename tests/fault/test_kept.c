/* No memory for the text of an adjustment that is kept: it is refused as such, and nothing is kept.
 */
#include <string.h>

#include "rodbook/report/adjustment.h"
#include "unit/books.h"
#include "unit/suite.h"
#include "fault/failing.h"

START_TEST(test_each_allocation)
{
	const char *run = "a";
	const struct report_adjust how = {.runs = &run, .count = 1, .csv = true, .keep = true};
	struct shelf s;
	FILE *out = fopen("/dev/null", "w");
	bool passes, ok = false;
	long refused = 0;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_mark_set(s.book, "A", "10", "", "", &s.why));
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "2", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_BS, "B", "1", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "A", "2.001", "40", ""));
	for (long at = 1; !ok; at++) {
		asked = 0;
		fail_at = at;
		ok = report_adjust(out, s.book, &how, &passes, &s.why);
		fail_at = 0;
		/* One that nobody missed ends it. */
		ok = ok && asked < at;
		refused += !ok && strstr(s.why.text, "out of memory") != NULL;
		ck_assert_int_lt(at, 10000);
#ifdef __SANITIZE_ADDRESS__
		ok = true;
#endif
	}
#ifndef __SANITIZE_ADDRESS__
	ck_assert_int_gt(refused, 0);
#endif
	fclose(out);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("kept", test_each_allocation);
}
