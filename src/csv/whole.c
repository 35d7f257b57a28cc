/* A whole book as CSV, and back; and runs from another book. */
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "csv/whole.h"
#include "rodbook/book/tables.h"

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

static void free_tables(struct book_table *tables, size_t count)
{
	for (size_t i = 0; i < count; i++)
		book_table_free(&tables[i]);
}

/* All tables of a book, in one state of it; *count: how many are to be freed. */
static bool read_all(struct book *book, struct book_table tables[BOOK_TABLE_COLUMNS], size_t *count,
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

bool paper_export_whole(FILE *out, struct book *book, struct fault *why)
{
	struct book_table tables[BOOK_TABLE_COLUMNS] = {0};
	char version[12];
	const char *fields[] = {"book", version};
	size_t count;
	bool ok = read_all(book, tables, &count, why);
	if (ok) {
		snprintf(version, sizeof version, "%d", book_tables_version());
		csv_write(out, fields, 2, "\r\n");
	}
	for (size_t i = 0; ok && i < count; i++)
		write_table(out, &tables[i]);
	free_tables(tables, count);
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
		*cell = !*text && optional[c] ? NULL : strdup(text);
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

/* Settings and names of a whole book would mix with those that are there. */
static bool is_empty(struct book *book, struct fault *why)
{
	struct book_run_info *runs = NULL;
	struct book_mark *marks = NULL;
	size_t run_count, mark_count;
	bool ok =
	    book_runs(book, &runs, &run_count, why) && book_marks(book, &marks, &mark_count, why);
	free(runs);
	free(marks);
	return ok && (run_count + mark_count == 0 ||
	              fault_say(why, FAULT_INPUT,
	                        "a whole book is taken by a new one only: make one with rodbook "
	                        "new BOOK"));
}

static const char *file_name(const char *path)
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

static bool take(struct book *book, const struct book_table *tables, size_t count,
                 const char *origin, struct paper_imported *counts, struct fault *why)
{
	size_t before, after;
	bool ok = book_begin(book, why);
	if (!ok)
		return false;
	ok = count_marks(book, &before, why) &&
	     book_take_tables(book, tables, count, origin, why) && count_marks(book, &after, why);
	if (!book_finish(book, ok, why) || !ok)
		return false;
	counts->runs = rows_of(tables, count, "run");
	counts->sights = rows_of(tables, count, "sight");
	/* Marks that it had already, and struck ones, are no new ones. */
	counts->marks = after - before;
	return true;
}

bool paper_is_whole(const struct csv_reader *reader)
{
	return strncmp(reader->at, "book,", 5) == 0;
}

bool paper_import_whole(struct book *book, struct csv_reader *reader, struct paper_imported *counts,
                        struct fault *why)
{
	struct book_table tables[BOOK_TABLE_COLUMNS] = {0};
	size_t count = 0;
	bool ok = is_empty(book, why) && read_tables(book, reader, tables, &count, why) &&
	          take(book, tables, count, file_name(reader->path), counts, why);
	free_tables(tables, count);
	return ok;
}

/* The texts of a column, in the order of strcmp(). */
struct texts {
	const char **text;
	size_t count;
};

static int by_text(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static bool list_texts(struct texts *out, const struct book_table *table, const char *column,
                       struct fault *why)
{
	size_t c = book_table_column(table, column);
	out->text = malloc((table->rows + 1) * sizeof *out->text);
	if (!out->text)
		return fault_memory(why);
	for (size_t r = 0; c < table->columns && r < table->rows; r++)
		if (table->cell[r * table->columns + c])
			out->text[out->count++] = table->cell[r * table->columns + c];
	qsort(out->text, out->count, sizeof *out->text, by_text);
	return true;
}

static bool has_text(const struct texts *list, const char *text)
{
	return text && list->text &&
	       bsearch(&text, list->text, list->count, sizeof *list->text, by_text) != NULL;
}

/* Which rows of a table go along with the runs chosen: what their rows name. */
struct chosen {
	struct texts runs, plans, stations, instruments, rods;
	bool marks_only;
};

static void free_chosen(struct chosen *chosen)
{
	free(chosen->runs.text);
	free(chosen->plans.text);
	free(chosen->stations.text);
	free(chosen->instruments.text);
	free(chosen->rods.text);
}

static bool goes_along(const struct chosen *chosen, const struct book_table *table, size_t row)
{
	const char *name = book_table_cell(table, row, "name");
	const char *run = book_table_cell(table, row, "run");
	if (run)
		return has_text(&chosen->runs, run);
	if (book_table_cell(table, row, "struck"))
		return false;
	if (strcmp(table->name, "mark") == 0)
		return chosen->marks_only || has_text(&chosen->stations, name);
	if (strcmp(table->name, "instrument") == 0)
		return has_text(&chosen->instruments, name);
	if (strcmp(table->name, "rod") == 0)
		return has_text(&chosen->rods, name);
	if (strcmp(table->name, "pegtest") == 0 || strcmp(table->name, "fieldtest") == 0)
		return has_text(&chosen->instruments, book_table_cell(table, row, "instrument"));
	if (strcmp(table->name, "plan") == 0)
		return has_text(&chosen->plans, name);
	return false;
}

static bool keep(struct book_table *table, const struct chosen *chosen, const char *const *names,
                 size_t count, struct fault *why)
{
	bool *kept = calloc(table->rows + 1, sizeof *kept);
	if (!kept)
		return fault_memory(why);
	for (size_t r = 0; r < table->rows; r++) {
		const char *name = book_table_cell(table, r, "name");
		if (strcmp(table->name, "run") != 0)
			kept[r] = goes_along(chosen, table, r);
		for (size_t i = 0; strcmp(table->name, "run") == 0 && i < count; i++)
			kept[r] = kept[r] || (name && strcmp(name, names[i]) == 0);
	}
	book_table_keep(table, kept);
	free(kept);
	return true;
}

static struct book_table *table_named(struct book_table *tables, size_t count, const char *name)
{
	size_t i = 0;
	while (i + 1 < count && strcmp(tables[i].name, name) != 0)
		i++;
	return &tables[i];
}

static bool check_names(const struct book_table *runs, const char *const *names, size_t count,
                        struct fault *why)
{
	struct texts known = {0};
	bool ok = list_texts(&known, runs, "name", why);
	for (size_t i = 0; ok && i < count; i++)
		ok = has_text(&known, names[i]) ||
		     fault_say(why, FAULT_INPUT, "the other book has no run %.160s", names[i]);
	free(known.text);
	return ok;
}

/* The runs first, then their sights, then what these name. */
static bool choose(struct book_table *tables, size_t all, const char *const *names, size_t count,
                   struct fault *why)
{
	struct book_table *runs = table_named(tables, all, "run");
	struct book_table *sights = table_named(tables, all, "sight");
	struct chosen chosen = {.marks_only = count == 0};
	bool ok = check_names(runs, names, count, why) && keep(runs, &chosen, names, count, why) &&
	          list_texts(&chosen.runs, runs, "id", why) &&
	          list_texts(&chosen.plans, runs, "plan", why) &&
	          keep(sights, &chosen, names, count, why) &&
	          list_texts(&chosen.stations, sights, "station", why) &&
	          list_texts(&chosen.instruments, sights, "instrument", why) &&
	          list_texts(&chosen.rods, sights, "rod", why);
	for (size_t i = 0; ok && i < all; i++)
		if (&tables[i] != runs && &tables[i] != sights)
			ok = keep(&tables[i], &chosen, names, count, why);
	free_chosen(&chosen);
	return ok;
}

bool paper_copy(struct book *book, struct book *other, const char *path, const char *const *names,
                size_t count, struct paper_imported *counts, struct fault *why)
{
	struct book_table tables[BOOK_TABLE_COLUMNS] = {0};
	size_t all = book_table_count(), read;
	bool ok = read_all(other, tables, &read, why) && choose(tables, all, names, count, why) &&
	          take(book, tables, all, file_name(path), counts, why);
	free_tables(tables, read);
	return ok;
}
