#include "book/journal/sight_entries.h"

static bool read_entry(struct book *book, sqlite3_stmt *statement, void *item, struct fault *why)
{
	(void)book;
	(void)why;
	*(struct sight_entry *)item = (struct sight_entry){sqlite3_column_int64(statement, 0),
	                                                   sqlite3_column_int64(statement, 1)};
	return true;
}

static bool make(struct book *book, struct sight_entries *entries, struct fault *why)
{
	void *list;
	sqlite3_stmt *statement = sql_query(
	    book, why,
	    "SELECT CAST(row AS INTEGER), seq FROM journal WHERE tbl='sight' ORDER BY 1, 2", "");
	entries->made = sql_list(book, statement, sizeof *entries->list, read_entry, &list,
	                         &entries->count, why);
	entries->list = list;
	return entries->made;
}

bool sight_entry_before(struct book *book, struct sight_entries *entries, int64_t row, int64_t seq,
                        int64_t *last, struct fault *why)
{
	size_t low = 0, high;
	if (!entries->made && !make(book, entries, why))
		return false;
	for (high = entries->count; low < high;) {
		size_t middle = low + (high - low) / 2;
		const struct sight_entry *at = &entries->list[middle];
		if (at->row < row || (at->row == row && at->seq < seq))
			low = middle + 1;
		else
			high = middle;
	}
	*last = low && entries->list[low - 1].row == row ? entries->list[low - 1].seq : 0;
	return true;
}
