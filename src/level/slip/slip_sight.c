/* The texts of one sight: a plain reading, three wires, or a set. */
#include "level/slip/slip_search.h"

#include <math.h>
#include <string.h>

#include "rodbook/level/set.h"
#include "level/wide.h"

/* What the value of a part must be for a misclosure of 0, where a change of it shifts the
 * misclosure by its `share`-th part, and how far from there it may be. */
static struct slip_window window_of(const struct slip_search *s, size_t at, level_nm value,
                                    double share)
{
	const struct level_sight *sight = &s->run->sight[at];
	double shift = share * slip_standings(s, at);
	double ideal = (double)value - shift * (double)slip_signed(sight, s->judged);
	/* and the nanometer that a mean is rounded by */
	double reach = shift * ((double)s->allowable + 1);
	return (struct slip_window){ideal - reach, ideal + reach, s->decimals};
}

static struct level_slip slip_of(const struct slip_guess *guess, size_t at,
                                 enum level_slip_part part, level_nm booked)
{
	return (struct level_slip){.kind = guess->kind,
	                           .part = part,
	                           .at = at,
	                           .other = at,
	                           .booked = booked,
	                           .likely = guess->likely,
	                           .has_likely = true,
	                           .from = guess->from,
	                           .to = guess->to,
	                           .read_in = guess->read_in};
}

/* every: each wire, or each reading of the set, is one of them. */
static void weigh_guesses(const struct slip_search *s, size_t at, bool every,
                          const struct slip_guesses *guesses, struct level_slip *best)
{
	for (int i = 0; i < guesses->count; i++) {
		struct level_slip slip =
		    slip_of(&guesses->guess[i], at, LEVEL_PART_ALL, s->run->sight[at].reading);
		slip.every = every;
		slip_weigh_reading(s, &slip, best);
	}
}

static void try_reading(const struct slip_search *s, size_t at, struct level_slip *best)
{
	const struct level_typed *typed = &s->given->typed[at];
	const struct level_sight *sight = &s->run->sight[at];
	struct slip_window window = window_of(s, at, sight->reading, 1);
	struct slip_guesses guesses;
	level_nm half = level_round_ratio(sight->distance - s->given->stadia_constant,
	                                  2 * s->given->stadia_multiplier);
	guesses.count = 0;
	if (typed->reading) {
		slip_guess_digits(typed->reading, typed->unit, sight->reading, &window, &guesses);
		slip_guess_whole(typed->reading, typed->unit, sight->reading, &window, &guesses);
		slip_guess_unit(typed->reading, typed->unit, sight->reading, &window, &guesses);
	}
	/* A tape has no wires; the upper one reads more. */
	if (sight->distance && half > 0 && sight->method != LEVEL_TAPE) {
		slip_guess_add(&guesses, LEVEL_SLIP_WIRE, sight->reading - half, &window);
		slip_guess_add(&guesses, LEVEL_SLIP_WIRE, sight->reading + half, &window);
	}
	weigh_guesses(s, at, false, &guesses, best);
}

/* All wires, or all readings of a set, a whole unit off, where one of them alone explains nothing;
 * text is one of them. */
static void try_whole(const struct slip_search *s, size_t at, const char *text,
                      struct level_slip *best)
{
	const struct level_sight *sight = &s->run->sight[at];
	struct slip_window window = window_of(s, at, sight->reading, 1);
	struct slip_guesses guesses;
	if (best->score > 0)
		return;
	guesses.count = 0;
	slip_guess_whole(text, s->given->typed[at].unit, sight->reading, &window, &guesses);
	weigh_guesses(s, at, true, &guesses, best);
}

/* Whether wires, or the readings of a set, agree better with the slip undone: their disagreement as
 * booked, and so. */
static bool improves(struct level_slip *slip, level_wide booked, level_wide likely)
{
	slip->agrees = 4 * likely <= booked;
	return likely < booked;
}

static void weigh_wire(const struct slip_search *s, size_t at, int wire,
                       const struct slip_guess *guess, struct level_slip *best)
{
	const struct level_sight *sight = &s->run->sight[at];
	struct level_sight changed = *sight;
	level_nm *const values[] = {&changed.upper, &changed.middle, &changed.lower};
	struct level_slip slip = slip_of(guess, at, (enum level_slip_part)wire, *values[wire]);

	*values[wire] = guess->likely;
	if (!improves(&slip, level_half_difference(sight), level_half_difference(&changed)))
		return;
	changed.reading = level_wire_mean(changed.upper, changed.middle, changed.lower);
	if (!s->given->typed[at].distance) {
		changed.distance =
		    level_wire_distance(changed.upper, changed.lower, s->given->stadia_multiplier,
		                        s->given->stadia_constant);
		if (changed.distance <= 0)
			return;
	}
	slip_weigh_sight(s, &slip, &changed, best);
}

/* Where two neighboring wires stand equal, one of them was booked for the other. */
static void try_equal_wires(const struct slip_search *s, size_t at, struct level_slip *best)
{
	const struct level_sight *sight = &s->run->sight[at];
	struct slip_guess guess = {.kind = LEVEL_SLIP_WIRE};
	if ((sight->upper == sight->middle) == (sight->middle == sight->lower))
		return;
	guess.likely = level_round_ratio((level_wide)sight->upper + sight->lower, 2);
	weigh_wire(s, at, LEVEL_PART_MIDDLE, &guess, best);
	if (sight->upper == sight->middle) {
		guess.likely = 2 * sight->middle - sight->lower;
		weigh_wire(s, at, LEVEL_PART_UPPER, &guess, best);
	} else {
		guess.likely = 2 * sight->middle - sight->upper;
		weigh_wire(s, at, LEVEL_PART_LOWER, &guess, best);
	}
}

static void try_wires(const struct slip_search *s, size_t at, struct level_slip *best)
{
	const struct slip_window anywhere = {-HUGE_VAL, HUGE_VAL, s->decimals};
	const struct level_typed *typed = &s->given->typed[at];
	const struct level_sight *sight = &s->run->sight[at];
	const level_nm values[] = {sight->upper, sight->middle, sight->lower};
	struct slip_guesses guesses;

	for (int wire = 0; wire < 3; wire++) {
		/* A distance that goes along shifts the misclosure too. */
		struct slip_window window =
		    typed->distance ? window_of(s, at, values[wire], 3) : anywhere;
		if (!typed->wire[wire])
			continue;
		guesses.count = 0;
		slip_guess_digits(typed->wire[wire], typed->unit, values[wire], &window, &guesses);
		slip_guess_whole(typed->wire[wire], typed->unit, values[wire], &window, &guesses);
		for (int i = 0; i < guesses.count; i++)
			weigh_wire(s, at, wire, &guesses.guess[i], best);
	}
	try_equal_wires(s, at, best);
	if (typed->wire[0])
		try_whole(s, at, typed->wire[0], best);
}

static level_wide magnitude(level_wide value)
{
	return value < 0 ? -value : value;
}

/* One reading of a set is another one: it must come nearer to the mean of the others. */
static void weigh_one_of(const struct slip_search *s, struct level_slip *slip,
                         const struct level_set *set, level_wide sum, struct level_slip *best)
{
	level_wide others = sum - slip->booked;
	int count = set->count - 1;
	struct level_sight changed = s->run->sight[slip->at];
	if (count && !improves(slip, magnitude((level_wide)count * slip->booked - others),
	                       magnitude((level_wide)count * slip->likely - others)))
		return;
	changed.reading = slip->likely;
	if (!slip_possible(s, slip->at, &changed))
		return;
	changed.reading = level_round_ratio(others + slip->likely, set->count);
	slip_weigh_sight(s, slip, &changed, best);
}

/* Reading `reading` of the set's text, which is the one so counted. */
static void try_one_of(const struct slip_search *s, size_t at, const char *text, int reading,
                       const struct level_set *set, int counted, level_wide sum,
                       struct level_slip *best)
{
	enum level_unit unit = s->given->typed[at].unit;
	level_nm value = set->reading[counted];
	struct slip_window window = window_of(s, at, value, set->count);
	struct slip_guesses guesses;
	guesses.count = 0;
	slip_guess_digits(text, unit, value, &window, &guesses);
	slip_guess_whole(text, unit, value, &window, &guesses);
	for (int i = 0; i < guesses.count; i++) {
		struct level_slip slip = slip_of(&guesses.guess[i], at, LEVEL_PART_SET, value);
		slip.reading = reading;
		weigh_one_of(s, &slip, set, sum, best);
	}
}

static void try_set(const struct slip_search *s, size_t at, struct level_slip *best)
{
	const struct level_typed *typed = &s->given->typed[at];
	const char *text = typed->reading;
	char one[SLIP_TEXT_BYTES] = "";
	struct level_set set;
	level_wide sum = 0;
	int counted = 0;

	if (!level_parse_set(text, typed->unit, &set, NULL))
		return;
	for (int i = 0; i < set.count; i++)
		sum += set.reading[i];
	for (int reading = 1; counted < set.count; reading++) {
		size_t size;
		text += strspn(text, " ");
		size = strcspn(text, ";");
		if (size >= sizeof one)
			return;
		memcpy(one, text, size);
		one[size] = '\0';
		text += size + (text[size] == ';');
		if (one[0] == 'x')
			continue;
		try_one_of(s, at, one, reading, &set, counted++, sum, best);
	}
	try_whole(s, at, one, best);
}

void slip_try_texts(const struct slip_search *s, size_t at, struct level_slip *best)
{
	const char *text = s->given->typed[at].reading;
	if (s->run->sight[at].wires)
		try_wires(s, at, best);
	else if (text && level_is_set(text))
		try_set(s, at, best);
	else
		try_reading(s, at, best);
}

void slip_try_earlier(const struct slip_search *s, size_t at, struct level_slip *best)
{
	struct level_slip slip = {.kind = LEVEL_SLIP_EARLIER,
	                          .part = LEVEL_PART_ALL,
	                          .at = at,
	                          .other = at,
	                          .booked = s->run->sight[at].reading,
	                          .has_likely = true,
	                          .agrees = true};
	size_t left = s->run->count;
	/* One that was struck is replaced by a later one, so the way back ends. */
	for (size_t next = s->given->typed[at].replaces; next && left; left--) {
		slip.likely = s->run->sight[next - 1].reading;
		slip_weigh_reading(s, &slip, best);
		next = s->given->typed[next - 1].replaces;
	}
}
