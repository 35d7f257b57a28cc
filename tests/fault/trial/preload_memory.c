/* Loaded before the C library: counts allocations, and refuses the ones that the trial names. */
#define _GNU_SOURCE
#include "page.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *old, size_t size);
void *__libc_memalign(size_t alignment, size_t size);

typedef struct sqlite3 sqlite3;
typedef struct sqlite3_stmt sqlite3_stmt;
typedef int sql_prepare(sqlite3 *, const char *, int, sqlite3_stmt **, const char **);

static struct trial_page *page;
static sql_prepare *real_prepare;

/* Returns in each copy, and never in the program itself. */
static void stay(enum trial_stay where)
{
	int status = 0;
	char asked;
	if (!page || page->stay != where)
		return;
	if (write(STAY_ANSWER, &status, sizeof status) != sizeof status)
		_exit(1);
	while (read(STAY_ASK, &asked, 1) == 1) {
		pid_t copy = fork();
		if (copy == 0) {
			close(STAY_ASK);
			close(STAY_ANSWER);
			return;
		}
		if (copy < 0 || waitpid(copy, &status, 0) != copy ||
		    write(STAY_ANSWER, &status, sizeof status) != sizeof status)
			_exit(1);
	}
	_exit(0);
}

__attribute__((constructor)) static void begin(void)
{
	const char *path = getenv(TRIAL_PAGE);
	int fd = path ? open(path, O_RDWR | O_CLOEXEC) : -1;
	void *at;
	*(void **)&real_prepare = dlsym(RTLD_NEXT, "sqlite3_prepare_v2");
	if (fd < 0)
		return;
	at = mmap(NULL, sizeof *page, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
	close(fd);
	if (at != MAP_FAILED)
		page = at;
	stay(STAY_AT_START);
}

static bool refused(void)
{
	int64_t count;
	if (!page)
		return false;
	count = ++page->count;
	if (count < page->fail_from || count > page->fail_to)
		return false;
	errno = ENOMEM;
	return true;
}

void *malloc(size_t size)
{
	return refused() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
	return refused() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *old, size_t size)
{
	return refused() ? NULL : __libc_realloc(old, size);
}

void *aligned_alloc(size_t alignment, size_t size)
{
	return refused() ? NULL : __libc_memalign(alignment, size);
}

int posix_memalign(void **out, size_t alignment, size_t size)
{
	*out = refused() ? NULL : __libc_memalign(alignment, size);
	return *out ? 0 : ENOMEM;
}

/* The last thing that opening a book asks of SQLite. */
int sqlite3_prepare_v2(sqlite3 *db, const char *sql, int size, sqlite3_stmt **out,
                       const char **rest)
{
	if (page && !page->opened && strcmp(sql, "PRAGMA journal_mode=DELETE") == 0) {
		page->opened = page->count;
		stay(STAY_OPENED);
	}
	return real_prepare(db, sql, size, out, rest);
}
