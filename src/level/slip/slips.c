/* Which single entry, and by which slip, would bring a run within its allowable. */
#include "rodbook/level/slips.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "level/slip/slip_search.h"
#include "level/wide.h"
#include "rodbook/level/offset.h"

/* No reading is beyond 100 m, so no slip shifts a misclosure by more than this, about twice. */
#define REACH (400 * LEVEL_NM_PER_M)

/* How common the kinds are; common practice, no source. */
static const double weights[LEVEL_SLIPS] = {
    [LEVEL_SLIP_WHOLE] = 1.0,   [LEVEL_SLIP_TWICE] = 0.9,   [LEVEL_SLIP_TRANSPOSED] = 0.8,
    [LEVEL_SLIP_MISREAD] = 0.6, [LEVEL_SLIP_ACROSS] = 0.55, [LEVEL_SLIP_EXCHANGED] = 0.5,
    [LEVEL_SLIP_WIRE] = 0.4,    [LEVEL_SLIP_UNIT] = 0.3,    [LEVEL_SLIP_SHIFTED] = 0.2,
    [LEVEL_SLIP_SIGN] = 0.1,    [LEVEL_SLIP_EARLIER] = 1.0,
};

const char *level_slip_name(enum level_slip_kind kind)
{
	static const char *const names[LEVEL_SLIPS] = {
	    "whole", "twice", "transposed", "misread", "exchanged", "wire",
	    "unit",  "sign",  "across",     "shifted", "earlier"};
	return names[kind];
}

void level_slips_free(struct level_slips *slips)
{
	free(slips->slip);
	*slips = (struct level_slips){0};
}

static bool push(struct level_slips *slips, const struct level_slip *slip)
{
	if (slips->count == slips->room) {
		size_t room = slips->room ? 2 * slips->room : 32;
		struct level_slip *grown = realloc(slips->slip, room * sizeof *grown);
		if (!grown)
			return false;
		slips->slip = grown;
		slips->room = room;
	}
	slips->slip[slips->count++] = *slip;
	return true;
}

static level_nm magnitude(level_nm value)
{
	return value < 0 ? -value : value;
}

level_nm slip_signed(const struct level_sight *sight, level_nm value)
{
	return sight->kind == LEVEL_BS || sight->kind == LEVEL_OFF ? value : -value;
}

int slip_standings(const struct slip_search *s, size_t at)
{
	int count = 0;
	size_t first = level_first_standing(s->run, at);
	if (s->run->sight[at].kind == LEVEL_OFF)
		return 1;
	for (size_t i = first; i < s->run->count; i = level_counted_from(s->run, i + 1)) {
		if (i > first && s->run->sight[i].kind == LEVEL_BS && !s->run->sight[i].again)
			break;
		count += s->run->sight[i].kind == LEVEL_FS;
	}
	return count > 0 ? count : 1;
}

/* Whether the standings of a setup agree better with one of them raised by `rise`, the one that the
 * sight at index `at` is in; true where it is alone. */
static bool standings_agree(const struct slip_search *s, size_t at, level_nm rise, bool *clearly)
{
	const struct level_run *run = s->run;
	int count = slip_standings(s, at);
	level_nm own = 0, others = 0, booked, likely;
	size_t bs = 0;
	if (count < 2)
		return true;
	for (size_t i = level_first_standing(run, at), n = 0; n < (size_t)count;
	     i = level_counted_from(run, i + 1)) {
		if (run->sight[i].kind == LEVEL_BS)
			bs = i;
		if (run->sight[i].kind != LEVEL_FS)
			continue;
		n++;
		if (bs <= at && at <= i)
			own = run->sight[bs].reading - run->sight[i].reading;
		else
			others += run->sight[bs].reading - run->sight[i].reading;
	}
	booked = magnitude((count - 1) * own - others);
	likely = magnitude((count - 1) * (own + rise) - others);
	*clearly = 4 * likely <= booked;
	return likely < booked;
}

/* The allowable of the run with another length. */
static level_nm allowable_at(const struct slip_search *s, level_nm longer)
{
	const struct level_closing *c = s->closing;
	double allowable;
	if (!longer || !s->length || c->set->per_km[0] <= 0 ||
	    !level_allowable(c->set, s->kind, true, level_to_meters(s->length + longer) / 1000,
	                     c->setups, 0, &allowable))
		return s->allowable;
	return level_from_meters(allowable);
}

void slip_weigh(struct level_slip *best, struct level_slip slip, level_nm leaves,
                level_nm allowable)
{
	double share = leaves ? (double)leaves / (double)allowable : 0;
	double weight = weights[slip.kind] * (slip.agrees ? 2 : 1) / (slip.every ? 2 : 1);
	if (magnitude(leaves) > allowable)
		return;
	slip.leaves = leaves;
	slip.score = weight * exp(-2 * share * share);
	if (slip.score > best->score)
		*best = slip;
}

static bool on_rod(const struct slip_search *s, const struct level_sight *changed)
{
	const struct level_style any = level_style_default(LEVEL_M);
	return level_check_sight(changed, s->given->rod_length, &any, NULL);
}

/* Whether the reading, or one of its wires, lies below zero (sign -1), or above (sign 1). */
static bool lies(const struct level_sight *sight, int sign)
{
	if (!sight->wires)
		return sign * sight->reading > 0;
	return sign * sight->upper > 0 || sign * sight->middle > 0 || sign * sight->lower > 0;
}

bool slip_possible(const struct slip_search *s, size_t at, const struct level_sight *changed)
{
	const struct level_sight *booked = &s->run->sight[at];
	bool above = lies(booked, 1), below = lies(booked, -1);
	/* No slip of digits turns a rod round. */
	return on_rod(s, changed) && (booked->kind == LEVEL_OFF || below || !lies(changed, -1)) &&
	       (above || !below || !lies(changed, 1));
}

void slip_weigh_sight(const struct slip_search *s, const struct level_slip *slip,
                      const struct level_sight *changed, struct level_slip *best)
{
	const struct level_sight *sight = &s->run->sight[slip->at];
	level_nm off = changed->reading - sight->reading;
	level_nm longer = changed->distance - sight->distance;
	level_nm allowable = allowable_at(s, longer), leaves;
	int standings = slip_standings(s, slip->at);
	struct level_slip weighed = *slip;
	bool clearly = false;
	if (longer && s->closing->judged_corrected)
		off -= level_from_meters(level_too_high(changed, s->terms) -
		                         level_too_high(sight, s->terms));
	leaves = s->judged + level_round_ratio(slip_signed(sight, off), standings);
	if (!standings_agree(s, slip->at, slip_signed(sight, off), &clearly))
		return;
	weighed.agrees = weighed.agrees || clearly;
	if (magnitude(leaves) <= allowable &&
	    (slip->kind == LEVEL_SLIP_SIGN || slip_possible(s, slip->at, changed)))
		slip_weigh(best, weighed, leaves, allowable);
}

void slip_weigh_reading(const struct slip_search *s, const struct level_slip *slip,
                        struct level_slip *best)
{
	struct level_sight changed = s->run->sight[slip->at];
	level_nm step = slip->likely - changed.reading;
	changed.reading += step;
	changed.upper += step;
	changed.middle += step;
	changed.lower += step;
	slip_weigh_sight(s, slip, &changed, best);
}

/* The value of the sight before it, where another one could close the run; and a lost sign. */
static void try_value(const struct slip_search *s, size_t at, size_t before,
                      struct level_slip *best)
{
	const struct level_sight *sight = &s->run->sight[at];
	struct level_slip slip = {.kind = LEVEL_SLIP_SIGN,
	                          .part = LEVEL_PART_ALL,
	                          .at = at,
	                          .other = at,
	                          .booked = sight->reading,
	                          .likely = -sight->reading,
	                          .has_likely = true};
	slip_weigh_reading(s, &slip, best);
	if (before == SIZE_MAX || s->run->sight[before].reading != sight->reading)
		return;
	slip.kind = LEVEL_SLIP_TWICE;
	slip.other = before;
	slip.likely = sight->reading - slip_standings(s, at) * slip_signed(sight, s->judged);
	slip.has_likely = false;
	slip_weigh_reading(s, &slip, best);
}

/* The sight at index `at`; `before` is the counted one before it, or SIZE_MAX. */
static bool try_sight(const struct slip_search *s, size_t at, size_t before,
                      struct level_slips *out)
{
	struct level_slip best = {0};
	slip_try_texts(s, at, &best);
	slip_try_earlier(s, at, &best);
	try_value(s, at, before, &best);
	if (!best.has_likely)
		best.likely = 0;
	return best.score <= 0 || push(out, &best);
}

static bool try_exchange(const struct slip_search *s, size_t bs, size_t fs, struct level_slips *out)
{
	struct level_sight back = s->run->sight[bs], fore = s->run->sight[fs];
	level_nm shift = 2 * (fore.reading - back.reading);
	struct level_slip best = {0}, slip = {.kind = LEVEL_SLIP_EXCHANGED,
	                                      .part = LEVEL_PART_ALL,
	                                      .at = bs,
	                                      .other = fs,
	                                      .booked = back.reading,
	                                      .likely = fore.reading,
	                                      .has_likely = true};
	back.reading = slip.likely;
	fore.reading = slip.booked;
	back.wires = fore.wires = false;
	if (!standings_agree(s, bs, shift, &slip.agrees))
		return true;
	slip_weigh(&best, slip, s->judged + level_round_ratio(shift, slip_standings(s, bs)),
	           s->allowable);
	return best.score <= 0 || !on_rod(s, &back) || !on_rod(s, &fore) || push(out, &best);
}

/* A whole setup, which alone carries the line: the indexes of its BS and FS. */
struct whole_setup {
	size_t bs, fs;
	size_t before_bs, before_fs; /* the counted sights before them, or SIZE_MAX */
};

/* The next one from index *from on, up to index `last`; *from moves behind it. False where there is
 * none. *from begins at the first index and *setup as all SIZE_MAX. */
static bool next_setup(const struct level_run *run, size_t *from, size_t last,
                       struct whole_setup *setup)
{
	size_t bs = SIZE_MAX, before = setup->fs;
	for (size_t i = *from; i < run->count && i <= last; i++) {
		if (!level_counted(&run->sight[i]))
			continue;
		if (run->sight[i].kind == LEVEL_BS) {
			bs = i;
			setup->before_bs = before;
		} else if (run->sight[i].kind == LEVEL_FS && bs != SIZE_MAX) {
			setup->bs = bs;
			setup->fs = i;
			setup->before_fs = before;
			*from = i + 1;
			return true;
		}
		before = i;
	}
	return false;
}

/* The next offset from index *from on, up to index `last`; SIZE_MAX where there is none. */
static size_t next_offset(const struct level_run *run, size_t *from, size_t last)
{
	for (size_t i = *from; i < run->count && i <= last; i++)
		if (level_counted(&run->sight[i]) && run->sight[i].kind == LEVEL_OFF) {
			*from = i + 1;
			return i;
		}
	return SIZE_MAX;
}

static bool try_part(const struct slip_search *s, const size_t part[2], struct level_slips *out)
{
	struct whole_setup setup = {SIZE_MAX, SIZE_MAX, SIZE_MAX, SIZE_MAX};
	for (size_t from = part[0]; next_setup(s->run, &from, part[1], &setup);)
		if (!try_sight(s, setup.bs, setup.before_bs, out) ||
		    !try_sight(s, setup.fs, setup.before_fs, out) ||
		    !try_exchange(s, setup.bs, setup.fs, out))
			return false;
	for (size_t from = part[0], at; (at = next_offset(s->run, &from, part[1])) != SIZE_MAX;)
		if (!try_sight(s, at, SIZE_MAX, out))
			return false;
	return true;
}

/* By the method, or of an offset its own, m^2. */
static double reading_variance(const struct slip_search *s, size_t at)
{
	struct level_sight one = s->run->sight[at];
	double u;
	one.set_count = 0;
	one.declared = false;
	u = level_sight_u(s->terms, &one).u / slip_standings(s, at);
	return u * u;
}

static double readings_variance(const struct slip_search *s)
{
	double sum = 0;
	for (int p = 0; p < 2; p++) {
		struct whole_setup setup = {SIZE_MAX, SIZE_MAX, SIZE_MAX, SIZE_MAX};
		for (size_t from = s->part[p][0]; next_setup(s->run, &from, s->part[p][1], &setup);)
			sum += reading_variance(s, setup.bs) + reading_variance(s, setup.fs);
		for (size_t from = s->part[p][0], at;
		     (at = next_offset(s->run, &from, s->part[p][1])) != SIZE_MAX;)
			sum += reading_variance(s, at);
	}
	return sum;
}

/* How finely the run was read, as its texts say. */
static int most_decimals(const struct level_run *run, const struct level_typed *typed)
{
	int most = 0;
	for (size_t i = 0; i < run->count; i++)
		for (int text = 0; text < 4; text++) {
			int decimals =
			    slip_decimals(text < 3 ? typed[i].wire[text] : typed[i].reading);
			most = decimals > most ? decimals : most;
		}
	return most;
}

static int by_score(const void *one, const void *two)
{
	const struct level_slip *a = one, *b = two;
	if (a->score < b->score || a->score > b->score)
		return a->score < b->score ? 1 : -1;
	if (a->at != b->at)
		return a->at > b->at ? 1 : -1;
	return (int)a->kind - (int)b->kind;
}

bool level_slips_find(const struct level_run *run, const struct level_closing *closing,
                      const struct level_terms *terms, const struct level_slip_given *given,
                      struct level_slips *out)
{
	struct slip_search s = {.run = run,
	                        .closing = closing,
	                        .terms = terms,
	                        .given = given,
	                        .part = {{0, SIZE_MAX - 1}, {SIZE_MAX, SIZE_MAX}},
	                        .kind = closing->is_double ? LEVEL_LINK : run->kind,
	                        .length = !closing->has_length ? 0
	                                  : closing->is_double ? closing->one_way
	                                                       : closing->length,
	                        .judged = closing->judged,
	                        .allowable = closing->allowable};
	/* A mark or a section that fails is explained by its own rows alone. */
	if (closing->failing) {
		memcpy(s.part, closing->failing_rows, sizeof s.part);
		s.kind = LEVEL_LINK;
		s.length = closing->failing_length;
		s.judged = closing->failing_by;
		s.allowable = closing->failing_allowable;
	}
	out->count = 0;
	out->readings_allow = 0;
	out->small_errors = false;
	if (closing->closes != LEVEL_NO || run->kind == LEVEL_CROSSING)
		return true;
	out->readings_allow = level_from_meters(3 * sqrt(readings_variance(&s)));
	out->small_errors = magnitude(s.judged) <= out->readings_allow;
	if (magnitude(s.judged) - s.allowable > REACH)
		return true;
	s.decimals = most_decimals(run, given->typed);
	if (!try_part(&s, s.part[0], out) || !try_part(&s, s.part[1], out))
		return false;
	if (out->count)
		qsort(out->slip, out->count, sizeof *out->slip, by_score);
	return true;
}
