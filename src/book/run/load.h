/* What reading a run whole and reading it again share. */
#ifndef BOOK_RUN_LOAD_H
#define BOOK_RUN_LOAD_H

#include "book/members.h"

/* Makes room in a run for so many rows; on failure it is as it was. */
bool load_room(struct book_run *run, size_t rows, struct fault *why);
/* The same note with texts of its own in out->texts, which is to be freed. */
bool kept_make(const struct book_note *note, struct book_kept *out, struct fault *why);
/* Puts the rows of a statement by members.h, SQL_SIGHTS or SQL_SIGHT_ALONE with its number, behind
 * those that the run has, and counts them in info.sights. */
bool load_rows(struct book *book, enum member_sql which, int64_t number, struct book_run *run,
               struct fault *why);
/* Gives the rows of a run what hangs on other tables: marks set aside, known elevations that are
 * kept, water, rods. Refuses a run that has too many sights. */
bool load_rest(struct book *book, struct book_run *run, struct fault *why);

#endif
