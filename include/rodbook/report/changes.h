/* Changes of a book's marks between two epochs and more, for people, as CSV and drawn. */
#ifndef RODBOOK_REPORT_CHANGES_H
#define RODBOOK_REPORT_CHANGES_H

#include <stdio.h>

#include "rodbook/level/spread.h"
#include "rodbook/report/report.h"

/* Texts as they were given: each a name, or several parted by commas; one that the book has whole
 * is that one, whatever commas are in it. */
struct report_names {
	const char *const *text;
	size_t count;
};

#define REPORT_EPOCHS_MOST 10

struct report_changes {
	struct report_names epoch[REPORT_EPOCHS_MOST]; /* the runs of each, in order */
	size_t epochs;                                 /* two at least */
	struct report_names hold; /* marks, or none: the known marks that all epochs reach */
	const enum level_by *by;  /* or NULL: by distance where all are known */
	const char *sd; /* standard deviation of 1 km, or of one setup, as a length; or NULL */
};

/* Adjusts each epoch, compares each later one with the first, and writes that: as CSV the first two
 * epochs alone, `mark,first,second,change,sd,limit,significant` in the book's unit, a row for each
 * mark that is not held. *agree: no test says that the held marks do not hold among themselves.
 * FAULT_INPUT where they cannot be compared, FAULT_EMPTY where there is nothing to draw. */
bool report_changes(FILE *out, struct book *book, const struct report_changes *how,
                    enum report_form form, bool *agree, struct fault *why);

#endif
