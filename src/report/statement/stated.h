/* The parts of a statement: each writes the lines of one matter. Sights have the numbers that
 * stated_number() gives. */
#ifndef REPORT_STATEMENT_STATED_H
#define REPORT_STATEMENT_STATED_H

#include "rodbook/book/journal.h"
#include "rodbook/report/report.h"
#include "rodbook/level/parts.h"

/* A run with what each of its sights brings into the sums, part[i] for sight i. */
struct stated {
	const struct work_run *run;
	const struct level_part *part;
};

/* Which of the sights that count this is, 1 the first; 0 where it is struck. */
size_t stated_number(const struct work_run *run, size_t i);

/* All that stands behind the first page of a statement; *verified: the proof that it ends with. */
bool stated_workings(FILE *out, struct book *book, const struct work_run *run,
                     struct book_verified *verified, struct fault *why);

/* Sights that count, then those that are struck, with everything that is booked of them. */
void stated_sights(FILE *out, const struct work_run *run);
/* Known elevations that the run stands on; rods that were read. */
bool stated_marks(FILE *out, struct book *book, const struct work_run *run, struct fault *why);
bool stated_rods(FILE *out, struct book *book, const struct work_run *run, struct fault *why);
/* Instruments that were used, with tolerance or tilt and which of them counts and why, and all
 * their peg tests. */
bool stated_instruments(FILE *out, struct book *book, const struct work_run *run,
                        struct fault *why);

/* Readings of the water, struck ones too, and the mean of each station; as CSV those that count. */
bool stated_waters(FILE *out, struct book *book, const struct work_run *run, struct fault *why);
/* What a crossing hangs on beside its sights: that, the air, and when its figures were sealed;
 * nothing of another run. */
bool stated_crossing(FILE *out, struct book *book, const struct work_run *run, struct fault *why);
bool stated_waters_csv(FILE *out, struct book *book, const struct work_run *run, struct fault *why);

/* The sums over the sights, worked in m: sum s b, S, P. */
void stated_sums(FILE *out, const struct stated *stated);
/* Of a crossing that says something: D, the allowance line by line, and what follows. */
void stated_drop(FILE *out, const struct stated *stated);
/* Of another run: misclosure, corrected misclosure, and the allowable with its formula. */
void stated_closing(FILE *out, const struct stated *stated);

/* All these numbers as quantity, value and unit, in m. */
void stated_csv(FILE *out, const struct stated *stated, const struct book_verified *verified);

#endif
