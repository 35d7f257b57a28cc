/* The photographs that a sight names: their digests. */
#ifndef RODBOOK_BOOK_PHOTOS_H
#define RODBOOK_BOOK_PHOTOS_H

#include "rodbook/book/book.h"

#define BOOK_PHOTO_BYTES_MOST (INT64_C(200) << 20)
#define BOOK_PHOTOS_SAID_BYTES 400

/* The SHA-256 of each file that `names` names, parted by blanks, with - for one that has none. A
 * text that is the name of a file as a whole is one name, else blanks part them. A file is looked
 * for in the working folder, then beside the book. said: what keeps a file from having one, in
 * words, or empty: it is missing, no plain file, cannot be read, over 200 MB, or behind the fifth.
 * With no digest at all `digests` is empty. */
void book_photo_digests(const struct book *book, const char *names,
                        char digests[BOOK_DIGESTS_BYTES], char said[BOOK_PHOTOS_SAID_BYTES]);

/* Opens a photograph that a sight names, where book_photo_digests() looks for it; the caller closes
 * it. -1 with errno: ENOENT where it is missing, EINVAL where it is no plain file, or one that is
 * too large for a digest. */
int book_photo_open(const struct book *book, const char *name);
/* Photograph i, from 0, of the names and digests of a sight; hex, which has 65 bytes, is "" where
 * it has no digest. False behind the last. */
bool book_photo_at(const char *names, const char *digests, size_t i, char name[LEVEL_REMARK_BYTES],
                   char *hex);

#endif
