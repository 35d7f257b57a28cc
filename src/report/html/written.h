/* A part of a paper that was written to memory. */
#ifndef REPORT_HTML_WRITTEN_H
#define REPORT_HTML_WRITTEN_H

#include <stdio.h>

#include "rodbook/level/fault.h"

/* Closes a stream that open_memstream() opened on `text`; NULL stands for one that it could not
 * open. Returns the text, which the caller frees. NULL with the fault where memory is short, and
 * where `ok` is false: then the fault is the writer's. */
char *written(FILE *out, char **text, bool ok, struct fault *why);

#endif
