/* A whole book in CSV, for the reader of runs in CSV. */
#ifndef CSV_WHOLE_H
#define CSV_WHOLE_H

#include "csv/csv.h"
#include "rodbook/report/paper.h"

/* Whether a file that was just opened holds a whole book. */
bool paper_is_whole(const struct csv_reader *reader);
bool paper_import_whole(struct book *book, struct csv_reader *reader, struct paper_imported *counts,
                        struct fault *why);

/* The same for a list of marks. */
bool paper_is_marks(const struct csv_reader *reader);
bool paper_import_marks(struct book *book, struct csv_reader *reader, struct paper_imported *counts,
                        struct fault *why);

#endif
