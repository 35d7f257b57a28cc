/* Taking marks that a book has already, measured against taking them when they were new, in the
 * same minute on the same machine: a ratio, not a time. To know a mark again must not cost a look
 * at all the others. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "../unit/books.h"
#include "../unit/suite.h"

#define MARKS 5000
#define RATIO 3.0

static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static double copy(struct shelf *here, struct shelf *there)
{
	struct work_taken counts = {0};
	double from = seconds();
	ck_assert_msg(
	    work_copy_runs(here->book, there->book, there->path, NULL, 0, &counts, &here->why),
	    "%s", here->why.text);
	return seconds() - from;
}

START_TEST(test_known_marks)
{
	struct shelf here, there;
	double first, again;
	shelf_open(&here, LEVEL_M);
	shelf_open(&there, LEVEL_M);
	ck_assert(book_begin(there.book, &there.why));
	for (int i = 0; i < MARKS; i++) {
		char name[16];
		snprintf(name, sizeof name, "M%d", i);
		ck_assert(book_mark_set(there.book, name, "10", NULL, "", &there.why));
	}
	ck_assert(book_finish(there.book, true, &there.why));
	first = copy(&here, &there);
	again = copy(&here, &there);
	printf("%d marks: new %.3f s, known %.3f s\n", MARKS, first, again);
	ck_assert_double_lt(again, RATIO * first);
	shelf_close(&here);
	shelf_close(&there);
}
END_TEST

int main(void)
{
	return RUN_TESTS("take", test_known_marks);
}
