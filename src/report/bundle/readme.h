/* What the README of a bundle says, part by part. */
#ifndef REPORT_BUNDLE_README_H
#define REPORT_BUNDLE_README_H

#include <stdbool.h>
#include <stdio.h>

#include "rodbook/book/journal.h"
#include "rodbook/work/run.h"

void readme_begin(FILE *out);
void readme_run(FILE *out, const struct work_run *run);
void readme_file(FILE *out, const char *name, const char *holds);
/* Photographs that are left out: not there or no plain file, not the one that was booked, or
 * without a digest and elsewhere. */
void readme_missing(FILE *out, const char *name, const char *hex, bool missing);
void readme_other(FILE *out, const char *name, const char *hex);
void readme_book(FILE *out, const struct book_witness *witness);
/* How to check and to recompute. */
void readme_end(FILE *out);

#endif
