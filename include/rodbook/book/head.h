/* The heads of a run's pages: who leveled on a day, with what, in what weather, what for. Words
 * only: nothing is computed from them. */
#ifndef RODBOOK_BOOK_HEAD_H
#define RODBOOK_BOOK_HEAD_H

#include "rodbook/book/book.h"

enum book_head_text {
	BOOK_HEAD_PARTY,
	BOOK_HEAD_WEATHER,
	BOOK_HEAD_INSTRUMENT, /* with its serial number */
	BOOK_HEAD_RODS,
	BOOK_HEAD_DATUM,
	BOOK_HEAD_PLACE,
	BOOK_HEAD_PURPOSE,
	BOOK_HEAD_CHECKED,
	BOOK_HEAD_TEXTS
};
/* "party", "weather", "instrument", "rods", "datum", "place", "purpose", "checked_by". */
const char *book_head_name(enum book_head_text text);

#define BOOK_DAY_BYTES 11

struct book_head {
	int64_t id, run;
	char day[BOOK_DAY_BYTES]; /* 2026-05-04 */
	char text[BOOK_HEAD_TEXTS][LEVEL_REMARK_BYTES];
	char time[BOOK_TIME_BYTES];
	char struck[BOOK_TIME_BYTES], why[LEVEL_REMARK_BYTES]; /* empty while it counts */
};

/* Those of a run in the order in which they were booked, struck ones too; free(*list). */
bool book_heads(struct book *book, int64_t run, struct book_head **list, size_t *count,
                struct fault *why);
/* Those of all runs that count, by day, and of one day in the order in which they were booked;
 * free(*list). */
bool book_heads_standing(struct book *book, struct book_head **list, size_t *count,
                         struct fault *why);
/* Today, by the book's clock. */
void book_today(const struct book *book, char day[BOOK_DAY_BYTES]);
/* Gives the pages of a day their head; another one of that day is struck. Of *head: day and texts,
 * one of which is not empty. A head that stands already is no change. FAULT_INPUT names in
 * why->field the text at fault, or "day". */
bool book_head_set(struct book *book, int64_t run, const struct book_head *head, struct fault *why);

#endif
