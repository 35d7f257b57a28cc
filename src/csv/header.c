/* The first line of a run's CSV: which column stands where. */
#include "csv/csv.h"

#include <string.h>
#include <strings.h>

/* In files the time stands before the remark, in half-typed forms the remark is the older one. */
static size_t swapped(size_t text)
{
	return text == WORK_TIME ? WORK_REMARK : text == WORK_REMARK ? WORK_TIME : text;
}

enum work_text csv_column_text(size_t column)
{
	if (column == CSV_RUN || column == CSV_KIND || column == CSV_KNOWN || column == CSV_TURN)
		return WORK_TEXTS;
	return (enum work_text)swapped(column - (column < CSV_KNOWN ? 2 : 3));
}

size_t csv_column_of(enum work_text text)
{
	return swapped(text) + (text < WORK_READING ? 2 : 3);
}

const char *csv_column_name(size_t column)
{
	return column == CSV_RUN     ? "run"
	       : column == CSV_KIND  ? "kind"
	       : column == CSV_KNOWN ? "known"
	       : column == CSV_TURN  ? "turn"
	                             : work_text_name(csv_column_text(column));
}

static bool is_required(size_t c)
{
	return c == CSV_RUN || csv_column_text(c) <= WORK_READING;
}

static bool unknown_column(const struct csv_reader *reader, const struct csv_record *record,
                           const char *name, struct fault *why)
{
	char others[400] = "";
	size_t used = 0;
	for (size_t c = 0; c < CSV_COLUMNS && used < sizeof others; c++)
		if (!is_required(c))
			used += (size_t)snprintf(others + used, sizeof others - used, "%s%s",
			                         !used                  ? ""
			                         : c + 1 == CSV_COLUMNS ? " and "
			                                                : ", ",
			                         csv_column_name((size_t)c));
	return fault_say(why, FAULT_INPUT,
	                 "%.200s:%d: no column \"%.60s\" is known: run, sight, station and reading "
	                 "are required; %s may stand",
	                 reader->path, record->line, name, others);
}

bool csv_read_header(struct csv_reader *reader, struct csv_record *record, int place[CSV_COLUMNS],
                     struct fault *why)
{
	if (!csv_read(reader, record, why))
		return why->kind != FAULT_NONE
		           ? false
		           : fault_say(why, FAULT_INPUT,
		                       "%.300s is empty: its first line names the "
		                       "columns run,sight,station,reading",
		                       reader->path);
	for (size_t i = 0; i < record->count; i++)
		level_trim(record->field[i]);
	for (int c = 0; c < CSV_COLUMNS; c++)
		place[c] = -1;
	for (size_t i = 0; i < record->count; i++) {
		int c = 0;
		while (c < CSV_COLUMNS &&
		       strcasecmp(csv_column_name((size_t)c), record->field[i]) != 0)
			c++;
		if (c == CSV_COLUMNS && record->count == 1 && strpbrk(record->field[i], ";\t"))
			return fault_say(
			    why, FAULT_INPUT,
			    "%.200s:%d: columns are parted by commas: save the file as CSV "
			    "with commas",
			    reader->path, record->line);
		if (c == CSV_COLUMNS)
			return unknown_column(reader, record, record->field[i], why);
		if (place[c] >= 0)
			return fault_say(why, FAULT_INPUT, "%.200s:%d: column %s stands twice",
			                 reader->path, record->line, csv_column_name((size_t)c));
		place[c] = (int)i;
	}
	for (size_t c = 0; c < CSV_COLUMNS; c++)
		if (is_required(c) && place[c] < 0)
			return fault_say(why, FAULT_INPUT,
			                 "%.200s:%d: column %s is missing: run, sight, station and "
			                 "reading are required",
			                 reader->path, record->line, csv_column_name((size_t)c));
	return true;
}
