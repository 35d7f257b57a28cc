/* What undo and redo find on their way back through the journal, held against two questions to the
 * whole of it. */
#include "book/store.h"

#include "books.h"
#include "chance.h"
#include "suite.h"

#define CHANGES 400

/* Rows that undo reaches: a run, and what is struck with a reason (data/schema.sql). */
static const char done[] =
    "SELECT action FROM journal WHERE run=?1 AND tbl IN ('run', 'sight', 'water', 'air', 'gauge', "
    "'setout', 'head') AND undoes IS NULL AND action NOT IN (SELECT undoes FROM journal WHERE "
    "run=?1 AND act='undo' AND action NOT IN (SELECT undoes FROM journal WHERE run=?1 AND "
    "act='redo')) ORDER BY seq DESC LIMIT 1";
static const char undone[] =
    "SELECT action FROM journal WHERE run=?1 AND act='undo' AND action NOT IN (SELECT undoes FROM "
    "journal WHERE run=?1 AND act='redo') AND action > (SELECT coalesce(max(action), 0) FROM "
    "journal WHERE run=?1 AND undoes IS NULL) ORDER BY seq DESC LIMIT 1";
static const char last[] = "SELECT undoes FROM journal WHERE run=?1 ORDER BY seq DESC LIMIT 1";

static int64_t asked(struct shelf *s, const char *sql)
{
	bool ok = true;
	int64_t action = 0;
	sqlite3_stmt *statement = sql_query(s->book, &s->why, sql, "i", s->run.info.id);
	ck_assert_ptr_nonnull(statement);
	if (sql_row(s->book, statement, &ok, &s->why))
		action = sqlite3_column_int64(statement, 0);
	ck_assert(sql_done(s->book, statement, ok, &s->why));
	return action;
}

static int reverse(struct shelf *s, bool again)
{
	char what[160];
	int64_t action = asked(s, again ? undone : done);
	bool ok = again ? book_redo(s->book, &s->run, what, &s->why)
	                : book_undo(s->book, &s->run, what, &s->why);
	/* The first action of a run began it, and stays. */
	if (!ok) {
		ck_assert_int_eq(s->why.kind, FAULT_INPUT);
		ck_assert_int_le(action, again ? 0 : s->run.info.id == 1 ? 2 : 3);
		return 0;
	}
	shelf_take(s, s->run.info.id);
	ck_assert_int_eq(asked(s, last), action);
	return 1;
}

START_TEST(test_found)
{
	uint64_t seed = chance_seed("undo found");
	struct shelf s;
	int reversed = 0;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	shelf_begin(&s, "b", LEVEL_OPEN);
	for (int i = 0; i < CHANGES; i++) {
		size_t count, at;
		char reading[16], name[16];
		if (chance(&seed, 0, 9) == 0)
			shelf_take(&s, 3 - s.run.info.id);
		count = s.run.run.count;
		at = count ? (size_t)chance(&seed, 0, (int64_t)count - 1) : 0;
		snprintf(reading, sizeof reading, "%d.5", (int)chance(&seed, 0, 3));
		snprintf(name, sizeof name, "n%d", i);
		switch (chance(&seed, 0, 8)) {
		case 0:
			shelf_book(&s, LEVEL_BS, "A", reading);
			break;
		case 1:
			shelf_book(&s, LEVEL_IS, "P", reading);
			break;
		case 2:
			if (count && s.run.run.sight[at].state == LEVEL_BOOKED)
				shelf_change(&s, at, LEVEL_IS, "Q", reading);
			break;
		case 3:
			if (count && s.run.run.sight[at].state == LEVEL_BOOKED)
				shelf_strike(&s, at);
			break;
		case 4:
			ck_assert(book_run_rename(s.book, s.run.info.id, name, &s.why));
			shelf_take(&s, s.run.info.id);
			break;
		default:
			reversed += reverse(&s, chance(&seed, 0, 2) == 0);
		}
	}
	ck_assert_int_gt(reversed, CHANGES / 5);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("undo_found", test_found);
}
