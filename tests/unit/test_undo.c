/* Taking back: what was booked is struck, what was struck counts again, nothing is erased. */
#include "rodbook/book/book.h"

#include "books.h"
#include "chance.h"
#include "suite.h"

START_TEST(test_several)
{
	struct shelf s;
	char what[160];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(!shelf_undo(&s));
	FAULT(&s, FAULT_INPUT, "nothing is left to take back");
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "3"));
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1, IS P 2");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1");
	/* a new booking between two undoings: the next takes it back, not what is taken back */
	ck_assert(shelf_book(&s, LEVEL_IS, "Q", "2.5"));
	COUNTED(&s, "BS A 1, IS Q 2.5");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1");
	ck_assert(book_undo(s.book, &s.run, what, &s.why));
	ck_assert_ptr_nonnull(strstr(what, "taken back"));
	shelf_take(&s, s.run.info.id);
	COUNTED(&s, "");
	ALL(&s, "[BS A 1], [IS P 2], [FS B 3], [IS Q 2.5]");
	ck_assert_str_eq(s.run.note[0].why, "undone");
	ck_assert(!shelf_undo(&s));
	FAULT(&s, FAULT_INPUT, "nothing is left to take back");
	shelf_close(&s);
}
END_TEST

START_TEST(test_change_and_strike)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	ck_assert(shelf_change(&s, 1, LEVEL_IS, "P", "2.2"));
	ck_assert(shelf_change(&s, 2, LEVEL_IS, "P", "2.22"));
	ALL(&s, "BS A 1, [IS P 2], [IS P 2.2], IS P 2.22");
	ck_assert(shelf_undo(&s));
	ALL(&s, "BS A 1, [IS P 2], IS P 2.2, [IS P 2.22]");
	ck_assert_str_eq(s.run.note[2].struck, "");
	ck_assert_str_eq(s.run.note[2].why, "");
	ck_assert(shelf_undo(&s));
	ALL(&s, "BS A 1, IS P 2, [IS P 2.2], [IS P 2.22]");
	ck_assert(shelf_strike(&s, 1));
	COUNTED(&s, "BS A 1");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "BS A 1, IS P 2");
	ck_assert(shelf_undo(&s));
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "");
	ck_assert(!shelf_undo(&s));
	shelf_close(&s);
}
END_TEST

START_TEST(test_run_itself)
{
	struct shelf s;
	struct book_run_info info;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(book_run_rename(s.book, s.run.info.id, "b", &s.why));
	ck_assert(book_run_set_kind(s.book, s.run.info.id, LEVEL_LOOP, &s.why));
	ck_assert(book_run_rename(s.book, s.run.info.id, "c", &s.why));
	shelf_take(&s, s.run.info.id);
	ck_assert(shelf_undo(&s));
	ck_assert_str_eq(s.run.info.name, "b");
	ck_assert_int_eq(s.run.info.kind, LEVEL_LOOP);
	ck_assert(shelf_undo(&s));
	ck_assert_str_eq(s.run.info.name, "b");
	ck_assert_int_eq(s.run.info.kind, LEVEL_OPEN);
	ck_assert(shelf_undo(&s));
	ck_assert_str_eq(s.run.info.name, "a");
	COUNTED(&s, "BS A 1");
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "");
	ck_assert(!shelf_undo(&s));
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	shelf_close(&s);
}
END_TEST

/* Each run has its own past; settings and marks are no part of it. */
START_TEST(test_one_run_only)
{
	struct shelf s;
	struct book_settings settings;
	int64_t a;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	a = s.run.info.id;
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	shelf_begin(&s, "b", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "B", "2"));
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	ck_assert(book_mark_set(s.book, "A", "100", NULL, NULL, &s.why));
	shelf_take(&s, a);
	ck_assert(shelf_undo(&s));
	COUNTED(&s, "");
	ck_assert(!shelf_undo(&s));
	shelf_begin(&s, "c", LEVEL_OPEN);
	ck_assert(!shelf_undo(&s));
	ck_assert(book_settings(s.book, &settings, &s.why));
	ck_assert_double_eq(settings.terms.k, 0.2);
	shelf_close(&s);
}
END_TEST

START_TEST(test_imported)
{
	struct shelf s;
	struct work_taken counts;
	struct book_run_info info;
	shelf_open(&s, LEVEL_M);
	ck_assert(shelf_import(
	    &s, "run,sight,station,reading\na,BS,A,1\na,FS,B,2\nb,BS,A,1\nb,FS,B,2\n", &counts));
	ck_assert(book_run_find(s.book, "a", &info, &s.why));
	shelf_take(&s, info.id);
	ck_assert(!shelf_undo(&s));
	FAULT(&s, FAULT_INPUT, "nothing is left to take back");
	ck_assert(shelf_book(&s, LEVEL_BS, "B", "3"));
	ck_assert(shelf_undo(&s));
	ck_assert(!shelf_undo(&s));
	COUNTED(&s, "BS A 1, FS B 2");
	shelf_close(&s);
}
END_TEST

/* Any changes, then as many undoings: each brings back the line that stood before its change. */
START_TEST(test_any_changes)
{
	uint64_t state = chance_seed("undo");
	for (int round = 0; round < 12; round++) {
		enum { STEPS = 40 };
		static char past[STEPS][4096];
		struct shelf s;
		int done = 0;
		shelf_open(&s, LEVEL_M);
		shelf_begin(&s, "a", LEVEL_OPEN);
		for (int tries = 0; done < STEPS && tries < 400; tries++) {
			char station[16], reading[16], before[4096];
			size_t at = (size_t)chance(&state, 0, (int64_t)s.run.run.count);
			enum level_kind kind = (enum level_kind)chance(&state, 0, 2);
			bool counted = at < s.run.run.count && level_counted(&s.run.run.sight[at]);
			bool ok = false;
			snprintf(station, sizeof station, "S%d", (int)chance(&state, 1, 4));
			snprintf(reading, sizeof reading, "%d.5", (int)chance(&state, 0, 4));
			strcpy(before, shelf_line(&s, false));
			switch (chance(&state, 0, 4)) {
			case 0:
				ok = counted && shelf_change(&s, at, kind, station, reading);
				break;
			case 1:
				ok = counted && shelf_strike(&s, at);
				break;
			case 2:
				ok = counted && chance(&state, 0, 3) == 0 &&
				     book_strike(s.book, &s.run, at, true, "", &s.why);
				if (ok)
					shelf_take(&s, s.run.info.id);
				break;
			default:
				ok = shelf_insert(&s, at, kind, station, reading);
			}
			if (ok)
				strcpy(past[done++], before);
		}
		ck_assert_int_gt(done, 5);
		while (done > 0) {
			ck_assert_msg(shelf_undo(&s), "%s", s.why.text);
			COUNTED(&s, past[--done]);
		}
		ck_assert(!shelf_undo(&s));
		shelf_close(&s);
	}
}
END_TEST

/* What was taken back can be brought back, as often, until something else is done. */
START_TEST(test_redo)
{
	struct shelf s;
	char what[160];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(&s, LEVEL_IS, "P", "2"));
	ck_assert(shelf_change(&s, 1, LEVEL_IS, "P", "2.5"));
	ck_assert(!book_redo(s.book, &s.run, what, &s.why));
	for (int i = 0; i < 3; i++)
		ck_assert(shelf_undo(&s));
	ck_assert_str_eq(shelf_line(&s, false), "");
	for (int i = 0; i < 3; i++) {
		ck_assert_msg(book_redo(s.book, &s.run, what, &s.why), "%s", s.why.text);
		shelf_take(&s, s.run.info.id);
	}
	ck_assert_str_eq(shelf_line(&s, false), "BS A 1, IS P 2.5");
	ck_assert(!book_redo(s.book, &s.run, what, &s.why));
	/* and taken back again */
	ck_assert(shelf_undo(&s));
	ck_assert_str_eq(shelf_line(&s, false), "BS A 1, IS P 2");
	/* after something else it is gone */
	ck_assert(shelf_book(&s, LEVEL_IS, "Q", "3"));
	ck_assert(!book_redo(s.book, &s.run, what, &s.why));
	shelf_close(&s);
}
END_TEST

START_TEST(test_nothing_to_redo)
{
	struct shelf s;
	char what[160];
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_LOOP);
	ck_assert(!book_redo(s.book, &s.run, what, &s.why));
	FAULT(&s, FAULT_INPUT, "nothing was just taken back in this run");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("undo", test_nothing_to_redo, test_several, test_change_and_strike,
	                 test_run_itself, test_one_run_only, test_imported, test_any_changes,
	                 test_redo);
}
