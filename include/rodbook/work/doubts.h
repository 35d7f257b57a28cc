/* What is doubtful of the texts of a sight, beside what its figures say. */
#ifndef RODBOOK_WORK_DOUBTS_H
#define RODBOOK_WORK_DOUBTS_H

#include "rodbook/book/book.h"
#include "rodbook/book/crossing.h"
#include "rodbook/level/warnings.h"

/* How many readings before it have more decimals, before a reading with fewer is asked about. */
#define WORK_DECIMALS_BEFORE 3

struct work_doubts {
	unsigned set;                    /* of the warnings of level/warnings.h, as bits */
	char alike[LEVEL_STATION_BYTES]; /* the name that the station's looks like */
	int decimals;                    /* that the readings before it have */
	char dry[LEVEL_STATION_BYTES];   /* where water was read, and no sight stands */
};

/* Of a sight that is typed and not booked, before index `at` of the run: its time, a station that
 * is new and looks like a mark of the book or a station of the run, and a reading with fewer
 * decimals than each of the three before it that were read by the same method (common practice, no
 * source); on a crossing a BS at whose station no water was read, though it was at one where no
 * sight stands: one of the two names is wrong; a station that is a bare number, where no other is.
 * (An FS may have an offset to a peg yet to come.) `changes`: it takes the place of the sight at
 * `at`. alike: what work_find_alike() found for it; NULL: it is looked for here. */
struct work_doubts work_doubt(const struct book *book, const struct book_run *run, size_t at,
                              bool changes, const struct book_mark *marks, size_t mark_count,
                              const struct book_water *waters, size_t water_count,
                              const char *alike, const struct level_sight *sight,
                              const struct book_note *note);

/* The mark or the station of the run that a new station of sight `at` looks like; "" where it is
 * not new, or looks like none. Walks over the whole run. */
void work_find_alike(const struct book_run *run, size_t at, bool changes,
                     const struct book_mark *marks, size_t count, const char *station,
                     char alike[LEVEL_STATION_BYTES]);

/* Whether the sight at `at` of a run, not booked yet, would seal a crossing whose water and air are
 * not booked: it is as long as long_sight, nm, the figures are not sealed, k is a default, and the
 * run neither begins on a mark of known elevation nor has water that counts. */
bool work_doubt_seal(const struct level_run *run, size_t at, const struct book_terms *terms,
                     level_nm long_sight, const struct book_water *waters, size_t water_count);

/* Whether two names differ only by what a tired eye takes for the same: small and capital letters,
 * blanks, points, lines and zeros before a number, O and 0, I, l and 1. Equal names are not alike.
 */
bool work_is_alike(const char *a, const char *b);

#endif
