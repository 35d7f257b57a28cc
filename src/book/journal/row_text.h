/* Two texts of a row, as the journal keeps them, compared without SQLite. */
#ifndef BOOK_JOURNAL_ROW_TEXT_H
#define BOOK_JOURNAL_ROW_TEXT_H

#include "book/file/schema.h"

/* One value in the JSON text of a row. For ROW_TEXT, `text` is without the quotes. */
enum row_kind { ROW_NULL, ROW_NUMBER, ROW_TEXT };
struct row_value {
	enum row_kind kind;
	const char *text;
	size_t length;
};

struct row_difference {
	const char *column;
	struct row_value before, after;
};
#define ROW_DIFFERENCES_MOST 64

/* The columns in which two JSON texts of a row differ, as entry_differences() has them; NULL for
 * `one` lacks all. False where a text is not plain: not in the order of the table's columns, with
 * blanks, escapes or numbers that are no integers, or `other` lacks what `one` has. Then SQLite
 * must be asked. Both must be valid JSON. */
bool row_differences(const struct table *of, const char *one, const char *other,
                     struct row_difference out[ROW_DIFFERENCES_MOST], size_t *count);
#endif
