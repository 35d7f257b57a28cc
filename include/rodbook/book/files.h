/* Files that are whole or not there: written beside their place, and moved there at the end. */
#ifndef RODBOOK_BOOK_FILES_H
#define RODBOOK_BOOK_FILES_H

#include <limits.h>
#include <stdbool.h>

#include "rodbook/level/fault.h"

/* Of a path with what stands behind it while the file is written. */
#define FILES_PATH_BYTES (PATH_MAX + 32)

/* Whether there is a book, or another SQLite file, at path. */
bool files_is_book(const char *path);

/* Makes the file that will stand at path, empty, in the same folder: `partial` is its name, *fd is
 * open for writing. A file that is there gives it its permissions; else it has those of `mode` that
 * the umask leaves. FAULT_FILE where it cannot be made, and where path is one of the names that
 * SQLite gives to the journals of a book: such a file would be taken for one. */
bool files_begin(const char *path, unsigned mode, char partial[FILES_PATH_BYTES], int *fd,
                 struct fault *why);

/* Moves the file to its place, in place of what is there only where `replace`, and puts the folder
 * on disk. On failure the file is gone, and what was there is as it was. */
bool files_end(const char *partial, const char *path, bool replace, struct fault *why);

/* Puts the folder that path stands in on disk: only then are the names in it safe. */
bool files_sync_folder(const char *path);

/* Refuses the names that SQLite gives to the journals of a book. FAULT_FILE. */
bool files_name_is_free(const char *path, struct fault *why);

#endif
