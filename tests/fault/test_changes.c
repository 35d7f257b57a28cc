/* No memory while a sight is changed, struck, or that is taken back: each allocation fails in turn,
 * of the program and of SQLite alike. What is refused changes nothing, and nobody is accused. */
#include <string.h>

#include "rodbook/book/journal.h"
#include "unit/books.h"
#include "unit/suite.h"
#include "fault/failing.h"

enum act { CHANGE, STRIKE, UNDO };

static bool play(struct shelf *s, enum act act)
{
	struct level_sight sight = s->run.run.sight[1];
	struct book_note note = book_note_of(&s->run.note[1]);
	char what[160];
	strcpy(note.remark, "windy");
	return act == CHANGE   ? book_change(s->book, &s->run, 1, &sight, &note, &s->why)
	       : act == STRIKE ? book_strike(s->book, &s->run, 1, true, "a slip", &s->why)
	                       : book_undo(s->book, &s->run, what, &s->why);
}

/* One line for the eye: how often each was refused for want of memory. */
static void each(enum act act, const char *name)
{
	struct shelf s;
	struct book_verified verified = {0};
	long refused = 0, tries = 0;
	bool done = false;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_sight(&s, LEVEL_BS, "A", "2", "40", ""));
	ck_assert(shelf_sight(&s, LEVEL_FS, "B", "1", "40", ""));
	for (long at = 1; !done; at++) {
		int64_t before = s.run.seq;
		bool ok;
		asked = 0;
		fail_at = at;
		ok = play(&s, act);
		fail_at = 0;
		tries = asked;
		done = asked < at;
		shelf_take(&s, s.run.info.id);
		ck_assert_msg((s.run.seq > before) == ok, "%s: allocation %ld", name, at);
		refused += !ok;
		verified = (struct book_verified){0};
		ck_assert_msg(book_verify(s.book, 0, &verified, &s.why) && !*verified.difference,
		              "%s: allocation %ld: %s", name, at, verified.difference);
		/* Some allocations are done without: what was done is there to do again. */
		if (ok && !done) {
			char what[160];
			ck_assert(act == UNDO ? book_redo(s.book, &s.run, what, &s.why)
			                      : book_undo(s.book, &s.run, what, &s.why));
			shelf_take(&s, s.run.info.id);
		}
	}
	printf("%s: %ld allocations, %ld times refused\n", name, tries, refused);
#ifndef __SANITIZE_ADDRESS__
	ck_assert_int_gt(refused, 20);
#endif
	shelf_close(&s);
}

START_TEST(test_change)
{
	each(CHANGE, "change");
}
END_TEST

START_TEST(test_strike)
{
	each(STRIKE, "strike");
}
END_TEST

START_TEST(test_undo)
{
	each(UNDO, "undo");
}
END_TEST

int main(void)
{
	return RUN_TESTS("changes", test_change, test_strike, test_undo);
}
