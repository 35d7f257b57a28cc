/* A folder of files that is whole or not there: filled beside its place, and moved there at the
 * end.
 */
#ifndef RODBOOK_BOOK_FOLDER_H
#define RODBOOK_BOOK_FOLDER_H

#include <stdio.h>

#include "rodbook/book/files.h"

#define BOOK_HEX_BYTES 65 /* of a SHA-256: 64 lower-case hexadecimal digits and a NUL */

struct book_folder {
	char path[BOOK_PATH_BYTES], partial[BOOK_PATH_BYTES];
	/* The files in the order in which they were written, each once. */
	struct book_folder_file {
		char name[256], hex[BOOK_HEX_BYTES];
	} * file;
	size_t count, room;
};

/* FAULT_FILE where something stands at path already, or the folder cannot be made. Whatever was
 * begun is ended by book_folder_end() or book_folder_drop(). */
bool book_folder_begin(const char *path, struct book_folder *out, struct fault *why);

/* Writes a file into it, puts it on disk, reads it back and keeps its SHA-256. The name is taken as
 * it is and must be one of the folder's own, without a slash, that is not there yet. */
typedef bool book_folder_writer(FILE *out, void *context, struct fault *why);
bool book_folder_add(struct book_folder *folder, const char *name, book_folder_writer *write,
                     void *context, struct fault *why);
/* Keeps the SHA-256 of a file that somebody else put into it. */
bool book_folder_take(struct book_folder *folder, const char *name, struct fault *why);

/* A name for a file of a text of a book, with what stands before and behind it: letters, digits,
 * points, dashes and underscores stay, all else becomes an underscore; a number is put before
 * `behind` where the folder has such a name already, in whatever case. */
void book_folder_name(const struct book_folder *folder, const char *before, const char *text,
                      const char *behind, char out[256]);

/* Moves it to its place; on failure it is dropped. Frees what it holds. */
bool book_folder_end(struct book_folder *folder, struct fault *why);
/* Removes all that was written. */
void book_folder_drop(struct book_folder *folder);

#endif
