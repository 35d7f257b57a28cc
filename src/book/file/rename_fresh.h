/* A rename that never replaces. */
#ifndef BOOK_FILE_RENAME_FRESH_H
#define BOOK_FILE_RENAME_FRESH_H

#include <stdbool.h>

/* Renames `from` where nothing is named `to`. False with errno: EEXIST where something is; EINVAL
 * where the file system, ENOSYS where the kernel or the C library does not know such a rename. */
bool rename_fresh(const char *from, const char *to);

#endif
