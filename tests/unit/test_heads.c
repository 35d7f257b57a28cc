/* What the head of a page carries over from other pages. */
#include "rodbook/work/heads.h"

#include "books.h"
#include "suite.h"

/* A head whose texts are "RUN-DAY-NAME", so that each says where it is from. */
static struct book_head head(int64_t run, const char *day)
{
	struct book_head out = {.run = run};
	strcpy(out.day, day);
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		snprintf(out.text[t], sizeof out.text[t], "%d-%s-%s", (int)run, day + 8,
		         book_head_name((enum book_head_text)t));
	return out;
}

static void from(const struct work_head *got, enum book_head_text text, const char *where)
{
	char expected[80] = "";
	if (*where)
		snprintf(expected, sizeof expected, "%s-%s", where, book_head_name(text));
	ck_assert_msg(strcmp(got->text[text], expected) == 0, "%s: \"%s\", not \"%s\"",
	              book_head_name(text), got->text[text], expected);
	ck_assert(got->carried[text] == (*where && !got->stands));
}

START_TEST(test_own_day_before)
{
	const struct book_head list[] = {head(2, "2026-05-01"), head(1, "2026-05-02"),
	                                 head(1, "2026-05-03"), head(2, "2026-05-04"),
	                                 head(1, "2026-05-09")};
	struct work_head got = work_head_of(list, 5, 1, "2026-05-04");
	ck_assert(!got.stands);
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		from(&got, (enum book_head_text)t, t == BOOK_HEAD_WEATHER ? "2-04" : "1-03");
	/* on a day of its own nothing is carried over */
	got = work_head_of(list, 5, 1, "2026-05-03");
	ck_assert(got.stands);
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		from(&got, (enum book_head_text)t, "1-03");
}
END_TEST

START_TEST(test_other_runs)
{
	const struct book_head list[] = {head(2, "2026-05-01"), head(3, "2026-05-02"),
	                                 head(2, "2026-05-04"), head(3, "2026-05-04")};
	struct work_head got = work_head_of(list, 4, 1, "2026-05-04");
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		from(&got, (enum book_head_text)t, t == BOOK_HEAD_PURPOSE ? "" : "3-04");
	got = work_head_of(list, 4, 1, "2026-05-03");
	for (int t = 0; t < BOOK_HEAD_TEXTS; t++)
		from(&got, (enum book_head_text)t,
		     t == BOOK_HEAD_PARTY || t == BOOK_HEAD_INSTRUMENT || t == BOOK_HEAD_RODS ||
		             t == BOOK_HEAD_DATUM
		         ? "3-02"
		         : "");
	got = work_head_of(list, 4, 1, "2026-05-01");
	from(&got, BOOK_HEAD_PLACE, "2-01");
	got = work_head_of(list, 4, 1, "2026-04-30");
	ck_assert(!work_head_says(&got));
}
END_TEST

/* What one page leaves empty comes from the next that has it. */
START_TEST(test_text_by_text)
{
	struct book_head list[] = {head(2, "2026-05-01"), head(1, "2026-05-03"),
	                           head(2, "2026-05-04")};
	struct work_head got;
	list[1].text[BOOK_HEAD_PARTY][0] = '\0';
	list[1].text[BOOK_HEAD_DATUM][0] = list[2].text[BOOK_HEAD_DATUM][0] = '\0';
	got = work_head_of(list, 3, 1, "2026-05-04");
	from(&got, BOOK_HEAD_PARTY, "2-04");
	from(&got, BOOK_HEAD_DATUM, "2-01");
	from(&got, BOOK_HEAD_RODS, "1-03");
}
END_TEST

/* Written as it was shown, and refused in a closed run. */
START_TEST(test_in_a_book)
{
	struct shelf s;
	struct work_head got;
	struct fault why = {0};
	struct book_head *list;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "loop", LEVEL_LOOP);
	ck_assert(work_head(s.book, s.run.info.id, "2026-05-04", &got, &why));
	ck_assert(!work_head_says(&got));
	ck_assert(!work_head_set(s.book, s.run.info.id, &got, &why));
	strcpy(got.text[BOOK_HEAD_PARTY], "two of us");
	ck_assert(work_head_set(s.book, s.run.info.id, &got, &why));
	ck_assert(work_head(s.book, s.run.info.id, "2026-05-05", &got, &why));
	ck_assert(!got.stands && got.carried[BOOK_HEAD_PARTY]);
	ck_assert(work_head_set(s.book, s.run.info.id, &got, &why));
	ck_assert(work_head(s.book, s.run.info.id, "2026-05-05", &got, &why));
	ck_assert(got.stands && !got.carried[BOOK_HEAD_PARTY]);
	ck_assert(book_heads(s.book, s.run.info.id, &list, &count, &why));
	ck_assert_uint_eq(count, 2);
	free(list);
	strcpy(got.day, "2026-02-30");
	ck_assert(!work_head_set(s.book, s.run.info.id, &got, &why));
	ck_assert_str_eq(why.field, "day");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("heads", test_own_day_before, test_other_runs, test_text_by_text,
	                 test_in_a_book);
}
