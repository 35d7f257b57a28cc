/* SQLite's memory failing at each allocation of a change: what was refused left nothing behind,
 * what was kept is whole, and nobody is accused of it afterwards. */
#include <sqlite3.h>

#include "rodbook/book/journal.h"
#include "unit/books.h"
#include "unit/suite.h"

static sqlite3_mem_methods usual;
static long calls, fail_at; /* 0: never */

static void *failing_malloc(int size)
{
	return ++calls == fail_at ? NULL : usual.xMalloc(size);
}

static void *failing_realloc(void *old, int size)
{
	return ++calls == fail_at ? NULL : usual.xRealloc(old, size);
}

/* Before SQLite is used. */
static bool install(void)
{
	sqlite3_mem_methods failing;
	if (sqlite3_config(SQLITE_CONFIG_GETMALLOC, &usual) != SQLITE_OK)
		return false;
	failing = usual;
	failing.xMalloc = failing_malloc;
	failing.xRealloc = failing_realloc;
	return sqlite3_config(SQLITE_CONFIG_MALLOC, &failing) == SQLITE_OK;
}

/* What is tried, in a run with a BS on A and an FS on B. */
static bool book_sight(struct shelf *s)
{
	struct level_sight sight = {.kind = LEVEL_BS};
	struct book_note note = {.reading = "1.5", .remark = "wet"};
	struct book_settings settings;
	strcpy(sight.station, "B");
	return book_settings(s->book, &settings, &s->why) &&
	       book_read_sight(&settings, &note, &sight, &s->why) &&
	       book_add(s->book, &s->run, 2, &sight, &note, &s->why);
}

static bool change_sight(struct shelf *s)
{
	struct level_sight sight = s->run.run.sight[1];
	struct book_note note = book_note_of(&s->run.note[1]);
	strcpy(note.remark, "read again");
	return book_change(s->book, &s->run, 1, &sight, &note, &s->why);
}

static bool strike_sight(struct shelf *s)
{
	return book_strike(s->book, &s->run, 1, false, "slipped", &s->why);
}

static bool undo_last(struct shelf *s)
{
	char what[160];
	return book_undo(s->book, &s->run, what, &s->why);
}

static bool set_title(struct shelf *s)
{
	return book_set(s->book, "title", "a pond", &s->why);
}

static bool give_mark(struct shelf *s)
{
	return book_mark_set(s->book, "A", "10.5", "1 mm", "levelled", &s->why);
}

static bool verify(struct shelf *s)
{
	struct book_verified out;
	bool ok = book_verify(s->book, 0, &out, &s->why);
	/* A difference counts only where the whole was read. */
	if (ok)
		ck_assert_str_eq(out.difference, "");
	return ok;
}

static bool load(struct shelf *s)
{
	struct book_run run;
	if (!book_load(s->book, s->run.info.id, &run, &s->why))
		return false;
	ck_assert_str_eq(run.run.sight[0].station, "A");
	ck_assert_str_eq(run.note[1].remark, "as it was, and long enough that it is kept apart");
	book_run_free(&run);
	return true;
}

static const struct {
	const char *name;
	bool (*run)(struct shelf *s);
	int64_t entries; /* that it adds */
} trials[] = {
    {"book", book_sight, 1}, {"change", change_sight, 2}, {"strike", strike_sight, 1},
    {"undo", undo_last, 1},  {"set", set_title, 1},       {"mark", give_mark, 2},
    {"verify", verify, 0},   {"load", load, 0},
};

static void make(struct shelf *s)
{
	struct level_sight sight;
	struct book_note note;
	shelf_open(s, LEVEL_M);
	ck_assert(book_mark_set(s->book, "A", "10", NULL, NULL, &s->why));
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_read(s, LEVEL_FS, "B", "2", &sight, &note));
	strcpy(note.remark, "as it was, and long enough that it is kept apart");
	ck_assert(book_add(s->book, &s->run, 1, &sight, &note, &s->why));
	shelf_take(s, s->run.info.id);
}

/* The book as it was made. */
struct template
{
	char *bytes;
	size_t size;
	int64_t entries;
};

static void put_back(struct shelf *s, const struct template *t)
{
	book_run_free(&s->run);
	book_close(s->book);
	spill(s->path, t->bytes, t->size);
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s", s->why.text);
	shelf_take(s, 1);
}

static int64_t entries_of(struct shelf *s)
{
	struct book_verified out;
	struct fault why = {0};
	/* Anew: a handle that was refused must not hide what it left. */
	struct book *book = book_open(s->path, shelf_clock, &why);
	ck_assert_msg(book != NULL, "%s", why.text);
	ck_assert_msg(book_verify(book, 0, &out, &why), "%s", why.text);
	ck_assert_str_eq(out.difference, "");
	book_close(book);
	return out.entries;
}

static bool long_form(void)
{
	const char *form = getenv("RODBOOK_TRIALS");
	return form && strcmp(form, "long") == 0;
}

static void take_template(struct shelf *s, struct template *t)
{
	make(s);
	t->entries = entries_of(s);
	t->bytes = slurp(s->path, &t->size);
}

START_TEST(test_each_allocation)
{
	struct shelf s;
	struct template t;
	long tries = 0;
	take_template(&s, &t);
	for (size_t i = 0; i < sizeof trials / sizeof *trials; i++) {
		bool last = false;
		/* A prime stride behind the first ones; each in turn in the long form. */
		for (long n = 1; !last; n += long_form() || n < 30 ? 1 : 61 * EACH_OR(5)) {
			int64_t more;
			bool done;
			put_back(&s, &t);
			calls = 0;
			fail_at = n;
			done = trials[i].run(&s);
			/* SQLite does without some of them. */
			last = calls < n;
			fail_at = 0;
			more = entries_of(&s) - t.entries;
			tries++;
			ck_assert_msg(more == (done ? trials[i].entries : 0),
			              "%s, allocation %ld: %d entries more", trials[i].name, n,
			              (int)more);
			if (!done)
				ck_assert_msg(strstr(s.why.text, "out of memory") != NULL,
				              "%s, allocation %ld: %s", trials[i].name, n,
				              s.why.text);
		}
	}
	printf("memory-library\t%ld\t0\tan allocation of SQLite fails, each in turn, while the "
	       "library "
	       "books, changes, strikes, takes back, sets, verifies and loads\n",
	       tries);
	free(t.bytes);
	shelf_close(&s);
}
END_TEST

/* After a failure the same handle books on. */
START_TEST(test_goes_on)
{
	struct shelf s;
	struct template t;
	take_template(&s, &t);
	for (long n = 1; n < 200; n += 7) {
		int64_t now = t.entries;
		put_back(&s, &t);
		calls = 0;
		fail_at = n;
		if (book_sight(&s))
			now++;
		fail_at = 0;
		shelf_take(&s, s.run.info.id);
		ck_assert_msg(shelf_book(&s, LEVEL_IS, "C", "1.25") ||
		                  shelf_book(&s, LEVEL_BS, "B", "1.25"),
		              "%s", s.why.text);
		ck_assert_int_eq(entries_of(&s), now + 1);
	}
	free(t.bytes);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	if (!install())
		return EXIT_FAILURE;
	return RUN_TESTS("memory", test_each_allocation, test_goes_on);
}
