/* The marks of a book as a table in CSV, and back. */
#include <search.h>
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

/* A mark that the book has, or that the file gave it. */
struct known_mark {
	const char *name;
	level_nm elevation;
};

static int by_name(const void *a, const void *b)
{
	return strcmp(((const struct known_mark *)a)->name, ((const struct known_mark *)b)->name);
}

/* Puts a mark into the tree; the name must outlive it. */
static bool remember(void **known, const char *name, level_nm elevation, struct fault *why)
{
	struct known_mark *mark = malloc(sizeof *mark);
	if (mark)
		*mark = (struct known_mark){name, elevation};
	if (mark && tsearch(mark, known, by_name))
		return true;
	free(mark);
	return fault_say(why, FAULT_FILE, "out of memory");
}

static void forget(void *known)
{
	while (known) {
		struct known_mark *mark = *(struct known_mark **)known;
		tdelete(mark, &known, by_name);
		free(mark);
	}
}

/* A mark that is known at that elevation stays as it is. */
static bool take_mark(struct book *book, const struct csv_record *record, void **known,
                      struct paper_imported *counts, struct fault *why)
{
	struct known_mark key = {.name = record->field[0]};
	struct known_mark *const *found;
	enum level_unit unit;
	if (record->count != COLUMNS)
		return fault_say(why, FAULT_INPUT, "a row has %zu columns: %s", COLUMNS,
		                 "mark, elevation, u, unit, source");
	if (!level_unit_find(record->field[3], &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in");
	if (!level_parse_length(record->field[1], unit, &key.elevation, why))
		return false;
	found = tfind(&key, known, by_name);
	if (found)
		return (*found)->elevation == key.elevation ||
		       fault_say(why, FAULT_INPUT,
		                 "the book has %.160s at another elevation already", key.name);
	counts->marks++;
	return book_mark_set_in(book, unit, record->field[0], record->field[1], record->field[2],
	                        record->field[4], why) &&
	       remember(known, key.name, key.elevation, why);
}

bool paper_import_marks(struct book *book, struct csv_reader *reader, struct paper_imported *counts,
                        struct fault *why)
{
	struct csv_record record;
	struct book_mark *marks = NULL;
	struct fault words;
	size_t count;
	void *known = NULL;
	bool ok = book_begin(book, why);
	if (!ok)
		return false;
	ok = book_marks(book, &marks, &count, why) && csv_read(reader, &record, why);
	for (size_t i = 0; ok && i < count; i++)
		ok = remember(&known, marks[i].name, marks[i].elevation, why);
	while (ok && csv_read(reader, &record, why)) {
		ok = take_mark(book, &record, &known, counts, &words);
		if (!ok)
			fault_say(why, words.kind, "%.200s:%d: %.400s", reader->path, record.line,
			          words.text);
	}
	ok = ok && why->kind == FAULT_NONE;
	forget(known);
	free(marks);
	return book_finish(book, ok, why) && ok;
}
