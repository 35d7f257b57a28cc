/* The sections of a run: its parts between consecutive marks of known elevation, each found held
 * against given; and those leveled there and back, forward held against backward.
 *
 * Found is the given elevation of the mark that a section begins on, carried on; a miss in one
 * section is none of the next. Curvature, refraction, tested tilts and known rods are taken off
 * where the distances of the section are known. A section is held against the section rule of the
 * set on its own length (FGCC, Standards and Specifications for Geodetic Control Networks, 1984,
 * sec. 3.5, recalled). */
#ifndef RODBOOK_LEVEL_SECTIONS_H
#define RODBOOK_LEVEL_SECTIONS_H

#include "rodbook/level/page.h"

struct level_section {
	const char *from, *to; /* the run's own texts */
	size_t from_row, to_row;
	int setups;
	bool has_length, corrected;
	level_nm length; /* one way */
	level_nm found, given;
	level_nm difference; /* found less given */
	bool has_allowable;
	bool provisional; /* by setups, since distances are missing */
	level_nm allowable;
	enum level_answer holds;
};

/* By what a section is judged. setup_figure: m per sqrt(setup) for the set "setups". */
struct level_rule {
	const struct level_tolerance *set;
	double setup_figure;
};

/* What a section may miss by, nm: by its length, or by its setups where its distances are missing
 * (provisional). False where nothing judges it. */
bool level_section_allowable(const struct level_rule *rule, bool has_length, level_nm length,
                             int setups, bool *provisional, level_nm *allowable);
/* The same where there is no setup between, but offsets of this variance, m^2, which no rule speaks
 * of: twice their standard uncertainty, 95 %. */
level_nm level_offsets_allowable(double variance);
/* The next section before the one that ends at row `to` of a reduced run: SIZE_MAX for the last
 * one. False where there is none. Sections end at each FS that carries the line on to a mark that
 * is known and not set aside. Sections of a run with no such mark between start and end are none:
 * there the misclosure tells. */
bool level_section_before(const struct level_run *run, const struct level_page *page,
                          const struct level_terms *terms, const struct level_rule *rule, size_t to,
                          struct level_section *out);
/* The same for an IS on a known mark, which hangs off the line: from the last known mark on it to
 * the IS. False where row `is` is none, and in a crossing. */
bool level_section_aside(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_rule *rule, size_t is,
                         struct level_section *out);
/* How many fail; of the first in the order of the run *failed tells, where that is not NULL. */
int level_sections_failing(const struct level_run *run, const struct level_page *page,
                           const struct level_terms *terms, const struct level_rule *rule,
                           struct level_section *failed);

/* Where a loop turns that is leveled out and back: it meets a mark on the way out and again on the
 * way back, in the opposite order, or run->turn says so. SIZE_MAX for any other run. */
size_t level_turn_row(const struct level_run *run, const struct level_page *page);

/* A section leveled there and back, between two marks that a double run meets both ways. */
struct level_double {
	const char *from, *to;                      /* in the order of the way out */
	size_t from_row, to_row, back_row, end_row; /* rows of the two marks out, and back */
	level_nm forward, backward;                 /* rises, forward from `from` to `to` */
	level_nm divergence;                        /* forward + backward */
	bool corrected, has_length, has_allowable, provisional;
	int setups;      /* of the shorter way */
	level_nm length; /* the shorter way */
	level_nm mean;   /* (forward - backward)/2, half away from 0 */
	level_nm allowable;
	enum level_answer holds;
};
/* The double section whose way back ends at row `end`: SIZE_MAX for that of the start. False where
 * there is none. Go on with back_row. */
bool level_double_before(const struct level_run *run, const struct level_page *page,
                         const struct level_terms *terms, const struct level_rule *rule, size_t end,
                         struct level_double *out);

/* What a misclosure may be over a number of setups where distances are missing, m: 10 mm times its
 * root. Common practice, no source. */
double level_by_setups(int setups);
/* A misclosure of more than three times that is gross. Common practice, no source. */
#define LEVEL_GROSS 3

#endif
