/* A book in a private directory, and few words to book by. */
#ifndef UNIT_BOOKS_H
#define UNIT_BOOKS_H

#include <check.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "rodbook/book/book.h"
#include "rodbook/csv/csv.h"
#include "rodbook/report/report.h"

struct shelf {
	char dir[64], path[128];
	struct book *book;
	struct book_run run; /* the run in hand, as it was last loaded */
	struct fault why;    /* of the last call that failed */
};

/* The same moment always, so that whole texts can be compared. */
static inline void shelf_clock(char out[BOOK_TIME_BYTES])
{
	strcpy(out, "2026-05-04T09:30:00+02:00");
}

static inline int shelf_remove(const char *path, const struct stat *info, int type,
                               struct FTW *where)
{
	(void)info;
	(void)type;
	(void)where;
	return remove(path);
}

static inline void shelf_open(struct shelf *s, enum level_unit unit)
{
	const char *top = getenv("TMPDIR");
	*s = (struct shelf){0};
	snprintf(s->dir, sizeof s->dir, "%.40s/rodbookXXXXXX", top ? top : "/tmp");
	ck_assert_ptr_nonnull(mkdtemp(s->dir));
	snprintf(s->path, sizeof s->path, "%s/test.rodbook", s->dir);
	ck_assert_msg(book_create(s->path, unit, "", shelf_clock, &s->why), "%s", s->why.text);
	s->book = book_open(s->path, shelf_clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s", s->why.text);
}

/* The same book by another clock. */
static inline void shelf_reopen(struct shelf *s, book_clock *clock)
{
	book_close(s->book);
	s->book = book_open(s->path, clock, &s->why);
	ck_assert_msg(s->book != NULL, "%s", s->why.text);
}

static inline void shelf_close(struct shelf *s)
{
	book_run_free(&s->run);
	book_close(s->book);
	nftw(s->dir, shelf_remove, 8, FTW_DEPTH | FTW_PHYS);
}

/* Loads a run of the book anew. */
static inline void shelf_take(struct shelf *s, int64_t id)
{
	book_run_free(&s->run);
	ck_assert_msg(book_load(s->book, id, &s->run, &s->why), "%s", s->why.text);
}

static inline void shelf_begin(struct shelf *s, const char *name, enum level_run_kind kind)
{
	int64_t id = 0;
	ck_assert_msg(book_run_add(s->book, name, kind, &id, &s->why), "%s", s->why.text);
	shelf_take(s, id);
}

/* What a line of the entry form would say: a reading on a station. */
static inline bool shelf_read(struct shelf *s, enum level_kind kind, const char *station,
                              const char *reading, struct level_sight *sight,
                              struct book_note *note)
{
	struct book_settings settings;
	ck_assert(book_settings(s->book, &settings, NULL));
	*sight = (struct level_sight){.kind = kind};
	*note = (struct book_note){.unit = settings.style.unit};
	snprintf(sight->station, sizeof sight->station, "%s", station);
	snprintf(note->reading, sizeof note->reading, "%s", reading);
	return book_read_sight(&settings, note, sight, &s->why);
}

/* Books a sight with its distance at the end of the run, and loads the run again. */
static inline bool shelf_sight(struct shelf *s, enum level_kind kind, const char *station,
                               const char *reading, const char *distance, const char *instrument)
{
	struct book_settings settings;
	struct level_sight sight = {.kind = kind};
	struct book_note note;
	ck_assert(book_settings(s->book, &settings, NULL));
	note = (struct book_note){.unit = settings.style.unit};
	snprintf(sight.station, sizeof sight.station, "%s", station);
	snprintf(note.reading, sizeof note.reading, "%s", reading);
	snprintf(note.distance, sizeof note.distance, "%s", distance);
	snprintf(note.instrument, sizeof note.instrument, "%s", instrument);
	if (!book_read_sight(&settings, &note, &sight, &s->why) ||
	    !book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

/* Books a sight before index `at` and loads the run again. */
static inline bool shelf_insert(struct shelf *s, size_t at, enum level_kind kind,
                                const char *station, const char *reading)
{
	struct level_sight sight;
	struct book_note note;
	if (!shelf_read(s, kind, station, reading, &sight, &note) ||
	    !book_add(s->book, &s->run, at, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

static inline bool shelf_book(struct shelf *s, enum level_kind kind, const char *station,
                              const char *reading)
{
	return shelf_insert(s, s->run.run.count, kind, station, reading);
}

static inline bool shelf_change(struct shelf *s, size_t at, enum level_kind kind,
                                const char *station, const char *reading)
{
	struct level_sight sight;
	struct book_note note;
	if (!shelf_read(s, kind, station, reading, &sight, &note) ||
	    !book_change(s->book, &s->run, at, &sight, &note, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

static inline bool shelf_strike(struct shelf *s, size_t at)
{
	if (!book_strike(s->book, &s->run, at, false, "", &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

static inline bool shelf_undo(struct shelf *s)
{
	char what[160];
	if (!book_undo(s->book, &s->run, what, &s->why))
		return false;
	shelf_take(s, s->run.info.id);
	return true;
}

/* The counted sights of the run in hand in one line: "BS A 1.717, FS TP1 1.716"; with `all`, the
 * struck ones too, in brackets. */
static inline const char *shelf_line(const struct shelf *s, bool all)
{
	static char line[4096];
	size_t used = 0;
	line[0] = '\0';
	for (size_t i = 0; i < s->run.run.count; i++) {
		const struct level_sight *sight = &s->run.run.sight[i];
		bool counted = level_counted(sight);
		if (!counted && !all)
			continue;
		used += (size_t)snprintf(line + used, sizeof line - used, "%s%s%s %s %s%s",
		                         used ? ", " : "", counted ? "" : "[",
		                         level_kind_name(sight->kind), sight->station,
		                         s->run.note[i].reading, counted ? "" : "]");
		ck_assert_uint_lt(used, sizeof line);
	}
	return line;
}

#define COUNTED(s, text) ck_assert_str_eq(shelf_line(s, false), text)
#define ALL(s, text) ck_assert_str_eq(shelf_line(s, true), text)
/* The last call failed by this kind of fault, and its message holds the words. */
#define FAULT(s, fault_kind, words)                                                                \
	do {                                                                                       \
		ck_assert_int_eq((s)->why.kind, fault_kind);                                       \
		ck_assert_msg(strstr((s)->why.text, words) != NULL, "%s", (s)->why.text);          \
	} while (0)

/* A whole file; free() it. */
static inline char *slurp(const char *path, size_t *size)
{
	FILE *file = fopen(path, "rb");
	char *text;
	long end;
	ck_assert_msg(file != NULL, "%s cannot be read", path);
	fseek(file, 0, SEEK_END);
	end = ftell(file);
	rewind(file);
	text = malloc((size_t)end + 1);
	ck_assert_ptr_nonnull(text);
	*size = fread(text, 1, (size_t)end, file);
	text[*size] = '\0';
	fclose(file);
	return text;
}

static inline void spill(const char *path, const char *text, size_t size)
{
	FILE *file = fopen(path, "wb");
	ck_assert_msg(file != NULL, "%s cannot be written", path);
	ck_assert_uint_eq(fwrite(text, 1, size, file), size);
	ck_assert_int_eq(fclose(file), 0);
}

/* The run as CSV; free() it. */
static inline char *shelf_export(struct shelf *s, const char *name)
{
	struct work_run run;
	char *text = NULL;
	size_t size = 0;
	FILE *out = open_memstream(&text, &size);
	ck_assert_ptr_nonnull(out);
	ck_assert_msg(work_run_load(s->book, name, NULL, &run, &s->why), "%s", s->why.text);
	ck_assert_msg(csv_export_run(out, s->book, &run, &s->why), "%s", s->why.text);
	work_run_free(&run);
	ck_assert_int_eq(fclose(out), 0);
	return text;
}

/* Writes the text to a file of the shelf and imports it. */
static inline bool shelf_import(struct shelf *s, const char *text, struct work_taken *counts)
{
	char path[160];
	snprintf(path, sizeof path, "%s/rows.csv", s->dir);
	spill(path, text, strlen(text));
	return csv_import(s->book, path, counts, &s->why);
}

#endif
