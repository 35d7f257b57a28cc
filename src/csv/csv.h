/* RFC 4180: fields in quotes where they need them, and back. A text that a spreadsheet would run as
 * a formula (it begins with = + - @ or a control character, and is no number) is written behind an
 * apostrophe, which reading takes off. */
#ifndef CSV_CSV_H
#define CSV_CSV_H

#include <stdbool.h>
#include <stdio.h>

#include "rodbook/work/sight.h"

#define CSV_FIELDS 48

/* The columns of a run's CSV, in the order of an export: run, kind, and the texts of its sights,
 * with the known elevation behind the station; and the mark at which a double run turns. The first
 * CSV_ALWAYS are always written, the others only as far as a sight needs them. */
enum { CSV_RUN, CSV_KIND, CSV_KNOWN = 4, CSV_ALWAYS = 14, CSV_TURN = WORK_TEXTS + 3, CSV_COLUMNS };
const char *csv_column_name(size_t column);
/* The text that stands in the column; WORK_TEXTS in run, kind, known and turn. */
enum work_text csv_column_text(size_t column);
/* The column in which the text stands. */
size_t csv_column_of(enum work_text text);

/* Writes fields[0..count) as one record with this line end. */
void csv_write(FILE *out, const char *const *fields, size_t count, const char *line_end);

struct csv_reader {
	char *text, *at; /* the whole file, and where reading stands */
	const char *path;
	int line;
};

struct csv_record {
	size_t count;
	int line; /* where it begins, from 1 */
	char *field[CSV_FIELDS];
};

/* Reads the file whole; refuses what is not text. */
bool csv_open(struct csv_reader *reader, const char *path, struct fault *why);
/* The next record that is not blank; false at the end, and on a fault, which sets why->kind. */
bool csv_read(struct csv_reader *reader, struct csv_record *record, struct fault *why);
void csv_close(struct csv_reader *reader);
/* Reads the first line: place[c] is the index of column c, -1 where it is absent. */
bool csv_read_header(struct csv_reader *reader, struct csv_record *record, int place[CSV_COLUMNS],
                     struct fault *why);

#endif
