/* A second copy of a book: where it stands, what it says of itself, and what it may replace. */
#include "rodbook/book/second.h"

#include <sys/stat.h>

#include "books.h"
#include "rodbook/book/editors.h"
#include "suite.h"

static void begin(struct shelf *s, char folder[128])
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1"));
	snprintf(folder, 128, "%s/stick", s->dir);
	ck_assert_int_eq(mkdir(folder, 0700), 0);
}

static bool copy(struct shelf *s, const char *where, struct book_second *out)
{
	s->why = (struct fault){0};
	return book_second_copy(s->book, where, out, &s->why);
}

/* The copy is a book of its own that proves itself, and goes so far. */
static void holds(const char *path, int64_t seq, const char *digest)
{
	struct fault why = {0};
	struct book_verified verified;
	struct book *there = book_open(path, shelf_clock, &why);
	ck_assert_msg(there != NULL, "%s", why.text);
	ck_assert(book_verify(there, 0, &verified, &why));
	ck_assert_str_eq(verified.difference, "");
	ck_assert_int_eq(verified.last, seq);
	ck_assert_str_eq(verified.digest, digest);
	book_close(there);
}

/* Entries: the unit, the run, the BS. */
START_TEST(test_new_and_brought_up)
{
	struct shelf s;
	struct book_second out;
	struct book_witness whole;
	char folder[128], path[160];
	begin(&s, folder);
	ck_assert(book_witness(s.book, &whole, &s.why));
	ck_assert_int_eq(whole.seq, 3);
	ck_assert_msg(copy(&s, folder, &out), "%s", s.why.text);
	snprintf(path, sizeof path, "%s/test.rodbook", folder);
	ck_assert_str_eq(out.path, path);
	ck_assert(!out.replaced);
	ck_assert_int_eq(out.witness.seq, 3);
	ck_assert_str_eq(out.witness.digest, whole.digest);
	holds(path, 3, whole.digest);
	/* the same state again, and then a later one, by a folder with a slash behind it */
	ck_assert(copy(&s, folder, &out));
	ck_assert(out.replaced);
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	ck_assert(book_witness(s.book, &whole, &s.why));
	snprintf(path, sizeof path, "%s/", folder);
	ck_assert_msg(copy(&s, path, &out), "%s", s.why.text);
	snprintf(path, sizeof path, "%s/test.rodbook", folder);
	ck_assert_str_eq(out.path, path);
	ck_assert(out.replaced);
	holds(path, 4, whole.digest);
	/* under a name of its own */
	snprintf(path, sizeof path, "%s/may.rodbook", folder);
	ck_assert(copy(&s, path, &out));
	ck_assert_str_eq(out.path, path);
	ck_assert(!out.replaced);
	holds(path, 4, whole.digest);
	shelf_close(&s);
}
END_TEST

/* Editors that have the book open do not have its copy open. */
START_TEST(test_without_editors)
{
	struct shelf s;
	struct book_second out;
	struct book_editor *others;
	struct book *there;
	char folder[128];
	size_t count;
	begin(&s, folder);
	ck_assert(book_editor_enter(s.book, &others, &count, &s.why));
	free(others);
	ck_assert(copy(&s, folder, &out));
	for (int i = 0; i < 2; i++) {
		there = book_open(i ? s.path : out.path, shelf_clock, &s.why);
		ck_assert_ptr_nonnull(there);
		ck_assert(book_editor_enter(there, &others, &count, &s.why));
		ck_assert_uint_eq(count, i ? 1 : 0);
		free(others);
		book_close(there);
	}
	shelf_close(&s);
}
END_TEST

/* What stands there and is no earlier state of this book stays byte for byte. */
START_TEST(test_nothing_else_is_replaced)
{
	struct shelf s, other;
	struct book_second out;
	char folder[128], path[400], *before, *after;
	size_t size, then;
	struct book *there;
	begin(&s, folder);
	ck_assert(copy(&s, folder, &out));
	/* a copy that was booked into */
	there = book_open(out.path, shelf_clock, &s.why);
	ck_assert(book_set(there, "title", "mine", &s.why));
	book_close(there);
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	before = slurp(out.path, &size);
	ck_assert(!copy(&s, folder, &out));
	FAULT(&s, FAULT_FILE, "holds what this one lacks");
	ck_assert(!out.replaced);
	after = slurp(out.path, &then);
	ck_assert(size == then && memcmp(before, after, size) == 0);
	free(before);
	free(after);
	/* one that is longer by entries that this one does not have yet */
	ck_assert(book_set(s.book, "k", "0.2", &s.why));
	shelf_open(&other, LEVEL_FT);
	ck_assert(!copy(&s, other.path, &out));
	FAULT(&s, FAULT_FILE, "is another book");
	shelf_close(&other);
	ck_assert(!copy(&s, s.path, &out));
	FAULT(&s, FAULT_FILE, "is the book itself");
	ck_assert(!copy(&s, s.dir, &out));
	FAULT(&s, FAULT_FILE, "is the book itself");
	snprintf(path, sizeof path, "%s/note.txt", folder);
	spill(path, "mind the step\n", 14);
	ck_assert(!copy(&s, path, &out));
	FAULT(&s, FAULT_FILE, "exists already and is no book");
	/* a link to nothing is something */
	unlink(path);
	ck_assert_int_eq(symlink("nothing", path), 0);
	ck_assert(!copy(&s, path, &out));
	FAULT(&s, FAULT_FILE, "exists already");
	shelf_close(&s);
}
END_TEST

START_TEST(test_no_such_place)
{
	struct shelf s;
	struct book_second out;
	char folder[128], path[400], longest[BOOK_PATH_BYTES];
	begin(&s, folder);
	snprintf(path, sizeof path, "%s/none/x.rodbook", folder);
	ck_assert(!copy(&s, path, &out));
	FAULT(&s, FAULT_FILE, "cannot be written");
	snprintf(path, sizeof path, "%s/none/", folder);
	ck_assert(!copy(&s, path, &out));
	FAULT(&s, FAULT_FILE, "there is no folder");
	ck_assert(!copy(&s, "", &out));
	FAULT(&s, FAULT_FILE, "name a folder or a new file");
	memset(longest, 'a', sizeof longest);
	longest[sizeof longest - 1] = '\0';
	ck_assert(!copy(&s, longest, &out));
	FAULT(&s, FAULT_FILE, "too long");
	/* nothing is held after a refusal: the book is booked into */
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("second", test_new_and_brought_up, test_without_editors,
	                 test_nothing_else_is_replaced, test_no_such_place);
}
