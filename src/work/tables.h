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
/* The same of one run: its rows and those of marks, instruments, rods and plans that it names, and
 * the book's settings and tolerance sets, so that all that is said of it follows. */
bool work_read_run_tables(struct book *book, const char *run,
                          struct book_table tables[BOOK_TABLES_MOST], size_t *count,
                          struct fault *why);
void work_free_tables(struct book_table *tables, size_t count);
/* Whether a book may take tables that have settings: a new one, or one whose settings are the same,
 * but for its title, which then stays. What the file leaves at its default would else be reckoned
 * by a setting that is there. FAULT_INPUT names the setting. */
bool work_may_take(struct book *book, struct book_table *tables, size_t count, struct fault *why);
/* book_take_tables() with what was taken counted; the journal names the file of `path`, "-": none.
 */
bool work_take_tables(struct book *book, const struct book_table *tables, size_t count,
                      const char *path, struct work_taken *counts, struct fault *why);

#endif
