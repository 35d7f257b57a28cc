/* Runs from a CSV file: all rows or none. */
#include <stdlib.h>
#include <string.h>

#include "csv/csv.h"
#include "csv/names.h"
#include "csv/whole.h"
#include "rodbook/book/crossing.h"
#include "rodbook/csv/csv.h"
#include "rodbook/level/offset.h"
#include "rodbook/level/time.h"
#include "rodbook/work/copy.h"
#include "rodbook/work/sight.h"

struct taken_run {
	char name[LEVEL_NAME_BYTES];
	bool kind_given;
	struct level_run run;
	struct book_note *note;
	size_t room;
};

struct importer {
	struct book *book;
	struct work_reader with;
	struct csv_reader reader;
	struct csv_record record;
	int place[CSV_COLUMNS]; /* index of each column in the file; -1 where absent */
	struct taken_run *runs;
	size_t run_count, run_room;
	struct book_mark *marks; /* of the book, and those that the file adds */
	size_t mark_count, mark_room, marks_before;
	struct csv_names run_names, mark_names; /* where they stand */
	size_t below;                           /* readings below zero */
};

/* A fault at a column of the present row, in the words given. */
static bool at_column(const struct importer *im, const char *column, const char *words,
                      struct fault *why)
{
	return fault_say(why, FAULT_INPUT, "%.200s:%d: column %s: %.360s", im->reader.path,
	                 im->record.line, column, words);
}

static const char *cell(const struct importer *im, size_t column)
{
	return im->place[column] < 0 ? "" : im->record.field[im->place[column]];
}

static void trim(struct importer *im, size_t column)
{
	if (im->place[column] >= 0)
		level_trim(im->record.field[im->place[column]]);
}

/* Blanks around a name are no part of it: "TP1 " and "TP1" would be two marks to the program and
 * one to the eye. */
static void trim_names(struct importer *im)
{
	static const enum work_text trimmed[] = {
	    WORK_SIGHT, WORK_STATION,    WORK_METHOD,      WORK_UNIT,
	    WORK_ROD,   WORK_INSTRUMENT, WORK_DISTANCE_BY, WORK_DISTANCE_UNIT};
	trim(im, CSV_RUN);
	trim(im, CSV_KIND);
	trim(im, CSV_TURN);
	for (size_t i = 0; i < sizeof trimmed / sizeof *trimmed; i++)
		trim(im, csv_column_of(trimmed[i]));
}

/* Room for one more in an array; NULL where memory is short, and then the array stays. */
static void *grow(void *array, size_t count, size_t *room, size_t size)
{
	size_t wanted = *room ? 2 * *room : 8;
	void *more;
	if (count < *room)
		return array;
	more = realloc(array, wanted * size);
	if (more)
		*room = wanted;
	return more;
}

static struct taken_run *find_run(struct importer *im, struct fault *why)
{
	const char *name = cell(im, CSV_RUN);
	size_t at = csv_name_find(&im->run_names, name, im->run_count);
	struct book_run_info info;
	struct fault words = {0};
	struct taken_run *more;

	if (at < im->run_count)
		return &im->runs[at];
	if (!level_check_name(name, "run", &words)) {
		at_column(im, "run", words.text, why);
		return NULL;
	}
	words.kind = FAULT_NONE;
	if (book_run_find(im->book, name, &info, &words)) {
		at_column(im, "run", "the book has a run of that name: rename it in the file", why);
		return NULL;
	}
	if (words.kind != FAULT_INPUT) {
		*why = words;
		return NULL;
	}
	more = grow(im->runs, im->run_count, &im->run_room, sizeof *more);
	if (more)
		im->runs = more;
	if (!more || !csv_name_add(&im->run_names, name, im->run_count)) {
		fault_memory(why);
		return NULL;
	}
	more = &im->runs[im->run_count++];
	*more = (struct taken_run){0};
	strcpy(more->name, name);
	return more;
}

static bool take_kind(struct importer *im, struct taken_run *run, struct fault *why)
{
	enum level_run_kind kind;
	const char *text = cell(im, CSV_KIND);
	if (!*text)
		return true;
	if (!level_run_kind_find(text, &kind))
		return at_column(im, "kind", "the kind of a run is loop, link, open or crossing",
		                 why);
	if (run->kind_given && run->run.kind != kind)
		return at_column(im, "kind", "an earlier row gives this run another kind", why);
	run->kind_given = true;
	run->run.kind = kind;
	return true;
}

static bool take_turn(struct importer *im, struct taken_run *run, struct fault *why)
{
	const char *text = cell(im, CSV_TURN);
	struct fault words = {0};
	if (!*text || strcmp(run->run.turn, text) == 0)
		return true;
	if (*run->run.turn)
		return at_column(im, "turn", "an earlier row lets this run turn at another mark",
		                 why);
	if (!level_check_name(text, "mark", &words))
		return at_column(im, "turn", words.text, why);
	strcpy(run->run.turn, text);
	return true;
}

static struct book_mark *find_mark(struct importer *im, const char *name)
{
	size_t at = csv_name_find(&im->mark_names, name, im->mark_count);
	return at < im->mark_count ? &im->marks[at] : NULL;
}

static bool take_known(struct importer *im, const char *station, enum level_unit unit,
                       struct fault *why)
{
	const char *text = cell(im, CSV_KNOWN);
	struct fault words = {0};
	struct book_mark mark = {.unit = unit}, *old, *more;

	if (!*text)
		return true;
	if (strlen(text) > BOOK_TYPED_CHARS - 4)
		return at_column(im, "known", "too long for a length", why);
	if (!level_parse_length(text, unit, &mark.elevation, &words))
		return at_column(im, "known", words.text, why);
	old = find_mark(im, station);
	if (old && old->elevation == mark.elevation)
		return true;
	if (old)
		return at_column(im, "known", "this station is known at another elevation already",
		                 why);
	more = grow(im->marks, im->mark_count, &im->mark_room, sizeof *more);
	if (more)
		im->marks = more;
	if (!more || !csv_name_add(&im->mark_names, station, im->mark_count))
		return fault_memory(why);
	strcpy(mark.name, station);
	strcpy(mark.typed, text);
	im->marks[im->mark_count++] = mark;
	return true;
}

static bool read_sight(struct importer *im, struct level_sight *sight, struct book_note *note,
                       struct fault *why)
{
	struct fault words = {0};
	struct work_typed typed = {0};
	for (enum work_text t = 0; t < WORK_TEXTS; t++)
		typed.text[t] = cell(im, csv_column_of(t));
	if (!work_read_sight(&im->with, &typed, sight, note, &words))
		return at_column(im, words.field, words.text, why);
	if ((*note->time && !level_is_time(note->time)) ||
	    (*note->booked && !level_is_time(note->booked)))
		return at_column(im, level_is_time(note->time) ? "booked" : "time",
		                 "a time is written 2026-05-04T09:30:00+02:00", why);
	if (level_is_below(sight)) {
		struct level_warned warned = {.set = 1u << LEVEL_WARN_BELOW};
		level_warned_names(&warned, note->overridden);
		im->below++;
	}
	return true;
}

static bool append(struct importer *im, struct taken_run *run, const struct level_sight *sight,
                   const struct book_note *note, struct fault *why)
{
	struct fault words = {0};
	if (!level_check_place(&run->run, run->run.count, false, sight, &words))
		return at_column(im,
		                 sight->kind == LEVEL_BS && run->run.count &&
		                         level_carries_on(run->run.sight[run->run.count - 1].kind)
		                     ? "station"
		                     : "sight",
		                 words.text, why);
	if (run->run.count == run->room) {
		size_t room = run->room ? 2 * run->room : 8;
		struct level_sight *sights = realloc(run->run.sight, room * sizeof *sights);
		struct book_note *notes;
		if (sights)
			run->run.sight = sights;
		notes = sights ? realloc(run->note, room * sizeof *notes) : NULL;
		if (!notes)
			return fault_memory(why);
		run->note = notes;
		run->room = room;
	}
	run->run.sight[run->run.count] = *sight;
	run->note[run->run.count++] = *note;
	return true;
}

static bool take_row(struct importer *im, size_t columns, struct fault *why)
{
	struct taken_run *run;
	struct level_sight sight = {0};
	struct book_note note = {0};
	if (im->record.count != columns)
		return fault_say(why, FAULT_INPUT,
		                 "%.300s:%d: %zu columns, where the first line names %zu",
		                 im->reader.path, im->record.line, im->record.count, columns);
	trim_names(im);
	run = find_run(im, why);
	return run && take_kind(im, run, why) && take_turn(im, run, why) &&
	       read_sight(im, &sight, &note, why) &&
	       take_known(im, sight.station, note.unit, why) && append(im, run, &sight, &note, why);
}

/* A loop comes back to its start, a link ends on another known mark, all else is open. */
static void infer_kind(struct importer *im, struct taken_run *run)
{
	const char *start = run->run.sight[0].station, *end = NULL;
	for (size_t i = 0; i < run->run.count; i++)
		if (level_carries_on(run->run.sight[i].kind))
			end = run->run.sight[i].station;
	if (run->kind_given)
		return;
	run->run.kind = end && strcmp(start, end) == 0                      ? LEVEL_LOOP
	                : end && find_mark(im, end) && find_mark(im, start) ? LEVEL_LINK
	                                                                    : LEVEL_OPEN;
}

static bool write_all(struct importer *im, struct work_taken *counts, struct fault *why)
{
	bool ok = true;
	if (!book_begin(im->book, why))
		return false;
	for (size_t i = im->marks_before; ok && i < im->mark_count; i++)
		ok = book_mark_set_in(im->book, im->marks[i].unit, im->marks[i].name,
		                      im->marks[i].typed, NULL, NULL, why);
	for (size_t i = 0; ok && i < im->run_count; i++) {
		infer_kind(im, &im->runs[i]);
		ok = book_take_run(im->book, im->runs[i].name, &im->runs[i].run, im->runs[i].note,
		                   why);
		counts->sights += im->runs[i].run.count;
	}
	counts->runs = im->run_count;
	counts->below = im->below;
	counts->marks = im->mark_count - im->marks_before;
	return book_finish(im->book, ok, why) && ok;
}

static bool read_all(struct importer *im, struct fault *why)
{
	size_t columns;
	if (!csv_read_header(&im->reader, &im->record, im->place, why))
		return false;
	columns = im->record.count;
	while (csv_read(&im->reader, &im->record, why))
		if (!take_row(im, columns, why))
			return false;
	if (why->kind != FAULT_NONE)
		return false;
	if (im->run_count == 0)
		return fault_say(why, FAULT_INPUT, "%.300s holds no sights below its first line",
		                 im->reader.path);
	return true;
}

static bool import_runs(struct importer *im, struct work_taken *counts, struct fault *why)
{
	bool ok = work_reader_open(im->book, &im->with, why) &&
	          book_marks(im->book, &im->marks, &im->mark_count, why);
	im->marks_before = im->mark_room = im->mark_count;
	for (size_t i = 0; ok && i < im->mark_count; i++)
		ok = csv_name_add(&im->mark_names, im->marks[i].name, i) || fault_memory(why);
	ok = ok && read_all(im, why) && write_all(im, counts, why);
	for (size_t i = 0; i < im->run_count; i++) {
		free(im->runs[i].run.sight);
		free(im->runs[i].note);
	}
	free(im->runs);
	free(im->marks);
	free(im->run_names.slot);
	free(im->mark_names.slot);
	work_reader_free(&im->with);
	return ok;
}

bool csv_import(struct book *book, const char *path, struct work_taken *counts, struct fault *why)
{
	struct importer im = {.book = book};
	struct fault unused;
	bool ok;
	if (!why)
		why = &unused;
	*counts = (struct work_taken){0};
	why->kind = FAULT_NONE;
	if (!csv_open(&im.reader, path, why))
		return false;
	ok = csv_is_whole(&im.reader)   ? csv_import_whole(book, &im.reader, counts, why)
	     : csv_is_marks(&im.reader) ? csv_import_marks(book, &im.reader, counts, why)
	                                : import_runs(&im, counts, why);
	csv_close(&im.reader);
	return ok;
}
