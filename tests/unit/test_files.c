/* Files that are whole or not there: their names, their permissions, what is never written over. */
#include "rodbook/book/files.h"

#include <sys/stat.h>

#include "books.h"
#include "suite.h"

struct place {
	struct shelf s;
	char path[160], partial[BOOK_PATH_BYTES];
	int fd;
};

static void at(struct place *p, const char *name)
{
	shelf_open(&p->s, LEVEL_M);
	snprintf(p->path, sizeof p->path, "%s/%s", p->s.dir, name);
}

static bool begin(struct place *p, unsigned mode)
{
	p->s.why = (struct fault){0};
	return book_file_begin(p->path, mode, p->partial, &p->fd, &p->s.why);
}

static void put(struct place *p, const char *text)
{
	ck_assert_int_eq(write(p->fd, text, strlen(text)), (ssize_t)strlen(text));
	close(p->fd);
}

static bool is_there(const char *path)
{
	return access(path, F_OK) == 0;
}

static unsigned mode_of(const char *path)
{
	struct stat info;
	ck_assert_int_eq(stat(path, &info), 0);
	return info.st_mode & 07777;
}

static void holds(const char *path, const char *text)
{
	size_t size;
	char *got = slurp(path, &size);
	ck_assert_str_eq(got, text);
	free(got);
}

START_TEST(test_moved_whole)
{
	struct place p;
	at(&p, "page.txt");
	umask(022);
	ck_assert_msg(begin(&p, 0666), "%s", p.s.why.text);
	ck_assert(!is_there(p.path));
	ck_assert_ptr_nonnull(strstr(p.partial, "/page.txt."));
	put(&p, "one\n");
	ck_assert(book_file_end(p.partial, p.path, false, &p.s.why));
	ck_assert(!is_there(p.partial));
	holds(p.path, "one\n");
	ck_assert_uint_eq(mode_of(p.path), 0644);
	/* one that is there gives its permissions, and is replaced only where that is asked for */
	ck_assert_int_eq(chmod(p.path, 0604), 0);
	ck_assert(begin(&p, 0666));
	put(&p, "two\n");
	ck_assert(!book_file_end(p.partial, p.path, false, &p.s.why));
	FAULT(&p.s, FAULT_FILE, "exists already");
	ck_assert(!is_there(p.partial));
	holds(p.path, "one\n");
	ck_assert(begin(&p, 0666));
	put(&p, "two\n");
	ck_assert_msg(book_file_end(p.partial, p.path, true, &p.s.why), "%s", p.s.why.text);
	holds(p.path, "two\n");
	ck_assert_uint_eq(mode_of(p.path), 0604);
	/* nobody but its owner reads a new one that asks for that */
	snprintf(p.path, sizeof p.path, "%s/own.txt", p.s.dir);
	ck_assert(begin(&p, 0600));
	put(&p, "");
	ck_assert_uint_eq(mode_of(p.partial), 0600);
	unlink(p.partial);
	shelf_close(&p.s);
}
END_TEST

START_TEST(test_cannot_be_made)
{
	struct place p;
	char longest[BOOK_PATH_BYTES + 8];
	at(&p, "none/page.txt");
	ck_assert(!begin(&p, 0600));
	FAULT(&p.s, FAULT_FILE, "cannot be written: No such file or directory");
	/* the file of another process that writes to the same place is left alone */
	snprintf(p.path, sizeof p.path, "%s/page.txt", p.s.dir);
	ck_assert(begin(&p, 0600));
	put(&p, "mine\n");
	ck_assert(!begin(&p, 0600));
	FAULT(&p.s, FAULT_FILE, "cannot be written: File exists");
	holds(p.partial, "mine\n");
	unlink(p.partial);
	/* moved to where there is no folder */
	ck_assert(begin(&p, 0600));
	put(&p, "lost\n");
	snprintf(p.path, sizeof p.path, "%s/none/page.txt", p.s.dir);
	ck_assert(!book_file_end(p.partial, p.path, false, &p.s.why));
	FAULT(&p.s, FAULT_FILE, "cannot be written: No such file or directory");
	ck_assert(!is_there(p.partial));
	memset(longest, 'a', sizeof longest);
	longest[BOOK_PATH_BYTES - 1] = '\0';
	p.s.why = (struct fault){0};
	ck_assert(!book_file_begin(longest, 0600, p.partial, &p.fd, &p.s.why));
	FAULT(&p.s, FAULT_FILE, "File name too long");
	shelf_close(&p.s);
}
END_TEST

/* sqlite.org, Database File Format, sections 3 and 4. */
START_TEST(test_names_of_journals)
{
	static const struct {
		const char *path;
		bool is_free;
	} cases[] = {
	    {"a-journal", false}, {"a-wal", false},
	    {"a-shm", false},     {"x.rodbook-journal", false},
	    {"-journal", true},   {"-wal", true},
	    {"-shm", true},       {"a-journals", true},
	    {"journal", true},    {"a-wall", true},
	    {"a.rodbook", true},  {"a-wal.rodbook", true},
	    {"", true},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct fault why = {0};
		ck_assert_msg(book_file_name_is_free(cases[i].path, &why) == cases[i].is_free, "%s",
		              cases[i].path);
		ck_assert_int_eq(why.kind, cases[i].is_free ? FAULT_NONE : FAULT_FILE);
	}
}
END_TEST

/* A begun file and a new book are refused such a name before anything is written. */
START_TEST(test_journals_are_refused)
{
	struct place p;
	at(&p, "x.rodbook-wal");
	ck_assert(!begin(&p, 0600));
	FAULT(&p.s, FAULT_FILE, "choose another name");
	p.s.why = (struct fault){0};
	ck_assert(!book_create(p.path, LEVEL_M, "", shelf_clock, &p.s.why));
	FAULT(&p.s, FAULT_FILE, "a journal that SQLite keeps");
	/* the journal of another book would be played back into a new one */
	for (int i = 0; i < 2; i++) {
		char beside[200];
		snprintf(p.path, sizeof p.path, "%s/y.rodbook", p.s.dir);
		snprintf(beside, sizeof beside, "%s%s", p.path, i ? "-wal" : "-journal");
		spill(beside, "x", 1);
		p.s.why = (struct fault){0};
		ck_assert(!book_create(p.path, LEVEL_M, "", shelf_clock, &p.s.why));
		FAULT(&p.s, FAULT_FILE, "exists already");
		unlink(beside);
	}
	p.s.why = (struct fault){0};
	ck_assert(book_create(p.path, LEVEL_M, "", shelf_clock, &p.s.why));
	ck_assert_int_eq(p.s.why.kind, FAULT_NONE);
	ck_assert_uint_eq(mode_of(p.path), 0600);
	ck_assert(!book_create(p.path, LEVEL_M, "", shelf_clock, &p.s.why));
	FAULT(&p.s, FAULT_FILE, "a book is never overwritten");
	shelf_close(&p.s);
}
END_TEST

/* The first 16 bytes of every SQLite file (sqlite.org, Database File Format, section 1.3). */
START_TEST(test_is_book)
{
	static const struct {
		const char *text;
		size_t size;
		bool is_book;
	} cases[] = {
	    {"SQLite format 3\0", 16, true}, {"SQLite format 3\0more", 20, true},
	    {"SQLite format 3", 15, false},  {"SQLite format 4\0", 16, false},
	    {"SQLite format 3 ", 16, false}, {"", 0, false},
	};
	struct place p;
	at(&p, "it");
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		spill(p.path, cases[i].text, cases[i].size);
		ck_assert_msg(book_file_is_book(p.path) == cases[i].is_book, "case %zu", i);
	}
	unlink(p.path);
	ck_assert(!book_file_is_book(p.path));
	ck_assert(!book_file_is_book(p.s.dir));
	ck_assert(book_file_is_book(p.s.path));
	/* nor a pipe, which would wait for a writer */
	ck_assert_int_eq(mkfifo(p.path, 0600), 0);
	ck_assert(!book_file_is_book(p.path));
	shelf_close(&p.s);
}
END_TEST

START_TEST(test_folders)
{
	struct place p;
	at(&p, "page.txt");
	ck_assert(book_file_sync_folder(p.path));
	ck_assert(book_file_sync_folder("page.txt"));
	ck_assert(book_file_sync_folder("/page.txt"));
	snprintf(p.path, sizeof p.path, "%s/none/page.txt", p.s.dir);
	ck_assert(!book_file_sync_folder(p.path));
	shelf_close(&p.s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("files", test_moved_whole, test_cannot_be_made, test_names_of_journals,
	                 test_journals_are_refused, test_is_book, test_folders);
}
