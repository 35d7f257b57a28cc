/* A second copy is whole or not there: no room, and killed on the way. */
#include <dirent.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "rodbook/book/second.h"
#include "unit/books.h"
#include "unit/suite.h"

static void limit_files(rlim_t bytes)
{
	struct rlimit limit;
	ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
	limit.rlim_cur = bytes;
	ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
}

static void begin(struct shelf *s, char folder[128])
{
	shelf_open(s, LEVEL_M);
	shelf_begin(s, "a", LEVEL_OPEN);
	ck_assert(shelf_book(s, LEVEL_BS, "A", "1"));
	snprintf(folder, 128, "%s/stick", s->dir);
	ck_assert_int_eq(mkdir(folder, 0700), 0);
}

/* What a folder holds; parts: only what was cut short. */
static int files_in(const char *folder, bool parts)
{
	DIR *dir = opendir(folder);
	struct dirent *entry;
	int count = 0;
	ck_assert_ptr_nonnull(dir);
	while ((entry = readdir(dir)))
		if (*entry->d_name != '.')
			count += !parts || strstr(entry->d_name, ".part") != NULL;
	closedir(dir);
	return count;
}

/* The copy proves itself, and goes so far. */
static void holds(const char *path, int64_t seq)
{
	struct fault why = {0};
	struct book_verified verified;
	struct book *copy = book_open(path, shelf_clock, &why);
	ck_assert_msg(copy != NULL, "%s", why.text);
	ck_assert(book_verify(copy, 0, &verified, &why));
	ck_assert_str_eq(verified.difference, "");
	ck_assert_int_eq(verified.last, seq);
	book_close(copy);
}

static bool copy(struct shelf *s, const char *where, struct book_second *out)
{
	s->why.kind = FAULT_NONE;
	return book_second_copy(s->book, where, out, &s->why);
}

/* Wherever the room ends: nothing is left, and an earlier copy stays whole. */
START_TEST(test_no_room)
{
	struct shelf s;
	struct book_second out;
	char folder[128];
	int64_t seq;
	signal(SIGXFSZ, SIG_IGN);
	begin(&s, folder);
	for (rlim_t room = 0; room < 40000; room += 8192) {
		limit_files(room);
		ck_assert(!copy(&s, folder, &out));
		ck_assert_int_eq(s.why.kind, FAULT_FILE);
		ck_assert_int_eq(files_in(folder, false), 0);
	}
	limit_files(RLIM_INFINITY);
	ck_assert_msg(copy(&s, folder, &out), "%s", s.why.text);
	seq = out.witness.seq;
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	limit_files(20000);
	ck_assert(!copy(&s, folder, &out));
	limit_files(RLIM_INFINITY);
	ck_assert_int_eq(files_in(folder, false), 1);
	holds(out.path, seq);
	shelf_close(&s);
}
END_TEST

/* Killed on the way: what stands under the book's name is the earlier copy, whole. */
START_TEST(test_killed)
{
	struct shelf s;
	struct book_second out;
	char folder[128];
	int64_t seq;
	begin(&s, folder);
	ck_assert(copy(&s, folder, &out));
	seq = out.witness.seq;
	ck_assert(shelf_book(&s, LEVEL_FS, "B", "1"));
	for (rlim_t room = 0; room < 60000; room += 12288) {
		int status;
		pid_t child = fork();
		if (child == 0) {
			signal(SIGXFSZ, SIG_DFL);
			limit_files(room);
			copy(&s, folder, &out);
			_exit(0);
		}
		ck_assert_int_eq(waitpid(child, &status, 0), child);
		ck_assert(WIFSIGNALED(status));
		snprintf(out.path, sizeof out.path, "%s/test.rodbook", folder);
		holds(out.path, seq);
		/* beside it only what says that it is a part */
		ck_assert_int_eq(files_in(folder, false) - files_in(folder, true), 1);
	}
	ck_assert_msg(copy(&s, folder, &out), "%s", s.why.text);
	holds(out.path, seq + 1);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("second", test_no_room, test_killed);
}
