/* All tables of a book, out of it and into another one. */
#include "work/tables.h"

#include <stdlib.h>
#include <string.h>

void work_free_tables(struct book_table *tables, size_t count)
{
	for (size_t i = 0; i < count; i++)
		book_table_free(&tables[i]);
}

bool work_read_tables(struct book *book, struct book_table tables[BOOK_TABLES_MOST], size_t *count,
                      struct fault *why)
{
	bool ok = book_hold(book, why);
	*count = 0;
	if (!ok)
		return false;
	while (ok && *count < book_table_count())
		ok = book_table_read(book, *count, &tables[*count], why) && ++*count;
	book_release(book);
	return ok;
}

static const char *origin_of(const char *path)
{
	const char *slash = strrchr(path, '/');
	return strcmp(path, "-") == 0 ? "" : slash ? slash + 1 : path;
}

static size_t rows_of(const struct book_table *tables, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(tables[i].name, name) == 0)
			return tables[i].rows;
	return 0;
}

static bool count_marks(struct book *book, size_t *count, struct fault *why)
{
	struct book_mark *marks;
	bool ok = book_marks(book, &marks, count, why);
	free(marks);
	return ok;
}

bool work_take_tables(struct book *book, const struct book_table *tables, size_t count,
                      const char *path, struct work_taken *counts, struct fault *why)
{
	size_t before, after;
	bool ok = book_begin(book, why);
	if (!ok)
		return false;
	ok = count_marks(book, &before, why) &&
	     book_take_tables(book, tables, count, origin_of(path), why) &&
	     count_marks(book, &after, why);
	if (!book_finish(book, ok, why) || !ok)
		return false;
	counts->runs = rows_of(tables, count, "run");
	counts->sights = rows_of(tables, count, "sight");
	/* Marks that it had already, and struck ones, are no new ones. */
	counts->marks = after - before;
	return true;
}
