#include "rodbook/work/limits.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/set.h"

const char *work_limit_name(enum work_limit limit)
{
	static const char *const names[] = {
	    "misclosure", "sight", "setup_imbalance", "imbalance", "half", "standings",
	    "clearance",  "test",  "readings",        "sections"};
	return names[limit];
}

static enum work_kept within(double limit, bool known, level_nm figure)
{
	if (limit <= 0)
		return WORK_NOT_ASKED;
	if (figure > level_from_meters(limit))
		return WORK_BROKEN;
	return known ? WORK_KEPT : WORK_NOT_KNOWN;
}

static enum work_kept misclosure(const struct level_closing *c)
{
	if (!c->has_allowable || c->provisional)
		return WORK_NOT_KNOWN;
	return llabs(c->judged) <= c->allowable ? WORK_KEPT : WORK_BROKEN;
}

/* What one section says, beside what the ones before it said. */
static enum work_kept with(enum work_kept before, enum level_answer holds, bool provisional)
{
	if (before == WORK_BROKEN || holds == LEVEL_NO)
		return WORK_BROKEN;
	return holds == LEVEL_YES && !provisional && before != WORK_NOT_KNOWN ? WORK_KEPT
	                                                                      : WORK_NOT_KNOWN;
}

static enum work_kept sections(const struct work_run *run)
{
	enum work_kept kept = WORK_NOT_ASKED;
	for (size_t i = 0; i < run->section_count; i++)
		kept = with(kept, run->sections[i].holds, run->sections[i].provisional);
	for (size_t i = 0; i < run->double_count; i++)
		kept = with(kept, run->doubles[i].holds, run->doubles[i].provisional);
	return kept;
}

static enum work_kept test(const struct work_run *run)
{
	const struct level_tolerance *set = run->closing.set;
	if (set->tilt <= 0 && set->days <= 0)
		return WORK_NOT_ASKED;
	if (run->tested.state == WORK_TEST_FAILED)
		return WORK_BROKEN;
	for (size_t i = 0; i < run->book.run.count; i++)
		if (level_counted(&run->book.run.sight[i]) &&
		    run->book.run.sight[i].instrument == 0)
			return WORK_NOT_KNOWN;
	return run->tested.state == WORK_TESTED ? WORK_KEPT : WORK_NOT_KNOWN;
}

/* The smallest step that a reading was written in, nm: 1.43 is to the hundredth, 57 3/8 to the
 * eighth; of a set or of wires that of the first one. */
static level_nm step_of(const char *text, enum level_unit unit)
{
	char one[BOOK_TYPED_BYTES];
	char *first, *point, *slash, *last;
	level_nm value, more;
	snprintf(one, sizeof one, "%.*s", (int)strcspn(text, ";"), text);
	level_trim(one);
	first = one + strspn(one, "+-");
	slash = strchr(one, '/');
	point = strpbrk(one, ".,");
	if (!level_parse_length(one, unit, &value, NULL))
		return 0;
	/* Fractions are of an inch. */
	if (slash) {
		long parts = strtol(slash + 1, NULL, 10);
		return parts > 0 ? LEVEL_NM_PER_IN / parts : 0;
	}
	/* One more in the last place; 1. is to the whole one, as 1 is. */
	last = point ? point + strspn(point + 1, "0123456789") : NULL;
	if (!last || last == point)
		last = first + strspn(first, "0123456789") - 1;
	if (last < first)
		return 0;
	*last = *last == '9' ? '8' : (char)(*last + 1);
	return level_parse_length(one, unit, &more, NULL) ? llabs(more - value) : 0;
}

/* The allowable of one setup of the run's mean length. */
static bool one_setup(const struct level_closing *c, double *allowable)
{
	if (c->set->per_km[0] <= 0) {
		*allowable = c->set->per_setup;
		return *allowable > 0;
	}
	if (!c->has_length || !c->setups)
		return false;
	*allowable = c->set->per_km[0] * sqrt(level_to_meters(c->length) / 1000 / c->setups);
	return true;
}

static enum work_kept readings(const struct work_run *run)
{
	double allowable;
	if (run->closing.set->per_km[0] <= 0 && run->closing.set->per_setup <= 0)
		return WORK_NOT_ASKED;
	if (!one_setup(&run->closing, &allowable))
		return WORK_NOT_KNOWN;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		const struct book_kept *note = &run->book.note[i];
		if (level_counted(sight) && sight->kind != LEVEL_IS &&
		    step_of(sight->wires ? note->middle : note->reading, note->unit) >
		        level_from_meters(allowable))
			return WORK_NOT_KNOWN;
	}
	return WORK_KEPT;
}

void work_limits(const struct work_run *run, enum work_kept out[WORK_LIMITS])
{
	const struct level_closing *c = &run->closing;
	const struct level_tolerance *set = c->set;
	const struct level_sums *sums = level_page_sums(&run->page);
	bool wires = true;
	for (size_t i = 0; i < run->book.run.count; i++)
		wires = wires &&
		        (!level_counted(&run->book.run.sight[i]) || run->book.run.sight[i].wires);
	out[WORK_LIMIT_MISCLOSURE] = misclosure(c);
	out[WORK_LIMIT_SIGHT] = within(set->sight, c->has_length, sums->longest);
	out[WORK_LIMIT_SETUP_IMBALANCE] =
	    within(set->setup_imbalance, c->has_length, sums->setup_imbalance);
	out[WORK_LIMIT_IMBALANCE] =
	    within(set->imbalance, c->has_length, c->has_length ? llabs(c->imbalance) : 0);
	out[WORK_LIMIT_HALF] = within(set->half, wires, sums->half);
	out[WORK_LIMIT_STANDINGS] = level_page_standings(&run->page) > c->setups
	                                ? within(set->standings, true, sums->standings)
	                                : WORK_NOT_ASKED;
	out[WORK_LIMIT_CLEARANCE] = set->clearance > 0 ? WORK_NOT_KNOWN : WORK_NOT_ASKED;
	out[WORK_LIMIT_TEST] = test(run);
	out[WORK_LIMIT_READINGS] = readings(run);
	out[WORK_LIMIT_SECTIONS] = sections(run);
}

static bool sections_by_setups(const struct work_run *run)
{
	bool any = false;
	for (size_t i = 0; i < run->section_count; i++)
		any = any || run->sections[i].provisional;
	for (size_t i = 0; i < run->double_count; i++)
		any = any || run->doubles[i].provisional;
	return any;
}

bool work_limit_wants_distances(const struct work_run *run, enum work_limit limit)
{
	const struct level_closing *c = &run->closing;
	switch (limit) {
	case WORK_LIMIT_MISCLOSURE:
		return c->provisional;
	case WORK_LIMIT_SIGHT:
	case WORK_LIMIT_SETUP_IMBALANCE:
	case WORK_LIMIT_IMBALANCE:
		return !c->has_length;
	case WORK_LIMIT_READINGS:
		return !c->has_length && c->set->per_km[0] > 0;
	case WORK_LIMIT_SECTIONS:
		return sections_by_setups(run);
	default:
		return false;
	}
}
