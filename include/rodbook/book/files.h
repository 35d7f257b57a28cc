/* Files that are whole or not there: written beside their place, and moved there at the end. */
#ifndef RODBOOK_BOOK_FILES_H
#define RODBOOK_BOOK_FILES_H

#include <stdbool.h>

#include "rodbook/level/fault.h"

/* Of a path with what stands behind it while the file is written. */
#define BOOK_PATH_BYTES (4096 + 32) /* the longest path of Linux, and room behind it */

/* Whether there is a book, or another SQLite file, at path. */
bool book_file_is_book(const char *path);

/* Makes the file that will stand at path, empty, in the same folder: `partial` is its name, *fd is
 * open for writing. A file that is there gives it its permissions; else it has those of `mode` that
 * the umask leaves. FAULT_FILE where it cannot be made, and where path is one of the names that
 * SQLite gives to the journals of a book: such a file would be taken for one. */
bool book_file_begin(const char *path, unsigned mode, char partial[BOOK_PATH_BYTES], int *fd,
                     struct fault *why);

/* Moves the file to its place, in place of what is there only where `replace`, and puts the folder
 * on disk. On failure the file is gone, and what was there is as it was. */
bool book_file_end(const char *partial, const char *path, bool replace, struct fault *why);

/* Puts the folder that path stands in on disk: only then are the names in it safe. */
bool book_file_sync_folder(const char *path);

/* Refuses the names that SQLite gives to the journals of a book. FAULT_FILE. */
bool book_file_name_is_free(const char *path, struct fault *why);

#endif
