/* The marks of a book as a table in CSV, and back. */
#include <search.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "csv/whole.h"
#include "rodbook/csv/csv.h"

/* The last two are written where a mark needs them. */
enum { MARK, ELEVATION, U, UNIT, SOURCE, DESCRIPTION, REACH, COLUMNS };
static const char *const columns[COLUMNS] = {"mark",   "elevation",   "u",    "unit",
                                             "source", "description", "reach"};

bool csv_export_marks(FILE *out, struct book *book, struct fault *why)
{
	struct book_mark *marks;
	size_t count, width = DESCRIPTION;
	if (!book_marks(book, &marks, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		width = *marks[i].reach                          ? COLUMNS
		        : *marks[i].description && width < REACH ? REACH
		                                                 : width;
	csv_write(out, columns, width, "\r\n");
	for (size_t i = 0; i < count; i++) {
		const char *fields[] = {marks[i].name,    marks[i].typed,
		                        marks[i].u_typed, level_unit_name(marks[i].unit),
		                        marks[i].source,  marks[i].description,
		                        marks[i].reach};
		csv_write(out, fields, width, "\r\n");
	}
	free(marks);
	return true;
}

bool csv_is_marks(const struct csv_reader *reader)
{
	static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
	bool mark = false, elevation = false;
	for (const char *at = reader->at; *at && *at != '\n';) {
		size_t size = strspn(at, letters);
		mark = mark || (size == 4 && strncasecmp(at, "mark", size) == 0);
		elevation = elevation || (size == 9 && strncasecmp(at, "elevation", size) == 0);
		at += size ? size : 1;
	}
	return mark && elevation;
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
	return fault_memory(why);
}

static void forget(void *known)
{
	while (known) {
		struct known_mark *mark = *(struct known_mark **)known;
		tdelete(mark, &known, by_name);
		free(mark);
	}
}

/* Where each column stands in a row of the file; SIZE_MAX where it does not. */
static bool read_head(struct csv_reader *reader, size_t place[COLUMNS], size_t *width,
                      struct fault *why)
{
	struct csv_record head;
	for (size_t c = 0; c < COLUMNS; c++)
		place[c] = SIZE_MAX;
	if (!csv_read(reader, &head, why))
		return false;
	*width = head.count;
	for (size_t i = 0; i < head.count; i++) {
		size_t c = 0;
		while (c < COLUMNS && strcasecmp(head.field[i], columns[c]) != 0)
			c++;
		if (c == COLUMNS || place[c] != SIZE_MAX)
			return fault_say(
			    why, FAULT_INPUT,
			    "%.200s:1: %s column \"%.60s\" in a list of marks: its columns are "
			    "mark and elevation, and u, unit, source, description and reach where "
			    "they "
			    "are known",
			    reader->path, c == COLUMNS ? "no" : "a second", head.field[i]);
		place[c] = i;
	}
	return true;
}

static const char *field(const struct csv_record *record, const size_t place[COLUMNS], size_t c)
{
	return place[c] == SIZE_MAX ? "" : record->field[place[c]];
}

/* A mark that is known at that elevation stays as it is. Without a unit it is in the book's,
 * `here`. */
static bool take_mark(struct book *book, const struct csv_record *record,
                      const size_t place[COLUMNS], size_t width, enum level_unit here, void **known,
                      struct work_taken *counts, struct fault *why)
{
	struct known_mark key;
	struct known_mark *const *found;
	enum level_unit unit = here;
	struct book_mark_given given;
	const char *typed;
	if (record->count != width)
		return fault_say(why, FAULT_INPUT, "a row has %zu columns, as the first line has",
		                 width);
	key.name = field(record, place, MARK);
	typed = field(record, place, ELEVATION);
	if (*field(record, place, UNIT) && !level_unit_find(field(record, place, UNIT), &unit))
		return fault_say(why, FAULT_INPUT, "a unit is m, ft, ftin or in, not \"%.40s\"",
		                 field(record, place, UNIT));
	if (!level_parse_length(typed, unit, &key.elevation, why))
		return false;
	found = tfind(&key, known, by_name);
	if (found)
		return (*found)->elevation == key.elevation ||
		       fault_say(why, FAULT_INPUT,
		                 "the book has %.160s at another elevation already", key.name);
	counts->marks++;
	given = (struct book_mark_given){key.name,
	                                 typed,
	                                 field(record, place, U),
	                                 field(record, place, SOURCE),
	                                 field(record, place, DESCRIPTION),
	                                 field(record, place, REACH)};
	return book_mark_put(book, unit, &given, why) &&
	       remember(known, key.name, key.elevation, why);
}

bool csv_import_marks(struct book *book, struct csv_reader *reader, struct work_taken *counts,
                      struct fault *why)
{
	struct csv_record record;
	struct book_mark *marks = NULL;
	struct fault words;
	struct book_settings settings;
	size_t count, place[COLUMNS], width;
	void *known = NULL;
	bool ok = book_begin(book, why);
	if (!ok)
		return false;
	ok = book_settings(book, &settings, why) && book_marks(book, &marks, &count, why) &&
	     read_head(reader, place, &width, why);
	for (size_t i = 0; ok && i < count; i++)
		ok = remember(&known, marks[i].name, marks[i].elevation, why);
	while (ok && csv_read(reader, &record, why)) {
		ok = take_mark(book, &record, place, width, settings.style.unit, &known, counts,
		               &words);
		if (!ok)
			fault_say(why, words.kind, "%.200s:%d: %.400s", reader->path, record.line,
			          words.text);
	}
	ok = ok && why->kind == FAULT_NONE;
	forget(known);
	free(marks);
	return book_finish(book, ok, why) && ok;
}
