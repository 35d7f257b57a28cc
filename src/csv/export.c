/* A run as CSV that can be taken back. */
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "rodbook/csv/csv.h"
#include "rodbook/work/run.h"

/* The known elevation as it was typed, in the unit of its row. */
static void put_known(char *cell, size_t size, const struct level_sight *sight,
                      const struct book_kept *note, const struct book_mark *marks, size_t count)
{
	cell[0] = '\0';
	for (size_t i = 0; sight->has_known && i < count; i++)
		if (strcmp(marks[i].name, sight->station) == 0)
			level_carry_text(cell, size, marks[i].typed, marks[i].unit, note->unit);
}

/* A distance from the wires is written out: the book that takes it may have other constants. */
static void put_distance(char *cell, const struct level_sight *sight, const struct book_kept *note)
{
	struct level_style meters = {.unit = LEVEL_M, .fraction = 1};
	snprintf(cell, LEVEL_LENGTH_BYTES, "%s", note->distance);
	if (!*cell && sight->distance)
		strcat(level_format_exact(cell, sight->distance, &meters), " m");
}

/* How the distance was got, as far as it tells: of wires only in a crossing, where it is written
 * out as a distance. */
static const char *way_of(const struct book_run *run, size_t i)
{
	const struct level_sight *sight = &run->run.sight[i];
	if (run->run.kind == LEVEL_CROSSING && sight->distance_by == LEVEL_WIRED)
		return level_distance_way_name(LEVEL_WIRED);
	return run->note[i].distance_by;
}

/* The cells of sight i, but for the known elevation. */
static void fill(const struct book_run *run, size_t i, const char *fields[CSV_COLUMNS])
{
	const struct level_sight *s = &run->run.sight[i];
	for (size_t c = 0; c < CSV_COLUMNS; c++) {
		enum work_text text = csv_column_text(c);
		const char *noted = text < WORK_TEXTS ? work_note_text(&run->note[i], text) : NULL;
		fields[c] = noted ? noted : "";
	}
	fields[CSV_RUN] = run->info.name;
	fields[CSV_KIND] = level_run_kind_name(run->run.kind);
	fields[CSV_TURN] = run->info.turn;
	fields[csv_column_of(WORK_SIGHT)] = level_kind_name(s->kind);
	fields[csv_column_of(WORK_STATION)] = s->station;
	fields[csv_column_of(WORK_METHOD)] = level_method_name(s->method);
	fields[csv_column_of(WORK_UNIT)] = level_unit_name(run->note[i].unit);
	fields[csv_column_of(WORK_AGAIN)] = s->again ? "again" : "";
	fields[csv_column_of(WORK_DECLARED)] = s->declared ? "declared" : "";
	fields[csv_column_of(WORK_DISTANCE_BY)] = way_of(run, i);
}

static void put_row(FILE *out, const struct book_run *run, size_t i, const struct book_mark *marks,
                    size_t mark_count, size_t columns)
{
	char known[BOOK_TYPED_BYTES + 8], distance[LEVEL_LENGTH_BYTES];
	const char *fields[CSV_COLUMNS];
	fill(run, i, fields);
	put_known(known, sizeof known, &run->run.sight[i], &run->note[i], marks, mark_count);
	put_distance(distance, &run->run.sight[i], &run->note[i]);
	fields[CSV_KNOWN] = known;
	fields[csv_column_of(WORK_DISTANCE)] = distance;
	csv_write(out, fields, columns, "\r\n");
}

/* How many columns the run needs: up to the last one that a sight fills. */
static size_t last_column(const struct book_run *run)
{
	size_t last = CSV_ALWAYS;
	const char *fields[CSV_COLUMNS];
	for (size_t i = 0; i < run->run.count; i++) {
		if (!level_counted(&run->run.sight[i]))
			continue;
		fill(run, i, fields);
		for (size_t c = last; c < CSV_COLUMNS; c++)
			if (*fields[c])
				last = c + 1;
	}
	return last;
}

bool csv_export_run(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_mark *marks;
	const char *names[CSV_COLUMNS];
	size_t count, columns = last_column(&run->book);
	if (!book_marks(book, &marks, &count, why))
		return false;
	for (size_t c = 0; c < columns; c++)
		names[c] = csv_column_name(c);
	csv_write(out, names, columns, "\r\n");
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]))
			put_row(out, &run->book, i, marks, count, columns);
	free(marks);
	return true;
}
