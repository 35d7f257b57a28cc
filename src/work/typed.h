/* From the texts of a typed sight to its note. */
#ifndef WORK_TYPED_H
#define WORK_TYPED_H

#include "rodbook/work/sight.h"

/* Copies what a note keeps, as far as it has room; false with the first text in *failed that is too
 * long. */
bool typed_to_note(const struct work_typed *typed, struct book_note *note, enum work_text *failed);

#endif
