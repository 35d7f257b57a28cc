/* The stations of a book, and what each run found for them.
 *
 * A station is every named point that is no passing turning point (level_is_passing()), and such a
 * one too where its elevation is given. A determination is one elevation of it by one run at one
 * time. A crossing determines nothing: what it shows is a drop. */
#ifndef RODBOOK_WORK_STATIONS_H
#define RODBOOK_WORK_STATIONS_H

#include "rodbook/book/book.h"
#include "rodbook/level/determination.h"

struct work_determination {
	char station[LEVEL_STATION_BYTES], run[LEVEL_NAME_BYTES];
	char start[LEVEL_STATION_BYTES]; /* the mark that the run begins on */
	bool start_known;                /* else its elevation is taken as 0 */
	char time[BOOK_TIME_BYTES];      /* of the sight; empty where not known */
	int64_t run_id;
	size_t row;          /* of the run */
	enum level_kind how; /* LEVEL_FS or LEVEL_IS */
	int standings;       /* that an FS is the mean of, 1 or more */
	level_nm elevation;  /* corrected where all distances are known */
	bool corrected;
	double u; /* its standard uncertainty, m */
	/* Less the given elevation, and less the determination before it from the same known
	 * elevations or the same start mark; u: of the difference, without what both share. */
	bool has_given, has_before;
	level_nm less_given, less_before;
	double given_u, before_u;
	enum level_answer agrees; /* no: one difference is more than 2 u; unknown: there is none */
	/* In one run: the row of the one before, SIZE_MAX for none, and what is not shared, m. */
	size_t before_row;
	double within_u;
	double path_variance, start_u; /* that u is made of: m^2, m */
	int64_t order; /* seconds of its time; where that is not known, of the run's */
};

/* What the determinations of a station say of each other and of the elevation given. */
enum work_station_state {
	WORK_STATION_AGREES,
	WORK_STATION_DIFFERS, /* one of them differs from the given one or the one before */
	WORK_STATION_SINGLE,  /* there is nothing to compare */
};

struct work_station {
	char name[LEVEL_STATION_BYTES];
	bool has_given;
	level_nm given;
	double given_u; /* m */
	char source[LEVEL_REMARK_BYTES];
	size_t first, count; /* of its determinations, by time */
	/* Of those from known elevations, or where there is none of those that go with the last
	 * one: number, mean, largest less smallest, and the last one's elevation. 0 of none. */
	size_t compared;
	level_nm mean, spread, latest;
	enum work_station_state state;
};

struct work_stations {
	struct level_style style;     /* of the book */
	struct work_station *station; /* by name */
	struct work_determination *determination;
	size_t count, determinations;
	size_t crossings, unreadable; /* runs left out */
	struct book_moved *moved;     /* marks that closed runs were reckoned with otherwise, */
	char (*moved_run)[LEVEL_NAME_BYTES]; /* and the run of each */
	size_t moved_count;
};

/* All stations of a book, or where `only` is not NULL that one. FAULT_INPUT where the book has no
 * such station. Free with work_stations_free(), also after a fault. */
bool work_stations(struct book *book, const char *only, struct work_stations *out,
                   struct fault *why);
void work_stations_free(struct work_stations *stations);

/* "agrees", "differs", "single"; "FS", "IS", "standings". */
const char *work_station_state_name(enum work_station_state state);
const char *work_determination_how(const struct work_determination *d);

#endif
