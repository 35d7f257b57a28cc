/* Runs from texts, as an observer types them, and what is found to explain them. */
#ifndef UNIT_SLIPPED_H
#define UNIT_SLIPPED_H

#include "rodbook/level/set.h"
#include "rodbook/level/slips.h"

#include <string.h>

#include "closed.h"

struct typed_sight {
	enum level_kind kind;
	const char *station, *reading;
	level_nm distance;
	const char *wire[3];
	size_t replaces; /* as level_typed has it */
	bool struck;
};

#define SLIPPED_MOST 64

struct slipped {
	struct level_sight sight[SLIPPED_MOST];
	struct level_typed typed[SLIPPED_MOST];
	struct level_run run;
	struct level_terms terms;
	struct level_slip_given given;
	struct level_closing closing;
	struct level_slips slips;
};

/* A link from a mark at start to one at end; the last sight is on it. */
static inline void slipped_make(struct slipped *s, enum level_unit unit,
                                const struct typed_sight *lines, size_t count, level_nm start,
                                level_nm end)
{
	*s = (struct slipped){
	    .run = {.kind = LEVEL_LINK, .count = count, .sight = s->sight},
	    .terms = usual_terms(),
	    .given = {.typed = s->typed, .rod_length = METRES(3), .stadia_multiplier = 100}};
	ck_assert_uint_le(count, SLIPPED_MOST);
	for (size_t i = 0; i < count; i++) {
		struct level_sight *on = &s->sight[i];
		*on = sight(lines[i].kind, lines[i].station, 0, lines[i].distance);
		s->typed[i] = (struct level_typed){.unit = unit,
		                                   .reading = lines[i].reading,
		                                   .distance = lines[i].distance != 0,
		                                   .replaces = lines[i].replaces};
		on->state = lines[i].struck ? LEVEL_STRUCK : LEVEL_BOOKED;
		memcpy(s->typed[i].wire, lines[i].wire, sizeof s->typed[i].wire);
		if (lines[i].wire[0]) {
			on->wires = true;
			ck_assert(level_parse_length(lines[i].wire[0], unit, &on->upper, NULL));
			ck_assert(level_parse_length(lines[i].wire[1], unit, &on->middle, NULL));
			ck_assert(level_parse_length(lines[i].wire[2], unit, &on->lower, NULL));
			on->reading = level_wire_mean(on->upper, on->middle, on->lower);
			if (!on->distance)
				on->distance = level_wire_distance(on->upper, on->lower, 100, 0);
		} else {
			struct level_set set;
			ck_assert(level_parse_set(lines[i].reading, unit, &set, NULL));
			on->reading = set.mean;
		}
	}
	s->sight[0] = known(s->sight[0], start, 0);
	s->sight[count - 1] = known(s->sight[count - 1], end, 0);
}

/* Closes the run by the set "setups" and looks for slips. */
static inline void slipped_find(struct slipped *s, const char *set, double figure)
{
	s->closing = closed_with(&s->run, &s->terms, set, figure);
	ck_assert(level_slips_find(&s->run, &s->closing, &s->terms, &s->given, &s->slips));
}

#endif
