/* What is shown of a forged book: nothing that a terminal would obey, and nothing that looks like
 * another entry. */
#include "fault/forge.h"
#include "rodbook/book/journal.h"
#include "unit/books.h"
#include "unit/suite.h"

/* Entries: 1 unit, 2 run bank, 3 BS PEG 1.5, 4 its striking. */
static void make_forged(struct shelf *s, const char *sql)
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "bank", LEVEL_LOOP);
	ck_assert(shelf_book(s, LEVEL_BS, "PEG", "1.5"));
	ck_assert(shelf_strike(s, 0));
	book_close(s->book);
	forge(s->path, sql);
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s", s->why.text);
}

/* The journal for people, or as CSV; free() it. */
static char *journal_of(struct shelf *s, bool csv)
{
	char *text = NULL;
	size_t size = 0;
	FILE *out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(report_journal(out, s->book, 0, 0, csv, &s->why), "%s", s->why.text);
	ck_assert_int_eq(fclose(out), 0);
	return text;
}

static int lines_of(const char *text)
{
	int count = 0;
	for (; *text; text++)
		count += *text == '\n';
	return count;
}

/* Four actions of one entry each are eight lines, whatever is written in them. */
START_TEST(test_no_lines_of_its_own)
{
	static const char *const forgeries[] = {
	    "UPDATE journal SET act = 'book' || char(10) || '     9  strike' WHERE seq = 3",
	    "UPDATE journal SET time = time || char(10) || '     9  strike' WHERE seq = 3",
	    "UPDATE journal SET act = 'undo', undoes = 3 WHERE seq = 4; UPDATE journal SET act = "
	    "'a' || char(10) || 'b' WHERE seq = 3",
	    "UPDATE journal SET after = json_set(after, '$.why', 'a' || char(10) || 'b') WHERE "
	    "seq = 4",
	    "UPDATE journal SET after = json_set(after, '$.\"a' || char(10) || 'b\"', 1) WHERE "
	    "seq = 4",
	};
	for (size_t i = 0; i < sizeof forgeries / sizeof *forgeries; i++) {
		struct shelf s;
		char *text;
		make_forged(&s, forgeries[i]);
		text = journal_of(&s, false);
		ck_assert_msg(lines_of(text) == 8, "%s\n%s", forgeries[i], text);
		free(text);
		shelf_close(&s);
	}
}
END_TEST

/* Valid JSON that is no object has no columns: the entry is shown all the same. */
START_TEST(test_no_object)
{
	struct shelf s;
	char *text;
	make_forged(&s, "UPDATE journal SET after = '5' WHERE seq = 3");
	text = journal_of(&s, false);
	ck_assert_msg(strstr(text, "     4  ") != NULL, "%s", text);
	free(text);
	text = journal_of(&s, true);
	ck_assert_msg(strstr(text, "\n3,3,2026-05-04T09:30:00+02:00,book,bank,sight,1,,,5\n") !=
	                  NULL,
	              "%s", text);
	free(text);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("shown", test_no_lines_of_its_own, test_no_object);
}
