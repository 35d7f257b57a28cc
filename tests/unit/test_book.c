/* Booking: making a book, its runs, and adding, changing and striking sights. */
#include "rodbook/book/book.h"

#include "books.h"
#include "suite.h"

START_TEST(test_create)
{
	struct shelf s;
	struct fault why = {0};
	char other[160], long_title[200];
	size_t before_size, after_size;
	char *before, *after;

	shelf_open(&s, LEVEL_FT);
	before = slurp(s.path, &before_size);
	ck_assert(!book_create(s.path, LEVEL_M, "another", shelf_clock, &why));
	ck_assert_int_eq(why.kind, FAULT_FILE);
	ck_assert_ptr_nonnull(strstr(why.text, "exists already"));
	after = slurp(s.path, &after_size);
	ck_assert_uint_eq(before_size, after_size);
	ck_assert_mem_eq(before, after, before_size);
	free(before);
	free(after);

	/* neither a link that leads nowhere nor an empty file is written through */
	snprintf(other, sizeof other, "%s/link", s.dir);
	ck_assert_int_eq(symlink("nowhere", other), 0);
	ck_assert(!book_create(other, LEVEL_M, "", shelf_clock, &why));
	snprintf(other, sizeof other, "%s/empty", s.dir);
	spill(other, "", 0);
	ck_assert(!book_create(other, LEVEL_M, "", shelf_clock, &why));

	/* a book that cannot be filled is not left behind */
	snprintf(other, sizeof other, "%s/other", s.dir);
	ck_assert(!book_create(other, LEVEL_M, "bell\a", shelf_clock, &why));
	ck_assert_int_eq(why.kind, FAULT_INPUT);
	ck_assert_int_ne(access(other, F_OK), 0);
	memset(long_title, 'x', 121);
	long_title[121] = '\0';
	ck_assert(!book_create(other, LEVEL_M, long_title, shelf_clock, &why));
	ck_assert_int_ne(access(other, F_OK), 0);
	long_title[120] = '\0';
	ck_assert(book_create(other, LEVEL_M, long_title, shelf_clock, &why));

	snprintf(other, sizeof other, "%s/no/such/folder", s.dir);
	ck_assert(!book_create(other, LEVEL_M, "", shelf_clock, &why));
	ck_assert_int_eq(why.kind, FAULT_FILE);
	shelf_close(&s);
}
END_TEST

START_TEST(test_runs)
{
	struct shelf s;
	struct book_run_info info, *runs;
	struct book_run unloaded;
	size_t count;
	int64_t first, second;

	shelf_open(&s, LEVEL_M);
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(runs);
	ck_assert(book_run_add(s.book, "north shore", LEVEL_LINK, &first, &s.why));
	ck_assert(book_run_add(s.book, "b", LEVEL_OPEN, &second, &s.why));
	ck_assert(!book_run_add(s.book, "b", LEVEL_OPEN, &second, &s.why));
	FAULT(&s, FAULT_INPUT, "there is a run b already");
	ck_assert(!book_run_add(s.book, "", LEVEL_OPEN, &second, &s.why));
	FAULT(&s, FAULT_INPUT, "no name");
	ck_assert(!book_run_add(s.book, "01234567890123456789012345678901234567890", LEVEL_OPEN,
	                        &second, &s.why));
	FAULT(&s, FAULT_INPUT, "41 characters");
	ck_assert(!book_run_add(s.book, "a\nb", LEVEL_OPEN, &second, &s.why));
	ck_assert(!book_run_add(s.book, "a\xff", LEVEL_OPEN, &second, &s.why));
	FAULT(&s, FAULT_INPUT, "UTF-8");

	ck_assert(book_run_set_kind(s.book, first, LEVEL_CROSSING, &s.why));
	ck_assert(book_run_rename(s.book, first, "south shore", &s.why));
	ck_assert(book_run_rename(s.book, first, "south shore", &s.why));
	ck_assert(!book_run_rename(s.book, first, "b", &s.why));
	FAULT(&s, FAULT_INPUT, "there is a run b already");
	ck_assert(!book_run_rename(s.book, first, "", &s.why));
	ck_assert(!book_run_rename(s.book, first, "a\x1b[2J", &s.why));

	/* in the order in which they were begun */
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert_str_eq(runs[0].name, "south shore");
	ck_assert_int_eq(runs[0].kind, LEVEL_CROSSING);
	ck_assert_int_eq(runs[0].id, first);
	ck_assert_str_eq(runs[0].time, "2026-05-04T09:30:00+02:00");
	ck_assert_uint_eq(runs[0].sights, 0);
	ck_assert_str_eq(runs[1].name, "b");
	free(runs);

	ck_assert(!book_run_find(s.book, "north shore", &info, &s.why));
	FAULT(&s, FAULT_INPUT, "no run north shore");
	ck_assert(book_run_find(s.book, "south shore", &info, &s.why));
	ck_assert_int_eq(info.id, first);
	ck_assert(!book_load(s.book, 999, &unloaded, &s.why));
	shelf_close(&s);
}
END_TEST

START_TEST(test_booking_in_order)
{
	struct shelf s;
	struct book_run_info info;

	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(!shelf_book(&s, LEVEL_FS, "TP1", "1.5"));
	FAULT(&s, FAULT_INPUT, "no BS");
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.717"));
	ck_assert(!shelf_book(&s, LEVEL_BS, "A", "1.7"));
	FAULT(&s, FAULT_INPUT, "second BS");
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.716"));
	ck_assert(!shelf_book(&s, LEVEL_BS, "TP2", "1.7"));
	FAULT(&s, FAULT_INPUT, "stands on TP1");
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "2918 mm"));
	/* insertion in the middle, and again before and behind it */
	ck_assert(shelf_insert(&s, 1, LEVEL_IS, "P2", "1.2"));
	ck_assert(shelf_insert(&s, 1, LEVEL_IS, "P1", "1.1"));
	ck_assert(shelf_insert(&s, 3, LEVEL_IS, "P3", "1.3"));
	ck_assert(!shelf_insert(&s, 0, LEVEL_IS, "P0", "1"));
	ck_assert(!shelf_insert(&s, 1, LEVEL_FS, "P0", "1"));
	COUNTED(&s, "BS A 1.717, IS P1 1.1, IS P2 1.2, IS P3 1.3, FS TP1 1.716, BS TP1 2918 mm");
	ck_assert_int_eq(s.run.run.sight[5].reading, 2918000000);
	ck_assert_str_eq(s.run.note[5].time, "2026-05-04T09:30:00+02:00");
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	ck_assert_uint_eq(s.run.info.sights, 6);
	/* the same from another handle */
	book_close(s.book);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	shelf_take(&s, info.id);
	COUNTED(&s, "BS A 1.717, IS P1 1.1, IS P2 1.2, IS P3 1.3, FS TP1 1.716, BS TP1 2918 mm");
	shelf_close(&s);
}
END_TEST

/* Places halve with each insertion at one spot; when none is left it is said, and nothing is
 * lost. */
START_TEST(test_many_insertions)
{
	struct shelf s;
	int booked = 0;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "2"));
	while (booked < 100) {
		char station[16];
		snprintf(station, sizeof station, "P%d", booked);
		if (!shelf_insert(&s, 1, LEVEL_IS, station, "1.5"))
			break;
		booked++;
	}
	ck_assert_int_ge(booked, 30);
	ck_assert_int_lt(booked, 100);
	FAULT(&s, FAULT_INPUT, "no more sights fit");
	ck_assert_uint_eq(s.run.run.count, (size_t)booked + 2);
	for (int i = 1; i <= booked; i++) {
		char station[16];
		snprintf(station, sizeof station, "P%d", booked - i);
		ck_assert_str_eq(s.run.run.sight[i].station, station);
	}
	shelf_close(&s);
}
END_TEST

START_TEST(test_change)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1.717"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "1.432"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "1.716"));
	int64_t old = s.run.run.sight[1].id;
	ck_assert(shelf_change(&s, 1, LEVEL_IS, "P", "1.342"));
	ALL(&s, "BS A 1.717, [IS P 1.432], IS P 1.342, FS TP1 1.716");
	ck_assert_str_eq(s.run.note[1].struck, "2026-05-04T09:30:00+02:00");
	ck_assert_str_eq(s.run.note[1].why, "changed");
	ck_assert_int_eq(s.run.note[2].replaces, old);
	ck_assert_str_eq(s.run.note[2].struck, "");
	/* what the order forbids is refused, and nothing is struck */
	ck_assert(!shelf_change(&s, 0, LEVEL_FS, "A", "1.717"));
	ck_assert(!shelf_change(&s, 0, LEVEL_IS, "A", "1.717"));
	ck_assert(!shelf_change(&s, 2, LEVEL_BS, "P", "1.717"));
	ck_assert(!shelf_change(&s, 2, LEVEL_FS, "P", "1.717"));
	shelf_take(&s, s.run.info.id);
	ALL(&s, "BS A 1.717, [IS P 1.432], IS P 1.342, FS TP1 1.716");
	/* changed again: both stay legible */
	ck_assert(shelf_change(&s, 2, LEVEL_IS, "P9", "1.343"));
	ALL(&s, "BS A 1.717, [IS P 1.432], [IS P 1.342], IS P9 1.343, FS TP1 1.716");
	shelf_close(&s);
}
END_TEST

/* A turning point is read twice; renamed from either sight it stays one point. */
START_TEST(test_rename_turning_point)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "2"));
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "3"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP2", "4"));
	ck_assert(shelf_change(&s, 1, LEVEL_FS, "stone", "2"));
	COUNTED(&s, "BS A 1, FS stone 2, BS stone 3, FS TP2 4");
	ALL(&s, "BS A 1, [FS TP1 2], FS stone 2, [BS TP1 3], BS stone 3, FS TP2 4");
	ck_assert_str_eq(s.run.note[3].why, "changed with its turning point");
	ck_assert_int_eq(s.run.note[4].replaces, s.run.run.sight[3].id);
	ck_assert(shelf_change(&s, 4, LEVEL_BS, "wall", "3.5"));
	COUNTED(&s, "BS A 1, FS wall 2, BS wall 3.5, FS TP2 4");
	/* one step back takes both back */
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1, FS stone 2, BS stone 3, FS TP2 4");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1, FS TP1 2, BS TP1 3, FS TP2 4");
	/* a start that shares its name with nothing before it goes alone */
	ck_assert(shelf_change(&s, 0, LEVEL_BS, "B", "1"));
	COUNTED(&s, "BS B 1, FS TP1 2, BS TP1 3, FS TP2 4");
	/* the reading alone: the other sight stays as it is */
	for (size_t i = 0; i < s.run.run.count; i++)
		if (level_counted(&s.run.run.sight[i]) && s.run.run.sight[i].kind == LEVEL_BS &&
		    strcmp(s.run.run.sight[i].station, "TP1") == 0) {
			ck_assert(shelf_change(&s, i, LEVEL_BS, "TP1", "3.3"));
			break;
		}
	COUNTED(&s, "BS B 1, FS TP1 2, BS TP1 3.3, FS TP2 4");
	shelf_close(&s);
}
END_TEST

START_TEST(test_strike)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "1.5"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "2"));
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "3"));
	ck_assert(!shelf_strike(&s, 0));
	FAULT(&s, FAULT_INPUT, "hang on its BS");
	ck_assert(!shelf_strike(&s, 2));
	FAULT(&s, FAULT_INPUT, "the line goes on");
	ck_assert(shelf_strike(&s, 1));
	ck_assert(!shelf_strike(&s, 1));
	FAULT(&s, FAULT_INPUT, "struck already");
	/* the last sights go one by one */
	ck_assert(shelf_strike(&s, 3));
	ck_assert(shelf_strike(&s, 2));
	ck_assert(shelf_strike(&s, 0));
	ALL(&s, "[BS A 1], [IS P 1.5], [FS TP1 2], [BS TP1 3]");
	/* and the run can be begun again */
	ck_assert(shelf_book(&s, LEVEL_BS, "B", "1.1"));
	COUNTED(&s, "BS B 1.1");
	shelf_close(&s);
}
END_TEST

START_TEST(test_strike_setup)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP1", "2"));
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "3"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "3.5"));
	ck_assert(shelf_book(&s, LEVEL_IS, "Q", "3.6"));
	ck_assert(shelf_book(&s, LEVEL_FS, "TP2", "4"));
	ck_assert(shelf_strike(&s, 4));
	/* from any of its sights; what is struck already stays as it was */
	ck_assert(!book_strike(s.book, &s.run, 4, true, "", &s.why));
	ck_assert(book_strike(s.book, &s.run, 3, true, "", &s.why));
	shelf_take(&s, s.run.info.id);
	ALL(&s, "BS A 1, FS TP1 2, [BS TP1 3], [IS P 3.5], [IS Q 3.6], [FS TP2 4]");
	ck_assert(shelf_undo(&s));
	ALL(&s, "BS A 1, FS TP1 2, BS TP1 3, IS P 3.5, [IS Q 3.6], FS TP2 4");
	/* the setup struck, the line goes on from where it stood */
	ck_assert(book_strike(s.book, &s.run, 5, true, "", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_book(&s, LEVEL_BS, "TP1", "3.1"));
	COUNTED(&s, "BS A 1, FS TP1 2, BS TP1 3.1");
	shelf_close(&s);
}
END_TEST

/* What was read before another wrote is not written over. */
START_TEST(test_stale)
{
	struct shelf s;
	struct book *other;
	struct book_run theirs;
	struct level_sight sight;
	struct book_note note;
	char what[160];

	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	other = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(other);
	ck_assert(book_load(other, s.run.info.id, &theirs, &s.why));
	ck_assert(shelf_read(&s, LEVEL_IS, "Q", "3", &sight, &note));
	ck_assert(book_add(other, &theirs, 2, &sight, &note, &s.why));
	book_run_free(&theirs);

	ck_assert(!shelf_book(&s, LEVEL_IS, "R", "4"));
	FAULT(&s, FAULT_STALE, "changed by another program");
	ck_assert(!shelf_change(&s, 1, LEVEL_IS, "P", "2.5"));
	FAULT(&s, FAULT_STALE, "");
	ck_assert(!shelf_strike(&s, 1));
	FAULT(&s, FAULT_STALE, "");
	ck_assert(!book_strike(s.book, &s.run, 1, true, "", &s.why));
	FAULT(&s, FAULT_STALE, "");
	ck_assert(!book_undo(s.book, &s.run, what, &s.why));
	FAULT(&s, FAULT_STALE, "");

	shelf_take(&s, s.run.info.id);
	ALL(&s, "BS A 1, IS P 2, IS Q 3");
	ck_assert(shelf_book(&s, LEVEL_IS, "R", "4"));
	/* a mark or a setting changes what a run means, too */
	ck_assert(book_mark_set(other, "A", "100", NULL, NULL, &s.why));
	ck_assert(!shelf_book(&s, LEVEL_IS, "S", "4"));
	FAULT(&s, FAULT_STALE, "");
	shelf_take(&s, s.run.info.id);
	ck_assert(s.run.run.sight[0].has_known);
	ck_assert(shelf_book(&s, LEVEL_IS, "S", "4"));
	ALL(&s, "BS A 1, IS P 2, IS Q 3, IS R 4, IS S 4");
	book_close(other);
	shelf_close(&s);
}
END_TEST

START_TEST(test_all_or_none)
{
	struct shelf s;
	struct book_run_info *runs;
	struct book_mark *marks;
	size_t count;
	int64_t id;

	shelf_open(&s, LEVEL_M);
	/* one that fails takes the rest with it, whatever the caller wishes */
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "a", LEVEL_OPEN, &id, &s.why));
	ck_assert(!book_run_add(s.book, "a", LEVEL_OPEN, &id, &s.why));
	/* nothing more is taken: SQLite may have rolled back, and this would be kept alone */
	ck_assert(!book_mark_set(s.book, "BM", "1", NULL, NULL, &s.why));
	ck_assert(!book_finish(s.book, true, &s.why));
	/* thrown away */
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "b", LEVEL_OPEN, &id, &s.why));
	ck_assert(!book_finish(s.book, false, &s.why));
	/* an inner one thrown away takes the outer with it */
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "c", LEVEL_OPEN, &id, &s.why));
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "d", LEVEL_OPEN, &id, &s.why));
	ck_assert(!book_finish(s.book, false, &s.why));
	ck_assert(!book_finish(s.book, true, &s.why));
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(runs);
	ck_assert(book_marks(s.book, &marks, &count, &s.why));
	ck_assert_uint_eq(count, 0);
	free(marks);
	/* and the book goes on to work */
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "e", LEVEL_OPEN, &id, &s.why));
	ck_assert(book_finish(s.book, true, &s.why));
	ck_assert(book_run_add(s.book, "f", LEVEL_OPEN, &id, &s.why));
	ck_assert(book_finish(s.book, true, &s.why));
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	free(runs);
	shelf_close(&s);
}
END_TEST

/* What has not been finished is not in the file. */
START_TEST(test_unfinished)
{
	struct shelf s;
	struct book_run_info info;
	int64_t id;
	shelf_open(&s, LEVEL_M);
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(book_run_add(s.book, "a", LEVEL_OPEN, &id, &s.why));
	book_close(s.book);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_nonnull(s.book);
	ck_assert(!book_run_find(s.book, "a", &info, &s.why));
	shelf_close(&s);
}
END_TEST

/* What a user gives as the reason of a strike is his, also where it begins as the program's own. */
START_TEST(test_changed_or_struck)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "loop", LEVEL_LOOP);
	ck_assert(shelf_book(&s, LEVEL_BS, "STONE", "1.500"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P1", "1.400"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P2", "1.300"));
	ck_assert(shelf_change(&s, 1, LEVEL_IS, "P1", "1.410"));
	ck_assert(book_is_changed(&s.run, 1));
	ck_assert(!book_is_changed(&s.run, 2));
	ck_assert(book_strike(s.book, &s.run, 3, false, "changed the target", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert_str_ne(s.run.note[3].struck, "");
	ck_assert(!book_is_changed(&s.run, 3));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("book", test_create, test_runs, test_booking_in_order,
	                 test_many_insertions, test_change, test_rename_turning_point, test_strike,
	                 test_strike_setup, test_changed_or_struck, test_stale, test_all_or_none,
	                 test_unfinished);
}
