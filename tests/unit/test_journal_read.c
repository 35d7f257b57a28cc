/* The journal as it is read: in which order, how much of it, and what each entry says was changed.
 */
#include "rodbook/book/journal.h"

#include "books.h"
#include "fault/forge.h"
#include "suite.h"

struct heard {
	char text[4000];
	int most;
	bool changes;
};

static bool hear(const struct book_entry *e, void *context)
{
	struct heard *h = context;
	size_t used = strlen(h->text);
	used += (size_t)snprintf(h->text + used, sizeof h->text - used, "%s%d %s %s",
	                         used ? "; " : "", (int)e->seq, e->act, e->what);
	for (size_t i = 0; h->changes && i < e->count; i++)
		used += (size_t)snprintf(h->text + used, sizeof h->text - used, " %s=%s>%s",
		                         e->change[i].column,
		                         e->change[i].before ? e->change[i].before : "-",
		                         e->change[i].after ? e->change[i].after : "-");
	return --h->most != 0;
}

static const char *entries(struct shelf *s, struct book_journal_order order, int most, bool changes)
{
	static struct heard h;
	h = (struct heard){.most = most, .changes = changes};
	ck_assert_msg(book_journal(s->book, &order, hear, &h, &s->why), "%s", s->why.text);
	return h.text;
}

/* 1 unit, 2 and 3 k, 4 run a, 5 BS, 6 FS, 7 and 8 that changed, 9 run b, 10 and 11 undone. */
static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "k", "0.2", &s->why));
	ck_assert(book_set(s->book, "k", "0.3", &s->why));
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(s, LEVEL_FS, "B", "2"));
	ck_assert(shelf_change(s, 1, LEVEL_FS, "B", "3"));
	shelf_begin(s, "b", LEVEL_LOOP);
	shelf_take(s, 1);
	ck_assert(shelf_undo(s));
}

START_TEST(test_order)
{
	struct shelf s;
	make(&s);
	ck_assert_str_eq(
	    entries(&s, (struct book_journal_order){0}, 0, false),
	    "1 set setting unit; 2 set setting k; 3 set setting k; 4 new run run a; 5 "
	    "book BS on A; 6 book FS on B; 7 change FS on B; 8 change FS on B; 9 new run "
	    "run b; 10 undo FS on B; 11 undo FS on B");
	/* by actions, inside one of them in order */
	ck_assert_str_eq(entries(&s, (struct book_journal_order){.newest_first = true}, 6, false),
	                 "10 undo FS on B; 11 undo FS on B; 9 new run run b; 7 change FS on B; 8 "
	                 "change FS on B; "
	                 "6 book FS on B");
	ck_assert_str_eq(entries(&s, (struct book_journal_order){.most = 2}, 0, false),
	                 "9 new run run b; 10 undo FS on B; 11 undo FS on B");
	ck_assert_str_eq(entries(&s, (struct book_journal_order){.run = 2}, 0, false),
	                 "9 new run run b");
	ck_assert_str_eq(entries(&s, (struct book_journal_order){.run = 1, .most = 2}, 0, false),
	                 "7 change FS on B; 8 change FS on B; 10 undo FS on B; 11 undo FS on B");
	ck_assert_str_eq(
	    entries(&s, (struct book_journal_order){.run = 1, .most = 2, .newest_first = true}, 0,
	            false),
	    "10 undo FS on B; 11 undo FS on B; 7 change FS on B; 8 change FS on B");
	ck_assert_str_eq(entries(&s, (struct book_journal_order){0}, 1, false),
	                 "1 set setting unit");
	ck_assert_str_eq(entries(&s, (struct book_journal_order){.run = 9}, 0, false), "");
	shelf_close(&s);
}
END_TEST

/* What a new row leaves empty is no change; in place a new sight is held against the one that it
 * stands for. */
START_TEST(test_changes)
{
	struct shelf s;
	const char *text;
	make(&s);
	text = entries(&s, (struct book_journal_order){0}, 3, true);
	ck_assert_str_eq(text, "1 set setting unit name=->unit value=->m; 2 set setting k name=->k "
	                       "value=->0.2; 3 set setting k value=0.2>0.3");
	text = entries(&s, (struct book_journal_order){.run = 1}, 5, true);
	ck_assert_ptr_nonnull(strstr(text, "4 new run run a id=->1 name=->a kind=->open time=->"));
	ck_assert_ptr_nonnull(strstr(text, "7 change FS on B struck=->2026-05-04T09:30:00+02:00"));
	ck_assert_ptr_nonnull(strstr(text, " why=>changed; 8 change FS on B id=->3 "));
	ck_assert_ptr_nonnull(strstr(text, " typed=->3 reading=->3000000000 "));
	ck_assert_ptr_null(strstr(text, "remark"));
	text = entries(&s, (struct book_journal_order){.run = 1, .in_place = true}, 5, true);
	ck_assert_ptr_nonnull(strstr(text, "8 change FS on B id=2>3 "));
	ck_assert_ptr_nonnull(strstr(text, " typed=2>3 reading=2000000000>3000000000"));
	ck_assert_ptr_null(strstr(text, "station=B>B"));
	shelf_close(&s);
}
END_TEST

static bool members(const struct book_entry *e, void *context)
{
	int *seen = context;
	++*seen;
	if (e->seq == 8) {
		ck_assert_int_eq(e->action, 7);
		ck_assert_int_eq(e->undoes, 0);
		ck_assert_str_eq(e->undone, "");
		ck_assert_str_eq(e->time, "2026-05-04T09:30:00+02:00");
		ck_assert_str_eq(e->run, "a");
		ck_assert_str_eq(e->table, "sight");
		ck_assert_str_eq(e->row, "3");
		ck_assert(e->is_new && e->replaces);
	}
	if (e->seq == 7)
		ck_assert(!e->is_new && !e->replaces && e->count == 2);
	if (e->seq == 11) {
		ck_assert_int_eq(e->action, 10);
		ck_assert_int_eq(e->undoes, 7);
		ck_assert_str_eq(e->undone, "change");
	}
	if (e->seq == 1) {
		ck_assert_str_eq(e->run, "");
		ck_assert_str_eq(e->row, "unit");
	}
	return true;
}

START_TEST(test_members)
{
	struct shelf s;
	struct book_journal_order order = {.in_place = true};
	int seen = 0;
	make(&s);
	ck_assert(book_journal(s.book, &order, members, &seen, &s.why));
	ck_assert_int_eq(seen, 11);
	shelf_close(&s);
}
END_TEST

/* Whatever somebody wrote into the journal is shown clean, and read to its end. */
START_TEST(test_altered)
{
	struct shelf s;
	const char *text;
	make(&s);
	book_close(s.book);
	forge(s.path, "UPDATE journal SET act = char(27) || 'x' WHERE seq = 2; UPDATE journal SET "
	              "after = '{' WHERE seq = 3; UPDATE journal SET before = '{' WHERE seq = 7; "
	              "UPDATE journal SET after = json_set(after, '$.station', char(27)) WHERE seq "
	              "= 5");
	s.book = book_open(s.path, shelf_clock, &s.why);
	text = entries(&s, (struct book_journal_order){.in_place = true}, 0, false);
	ck_assert_str_eq(text,
	                 "1 set setting unit; 2 <U+001B>x setting k; 3 set setting k; 4 new run "
	                 "run a; 5 book BS on <U+001B>; 6 book FS on B; 7 change FS on B; 8 "
	                 "change FS on B; 9 new run run b; 10 undo FS on B; 11 undo FS on B");
	shelf_close(&s);
}
END_TEST

static bool last_one(const struct book_entry *e, void *context)
{
	static struct heard one;
	one = (struct heard){.changes = true};
	if (e->replaces && hear(e, &one))
		strcpy(context, strstr(one.text, "IS on"));
	return true;
}

/* Rows that come with a copy stand in the order of their numbers: the struck one far before the one
 * that stands for it. */
START_TEST(test_replaced_far)
{
	struct shelf from, to;
	struct work_taken counts = {0};
	const char *const names[] = {"a"};
	const struct book_journal_order order = {.in_place = true};
	char all[4000] = "";
	shelf_open(&from, LEVEL_M);
	shelf_open(&to, LEVEL_M);
	shelf_begin(&from, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&from, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&from, LEVEL_IS, "B", "2"));
	for (int i = 0; i < 30; i++)
		ck_assert(shelf_book(&from, LEVEL_IS, "C", "1"));
	ck_assert(shelf_change(&from, 1, LEVEL_IS, "B", "3"));
	ck_assert_msg(work_copy_runs(to.book, from.book, from.path, names, 1, &counts, &to.why),
	              "%s", to.why.text);
	ck_assert(book_journal(to.book, &order, last_one, all, &to.why));
	ck_assert_msg(strstr(all, "IS on B id=2>33 ") && strstr(all, " typed=2>3 ") &&
	                  strstr(all, " why=changed> replaces=->2"),
	              "%s", all);
	shelf_close(&from);
	shelf_close(&to);
}
END_TEST

int main(void)
{
	return RUN_TESTS("journal_read", test_order, test_changes, test_members, test_altered,
	                 test_replaced_far);
}
