#define _GNU_SOURCE /* renameat2 */
#include "book/file/rename_fresh.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>

bool rename_fresh(const char *from, const char *to)
{
#ifdef RENAME_NOREPLACE
	return renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0;
#else
	(void)from;
	(void)to;
	errno = ENOSYS;
	return false;
#endif
}
