/* Gauges: a fixed scale at a station of a run, and what it showed while the run was leveled. */
#ifndef RODBOOK_BOOK_GAUGE_H
#define RODBOOK_BOOK_GAUGE_H

#include "rodbook/book/book.h"

struct book_gauge {
	int64_t id;
	char station[LEVEL_STATION_BYTES];
	enum level_unit unit;
	char typed[BOOK_TYPED_BYTES];
	level_nm reading; /* by the gauge's own scale, above the zero that it claims */
	char time[BOOK_TIME_BYTES], remark[LEVEL_REMARK_BYTES];
	char booked[BOOK_TIME_BYTES]; /* when it was typed; empty: when it was observed */
	char struck[BOOK_TIME_BYTES], why[LEVEL_REMARK_BYTES];
};

/* Those of a run in the order in which they were booked, struck ones too; free(*list). */
bool book_gauges(struct book *book, int64_t run, struct book_gauge **list, size_t *count,
                 struct fault *why);
/* Books a reading; bare numbers in the book's unit, an empty time is now. FAULT_INPUT where the run
 * is closed. */
bool book_gauge_add(struct book *book, int64_t run, const char *station, const char *typed,
                    const char *time, const char *remark, struct fault *why);
/* Strikes a reading, which needs a reason. */
bool book_gauge_strike(struct book *book, int64_t run, int64_t id, const char *reason,
                       struct fault *why);
/* Strikes the last reading that counts at a station of the run. FAULT_INPUT where there is none. */
bool book_gauge_strike_at(struct book *book, int64_t run, const char *station, const char *reason,
                          struct fault *why);

#endif
