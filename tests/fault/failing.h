/* An allocator that fails once: the fail_at-th request from now on, counted in asked; 0: none. The
 * program is linked so that the C library and SQLite call it too. Sanitizers have an allocator of
 * their own: there nothing fails, and asked stays 0. */
#ifndef FAULT_FAILING_H
#define FAULT_FAILING_H

#include <stdbool.h>
#include <stdlib.h>

static long fail_at, asked;

#ifndef __SANITIZE_ADDRESS__
extern void *__libc_malloc(size_t size);
extern void *__libc_realloc(void *old, size_t size);
extern void *__libc_calloc(size_t count, size_t size);

static bool fails(void)
{
	return ++asked == fail_at;
}

void *malloc(size_t size)
{
	return fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
	return fails() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *old, size_t size)
{
	return fails() ? NULL : __libc_realloc(old, size);
}
#endif

#endif
