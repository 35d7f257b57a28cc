/* A closed run keeps the elevations that it was closed with, and says which marks are otherwise
 * now. */
#include "books.h"
#include "fault/forge.h"
#include "rodbook/book/closings.h"
#include "sights.h"
#include "suite.h"

/* A clock that moves on by a second at each look. */
static int ticks;

static void tick(char out[BOOK_TIME_BYTES])
{
	snprintf(out, BOOK_TIME_BYTES, "2026-05-04T09:%02d:%02d+02:00", ticks / 60, ticks % 60);
	ticks++;
}

static void give(struct shelf *s, const char *mark, const char *elevation, const char *u)
{
	ck_assert_msg(book_mark_set(s->book, mark, elevation, u, NULL, &s->why), "%s", s->why.text);
}

/* A at 10 m, u 1 mm, and C at 11 m are known; B and D are not. */
static void make(struct shelf *s)
{
	ticks = 0;
	shelf_open(s, LEVEL_M);
	shelf_reopen(s, tick);
	give(s, "A", "9", NULL);
	give(s, "A", "10", "1 mm");
	give(s, "C", "11", NULL);
	shelf_begin(s, "up", LEVEL_LINK);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1.5"));
	ck_assert(shelf_book(s, LEVEL_IS, "B", "1"));
	ck_assert(shelf_book(s, LEVEL_FS, "D", "1"));
	ck_assert(shelf_book(s, LEVEL_BS, "D", "1.5"));
	ck_assert(shelf_book(s, LEVEL_FS, "C", "1"));
	ck_assert_msg(book_run_close(s->book, &s->run, "paced", &s->why), "%s", s->why.text);
}

/* The known elevations of the run's sights in mm, - where none is. */
static const char *known_line(struct shelf *s)
{
	static char line[200];
	size_t used = 0;
	shelf_take(s, s->run.info.id);
	for (size_t i = 0; i < s->run.run.count; i++) {
		const struct level_sight *sight = &s->run.run.sight[i];
		char text[40] = "-";
		if (sight->has_known)
			snprintf(text, sizeof text, "%d/%d", (int)(sight->known / MM(1)),
			         (int)(sight->known_u / MM(1)));
		else
			ck_assert(sight->known == 0 && sight->known_u == 0);
		used += (size_t)snprintf(line + used, sizeof line - used, " %s %s", sight->station,
		                         text);
	}
	return line;
}

static void moved(const struct shelf *s, size_t i, const char *mark, int then, int now)
{
	const struct book_moved *m = &s->run.moved[i];
	ck_assert_str_eq(m->mark, mark);
	ck_assert(m->has_then == (then != 0) && m->has_now == (now != 0));
	ck_assert_int_eq(m->then / MM(1), then);
	ck_assert_int_eq(m->now / MM(1), now);
}

START_TEST(test_kept)
{
	struct shelf s;
	make(&s);
	ck_assert_str_eq(known_line(&s), " A 10000/1 B - D - D - C 11000/0");
	ck_assert_uint_eq(s.run.moved_count, 0);
	/* another elevation; a mark that gets one; one that is struck; another u alone is no move
	 */
	give(&s, "A", "10.5", "2 mm");
	ck_assert_str_eq(known_line(&s), " A 10000/1 B - D - D - C 11000/0");
	ck_assert_uint_eq(s.run.moved_count, 1);
	moved(&s, 0, "A", 10000, 10500);
	ck_assert_int_gt(strcmp(s.run.moved[0].time, "2026-05-04T09:00:09"), 0);
	give(&s, "D", "10.5", NULL);
	ck_assert(book_mark_strike(s.book, "C", &s.why));
	ck_assert_str_eq(known_line(&s), " A 10000/1 B - D - D - C 11000/0");
	ck_assert_uint_eq(s.run.moved_count, 3);
	moved(&s, 0, "A", 10000, 10500);
	moved(&s, 1, "D", 0, 10500);
	moved(&s, 2, "C", 11000, 0);
	give(&s, "A", "10", "2 mm");
	ck_assert_str_eq(known_line(&s), " A 10000/1 B - D - D - C 11000/0");
	ck_assert_uint_eq(s.run.moved_count, 2);
	/* opened again it goes by what is known now */
	ck_assert(book_run_reopen(s.book, s.run.info.id, "a look", &s.why));
	ck_assert_str_eq(known_line(&s), " A 10000/2 B - D 10500/0 D 10500/0 C -");
	ck_assert_uint_eq(s.run.moved_count, 0);
	shelf_close(&s);
}
END_TEST

/* A run that an earlier version closed kept no list: the marks are as the journal had them then. */
START_TEST(test_earlier_version)
{
	struct shelf s;
	make(&s);
	book_close(s.book);
	forge(s.path, "UPDATE closing SET known = ''");
	s.book = book_open(s.path, tick, &s.why);
	ck_assert_str_eq(known_line(&s), " A 10000/1 B - D - D - C 11000/0");
	ck_assert_uint_eq(s.run.moved_count, 0);
	give(&s, "A", "10.5", NULL);
	give(&s, "B", "10.5", NULL);
	ck_assert(book_mark_strike(s.book, "C", &s.why));
	ck_assert_str_eq(known_line(&s), " A 10000/1 B - D - D - C 11000/0");
	ck_assert_uint_eq(s.run.moved_count, 3);
	moved(&s, 0, "A", 10000, 10500);
	moved(&s, 1, "B", 0, 10500);
	moved(&s, 2, "C", 11000, 0);
	shelf_close(&s);
}
END_TEST

/* What a list of a closing may not be. */
START_TEST(test_spoiled)
{
	static const struct {
		const char *known;
		bool sound;
	} cases[] = {
	    {"10000000000 1000000 A'||x'0a'||'", true},
	    {"10000000000 1000000 A'||x'0a'||'11000000000 0 C'||x'0a'||'", true},
	    {"10000000000 0 A B'||x'0a'||'", true},
	    {"'||x'0a'||'", true},
	    {"10000000000 -1 A'||x'0a'||'", false},
	    {"10000000000 A'||x'0a'||'", false},
	    {"A'||x'0a'||'", false},
	    {"10000000000 0 '||x'0a'||'", false},
	    {"10000000000 0 A'||x'0a'||'rubbish'||x'0a'||'", false},
	    /* a name of 40 characters, and one of 41 */
	    {"1 0 0123456789012345678901234567890123456789'||x'0a'||'", true},
	    {"1 0 01234567890123456789012345678901234567890123456789012345678901234567890123456789"
	     "012345678901234567890123456789012345678901234567890123456789012345678901234567890123"
	     "4567890123456789'||x'0a'||'",
	     false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		char sql[600];
		int64_t id;
		bool ok;
		make(&s);
		id = s.run.info.id;
		book_run_free(&s.run);
		book_close(s.book);
		snprintf(sql, sizeof sql,
		         "PRAGMA ignore_check_constraints=ON; UPDATE closing SET known = '%s'",
		         cases[i].known);
		forge(s.path, sql);
		s.book = book_open(s.path, tick, &s.why);
		ck_assert_msg(s.book != NULL, "%s: %s", sql, s.why.text);
		ok = book_load(s.book, id, &s.run, &s.why);
		ck_assert_msg(ok == cases[i].sound, "%s", cases[i].known);
		if (!ok) {
			FAULT(&s, FAULT_SPOILED, "what a run was closed with cannot be read");
			s.run = (struct book_run){0};
		}
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("frozen", test_kept, test_earlier_version, test_spoiled);
}
