/* Runs booked by hand into a book, and what is still open in it. */
#ifndef UNIT_LEAVING_H
#define UNIT_LEAVING_H

#include "rodbook/work/leave.h"
#include "unit/books.h"
#include "unit/sights.h"
#include "unit/suite.h"

struct typed {
	const char *distance, *instrument, *rod, *against;
};

static inline void put(char *to, const char *text)
{
	strcpy(to, text ? text : "");
}

static inline void book_row(struct shelf *s, enum level_kind kind, const char *station,
                            const char *reading, struct typed typed)
{
	struct level_sight sight = {.kind = kind};
	struct book_note note = {.unit = LEVEL_M};
	struct book_settings settings;
	ck_assert(book_settings(s->book, &settings, NULL));
	put(sight.station, station);
	put(note.reading, reading);
	put(note.distance, typed.distance);
	put(note.instrument, typed.instrument);
	put(note.rod, typed.rod);
	put(note.overridden, typed.against);
	ck_assert_msg(book_read_sight(&settings, &note, &sight, &s->why) &&
	                  book_add(s->book, &s->run, s->run.run.count, &sight, &note, &s->why),
	              "%s", s->why.text);
	shelf_take(s, s->run.info.id);
}

#define BS(station, reading, length, ...)                                                          \
	book_row(&s, LEVEL_BS, station, reading, (struct typed){.distance = length, __VA_ARGS__})
#define FS(station, reading, length, ...)                                                          \
	book_row(&s, LEVEL_FS, station, reading, (struct typed){.distance = length, __VA_ARGS__})

static inline void mark(struct shelf *s, const char *name, const char *elevation,
                        const char *source)
{
	ck_assert_msg(book_mark_set(s->book, name, elevation, "", source, &s->why), "%s",
	              s->why.text);
}

/* How often a code is in the list of the whole book; the first of its items. */
static inline size_t times(struct shelf *s, enum work_leave_code code,
                           struct work_leave_item *first)
{
	struct work_leave list;
	size_t found = 0;
	*first = (struct work_leave_item){0};
	ck_assert_msg(work_leave(s->book, NULL, 0, &list, &s->why), "%s", s->why.text);
	for (size_t i = 0; i < list.count; i++) {
		if (i > 0) {
			const struct work_leave_item *a = &list.item[i - 1], *b = &list.item[i];
			ck_assert(a->blocks > b->blocks ||
			          (a->blocks == b->blocks && a->rank <= b->rank));
		}
		if (list.item[i].code == code && found++ == 0)
			*first = list.item[i];
	}
	work_leave_free(&list);
	return found;
}

#define OPEN(code) ck_assert_uint_eq(times(&s, code, &got), 1)
#define NOT_OPEN(code) ck_assert_uint_eq(times(&s, code, &got), 0)
#define WEIGHS(of_rank, must)                                                                      \
	do {                                                                                       \
		ck_assert_int_eq(got.rank, of_rank);                                               \
		ck_assert_int_eq(got.blocks, must);                                                \
	} while (0)

#endif
