/* A folder for whoever does not believe it: runs with their statements, pages, CSV, pictures and
 * photographs, the book itself, and how to check and recompute them without this program. */
#ifndef RODBOOK_REPORT_BUNDLE_H
#define RODBOOK_REPORT_BUNDLE_H

#include "rodbook/book/book.h"

/* Makes the folder at path, whole or not at all; nothing may stand there yet. The same book gives
 * the same bytes. Photographs that are missing, or are not those that were booked, are left out and
 * named in its README; so is one without a digest whose name leads to another folder. FAULT_FILE,
 * and FAULT_INPUT for a run that is not there. */
bool report_bundle(struct book *book, const char *const *runs, size_t count, const char *path,
                   struct fault *why);

#endif
