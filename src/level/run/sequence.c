/* The order of sights: what may stand where, and what is likely to come next. */
#include "rodbook/level/sight.h"

#include "rodbook/level/offset.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

size_t level_counted_before(const struct level_run *run, size_t at)
{
	while (at > 0)
		if (level_counted(&run->sight[--at]))
			return at;
	return run->count;
}

size_t level_counted_from(const struct level_run *run, size_t at)
{
	while (at < run->count && !level_counted(&run->sight[at]))
		at++;
	return at;
}

size_t level_partner(const struct level_run *run, size_t at)
{
	const struct level_sight *sight = &run->sight[at];
	size_t other = run->count;
	if (sight->kind == LEVEL_BS)
		other = level_counted_before(run, at);
	else if (level_carries_on(sight->kind))
		other = level_counted_from(run, at + 1);
	if (other < run->count &&
	    (run->sight[other].kind == LEVEL_IS ||
	     (run->sight[other].kind == LEVEL_BS) == (sight->kind == LEVEL_BS) ||
	     strcmp(run->sight[other].station, sight->station) != 0))
		return run->count;
	return other;
}

size_t level_first_standing(const struct level_run *run, size_t at)
{
	/* Back to the BS of its setup, and on to one that is not again. */
	while (at < run->count && (run->sight[at].kind != LEVEL_BS || run->sight[at].again))
		at = run->sight[at].kind == LEVEL_OFF ? run->count : level_counted_before(run, at);
	return at;
}

size_t level_may_repeat(const struct level_run *run, size_t at)
{
	size_t before = level_counted_before(run, at);
	if (before == run->count || run->sight[before].kind != LEVEL_FS)
		return run->count;
	return level_first_standing(run, before);
}

/* The marks of a setup, as its standings are walked over. */
struct standing {
	const char *first, *end; /* NULL where there is none yet */
	bool complete;
};

/* Whether a sight may follow: a further standing keeps to the marks of the first. */
static bool follows(struct standing *s, const struct level_sight *sight)
{
	if (sight->kind == LEVEL_BS) {
		if (sight->again &&
		    !(s->complete && s->first && strcmp(s->first, sight->station) == 0))
			return false;
		if (!sight->again)
			*s = (struct standing){.first = sight->station};
		s->complete = false;
	} else if (sight->kind == LEVEL_FS) {
		if (s->end && strcmp(s->end, sight->station) != 0)
			return false;
		s->end = sight->station;
		s->complete = true;
	} else if (sight->kind == LEVEL_OFF) {
		*s = (struct standing){0};
	}
	return true;
}

static bool refuse_standing(const struct standing *s, const struct level_sight *draft,
                            struct fault *why)
{
	if (draft->kind == LEVEL_FS)
		return fault_say(why, FAULT_INPUT,
		                 "a second standing ends on the FS mark of the first, %.160s",
		                 s->end);
	if (!s->complete)
		return fault_say(why, FAULT_INPUT,
		                 "a second standing follows a setup that has its FS");
	return fault_say(why, FAULT_INPUT,
	                 "a second standing begins on the BS mark of the first, %.160s", s->first);
}

/* Whether all standings near index `at` keep to their marks with the draft there. */
static bool check_standings(const struct level_run *run, size_t at, bool replace,
                            const struct level_sight *draft, struct fault *why)
{
	struct standing s = {0};
	size_t i = level_first_standing(run, level_counted_before(run, at));
	for (; i < at; i = level_counted_from(run, i + 1))
		follows(&s, &run->sight[i]);
	if (!follows(&s, draft))
		return refuse_standing(&s, draft, why);
	for (i = level_counted_from(run, replace ? at + 1 : at);
	     i < run->count && (run->sight[i].kind != LEVEL_BS || run->sight[i].again);
	     i = level_counted_from(run, i + 1))
		if (!follows(&s, &run->sight[i]))
			return fault_say(why, FAULT_INPUT,
			                 "this setup stands more than once between its marks: "
			                 "strike the later standing first");
	return true;
}

/* The line goes on from before to next without a break. */
static bool joined(const struct level_sight *before, const struct level_sight *next)
{
	return before && next && level_carries_on(before->kind) && next->kind == LEVEL_BS &&
	       strcmp(before->station, next->station) == 0;
}

static bool check_bs(const struct level_sight *before, const struct level_sight *next,
                     const struct level_sight *old, const struct level_sight *draft,
                     struct fault *why)
{
	if (before && !level_carries_on(before->kind))
		return fault_say(why, FAULT_INPUT,
		                 "a second BS in a setup: read the FS first, or strike the setup");
	/* A changed BS that moves its own mark takes the FS before it along, so it stays joined;
	 * one behind a break may keep its mark. */
	if (before && !draft->again && strcmp(before->station, draft->station) != 0 &&
	    !joined(before, old) && !(old && strcmp(old->station, draft->station) == 0))
		return fault_say(why, FAULT_INPUT,
		                 "the line stands on %s: read the BS there, or begin a new run",
		                 before->station);
	if (!old && next && next->kind != LEVEL_BS)
		return fault_say(why, FAULT_INPUT, "a second BS in a setup: it has one already");
	return true;
}

static bool check_offset(const struct level_sight *before, const struct level_sight *draft,
                         struct fault *why)
{
	if (!before)
		return fault_say(why, FAULT_INPUT,
		                 "an offset goes on from a mark that the line stands on: sight to "
		                 "that mark first");
	if (!level_carries_on(before->kind))
		return fault_say(why, FAULT_INPUT,
		                 "an offset stands between setups: read the FS first");
	return strcmp(before->station, draft->station) != 0 ||
	       fault_say(why, FAULT_INPUT,
	                 "the line stands on %.160s: an offset goes to another mark",
	                 before->station);
}

/* An offset does not name the mark that it goes on from: nothing may come between the two, and none
 * becomes another kind of sight. */
static bool keeps_offsets(const struct level_sight *next, const struct level_sight *old,
                          const struct level_sight *draft, struct fault *why)
{
	if (old && (old->kind == LEVEL_OFF) != (draft->kind == LEVEL_OFF))
		return fault_say(why, FAULT_INPUT,
		                 old->kind == LEVEL_OFF
		                     ? "an offset stays one: strike it, and book the sight"
		                     : "a sight stays one: strike it, and book the offset");
	if (!next || next->kind != LEVEL_OFF)
		return true;
	if (!old)
		return fault_say(why, FAULT_INPUT,
		                 "the offset to %.160s is measured from the mark before it: strike "
		                 "that offset first",
		                 next->station);
	return strcmp(next->station, draft->station) != 0 ||
	       fault_say(
	           why, FAULT_INPUT,
	           "an offset is measured from this mark to %.160s: give this mark another name",
	           next->station);
}

bool level_check_place(const struct level_run *run, size_t at, bool replace,
                       const struct level_sight *draft, struct fault *why)
{
	size_t b = level_counted_before(run, at);
	size_t n = level_counted_from(run, replace ? at + 1 : at);
	const struct level_sight *before = b < run->count ? &run->sight[b] : NULL;
	const struct level_sight *next = n < run->count ? &run->sight[n] : NULL;
	const struct level_sight *old = replace ? &run->sight[at] : NULL;

	if (!replace && run->count >= LEVEL_SIGHTS_LIMIT)
		return fault_say(why, FAULT_INPUT, "a run holds at most %d sights: begin a new run",
		                 LEVEL_SIGHTS_LIMIT);
	if (!keeps_offsets(next, old, draft, why))
		return false;
	if (draft->kind == LEVEL_OFF) {
		if (!check_offset(before, draft, why))
			return false;
	} else if (draft->kind == LEVEL_BS) {
		if (!check_bs(before, next, old, draft, why))
			return false;
	} else if (!before || level_carries_on(before->kind)) {
		return fault_say(why, FAULT_INPUT,
		                 "an %s with no BS: read the BS of this setup first",
		                 level_kind_name(draft->kind));
	}
	if (draft->kind == LEVEL_FS && next && next->kind != LEVEL_BS && next->kind != LEVEL_OFF)
		return fault_say(why, FAULT_INPUT,
		                 "this setup has sights after it: its FS comes last, after them");
	if (old && old->kind != draft->kind && next &&
	    (next->kind == LEVEL_BS || next->kind == LEVEL_OFF) && draft->kind != LEVEL_FS &&
	    old->kind == LEVEL_FS)
		return fault_say(why, FAULT_INPUT,
		                 "the line goes on from this FS: strike the later setups first");
	return check_standings(run, at, replace, draft, why);
}

/* 7 for TP7; 0 for what is no such name. */
static int64_t turning_point_number(const char *station)
{
	int64_t number = 0;
	size_t digits;
	if (strncmp(station, "TP", 2) != 0)
		return 0;
	station += 2;
	digits = strspn(station, "0123456789");
	if (digits == 0 || digits > 12 || station[digits])
		return 0;
	while (*station)
		number = number * 10 + (*station++ - '0');
	return number;
}

bool level_is_passing(const char *station)
{
	return strncmp(station, "TP", 2) == 0 && station[2] &&
	       !station[2 + strspn(station + 2, "0123456789")];
}

/* The BS of the setup that the counted sight at b is in; run->count where there is none. */
static size_t open_setup(const struct level_run *run, size_t b)
{
	while (b < run->count && run->sight[b].kind == LEVEL_IS)
		b = level_counted_before(run, b);
	return b;
}

/* The FS of the setup begun at `open` that was struck last, also where its whole setup was struck
 * and begun again; run->count where none was. */
static size_t struck_fs(const struct level_run *run, size_t open, size_t at)
{
	for (size_t i = at; i-- > 0;) {
		const struct level_sight *sight = &run->sight[i];
		if (sight->state == LEVEL_STRUCK && sight->kind == LEVEL_FS)
			return open < run->count &&
			               strcmp(sight->station, run->sight[open].station) != 0
			           ? i
			           : run->count;
		if (level_counted(sight) && level_carries_on(sight->kind))
			break;
	}
	return run->count;
}

void level_next_turning_point(const struct level_run *run, char station[LEVEL_STATION_BYTES])
{
	int64_t highest = 0;
	for (size_t i = 0; i < run->count; i++) {
		int64_t number = turning_point_number(run->sight[i].station);
		if (number > highest)
			highest = number;
	}
	snprintf(station, LEVEL_STATION_BYTES, "TP%" PRId64, highest + 1);
}

void level_suggest(const struct level_run *run, size_t at, enum level_kind *kind,
                   char station[LEVEL_STATION_BYTES])
{
	size_t b = level_counted_before(run, at);
	size_t n = level_counted_from(run, at), open = open_setup(run, b);

	station[0] = '\0';
	*kind = LEVEL_BS;
	if (b == run->count)
		return;
	if (level_carries_on(run->sight[b].kind)) {
		memcpy(station, run->sight[b].station, LEVEL_STATION_BYTES);
		return;
	}
	if (n < run->count && run->sight[n].kind != LEVEL_BS) {
		/* Inside a whole setup only an IS can have been forgotten. */
		*kind = LEVEL_IS;
		return;
	}
	*kind = LEVEL_FS;
	/* A further standing ends where the first one did. */
	if (open < run->count && run->sight[open].again) {
		size_t end = level_counted_before(run, open);
		if (end < run->count) {
			memcpy(station, run->sight[end].station, LEVEL_STATION_BYTES);
			return;
		}
	}
	/* The end of a gap, unless this setup began there: then a whole setup is being put in. */
	if (n < run->count &&
	    (open == run->count || strcmp(run->sight[n].station, run->sight[open].station) != 0)) {
		memcpy(station, run->sight[n].station, LEVEL_STATION_BYTES);
		return;
	}
	n = struck_fs(run, open, at);
	if (n < run->count) {
		memcpy(station, run->sight[n].station, LEVEL_STATION_BYTES);
		return;
	}
	level_next_turning_point(run, station);
}
