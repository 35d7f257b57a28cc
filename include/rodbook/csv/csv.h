/* CSV that leaves a book, and comes back as the same: runs, lists of marks, whole books.
 *
 * RFC 4180; numbers carry a decimal point, read back to the same nm, and name their unit. What is
 * written goes to the stream given; a failed write shows in ferror() of that stream. */
#ifndef RODBOOK_CSV_CSV_H
#define RODBOOK_CSV_CSV_H

#include <stdio.h>

#include "rodbook/level/fieldtest.h"
#include "rodbook/work/copy.h"
#include "rodbook/work/run.h"

/* Writes the counted sights of a run as CSV that csv_import() takes back unchanged, with the
 * known elevations they stand on, but not the uncertainties and sources of those. */
bool csv_export_run(FILE *out, struct book *book, const struct work_run *run, struct fault *why);

/* Writes a run so that what it says can be had from the file alone: the counted sights of a loop,
 * link or open run as csv_export_run() does; of a crossing the tables of csv_export_whole(), with
 * only what it hangs on. */
bool csv_export(FILE *out, struct book *book, const struct work_run *run, struct fault *why);

/* Writes the whole book, all but its journal and what is half typed, as CSV that csv_import()
 * takes back: a line "book,VERSION", then for each table a line "columns,TABLE,..." and its rows,
 * "row,TABLE,...". */
bool csv_export_whole(FILE *out, struct book *book, struct fault *why);
/* Writes the marks that count as CSV, mark,elevation,u,unit,source, likewise. */
bool csv_export_marks(FILE *out, struct book *book, struct fault *why);

/* Takes runs, a list of marks or a whole book from a CSV file, all rows or none; the fault names
 * file, line and column. */
bool csv_import(struct book *book, const char *path, struct work_taken *counts, struct fault *why);

/* The pairs of a CSV file with the columns backsight and foresight; "-" is the standard input. The
 * fault names file, line and column. */
bool csv_read_fieldtest(const char *path, enum level_unit bare,
                        struct level_pair pairs[LEVEL_FIELDTEST_MOST], size_t *count,
                        struct fault *why);

#endif
