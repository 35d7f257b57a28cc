/* A run as CSV that can be taken back. */
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "rodbook/csv/csv.h"
#include "rodbook/work/run.h"

/* The known elevation as it was typed, in the unit of its row. */
static void put_known(char *cell, size_t size, const struct level_sight *sight,
                      const struct book_note *note, const struct book_mark *marks, size_t count)
{
	cell[0] = '\0';
	for (size_t i = 0; sight->has_known && i < count; i++)
		if (strcmp(marks[i].name, sight->station) == 0)
			level_carry_text(cell, size, marks[i].typed, marks[i].unit, note->unit);
}

/* A distance from the wires is written out: the book that takes it may have other constants. */
static void put_distance(char *cell, const struct level_sight *sight, const struct book_note *note)
{
	struct level_style meters = {LEVEL_M, 0, 1};
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

static void put_row(FILE *out, const struct work_run *run, size_t i, const struct book_mark *marks,
                    size_t mark_count, size_t columns)
{
	const struct level_sight *s = &run->book.run.sight[i];
	const struct book_note *n = &run->book.note[i];
	char known[BOOK_TYPED_BYTES + 8], distance[LEVEL_LENGTH_BYTES];
	const char *fields[] = {run->book.info.name,
	                        level_run_kind_name(run->book.run.kind),
	                        level_kind_name(s->kind),
	                        s->station,
	                        known,
	                        n->reading,
	                        n->upper,
	                        n->middle,
	                        n->lower,
	                        distance,
	                        level_method_name(s->method),
	                        n->time,
	                        n->remark,
	                        level_unit_name(n->unit),
	                        n->instrument,
	                        n->rod,
	                        s->again ? "again" : "",
	                        n->along,
	                        n->photo,
	                        way_of(&run->book, i)};
	put_known(known, sizeof known, s, n, marks, mark_count);
	put_distance(distance, s, n);
	csv_write(out, fields, columns, "\r\n");
}

/* How many columns sight i needs. */
static size_t needed(const struct book_run *run, size_t i)
{
	const struct level_sight *s = &run->run.sight[i];
	const struct book_note *n = &run->note[i];
	return *way_of(run, i)  ? CSV_DISTANCE_BY + 1
	       : *n->photo      ? CSV_PHOTO + 1
	       : *n->along      ? CSV_ALONG + 1
	       : s->again       ? CSV_AGAIN + 1
	       : *n->rod        ? CSV_ROD + 1
	       : *n->instrument ? CSV_INSTRUMENT + 1
	                        : CSV_INSTRUMENT;
}

static size_t last_column(const struct book_run *run)
{
	size_t last = CSV_INSTRUMENT;
	for (size_t i = 0; i < run->run.count; i++)
		if (level_counted(&run->run.sight[i]) && needed(run, i) > last)
			last = needed(run, i);
	return last;
}

bool csv_export_run(FILE *out, struct book *book, const struct work_run *run, struct fault *why)
{
	struct book_mark *marks;
	size_t count, columns = last_column(&run->book);
	if (!book_marks(book, &marks, &count, why))
		return false;
	csv_write(out, csv_columns, columns, "\r\n");
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]))
			put_row(out, run, i, marks, count, columns);
	free(marks);
	return true;
}
