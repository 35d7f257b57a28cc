/* The marks of a book as a table in CSV, and back. */
#include <stdlib.h>
#include <string.h>

#include "paper/whole.h"

static const char *const columns[] = {"mark", "elevation", "u", "unit", "source"};
#define COLUMNS (sizeof columns / sizeof *columns)

bool paper_export_marks(FILE *out, struct book *book, struct fault *why)
{
	struct book_mark *marks;
	size_t count;
	if (!book_marks(book, &marks, &count, why))
		return false;
	csv_write(out, columns, COLUMNS, "\r\n");
	for (size_t i = 0; i < count; i++) {
		const char *fields[] = {marks[i].name, marks[i].typed, marks[i].u_typed,
		                        level_unit_name(marks[i].unit), marks[i].source};
		csv_write(out, fields, COLUMNS, "\r\n");
	}
	free(marks);
	return true;
}

bool paper_is_marks(const struct csv_reader *reader)
{
	return strncmp(reader->at, "mark,", 5) == 0;
}

/* A mark that the book has at that elevation stays as it is. */
static bool has_mark(const struct book_mark *marks, size_t count, const char *name,
                     level_nm elevation)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(marks[i].name, name) == 0)
			return marks[i].elevation == elevation;
	return false;
}

static bool take_mark(struct book *book, const struct csv_record *record,
                      const struct book_mark *marks, size_t count, struct paper_imported *counts,
                      struct fault *why)
{
	enum level_unit unit;
	level_nm elevation;
	if (record->count != COLUMNS)
		return fault_say(why, FAULT_INPUT, "a row has %zu columns: %s", COLUMNS,
		                 "mark, elevation, u, unit, source");
	if (!level_unit_find(record->field[3], &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in");
	if (!level_parse_length(record->field[1], unit, &elevation, why))
		return false;
	if (has_mark(marks, count, record->field[0], elevation))
		return true;
	for (size_t i = 0; i < count; i++)
		if (strcmp(marks[i].name, record->field[0]) == 0)
			return fault_say(why, FAULT_INPUT,
			                 "the book has %.160s at another elevation already",
			                 record->field[0]);
	counts->marks++;
	return book_mark_set_in(book, unit, record->field[0], record->field[1], record->field[2],
	                        record->field[4], why);
}

bool paper_import_marks(struct book *book, struct csv_reader *reader, struct paper_imported *counts,
                        struct fault *why)
{
	struct csv_record record;
	struct book_mark *marks = NULL;
	struct fault words;
	size_t count;
	bool ok = book_marks(book, &marks, &count, why) && csv_read(reader, &record, why) &&
	          book_begin(book, why);
	if (!ok) {
		free(marks);
		return false;
	}
	while (ok && csv_read(reader, &record, why)) {
		ok = take_mark(book, &record, marks, count, counts, &words);
		if (!ok)
			fault_say(why, words.kind, "%.200s:%d: %.400s", reader->path, record.line,
			          words.text);
	}
	ok = ok && why->kind == FAULT_NONE;
	free(marks);
	return book_finish(book, ok, why) && ok;
}
