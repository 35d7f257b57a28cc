/* What is likely to be booked next. */
#ifndef RODBOOK_WORK_NEXT_H
#define RODBOOK_WORK_NEXT_H

#include "rodbook/book/book.h"
#include "rodbook/book/crossing.h"
#include "rodbook/level/page.h"

/* What it is judged by: a run as it is booked, and what the book has beside it. */
struct work_next_given {
	const struct book *book; /* for its clock */
	const struct book_run *run;
	const struct book_mark *marks;
	size_t mark_count;
	const struct book_water *waters; /* read in the run */
	size_t water_count;
	const struct book_draft *far;       /* by work_far_sight(); NULL: none */
	const struct book_figures *figures; /* of the run, with those of its plan; NULL: none */
	const char *chosen_instrument;      /* by the user, for the sights to come; NULL: none */
	const char *last_instrument;        /* of any run */
	struct level_style style;
	bool series; /* of IS: while a setup is open at the end, the next sight is one more */
};

/* The texts that a sight before index `at` begins with (run.count: at the end). Common practice, no
 * source:
 * - kind and station by level_suggest() and work_next_station();
 * - instrument, method and one reading or three wires as in the sight before, the method of the
 * same kind of sight;
 * - before any sight the instrument that was chosen, else that of the plan, else the last one of
 * any run; the first BS by the plan's near method, the first FS by its far method;
 * - the rod stays on its turning point for the BS, and the one of the BS before goes ahead to the
 *   FS, with one rod and with two;
 * - notes of another day that are typed one after the other keep their day, at an hour that nobody
 *   said.
 * No reading, distance or remark, but for `far`, which has a distance. */
void work_next(const struct work_next_given *given, size_t at, struct book_draft *draft);

/* The day of notes that are typed after the day: of what was booked last, when it was observed and
 * when it was booked (empty: as it was observed). Its own day where it was booked today and
 * observed on another day, else "". Common practice, no source. */
void work_paper_day(const struct book *book, const char *observed, const char *booked,
                    char day[BOOK_TIME_BYTES]);
/* A time as it is typed over another one: 09:30 takes the day of `held`; what has a day itself, and
 * all over no time, stays as it is. */
void work_time_over(const char *held, const char *typed, char out[BOOK_TIME_BYTES]);

/* The station proposed for a sight of that kind there; "" where none is. An IS goes on with the
 * places along a line that the sights before it are named by: 0+60 behind 0+20 and 0+40. The first
 * BS stands on the one mark of the book; the FS of a crossing on the one other mark where the water
 * was read. */
void work_next_station(const struct work_next_given *given, size_t at, enum level_kind kind,
                       char station[LEVEL_STATION_BYTES]);
/* Whether the readings of a station are a set, so that the other end comes next: some were booked
 * at once, or there are the ten that a plan counts on. Common practice, no source. */
bool work_water_is_set(size_t at_once, int there);

/* The station whose water is likely to be read next: an end of the run where it was not, start
 * first; once it was read somewhere, and the run has no other end yet, the one mark of the book
 * where it was not; else where it was read last. "" where none is likely; it lives in what was
 * given. Common practice, no source. */
const char *work_next_water(const struct level_closing *closing, const struct book_water *waters,
                            size_t water_count, const struct book_mark *marks, size_t mark_count);
/* The place along the line of the next IS, as those typed beside the sights before it go on; false
 * where there are no two in that unit. */
bool work_next_along(const struct book_run *run, size_t at, enum level_unit unit,
                     char along[BOOK_TYPED_BYTES]);

/* The method of the last sight of that kind before index `at`: a crossing reads its BS by tape, its
 * FS by target. Without one a rod, and of an offset a tape. */
enum level_method work_usual_method(const struct level_run *run, size_t at, enum level_kind kind);

#endif
