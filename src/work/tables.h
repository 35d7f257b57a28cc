/* All tables of a book, out of it and into another one. */
#ifndef WORK_TABLES_H
#define WORK_TABLES_H

#include "rodbook/book/tables.h"
#include "rodbook/work/copy.h"
#include "rodbook/work/run.h"

/* All tables of a book, in one state of it; *count: how many are to be freed, also after a fault.
 */
bool work_read_tables(struct book *book, struct book_table tables[BOOK_TABLES_MOST], size_t *count,
                      struct fault *why);
void work_free_tables(struct book_table *tables, size_t count);
/* book_take_tables() with what was taken counted; the journal names the file of `path`, "-": none.
 */
bool work_take_tables(struct book *book, const struct book_table *tables, size_t count,
                      const char *path, struct work_taken *counts, struct fault *why);

#endif
