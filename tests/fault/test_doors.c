/* Doors through which something else than a book was touched, or a book was made half: names that
 * SQLite would read in its own way, journals, permissions, a write-ahead log. */
#include <errno.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <stdarg.h>
#include <sys/stat.h>
#include <sys/syscall.h>

#include "book/store.h"
#include "fault/forge.h"
#include "rodbook/book/files.h"
#include "unit/books.h"
#include "unit/suite.h"

/* A drive that keeps no locks: stands in for the system's call in the library, not in SQLite, which
 * asks for it by another name. */
static bool no_locks;

int fcntl(int fd, int command, ...)
{
	va_list list;
	void *argument;
	va_start(list, command);
	argument = va_arg(list, void *);
	va_end(list);
	if (no_locks && command == F_SETLK) {
		errno = ENOLCK;
		return -1;
	}
	return (int)syscall(SYS_fcntl, fd, command, argument);
}

START_TEST(test_no_locks)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	book_close(s.book);
	no_locks = true;
	s.book = book_open(s.path, shelf_clock, &s.why);
	no_locks = false;
	ck_assert_ptr_null(s.book);
	FAULT(&s, FAULT_FILE, "keeps no locks");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	shelf_close(&s);
}
END_TEST

static mode_t mode_of(const char *path)
{
	struct stat info;
	ck_assert_int_eq(stat(path, &info), 0);
	return info.st_mode & 07777;
}

static int entries_in(const char *dir)
{
	char command[200], line[40] = "";
	FILE *pipe;
	snprintf(command, sizeof command, "ls -A '%s' | wc -l", dir);
	pipe = popen(command, "r");
	ck_assert_ptr_nonnull(fgets(line, sizeof line, pipe));
	pclose(pipe);
	return atoi(line);
}

/* A book is its owner's, and less than that where the umask says so. */
START_TEST(test_mode)
{
	struct shelf s;
	char other[160];
	mode_t before = umask(022);
	shelf_open(&s, LEVEL_M);
	ck_assert_int_eq(mode_of(s.path), 0600);
	umask(0277);
	snprintf(other, sizeof other, "%s/other", s.dir);
	ck_assert(book_create(other, LEVEL_M, "", shelf_clock, &s.why) || s.why.kind == FAULT_FILE);
	umask(before);
	shelf_close(&s);
}
END_TEST

/* What is in the way stays, and nothing is left beside it. */
START_TEST(test_made_whole)
{
	static const char *const in_the_way[] = {"x", "x-journal", "x-wal"};
	for (size_t i = 0; i < sizeof in_the_way / sizeof *in_the_way; i++) {
		struct shelf s;
		char path[160], blocked[160];
		shelf_open(&s, LEVEL_M);
		snprintf(path, sizeof path, "%s/x", s.dir);
		snprintf(blocked, sizeof blocked, "%s/%s", s.dir, in_the_way[i]);
		spill(blocked, "mine", 4);
		ck_assert(!book_create(path, LEVEL_M, "", shelf_clock, &s.why));
		FAULT(&s, FAULT_FILE, "exists already");
		ck_assert_int_eq(entries_in(s.dir), 2);
		shelf_close(&s);
	}
}
END_TEST

/* Names that SQLite would take for a URI, or for a book in memory, are names of files. */
START_TEST(test_literal_names)
{
	static const char *const names[] = {"file:victim.db", "file:victim.db?mode=memory",
	                                    ":memory:", "file:///tmp/x", "-x"};
	struct shelf s;
	char here[400], was[400];
	shelf_open(&s, LEVEL_M);
	ck_assert_ptr_nonnull(getcwd(was, sizeof was));
	ck_assert_int_eq(chdir(s.dir), 0);
	spill("victim.db", "", 0);
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		struct stat info;
		struct book *book;
		if (strchr(names[i], '/')) {
			ck_assert(!book_create(names[i], LEVEL_M, "", shelf_clock, &s.why));
			continue;
		}
		ck_assert_msg(book_create(names[i], LEVEL_M, "pond", shelf_clock, &s.why), "%s",
		              s.why.text);
		ck_assert_int_eq(lstat(names[i], &info), 0);
		ck_assert_int_gt(info.st_size, 0);
		book = book_open(names[i], shelf_clock, &s.why);
		ck_assert_msg(book != NULL, "%s", s.why.text);
		book_close(book);
	}
	snprintf(here, sizeof here, "%s/victim.db", s.dir);
	ck_assert_int_eq(entries_in(s.dir), 6);
	{
		struct stat info;
		ck_assert_int_eq(stat(here, &info), 0);
		ck_assert_int_eq(info.st_size, 0);
	}
	ck_assert_int_eq(chdir(was), 0);
	shelf_close(&s);
}
END_TEST

/* A file that is written anew keeps its permissions; one that is new has those of the umask. */
START_TEST(test_replaced)
{
	static const char *const refused[] = {"b-journal", "b-wal", "b-shm"};
	struct shelf s;
	char path[160], partial[BOOK_PATH_BYTES];
	mode_t before = umask(022);
	int fd;
	shelf_open(&s, LEVEL_M);
	snprintf(path, sizeof path, "%s/rows.csv", s.dir);
	ck_assert(book_file_begin(path, 0666, partial, &fd, &s.why));
	close(fd);
	ck_assert(book_file_end(partial, path, true, &s.why));
	ck_assert_int_eq(mode_of(path), 0644);
	ck_assert_int_eq(chmod(path, 0600), 0);
	ck_assert(book_file_begin(path, 0666, partial, &fd, &s.why));
	ck_assert_int_eq(write(fd, "new", 3), 3);
	close(fd);
	ck_assert(book_file_end(partial, path, true, &s.why));
	ck_assert_int_eq(mode_of(path), 0600);
	/* and not over what is there, where that is not wished */
	ck_assert(book_file_begin(path, 0666, partial, &fd, &s.why));
	close(fd);
	ck_assert(!book_file_end(partial, path, false, &s.why));
	FAULT(&s, FAULT_FILE, "exists already");
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
		snprintf(path, sizeof path, "%s/%s", s.dir, refused[i]);
		ck_assert(!book_file_begin(path, 0666, partial, &fd, &s.why));
		FAULT(&s, FAULT_FILE, "a journal that SQLite keeps");
	}
	ck_assert_int_eq(entries_in(s.dir), 2);
	umask(before);
	shelf_close(&s);
}
END_TEST

/* A book that another program holds with a write-ahead log cannot be kept as one file. */
START_TEST(test_write_ahead_log)
{
	struct shelf s;
	sqlite3 *db;
	shelf_open(&s, LEVEL_M);
	book_close(s.book);
	ck_assert_int_eq(sqlite3_open_v2(s.path, &db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db,
	                              "PRAGMA journal_mode=WAL; BEGIN; SELECT count(*) FROM run",
	                              NULL, NULL, NULL),
	                 SQLITE_OK);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_ptr_null(s.book);
	FAULT(&s, FAULT_FILE, "leave that program first");
	sqlite3_close(db);
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert_msg(s.book != NULL, "%s", s.why.text);
	ck_assert(book_set(s.book, "title", "pond", &s.why));
	ck_assert_int_eq(entries_in(s.dir), 1);
	shelf_close(&s);
}
END_TEST

/* More statements than any command uses. */
START_TEST(test_many_statements)
{
	static char sql[400][32];
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	for (int i = 0; i < 400; i++) {
		int64_t value = 0;
		snprintf(sql[i], sizeof sql[i], "SELECT %d", i);
		ck_assert(sql_integer(s.book, sql[i], &value, &s.why));
		ck_assert_int_eq(value, i);
	}
	shelf_close(&s);
}
END_TEST

/* What writes outside of a change would be kept at once, and alone. */
START_TEST(test_no_write_alone)
{
	struct shelf s;
	shelf_open(&s, LEVEL_M);
	ck_assert(!sql_run(s.book, &s.why, "DELETE FROM setting", ""));
	FAULT(&s, FAULT_FILE, "nothing was changed");
	/* SQLite ended the change by itself, as it does when room or memory is short */
	ck_assert(book_begin(s.book, &s.why));
	ck_assert_int_eq(sqlite3_exec(s.book->db, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
	ck_assert(!book_set(s.book, "title", "pond", &s.why));
	ck_assert(!book_finish(s.book, true, &s.why));
	ck_assert(book_set(s.book, "title", "pond", &s.why));
	shelf_close(&s);
}
END_TEST

/* What the reader would refuse is not kept: here a length that is not what its text says. */
START_TEST(test_read_back)
{
	struct shelf s;
	struct book_run_info *runs;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	ck_assert(book_begin(s.book, &s.why));
	ck_assert(sql_run(s.book, &s.why, "UPDATE run SET grade='no grade' WHERE id=1", ""));
	ck_assert(journal_enter(s.book, "grade of run", 1, "run", "1", "{}", 0, &s.why));
	ck_assert(!book_finish(s.book, true, &s.why));
	FAULT(&s, FAULT_INPUT, "this cannot stand in a book: \"no grade\" is no grade");
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 1);
	ck_assert(!runs[0].unreadable);
	free(runs);
	shelf_close(&s);
}
END_TEST

/* A run that cannot be read keeps nobody from the others, and can be set right. */
START_TEST(test_unreadable_run)
{
	struct shelf s;
	struct book_run_info *runs;
	size_t count;
	shelf_open(&s, LEVEL_M);
	shelf_begin(&s, "a", LEVEL_OPEN);
	shelf_begin(&s, "b", LEVEL_OPEN);
	book_close(s.book);
	forge(s.path, "UPDATE run SET grade = 'no grade' WHERE id = 1");
	s.book = book_open(s.path, shelf_clock, &s.why);
	ck_assert(book_runs(s.book, &runs, &count, &s.why));
	ck_assert_uint_eq(count, 2);
	ck_assert(runs[0].unreadable);
	ck_assert_str_eq(runs[0].name, "a");
	ck_assert_str_eq(runs[0].grade, "");
	ck_assert(!runs[1].unreadable);
	free(runs);
	shelf_take(&s, 2);
	book_run_free(&s.run);
	ck_assert(!book_load(s.book, 1, &s.run, &s.why));
	FAULT(&s, FAULT_SPOILED, "\"no grade\" is no grade");
	ck_assert_msg(book_run_set_grade(s.book, 1, "", &s.why), "%s", s.why.text);
	shelf_take(&s, 1);
	shelf_close(&s);
}
END_TEST

int main(void)
{
	return RUN_TESTS("doors", test_no_locks, test_mode, test_made_whole, test_literal_names,
	                 test_replaced, test_write_ahead_log, test_many_statements,
	                 test_no_write_alone, test_read_back, test_unreadable_run);
}
