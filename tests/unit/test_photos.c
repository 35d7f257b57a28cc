/* Digests of photographs: which file a name stands for, and what keeps it from having one. */
#include "rodbook/book/photos.h"

#include <sys/stat.h>

#include "books.h"
#include "suite.h"

/* Of the texts "", "abc" and the longer one of test_digest.c: NIST, FIPS 180-4 (from memory). */
#define EMPTY "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
#define ABC "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

static char digests[BOOK_DIGESTS_BYTES], said[BOOK_PHOTOS_SAID_BYTES];

static void put(const struct shelf *s, const char *name, const char *text)
{
	char path[200];
	snprintf(path, sizeof path, "%s/%s", s->dir, name);
	spill(path, text, strlen(text));
}

static void ask(const struct shelf *s, const char *names)
{
	memset(digests, 'z', sizeof digests - 1);
	memset(said, 'z', sizeof said - 1);
	book_photo_digests(s->book, names, digests, said);
}

START_TEST(test_beside_the_book)
{
	static const struct {
		const char *names, *digests, *said;
	} cases[] = {
	    {"", "", ""},
	    {"a.jpg", ABC, ""},
	    {"a.jpg b.jpg", ABC " " EMPTY, ""},
	    {"b.jpg a.jpg", EMPTY " " ABC, ""},
	    /* a whole name with blanks in it comes first */
	    {"two words.jpg", EMPTY, ""},
	    {"none.jpg", "", "the photograph none.jpg is missing"},
	    {"none.jpg a.jpg", "- " ABC, "the photograph none.jpg is missing"},
	    {"a.jpg none.jpg", ABC " -", "the photograph none.jpg is missing"},
	    {"none.jpg nor.jpg", "",
	     "the photograph none.jpg is missing; the photograph nor.jpg is missing"},
	    {"folder", "", "the photograph folder is no plain file"},
	    {"pipe a.jpg", "- " ABC, "the photograph pipe is no plain file"},
	    {"/none/a.jpg", "", "the photograph /none/a.jpg is missing"},
	};
	struct shelf s;
	char path[200];
	shelf_open(&s, LEVEL_M);
	put(&s, "a.jpg", "abc");
	put(&s, "b.jpg", "");
	put(&s, "two words.jpg", "");
	snprintf(path, sizeof path, "%s/folder", s.dir);
	ck_assert_int_eq(mkdir(path, 0700), 0);
	snprintf(path, sizeof path, "%s/pipe", s.dir);
	ck_assert_int_eq(mkfifo(path, 0600), 0);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		ask(&s, cases[i].names);
		ck_assert_str_eq(digests, cases[i].digests);
		ck_assert_str_eq(said, cases[i].said);
	}
	/* the whole path of a file is not looked for beside the book */
	snprintf(path, sizeof path, "%s/a.jpg", s.dir);
	ask(&s, path);
	ck_assert_str_eq(digests, ABC);
	shelf_close(&s);
}
END_TEST

/* The working folder is looked in before the book's own. */
START_TEST(test_working_folder)
{
	struct shelf s;
	char here[400];
	shelf_open(&s, LEVEL_M);
	ck_assert_ptr_nonnull(getcwd(here, sizeof here));
	put(&s, "rodbook-test-here.jpg", "");
	ask(&s, "rodbook-test-here.jpg");
	ck_assert_str_eq(digests, EMPTY);
	ck_assert_int_eq(chdir("/"), 0);
	ask(&s, "rodbook-test-here.jpg");
	ck_assert_str_eq(digests, EMPTY);
	ck_assert_int_eq(chdir(s.dir), 0);
	put(&s, "rodbook-test-here.jpg", "abc");
	ask(&s, "rodbook-test-here.jpg");
	ck_assert_str_eq(digests, ABC);
	ck_assert_int_eq(chdir(here), 0);
	shelf_close(&s);
}
END_TEST

/* Five digests of 64 digits have room, parted by blanks. */
START_TEST(test_five)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	put(&s, "a", "abc");
	ask(&s, "a a a a a");
	ck_assert_str_eq(digests, ABC " " ABC " " ABC " " ABC " " ABC);
	ck_assert_str_eq(said, "");
	ask(&s, "a a a a a a");
	ck_assert_str_eq(said, "the photograph a is one too many for a digest");
	ck_assert_uint_le(strlen(digests), BOOK_DIGESTS_BYTES - 1);
	ck_assert_int_eq(strncmp(digests, ABC " " ABC " " ABC " " ABC " " ABC, 5 * 64 + 4), 0);
	ask(&s, "x a a a a a");
	ck_assert_str_eq(digests, "- " ABC " " ABC " " ABC " " ABC " " ABC);
	ck_assert_str_eq(said, "the photograph x is missing");
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("photos", test_beside_the_book, test_working_folder, test_five);
}
