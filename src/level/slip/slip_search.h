/* The search for a slip, as its files share it. */
#ifndef LEVEL_SLIP_SLIP_SEARCH_H
#define LEVEL_SLIP_SLIP_SEARCH_H

#include "level/slip/slip_text.h"

struct slip_search {
	const struct level_run *run;
	const struct level_closing *closing;
	/* What is searched: rows of the run, and of a section the way back; SIZE_MAX: none. */
	size_t part[2][2];
	enum level_run_kind kind; /* whose rule the length is held to */
	level_nm length;          /* 0 where it is not known */
	level_nm allowable;       /* of what is to be explained */
	const struct level_terms *terms;
	const struct level_slip_given *given;
	level_nm judged; /* the misclosure that is to be explained */
	int decimals;    /* of the readings as they were typed, the most */
};

/* s = +1 for a BS or an offset and -1 for an FS. */
level_nm slip_signed(const struct level_sight *sight, level_nm value);
/* How many complete standings the setup of the sight at index `at` has: a change of the sight
 * shifts the misclosure by that part of it. */
int slip_standings(const struct slip_search *s, size_t at);
/* Whether the sight at index `at` could be booked as changed: on the rod, and the same way up. */
bool slip_possible(const struct slip_search *s, size_t at, const struct level_sight *changed);
/* Keeps the slip in best where `leaves` is within the allowable, and it scores higher than what
 * stands there; best begins as all zeros. */
void slip_weigh(struct level_slip *best, struct level_slip slip, level_nm leaves,
                level_nm allowable);
/* The same for a slip of which `changed` is the sight as it should be. */
void slip_weigh_sight(const struct slip_search *s, const struct level_slip *slip,
                      const struct level_sight *changed, struct level_slip *best);
/* The same where the reading as a whole is slip->likely: wires go along. */
void slip_weigh_reading(const struct slip_search *s, const struct level_slip *slip,
                        struct level_slip *best);

/* Tries what the texts of the sight at index `at` may have been meant to say. */
void slip_try_texts(const struct slip_search *s, size_t at, struct level_slip *best);
/* Tries the readings that it replaced. */
void slip_try_earlier(const struct slip_search *s, size_t at, struct level_slip *best);

#endif
