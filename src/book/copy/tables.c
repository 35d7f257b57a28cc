/* Reading a book's tables as text. */
#include "rodbook/book/tables.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/file/schema.h"

int book_tables_version(void)
{
	return BOOK_VERSION;
}

size_t book_table_count(void)
{
	size_t count = 0;
	while (journal_table(count))
		count++;
	return count;
}

const char *book_table_name(size_t i)
{
	return journal_table(i);
}

void book_table_free(struct book_table *table)
{
	for (size_t i = 0; i < table->rows * table->columns; i++)
		free(table->cell[i]);
	free(table->cell);
	*table = (struct book_table){0};
}

bool cell_is_clean(const char *column, const char *text, struct fault *why)
{
	bool lines = strcmp(column, "figures") == 0 || strcmp(column, "subject") == 0 ||
	             strcmp(column, "known") == 0;
	bool ok;
	char *copy;
	if (!lines || !strpbrk(text, "\t\n"))
		return level_check_text(text, SIZE_MAX, column, why);
	copy = strdup(text);
	if (!copy)
		return fault_memory(why);
	for (char *at = copy; *at; at++)
		if (*at == '\t' || *at == '\n')
			*at = ' ';
	ok = level_check_text(copy, SIZE_MAX, column, why);
	free(copy);
	return ok;
}

static bool read_cells(struct book *book, sqlite3_stmt *statement, struct book_table *out,
                       struct fault *why)
{
	bool clean = true;
	for (size_t c = 0; c < out->columns; c++) {
		char **cell = &out->cell[out->rows * out->columns + c];
		const char *text = (const char *)sqlite3_column_text(statement, (int)c);
		*cell = text ? strdup(text) : NULL;
		if (!*cell && sqlite3_column_type(statement, (int)c) != SQLITE_NULL) {
			while (c-- > 0)
				free(*--cell);
			return fault_memory(why);
		}
	}
	out->rows++;
	for (size_t c = 0; clean && c < out->columns; c++) {
		const char *text = out->cell[(out->rows - 1) * out->columns + c];
		clean = !text || cell_is_clean(out->column[c], text, why);
	}
	return clean || book_spoiled(book, why);
}

bool book_table_read(struct book *book, size_t i, struct book_table *out, struct fault *why)
{
	size_t room = 0;
	bool ok = true;
	const struct table *of;
	sqlite3_stmt *statement;
	*out = (struct book_table){0};
	if (i >= book_table_count())
		return fault_say(why, FAULT_INPUT, "a book has %zu tables", book_table_count());
	of = table_of(book, journal_table(i), why);
	statement = of ? sql_query(book, why, of->rows, "") : NULL;
	if (!statement)
		return false;
	strcpy(out->name, of->name);
	out->columns = (size_t)sqlite3_column_count(statement);
	for (size_t c = 0; c < out->columns; c++)
		snprintf(out->column[c], sizeof out->column[c], "%.19s",
		         sqlite3_column_name(statement, (int)c));
	while (ok && sql_row(book, statement, &ok, why)) {
		char **more =
		    store_grow(out->cell, out->rows, &room, out->columns * sizeof *out->cell, why);
		ok = more != NULL;
		if (!ok)
			break;
		out->cell = more;
		ok = read_cells(book, statement, out, why);
	}
	ok = sql_done(book, statement, ok, why);
	if (!ok)
		book_table_free(out);
	return ok;
}

bool book_column_optional(struct book *book, const char *table, const char *column, bool *optional,
                          struct fault *why)
{
	struct fault words = {0};
	const struct table *of = table_of(book, table, &words);
	*optional = false;
	if (!of && words.kind != FAULT_INPUT)
		return fault_say(why, words.kind, "%s", words.text);
	for (size_t i = 0; of && i < of->columns; i++)
		if (strcmp(of->column[i].name, column) == 0)
			*optional = of->column[i].optional;
	return true;
}

size_t book_table_column(const struct book_table *table, const char *name)
{
	size_t c = 0;
	while (c < table->columns && strcmp(table->column[c], name) != 0)
		c++;
	return c;
}

const char *book_table_cell(const struct book_table *table, size_t row, const char *name)
{
	size_t c = book_table_column(table, name);
	return c < table->columns ? table->cell[row * table->columns + c] : NULL;
}

void book_table_keep(struct book_table *table, const bool *keep)
{
	size_t kept = 0;
	for (size_t r = 0; r < table->rows; r++) {
		char **row = &table->cell[r * table->columns];
		if (!keep[r]) {
			for (size_t c = 0; c < table->columns; c++)
				free(row[c]);
			continue;
		}
		memmove(&table->cell[kept++ * table->columns], row, table->columns * sizeof *row);
	}
	table->rows = kept;
}
