/* A disk with no room left: booking says so and loses nothing. A limit on the size of files
 * stands in for the disk; the book's tables can grow no further, as on a full one. */
#include <signal.h>
#include <sys/resource.h>

#include "unit/books.h"
#include "unit/suite.h"

/* Sets the limit and gives the one before it. */
static rlim_t limit_files(rlim_t bytes)
{
	struct rlimit limit;
	rlim_t before;
	ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
	before = limit.rlim_cur;
	limit.rlim_cur = bytes;
	ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
	return before;
}

static off_t size_of(const char *path)
{
	struct stat info;
	ck_assert_int_eq(stat(path, &info), 0);
	return info.st_size;
}

static bool book_remark(struct shelf *s, const char *remark)
{
	struct level_sight sight;
	struct book_note note;
	ck_assert(shelf_read(s, LEVEL_IS, "P", "1.5", &sight, &note));
	snprintf(note.remark, sizeof note.remark, "%s", remark);
	if (!book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

START_TEST(test_full)
{
	struct shelf s;
	size_t booked = 1;
	rlim_t usual;
	char *text, remark[121];

	/* Else the limit would end the program. */
	signal(SIGXFSZ, SIG_IGN);
	memset(remark, 'x', 120);
	remark[120] = '\0';
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(&s, LEVEL_BS, "A", "1"));
	usual = limit_files((rlim_t)size_of(s.path) + 8192);
	while (booked < 500 && book_remark(&s, remark))
		booked++;
	ck_assert_uint_gt(booked, 2);
	ck_assert_uint_lt(booked, 500);
	ck_assert_int_eq(s.why.kind, FAULT_FILE);
	ck_assert_ptr_nonnull(strstr(s.why.text, s.path));
	/* and again */
	ck_assert(!book_remark(&s, remark));
	ck_assert_int_eq(s.why.kind, FAULT_FILE);
	/* the book can still be read, and printed */
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.run.count, booked);
	text = shelf_export(&s, "a");
	ck_assert_ptr_nonnull(strstr(text, remark));
	free(text);

	/* room again: it goes on where it stood, from the same handle */
	limit_files(usual);
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	ck_assert_uint_eq(s.run.run.count, booked + 1);
	ck_assert_int_eq(s.run.seq, 2 + (int64_t)booked + 1);
	book_close(s.book);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	shelf_take(&s, s.run.info.id);
	ck_assert_uint_eq(s.run.run.count, booked + 1);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("full", test_full);
}
