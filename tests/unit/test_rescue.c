/* What a rescue makes of a book, sound or not, and what it tells of what it leaves out. */
#include "rodbook/book/rescue.h"

#include <sys/stat.h>

#include "books.h"
#include "fault/forge.h"
#include "rodbook/book/closings.h"
#include "rodbook/book/journal.h"
#include "suite.h"

static char heard[4000];

static void hear(const char *what, const char *why, void *context)
{
	size_t used = strlen(heard);
	++*(int *)context;
	snprintf(heard + used, sizeof heard - used, "%s: %s\n", what, why);
}

static bool rescue(struct shelf *s, char path[160], struct book_rescued *out)
{
	int count = 0, lines = 0;
	bool ok;
	snprintf(path, 160, "%s/new.rodbook", s->dir);
	heard[0] = '\0';
	s->why = (struct fault){0};
	ok = book_rescue(s->path, path, shelf_clock, hear, &count, out, &s->why);
	for (const char *at = heard; *at; at++)
		lines += *at == '\n';
	ck_assert_int_eq(lines, count);
	return ok;
}

/* Entries: 1 unit, 2 title, 3 k, 4 mark A, 5 mark B, 6 rod R1, 7 run a, 8 BS, 9 FS, 10 run b, 11
 * BS. */
static void make(struct shelf *s)
{
	shelf_open(s, LEVEL_M);
	ck_assert(book_set(s->book, "title", "Otter pond", &s->why));
	ck_assert(book_set(s->book, "k", "0.2", &s->why));
	ck_assert(book_mark_set(s->book, "A", "10", "1 mm", NULL, &s->why));
	ck_assert(book_mark_set(s->book, "B", "11", NULL, NULL, &s->why));
	ck_assert(book_rod_set(s->book, &(struct book_rod){.name = "R1", .zero = "1 mm"}, &s->why));
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1"));
	ck_assert(shelf_book(s, LEVEL_FS, "P", "2"));
	shelf_begin(s, "b", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "B", "3"));
}

/* The new book proves itself, and holds so many rows and entries. */
static struct book *opened(const char *path, struct book_verified *out)
{
	struct fault why = {0};
	struct book *made = book_open(path, shelf_clock, &why);
	ck_assert_msg(made != NULL, "%s", why.text);
	ck_assert_msg(book_verify(made, 0, out, &why), "%s", why.text);
	ck_assert_str_eq(out->difference, "");
	return made;
}

/* A book in which nothing is damaged is rescued entry for entry, and says all that the old one
 * says. */
START_TEST(test_whole)
{
	struct shelf s;
	struct book_rescued out;
	struct book_verified verified, again;
	struct stat info;
	char path[160];
	make(&s);
	ck_assert(book_verify(s.book, 0, &verified, &s.why));
	ck_assert_msg(rescue(&s, path, &out), "%s", s.why.text);
	ck_assert(out.whole && out.certain);
	ck_assert_int_eq(out.entries, 11);
	ck_assert_int_eq(out.last, 11);
	ck_assert_uint_eq(out.rows, 11);
	ck_assert_uint_eq(out.differ, 0);
	ck_assert_uint_eq(out.lost, 0);
	ck_assert_str_eq(heard, "");
	book_close(opened(path, &again));
	ck_assert_str_eq(again.digest, verified.digest);
	ck_assert_int_eq(stat(path, &info), 0);
	ck_assert_uint_eq(info.st_mode & 0777, 0600);
	/* and never over a file that is there */
	ck_assert(!rescue(&s, path, &out));
	FAULT(&s, FAULT_FILE, "exists already");
	shelf_close(&s);
}
END_TEST

/* Nothing is left beside a rescue, whatever came of it. */
START_TEST(test_nothing)
{
	struct shelf s;
	struct book_rescued out;
	char path[160], zeros[8192] = "";
	make(&s);
	book_close(s.book);
	s.book = NULL;
	spill(s.path, zeros, sizeof zeros);
	ck_assert(!rescue(&s, path, &out));
	FAULT(&s, FAULT_FILE, "nothing of a book is in");
	ck_assert_int_ne(access(path, F_OK), 0);
	spill(s.path, "", 0);
	ck_assert(!rescue(&s, path, &out));
	FAULT(&s, FAULT_FILE, "nothing of a book is in");
	unlink(s.path);
	ck_assert(!rescue(&s, path, &out));
	FAULT(&s, FAULT_FILE, "No such file or directory");
	ck_assert_int_eq(mkdir(s.path, 0700), 0);
	ck_assert(!rescue(&s, path, &out));
	FAULT(&s, FAULT_FILE, "is no regular file");
	ck_assert_int_eq(rmdir(s.path), 0);
	/* the folder is empty again */
	ck_assert_int_eq(rmdir(s.dir), 0);
	book_run_free(&s.run);
}
END_TEST

/* Where SQLite finds no way through the file, the pages have the journal: whole, though nobody can
 * say that no entry came after its last. */
START_TEST(test_from_pages)
{
	struct shelf s;
	struct book_rescued out;
	struct book_verified verified, again;
	char path[160], *bytes;
	size_t size;
	make(&s);
	ck_assert(book_verify(s.book, 0, &verified, &s.why));
	book_close(s.book);
	s.book = NULL;
	bytes = slurp(s.path, &size);
	memset(bytes, 0, 100);
	spill(s.path, bytes, size);
	ck_assert_msg(rescue(&s, path, &out), "%s", s.why.text);
	ck_assert(out.whole && !out.certain);
	ck_assert_int_eq(out.entries, 11);
	ck_assert_int_eq(out.last, 11);
	ck_assert_uint_eq(out.rows, 11);
	book_close(opened(path, &again));
	ck_assert_str_eq(again.digest, verified.digest);
	free(bytes);
	shelf_close(&s);
}
END_TEST

/* What cannot be read is left out, told, and counted; the rest comes out. */
START_TEST(test_left_out)
{
	static const struct {
		const char *sql, *heard; /* heard: one a line */
		size_t rows, runs, sights, lost;
	} cases[] = {
	    /* an entry is gone: all rows come out */
	    {"SELECT 1", "", 11, 2, 3, 0},
	    {"UPDATE sight SET reading = 7 WHERE id = 2",
	     "sight 2: table and journal say something else of it: look at both\n"
	     "sight 2, FS on P: left out: this cannot stand in a book: the sight on P does not say "
	     "what was typed\n",
	     10, 2, 2, 1},
	    {"UPDATE run SET grade = 'none' WHERE id = 1",
	     "run 1: table and journal say something else of it: look at both\n"
	     "run 1, run a: left out: ",
	     11, 2, 3, 1},
	    {"UPDATE run SET plan = ' x' WHERE id = 1",
	     "run 1: table and journal say something else of it: look at both\n"
	     "run 1, run a: left out: ",
	     11, 2, 3, 1},
	    {"UPDATE run SET time = char(27) WHERE id = 1",
	     "run 1: table and journal say something else of it: look at both\n"
	     "run 1, run a: left out: ",
	     11, 2, 3, 1},
	    {"UPDATE setting SET value = 'red' WHERE name = 'k'",
	     "setting k: table and journal say something else of it: look at both\n"
	     "k: k is a number from -20 to 20, not \"red\"\n",
	     10, 2, 3, 1},
	    {"UPDATE setting SET value = char(27) WHERE name = 'title'",
	     "setting title: table and journal say something else of it: look at both\n"
	     "title: ",
	     10, 2, 3, 1},
	    /* a run without a name takes its rows along */
	    {"UPDATE run SET name = ' ' WHERE id = 1",
	     "run 1: table and journal say something else of it: look at both\n"
	     "run 1, run  : left out: this cannot stand in a book: the run has no name: write one, "
	     "such as north-shore\n"
	     "sight 1, BS on A: left out: its run is lost\n"
	     "sight 2, FS on P: left out: its run is lost\n",
	     8, 1, 1, 3},
	    /* a sight that names what is not there is without it */
	    {"UPDATE sight SET rod = 'R9' WHERE id = 2",
	     "sight 2: table and journal say something else of it: look at both\n"
	     "sight 2, FS on P: left out: the instrument or rod that it names is lost: it is "
	     "without\n",
	     11, 2, 3, 1},
	    {"UPDATE sight SET rod = 'R1' WHERE id = 2",
	     "sight 2: table and journal say something else of it: look at both\n", 11, 2, 3, 0},
	    {"UPDATE sight SET instrument = 'L9' WHERE id = 2",
	     "sight 2: table and journal say something else of it: look at both\n"
	     "sight 2, FS on P: left out: the instrument or rod that it names is lost: it is "
	     "without\n",
	     11, 2, 3, 1},
	    /* a row that nobody entered */
	    {"INSERT INTO mark SELECT 9, 'C', typed, unit, elevation, '', 0, '', time, NULL, '', "
	     "'', 0 FROM mark WHERE id = 1",
	     "", 12, 2, 3, 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct shelf s;
		struct book_rescued out;
		struct book_verified verified;
		char path[160], sql[600];
		make(&s);
		book_close(s.book);
		s.book = NULL;
		/* an entry less, of which the row stands in its table */
		snprintf(sql, sizeof sql, "DELETE FROM journal WHERE seq = 4; %s", cases[i].sql);
		forge(s.path, sql);
		ck_assert_msg(rescue(&s, path, &out), "%s: %s", sql, s.why.text);
		ck_assert_msg(strncmp(heard, cases[i].heard, strlen(cases[i].heard)) == 0, "%s\n%s",
		              sql, heard);
		ck_assert_msg(!out.whole && out.certain, "%s", sql);
		ck_assert_msg(out.lost == cases[i].lost, "%s: %zu lost", sql, out.lost);
		ck_assert_int_eq(out.entries, 10);
		ck_assert_int_eq(out.last, 11);
		ck_assert_msg(out.rows == cases[i].rows, "%s: %zu rows", sql, out.rows);
		ck_assert_msg(out.differ == (strstr(heard, "look at both") ? 1 : 0), "%s", sql);
		book_close(opened(path, &verified));
		ck_assert_msg(verified.runs == cases[i].runs && verified.sights == cases[i].sights,
		              "%s: %zu runs, %zu sights", sql, verified.runs, verified.sights);
		shelf_close(&s);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("rescue", test_whole, test_nothing, test_from_pages, test_left_out);
}
