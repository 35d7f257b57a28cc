/* The pairs of a field test from a CSV file. */
#include <string.h>
#include <strings.h>

#include "csv/csv.h"
#include "rodbook/csv/csv.h"

static const char *const columns[] = {"backsight", "foresight"};
#define COLUMNS 2

static bool next_record(struct csv_reader *reader, struct csv_record *record, struct fault *why)
{
	why->kind = FAULT_NONE;
	if (!csv_read(reader, record, why))
		return false;
	for (size_t i = 0; i < record->count; i++)
		level_trim(record->field[i]);
	return true;
}

/* Finds where each column stands. */
static bool read_header(struct csv_reader *reader, struct csv_record *record, int place[COLUMNS],
                        struct fault *why)
{
	if (!next_record(reader, record, why))
		return why->kind == FAULT_NONE
		           ? fault_say(why, FAULT_INPUT,
		                       "%.300s is empty: its first line is "
		                       "backsight,foresight, and each line below it a pair",
		                       reader->path)
		           : false;
	if (record->count == 1 && strpbrk(record->field[0], ";\t"))
		return fault_say(
		    why, FAULT_INPUT,
		    "%.200s:%d: columns are parted by commas: save the file as CSV with commas",
		    reader->path, record->line);
	for (int c = 0; c < COLUMNS; c++) {
		place[c] = -1;
		for (size_t i = 0; i < record->count; i++)
			if (strcasecmp(record->field[i], columns[c]) == 0 && place[c] < 0)
				place[c] = (int)i;
	}
	if (record->count != COLUMNS || place[0] < 0 || place[1] < 0)
		return fault_say(why, FAULT_INPUT,
		                 "%.200s:%d: the first line names the columns backsight and "
		                 "foresight, and no others",
		                 reader->path, record->line);
	return true;
}

static bool read_pair(const struct csv_reader *reader, const struct csv_record *record,
                      const int place[COLUMNS], enum level_unit bare, struct level_pair *pair,
                      struct fault *why)
{
	level_nm *values[COLUMNS] = {&pair->backsight, &pair->foresight};
	struct fault words = {0};
	if (record->count != COLUMNS)
		return fault_say(why, FAULT_INPUT, "%.200s:%d: a pair has 2 columns, this line %zu",
		                 reader->path, record->line, record->count);
	for (int c = 0; c < COLUMNS; c++)
		if (!level_parse_length(record->field[place[c]], bare, values[c], &words))
			return fault_say(why, FAULT_INPUT, "%.200s:%d: column %s: %.360s",
			                 reader->path, record->line, columns[c], words.text);
	return true;
}

bool csv_read_fieldtest(const char *path, enum level_unit bare,
                        struct level_pair pairs[LEVEL_FIELDTEST_MOST], size_t *count,
                        struct fault *why)
{
	struct csv_reader reader;
	struct csv_record record;
	int place[COLUMNS] = {0};
	bool ok;
	*count = 0;
	if (!csv_open(&reader, path, why))
		return false;
	ok = read_header(&reader, &record, place, why);
	while (ok && next_record(&reader, &record, why)) {
		if (*count == LEVEL_FIELDTEST_MOST)
			ok = fault_say(why, FAULT_INPUT, "%.300s has more than %d pairs", path,
			               LEVEL_FIELDTEST_MOST);
		else
			ok = read_pair(&reader, &record, place, bare, &pairs[(*count)++], why);
	}
	ok = ok && why->kind == FAULT_NONE;
	csv_close(&reader);
	return ok;
}
