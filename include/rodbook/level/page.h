/* The page: everything that follows from the sights of a run, one row a sight, and its closing.
 *
 * HI = elevation of the BS mark + BS; elevation = HI - IS or HI - FS, and behind an offset the
 * elevation before it + the offset; sums run over completed setups and offsets only. Where the
 * start has no known elevation it is taken as 0, and page and closing say so. Arithmetic on lengths
 * is exact. */
#ifndef RODBOOK_LEVEL_PAGE_H
#define RODBOOK_LEVEL_PAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "rodbook/level/drop/drop.h"
#include "rodbook/level/drop/finding.h"
#include "rodbook/level/drop/refraction.h"
#include "rodbook/level/sight.h"
#include "rodbook/level/tolerance.h"

/* Running sums over the completed setups up to and including a row. Of a setup that stands more
 * than once its means count, once: mean BS and mean rise, each rounded once to 1 nm, and as FS what
 * is between them; lengths and errors as those of a mean. */
struct level_sums {
	level_nm bs, fs, rises, falls;
	level_nm bs_length, fs_length;
	level_nm offsets;       /* their sum, which is in no other one */
	int offset_count;       /* how many */
	double offset_variance; /* of drop.reading_variance their part, m^2 */
	int setups;
	int unknown_distances;
	level_nm longest;         /* sight of a BS or FS */
	level_nm setup_imbalance; /* largest difference of BS and FS distance, both being known */
	level_nm half;            /* largest difference of half intervals, of any wires read */
	level_nm standings;       /* largest difference of the rises of one setup's standings, h and
	                             tilt taken off where distances are known */
	struct level_drop_sums drop;
};

/* Where the line stands after a row: what the next row needs, so that reducing can go on from any
 * row. */
struct level_line {
	size_t start_row;  /* the first BS; SIZE_MAX before it */
	size_t bs_row;     /* the BS of the open setup; SIZE_MAX where none is open */
	size_t end_row;    /* the last counted FS or offset; SIZE_MAX before it */
	size_t first_row;  /* the BS of the first standing of the setup open or complete last, or an
	                      offset that came since */
	size_t broken_row; /* the first BS that is not where the line stood, or an offset that goes
	                      on from nothing; SIZE_MAX while whole */
	/* The last mark on the line that is known and not set aside, start included, and the one
	 * before it; likewise the last station with a name of its own. SIZE_MAX where there is
	 * none. */
	size_t known_row, known_before;
	size_t named_row, named_before;
	/* Where the stations with names begin to come back in the opposite order: the row that it
	 * turned at, the row on the way out of the station met again last, and how many were. */
	size_t turn_row, mirror_row;
	int mirrored;
	int setups_begun;
	int standings;   /* complete ones of the setup that first_row opened */
	level_nm differ; /* how far their rises are apart, as in the sums */
	bool has_end, has_hi;
	level_nm end, hi;  /* elevation at end_row, HI of the open setup */
	level_nm previous; /* last reading of the open setup */
	level_nm setup_rises, setup_falls;
};

/* How large the figures up to and including a row are, struck ones too: what the columns of a page
 * must have room for, known without walking its rows. */
struct level_extent {
	level_nm reading, height, distance; /* largest magnitudes; height: of elevations and HIs */
	bool negative;                      /* a height is below 0 */
	bool below;                         /* a reading is */
	bool wires, intermediate;           /* there is a sight by wires, an IS */
};

struct level_row {
	int setup; /* 1, 2, ... in the order of counted setups; 0 where it belongs to none, as an
	              offset */
	bool has_hi, has_elevation, has_step, has_corrected;
	level_nm hi;        /* at a BS */
	level_nm elevation; /* of the station; at the FS of a further standing by the mean rise */
	level_nm step;      /* rise (+) or fall (-) from the reading before it in the setup */
	level_nm corrected; /* elevation with curvature and refraction taken off */
	struct level_sums sums;
	struct level_line line;
	struct level_extent extent;
};

struct level_page {
	size_t count, room;
	struct level_row *row;
};

/* Reduces run from from_row on, keeping the rows before it, which must have been reduced with the
 * same terms. Allocates page->row as needed; false only where memory is short. A page begins as
 * all zeros and is freed with level_page_free(). */
bool level_reduce(const struct level_run *run, size_t from_row, const struct level_terms *terms,
                  struct level_page *page);
void level_page_free(struct level_page *page);
/* Whether row i is the FS that its setup carries the line on by, of several standings the last; or
 * an offset. */
bool level_carries(const struct level_run *run, const struct level_page *page, size_t i);
/* A sight as one end of a setup. */
struct level_reach level_reach_of(const struct level_sight *sight);
/* How far a reading stands above what a level line over level ground would give, m: h + tilt d, and
 * what the rod reads too high by. */
double level_too_high(const struct level_sight *sight, const struct level_terms *terms);
/* The last row's sums, line and extent; those of an empty page where there is no row. */
const struct level_sums *level_page_sums(const struct level_page *page);
const struct level_line *level_page_line(const struct level_page *page);
/* Complete standings, by which rows are numbered: as many as setups where none stands twice. */
int level_page_standings(const struct level_page *page);
const struct level_extent *level_page_extent(const struct level_page *page);

/* Where a rod on a mark reads when the mark has the wanted elevation. */
struct level_set_out {
	bool has;       /* there is a line of sight */
	level_nm rod;   /* HI - wanted; below 0 the mark is above the line */
	bool corrected; /* with curvature, refraction and tilt, both distances being known */
	bool has_move;  /* the sight has a reading: */
	level_nm move;  /* how far the mark must go up (+) or down (-) */
};
/* Set out from the setup of row `at`, whose sight may be read or still blank. */
struct level_set_out level_set_out(const struct level_run *run, const struct level_page *page,
                                   size_t at, const struct level_terms *terms, level_nm wanted);

/* What a tolerance set asks for beside the misclosure's size. */
enum level_limit {
	LEVEL_LIMIT_NONE,
	LEVEL_LIMIT_MISCLOSURE,
	LEVEL_LIMIT_SIGHT,
	LEVEL_LIMIT_SETUP_IMBALANCE,
	LEVEL_LIMIT_IMBALANCE,
	LEVEL_LIMIT_HALF,
	LEVEL_LIMIT_STANDINGS,
};

enum level_answer { LEVEL_NO, LEVEL_YES, LEVEL_UNKNOWN };

/* How the run closes. has_* say whether the figure beside them exists. */
struct level_closing {
	level_nm sum_bs, sum_fs, rises, falls;
	level_nm sum_offsets;
	int offsets;         /* how many */
	level_nm page_check; /* (sum BS - sum FS + sum of offsets) - (end - start): 0 when the page
	                        holds */
	bool page_holds;
	int setups;
	bool has_length; /* all distances are known */
	int unknown_distances;
	level_nm standings; /* largest difference of the rises of one setup's standings */
	level_nm length, imbalance;
	bool has_end; /* there is a completed setup */
	bool start_assumed;
	level_nm start, end;
	const char *start_station, *end_station; /* the run's own text */
	bool back; /* the end is the start mark again: its height cancels, and so does water */
	bool has_known_end;
	bool end_assumed;       /* a crossing's end, taken on the start's level surface */
	bool by_water;          /* a crossing's end, known from water readings at both ends */
	bool water_missing;     /* water was read at one end of a crossing only */
	struct level_ends ends; /* what they bring into the allowance */
	level_nm known_end;
	/* An open run that happens to end on a known mark has one too; it is not held to it. */
	bool has_misclosure, has_corrected;
	level_nm misclosure, corrected; /* end - known end: as booked, and with h taken off */
	bool judged_corrected;          /* which of the two is judged: */
	level_nm judged;                /* that one; 0 where there is none */
	bool tilt_taken_off;            /* a tested tilt or a known rod is in what is corrected */
	const struct level_tolerance *set;
	bool has_allowable;
	level_nm allowable;
	const char
	    *grade; /* title of the strictest graded set whose misclosure is met, or "none" */
	/* The strictest graded set that is kept in every limit which can be known, and the next one
	 * with what broke it, in the order of enum level_limit; NULL where there is none, and both
	 * while a section fails. */
	const struct level_tolerance *kept, *next;
	enum level_limit broken;
	level_nm broken_by; /* the run's own figure */
	enum level_answer closes;
	bool provisional; /* allowable goes by setups, since distances are missing */
	int failing;      /* known marks on the way that do not hold, and sections leveled both
	                     ways that diverge by more than is allowed */
	/* The first of them, its names the run's own texts: a mark, or the end of a section
	 * leveled both ways from failing_from (else NULL), by how much it misses and what it may.
	 */
	const char *failing_mark, *failing_from;
	level_nm failing_by, failing_allowable;
	level_nm failing_length; /* 0 where it is not known */
	/* The rows between which its line runs, and of a section leveled both ways those of the
	 * way back; SIZE_MAX where there is none. */
	size_t failing_rows[2][2];
	bool is_double;   /* a loop that goes out and back over the same marks: held against the
	                     section rule on its shorter way, */
	level_nm one_way; /* which is this long */
	bool has_drop;    /* all distances are known and a setup is complete */
	double flat, predicted;           /* F and P, m */
	double separation;                /* |S'|/2R, m */
	struct level_allowance allowance; /* at kappa = 0 */
	bool has_observed;                /* a crossing that closes on something */
	double observed, shown;           /* D, with tested tilts taken off, and C = D - F; m */
	double margin; /* C sgn(S') - allowance once observed, else |S'|/2R - allowance; m */
	/* What it says, where has_observed; finding.none says of a crossing that is complete why it
	 * has no answer. */
	struct level_finding finding;
};

/* Takes out of a crossing's closing what was observed: its misclosure, the drop and the answer.
 * What could be seen stays. */
void level_hide_drop(struct level_closing *closing);
/* The half intervals of three wires: upper - middle less middle - lower, without its sign. */
level_nm level_half_difference(const struct level_sight *sight);
/* The first limit of a set that the run breaks, with the run's own figure; LEVEL_LIMIT_NONE where
 * it breaks none. A misclosure counts where there is one. */
enum level_limit level_breaks(const struct level_tolerance *set, const struct level_run *run,
                              const struct level_sums *sums, const struct level_closing *closing,
                              level_nm *figure);
const char *level_limit_name(enum level_limit limit);
/* Whether the figure of a limit is a distance, or a difference of distances. */
bool level_limit_is_distance(enum level_limit limit);

/* The line of the run's longest sight: its height above the water where water was read at the near
 * mark of its setup; while that is not read, by the far mark and its water, less d^2/4R, half of
 * what a round surface lifts the line there; else NAN. False where no sight has a length. */
bool level_run_sightline(const struct level_run *run, double radius, struct level_sightline *out);
/* k from the air read several times along one line: the mean of those that give a k, with low and
 * high of the worst and, in quadrature, t95(n-1) standard deviations of the mean. The same
 * thermometers hang through all of them, so their uncertainty does not shrink. Without any: the
 * default. source, pair and surface are those of the last one. */
struct level_k_found level_k_mean(const struct level_air_reading *list, size_t count,
                                  const struct level_sightline *line, enum level_over over);

/* The measured lengths of the sights that the page sums up. Gives how many. */
size_t level_run_lengths(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_identity *identity,
                         struct level_length out[LEVEL_LENGTHS_MOST]);

/* Closes the run as its page stands. setup_figure: m per sqrt(setup) for the set "setups". */
struct level_closing level_close(const struct level_run *run, const struct level_page *page,
                                 const struct level_terms *terms, const struct level_tolerance *set,
                                 double setup_figure);

/* What the allowable of a closing follows from: per_km sqrt(length/1000), or per_setup sqrt(setups)
 * and never over cap, in m; 0 is none of it. Of a double run the length is its shorter way. All are
 * 0 of a crossing and of an open run, which are held to none, and where there is no allowable. */
struct level_allowed_by {
	double per_km, length, per_setup, cap;
};
struct level_allowed_by level_allowed_by(const struct level_closing *closing,
                                         enum level_run_kind kind, double setup_figure);

/* Whether a drop is seen: its ends are known. Where no water was read and no elevations are known,
 * D only supposes that both stand alike. */
bool level_drop_is_seen(const struct level_closing *closing);
/* Whether a drop is of interest in a run: it is a crossing, or a sight of it is as long as
 * long_sight, nm (a setting). */
bool level_shows_drop(const struct level_run *run, const struct level_page *page,
                      level_nm long_sight);

#endif
