/* From the texts of a sight, wherever they were typed, to a booked sight: one path for the form,
 * the command and CSV. */
#ifndef RODBOOK_WORK_SIGHT_H
#define RODBOOK_WORK_SIGHT_H

#include "rodbook/book/crossing.h"
#include "rodbook/level/warnings.h"
#include "rodbook/work/run.h"

/* A sight as it was typed. A text that nobody typed is NULL or "". */
struct work_typed {
	const char *kind; /* BS, IS or FS */
	const char *station;
	const char *reading; /* or a set; empty when read by wires, or their mean */
	const char *upper, *middle, *lower;
	bool wires; /* read by wires, also while none is typed */
	const char *distance;
	const char *distance_by; /* tape, wires, map or step */
	const char *method;      /* rod, tape or target; empty: rod */
	const char *unit;        /* of bare numbers: m, ft, ftin or in; empty: the book's */
	const char *time;        /* as level_is_time() takes it; empty: not known, or now */
	const char *again;       /* "again": a BS of another standing */
	const char *instrument, *rod;
	const char *along, *photo, *remark;
};

/* What texts are read with. */
struct work_reader {
	struct book_settings settings;
	struct book_instrument *instruments;
	size_t instrument_count;
	struct book_rod *rods;
	size_t rod_count;
	bool leaves_names; /* to the book, which asks for instrument and rod when it books */
};
bool work_reader_open(struct book *book, struct work_reader *out, struct fault *why);
void work_reader_free(struct work_reader *reader);

/* Reads and checks the texts; note has them all, also of what is refused, as far as they have room.
 * FAULT_INPUT names in why->field the text at fault: "sight" (its
 * kind), "station", "reading", "upper", "middle", "lower", "distance", "method", "unit", "time",
 * "again", "instrument", "rod", "along", "photo", "distance_by" or "remark". */
bool work_read_sight(const struct work_reader *reader, const struct work_typed *typed,
                     struct level_sight *sight, struct book_note *note, struct fault *why);

/* Gives a sight the elevation of its station, where that is one of these marks. */
void work_find_known(const struct book_mark *marks, size_t count, struct level_sight *sight);

/* Warnings about sight `at` of a run that is reduced in page, by the run's settings and terms. */
struct level_warned work_warn(const struct level_run *run, const struct level_page *page, size_t at,
                              const struct book_settings *settings,
                              const struct level_terms *terms);

/* Standard uncertainty of one reading by the sight's method, m. */
double work_reading_u(const struct level_terms *terms, const struct level_sight *sight);

/* Whether a sight sealed the figures of its run's allowance. */
enum work_seal { WORK_NOT_SEALED, WORK_SEALED, WORK_SEAL_NOT_KNOWN };

/* What came of booking a sight. */
struct work_booked {
	struct level_sight sight;
	struct level_warned warned; /* it was booked against these */
	double reading_u;           /* of one reading by its method, m */
	int setup;                  /* that it stands in */
	enum work_seal seal;
	struct book_settings settings; /* by which it was read */
};
/* Books a sight at the end of the run so named, now: typed->time is empty. What it is warned of
 * stands beside it. */
bool work_book_sight(struct book *book, const char *run, const struct work_typed *typed,
                     struct work_booked *out, struct fault *why);

#endif
