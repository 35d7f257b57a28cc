/* A whole book as CSV, and back. */
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "csv/whole.h"
#include "work/tables.h"
#include "rodbook/csv/csv.h"

static void write_table(FILE *out, const struct book_table *table)
{
	const char *fields[BOOK_TABLE_COLUMNS + 2] = {"columns", table->name};
	for (size_t c = 0; c < table->columns; c++)
		fields[c + 2] = table->column[c];
	csv_write(out, fields, table->columns + 2, "\r\n");
	fields[0] = "row";
	for (size_t r = 0; r < table->rows; r++) {
		for (size_t c = 0; c < table->columns; c++) {
			const char *text = table->cell[r * table->columns + c];
			fields[c + 2] = text ? text : "";
		}
		csv_write(out, fields, table->columns + 2, "\r\n");
	}
}

static void write_tables(FILE *out, const struct book_table *tables, size_t count)
{
	char version[12];
	const char *fields[] = {"book", version};
	snprintf(version, sizeof version, "%d", book_tables_version());
	csv_write(out, fields, 2, "\r\n");
	for (size_t i = 0; i < count; i++)
		write_table(out, &tables[i]);
}

bool csv_export_whole(FILE *out, struct book *book, struct fault *why)
{
	struct book_table tables[BOOK_TABLES_MOST] = {0};
	size_t count;
	bool ok = work_read_tables(book, tables, &count, why);
	if (ok)
		write_tables(out, tables, count);
	work_free_tables(tables, count);
	return ok;
}

bool csv_export(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_table tables[BOOK_TABLES_MOST] = {0};
	size_t count;
	bool ok;
	if (run->book.run.kind != LEVEL_CROSSING)
		return csv_export_run(out, book, run, why);
	ok = work_read_run_tables(book, run->book.info.name, tables, &count, why);
	if (ok)
		write_tables(out, tables, count);
	work_free_tables(tables, count);
	return ok;
}

/* Which columns may have no value; an empty cell of any other is an empty text. */
static bool ask_optional(struct book *book, const struct book_table *table, bool *optional,
                         struct fault *why)
{
	bool ok = true;
	for (size_t c = 0; ok && c < table->columns; c++)
		ok = book_column_optional(book, table->name, table->column[c], &optional[c], why);
	return ok;
}

static bool begin_table(struct book_table *tables, size_t *count, const struct csv_reader *reader,
                        const struct csv_record *record, struct fault *why)
{
	struct book_table *table = &tables[*count];
	if (*count == book_table_count() || record->count > BOOK_TABLE_COLUMNS + 2)
		return fault_say(why, FAULT_INPUT, "%.300s:%d: more than a book has", reader->path,
		                 record->line);
	*table = (struct book_table){.columns = record->count - 2};
	snprintf(table->name, sizeof table->name, "%.15s", record->field[1]);
	for (size_t c = 0; c < table->columns; c++)
		snprintf(table->column[c], sizeof table->column[c], "%.19s", record->field[c + 2]);
	for (size_t i = 0; i < *count; i++)
		if (strcmp(tables[i].name, table->name) == 0)
			return fault_say(why, FAULT_INPUT, "%.300s:%d: the table %s stands twice",
			                 reader->path, record->line, table->name);
	(*count)++;
	return true;
}

static bool add_row(struct book_table *table, const bool *optional, size_t *room,
                    const struct csv_record *record, struct fault *why)
{
	if (table->rows == *room) {
		size_t more = *room ? 2 * *room : 64;
		char **cells = realloc(table->cell, more * table->columns * sizeof *cells);
		if (!cells)
			return fault_memory(why);
		table->cell = cells;
		*room = more;
	}
	for (size_t c = 0; c < table->columns; c++) {
		const char *text = record->field[c + 2];
		char **cell = &table->cell[table->rows * table->columns + c];
		bool none = !*text && optional[c];
		*cell = none ? NULL : strdup(text);
		if (!*cell && !none) {
			while (c-- > 0)
				free(*--cell);
			return fault_memory(why);
		}
	}
	table->rows++;
	return true;
}

static bool read_tables(struct book *book, struct csv_reader *reader, struct book_table *tables,
                        size_t *count, struct fault *why)
{
	struct csv_record record;
	bool optional[BOOK_TABLE_COLUMNS];
	size_t room = 0;
	if (!csv_read(reader, &record, why))
		return false;
	if (record.count != 2 || atoi(record.field[1]) < 3 ||
	    atoi(record.field[1]) > book_tables_version())
		return fault_say(why, FAULT_INPUT,
		                 "%.300s was written by another rodbook: this one reads versions "
		                 "3 to %d",
		                 reader->path, book_tables_version());
	while (csv_read(reader, &record, why)) {
		bool begins = strcmp(record.field[0], "columns") == 0;
		if (record.count < 3 || (!begins && strcmp(record.field[0], "row") != 0))
			return fault_say(why, FAULT_INPUT,
			                 "%.300s:%d: a line begins with columns or row, and the "
			                 "name of a table",
			                 reader->path, record.line);
		if (begins) {
			room = 0;
			if (!begin_table(tables, count, reader, &record, why) ||
			    !ask_optional(book, &tables[*count - 1], optional, why))
				return false;
		} else if (*count == 0 ||
		           strncmp(record.field[1], tables[*count - 1].name, 16) != 0 ||
		           record.count != tables[*count - 1].columns + 2) {
			return fault_say(why, FAULT_INPUT,
			                 "%.300s:%d: this row does not fit its line of columns",
			                 reader->path, record.line);
		} else if (!add_row(&tables[*count - 1], optional, &room, &record, why)) {
			return false;
		}
	}
	return why->kind == FAULT_NONE;
}

bool csv_is_whole(const struct csv_reader *reader)
{
	return strncmp(reader->at, "book,", 5) == 0;
}

bool csv_import_whole(struct book *book, struct csv_reader *reader, struct work_taken *counts,
                      struct fault *why)
{
	struct book_table tables[BOOK_TABLES_MOST] = {0};
	size_t count = 0;
	bool ok = read_tables(book, reader, tables, &count, why) &&
	          work_may_take(book, tables, count, why) &&
	          work_take_tables(book, tables, count, reader->path, counts, why);
	work_free_tables(tables, count);
	return ok;
}
