/* A whole book in CSV, for the reader of runs in CSV. */
#ifndef CSV_WHOLE_H
#define CSV_WHOLE_H

#include "csv/csv.h"
#include "rodbook/work/copy.h"

/* Whether a file that was just opened holds a whole book. */
bool csv_is_whole(const struct csv_reader *reader);
bool csv_import_whole(struct book *book, struct csv_reader *reader, struct work_taken *counts,
                      struct fault *why);

/* The same for a list of marks. */
bool csv_is_marks(const struct csv_reader *reader);
bool csv_import_marks(struct book *book, struct csv_reader *reader, struct work_taken *counts,
                      struct fault *why);

#endif
