/* The editors that have a book open at the same time, on this machine or on others. */
#ifndef RODBOOK_BOOK_EDITORS_H
#define RODBOOK_BOOK_EDITORS_H

#include "rodbook/book/book.h"

#define BOOK_WHO_BYTES 128

/* An editor, as others are told of it. */
struct book_editor {
	char host[BOOK_WHO_BYTES], user[BOOK_WHO_BYTES]; /* clean; user may be empty */
	char since[BOOK_TIME_BYTES];
};

/* Enters this process as an editor of the book, and strikes off those of this host that ended
 * without leaving. Half-typed forms are this editor's own from then on. *others (free() it) are the
 * editors that have the book open too; those of other hosts stand there until they leave. A book
 * that is read-only is not entered. */
bool book_editor_enter(struct book *book, struct book_editor **others, size_t *count,
                       struct fault *why);
/* Leaves again. */
bool book_editor_leave(struct book *book, struct fault *why);

#endif
