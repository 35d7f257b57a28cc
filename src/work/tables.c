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

static struct book_table *settings_of(struct book_table *tables, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(tables[i].name, "setting") == 0)
			return &tables[i];
	return NULL;
}

static const char *value_of(const struct book_table *settings, const char *name)
{
	for (size_t r = 0; settings && r < settings->rows; r++) {
		const char *here = book_table_cell(settings, r, "name");
		if (here && strcmp(here, name) == 0)
			return book_table_cell(settings, r, "value");
	}
	return NULL;
}

/* A new book has a unit and a title; *rows counts what else there is. */
static bool count_rows(struct book *book, size_t *rows, struct book_table *settings,
                       struct fault *why)
{
	*rows = 0;
	for (size_t i = 0; i < book_table_count(); i++) {
		struct book_table table = {0};
		bool is_setting = strcmp(book_table_name(i), "setting") == 0;
		if (!book_table_read(book, i, &table, why))
			return false;
		for (size_t r = 0; r < table.rows; r++) {
			const char *name = book_table_cell(&table, r, "name");
			*rows += !is_setting || !name ||
			         (strcmp(name, "unit") != 0 && strcmp(name, "title") != 0);
		}
		if (is_setting)
			*settings = table;
		else
			book_table_free(&table);
	}
	return true;
}

/* Each setting of one side has the same value on the other. */
static bool agree(const struct book_table *one, const struct book_table *other, struct fault *why)
{
	for (size_t r = 0; one && r < one->rows; r++) {
		const char *name = book_table_cell(one, r, "name");
		const char *value = book_table_cell(one, r, "value");
		const char *there = name ? value_of(other, name) : NULL;
		if (!name || !value || strcmp(name, "title") == 0)
			continue;
		if (!there || strcmp(value, there) != 0)
			return fault_say(
			    why, FAULT_INPUT,
			    "the setting %.40s is not the same in file and book: a file "
			    "with settings is taken by a new book (rodbook new BOOK), "
			    "or by one that has the same",
			    name);
	}
	return true;
}

static bool drop_title(struct book_table *settings, struct fault *why)
{
	bool *kept = calloc(settings->rows + 1, sizeof *kept);
	if (!kept)
		return fault_memory(why);
	for (size_t r = 0; r < settings->rows; r++) {
		const char *name = book_table_cell(settings, r, "name");
		kept[r] = !name || strcmp(name, "title") != 0;
	}
	book_table_keep(settings, kept);
	free(kept);
	return true;
}

bool work_may_take(struct book *book, struct book_table *tables, size_t count, struct fault *why)
{
	struct book_table own = {0}, *given = settings_of(tables, count);
	size_t rows;
	bool ok = count_rows(book, &rows, &own, why);
	if (ok && rows)
		ok = agree(&own, given, why) && agree(given, &own, why) &&
		     (!given || drop_title(given, why));
	book_table_free(&own);
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
