/* A slip planted in a random run is found: for each kind 1000 runs of 1 to 8 setups, sights of 15
 * to 50 m, readings by eye to a millimeter (or a hundredth of a foot), which close by third order,
 * 12 mm sqrt K (FGCC 1984, recalled), before the slip and miss after it.
 *
 * A meter too much on one rod is a meter too little on the next, so not every slip can be told. A
 * single entry can be told at all where fewer than three other entries have a slip of the same or a
 * commoner kind that would bring the run within the allowable too, as a second, plainer search in
 * whole units counts them. The other runs are drawn and left out, and their share is printed. Of
 * those that can be told, the planted entry stands among the first three in at least 90 of 100.
 * What that search finds is found, and nothing else; and what a slip leaves is what closing the run
 * with the likely reading gives. */
#include <stdlib.h>

#include "chance.h"
#include "slipped.h"
#include "level/wide.h"

#define RUNS 1000
#define SETUPS 8
/* So many of 1000 must be left, or the test says little. */
#define TOLD_LEAST 100

/* A run in whole units: mm, or hundredths of a foot. */
struct plain {
	bool feet;
	int count; /* sights */
	int reading[2 * SETUPS];
	level_nm distance[2 * SETUPS];
	level_nm error; /* of all readings together */
};

static level_nm unit_of(const struct plain *p)
{
	return p->feet ? LEVEL_NM_PER_FT / 100 : 1000000;
}

static int rod_of(const struct plain *p)
{
	return p->feet ? 1300 : 4000;
}

static int sign_of(int at)
{
	return at % 2 ? -1 : 1;
}

static struct plain draw(uint64_t *state, bool feet)
{
	struct plain p = {.feet = feet, .count = 2 * (int)chance(state, 1, SETUPS)};
	/* over flat ground, uphill or downhill, where most of the rod is used */
	int slope = (int)chance(state, -1, 1);
	for (int i = 0; i < p.count; i++) {
		int low = rod_of(&p) / 20, high = rod_of(&p) - low;
		if (slope)
			*(slope == sign_of(i) ? &low : &high) = rod_of(&p) / 2;
		p.reading[i] = (int)chance(state, low, high);
		p.distance[i] = i % 2 ? p.distance[i - 1] + METRES(chance(state, -3, 3))
		                      : METRES(chance(state, 18, 47));
		/* half a unit of rounding, and as much of the eye */
		p.error += chance(state, -unit_of(&p), unit_of(&p));
	}
	return p;
}

/* Its texts and sights; `rise` is what the right readings add up to. */
static void book(const struct plain *p, level_nm rise, struct slipped *s)
{
	static char texts[2 * SETUPS][24];
	static const char *const stations[] = {"A", "B", "C", "D", "E", "F", "G", "H", "I"};
	struct typed_sight lines[2 * SETUPS];
	int scale = p->feet ? 100 : 1000;
	for (int i = 0; i < p->count; i++) {
		snprintf(texts[i], sizeof texts[i], p->feet ? "%d.%02d" : "%d.%03d",
		         p->reading[i] / scale, p->reading[i] % scale);
		lines[i] = (struct typed_sight){.kind = i % 2 ? LEVEL_FS : LEVEL_BS,
		                                .station = stations[(i + 1) / 2],
		                                .reading = texts[i],
		                                .distance = p->distance[i]};
	}
	slipped_make(s, p->feet ? LEVEL_FT : LEVEL_M, lines, (size_t)p->count, METRES(100),
	             METRES(100) + rise - p->error);
	s->given.rod_length = rod_of(p) * unit_of(p);
}

static level_nm rise_of(const struct plain *p)
{
	level_nm rise = 0;
	for (int i = 0; i < p->count; i++)
		rise += sign_of(i) * p->reading[i] * unit_of(p);
	return rise;
}

/* Digits of a reading as it is written, the lowest first; 4 of them. */
static const int powers[] = {1, 10, 100, 1000};

static int digit_of(int reading, int place)
{
	return reading / powers[place] % 10;
}

/* The digit before the point. */
static int point_of(const struct plain *p)
{
	return p->feet ? 2 : 3;
}

/* Whether two digits beside each other stand on one side of the point. */
static bool beside(const struct plain *p, int place)
{
	return place + 1 < 4 && place + 1 != point_of(p);
}

static bool alike(int one, int other)
{
	static const int pairs[][2] = {{3, 8}, {6, 9}, {1, 7}, {5, 6}};
	for (int i = 0; i < 4; i++)
		if ((pairs[i][0] == one && pairs[i][1] == other) ||
		    (pairs[i][1] == one && pairs[i][0] == other))
			return true;
	return false;
}

/* How many digits are written: a leading zero only before the point. */
static int written(const struct plain *p, int reading)
{
	int least = p->feet ? 3 : 4;
	return reading >= powers[3] ? 4 : least;
}

/* Every way in which one reading may have been slipped by a kind, as what it should be, in nm. */
struct ways {
	int count;
	level_nm likely[64];
};

static void way(struct ways *w, level_nm likely)
{
	ck_assert_int_lt(w->count, 64);
	w->likely[w->count++] = likely;
}

static struct ways ways_of(const struct plain *p, int at, enum level_slip_kind kind)
{
	struct ways w = {0};
	int r = p->reading[at];
	level_nm unit = unit_of(p), value = r * unit;
	int digits = written(p, r), point = point_of(p);
	/* the wires of a sight stand d/200 off the middle one */
	level_nm half = p->distance[at] / 200, rest = value % LEVEL_NM_PER_FT;
	switch (kind) {
	case LEVEL_SLIP_WHOLE:
		for (int step = p->feet ? 10 : 100, i = 0; i < 2; i++, step *= 10) {
			way(&w, value + step * unit);
			way(&w, value - step * unit);
		}
		break;
	case LEVEL_SLIP_TRANSPOSED:
		for (int i = 0; i + 1 < digits; i++) {
			int low = digit_of(r, i), high = digit_of(r, i + 1);
			if (beside(p, i) && low != high)
				way(&w, value + (low - high) * 9 * powers[i] * unit);
		}
		break;
	case LEVEL_SLIP_ACROSS:
		if (digit_of(r, point) != digit_of(r, point - 1))
			way(&w, value + (digit_of(r, point - 1) - digit_of(r, point)) * 9 *
			                    powers[point - 1] * unit);
		break;
	case LEVEL_SLIP_SHIFTED:
		way(&w, value * 10);
		/* no reading is finer than the others */
		if (r % 10 == 0)
			way(&w, value / 10);
		break;
	case LEVEL_SLIP_MISREAD:
		for (int i = 0; i < digits; i++)
			for (int to = 0; to < 10; to++)
				if (alike(digit_of(r, i), to))
					way(&w, value + (to - digit_of(r, i)) * powers[i] * unit);
		break;
	case LEVEL_SLIP_WIRE:
		way(&w, value - half);
		way(&w, value + half);
		break;
	case LEVEL_SLIP_UNIT:
		if (!p->feet)
			break;
		/* tenths that were inches; hundredths that were the inches 10 and 11; meters */
		if (rest)
			way(&w, value - rest + level_round_ratio(rest * 5, 6));
		if (r % 100 == 10 || r % 100 == 11)
			way(&w, value - rest + r % 100 * LEVEL_NM_PER_IN);
		way(&w, r * LEVEL_NM_PER_M / 100);
		break;
	case LEVEL_SLIP_SIGN:
		way(&w, -value);
		break;
	default:
		break;
	}
	return w;
}

static bool on_rod(const struct plain *p, level_nm likely)
{
	return likely >= 0 && likely <= rod_of(p) * unit_of(p);
}

/* Whether the sight, or for an exchange the setup it begins, has a slip of this kind that leaves no
 * more than the allowable of misclosure w. */
static bool explains(const struct plain *p, int at, enum level_slip_kind kind, level_nm w,
                     level_nm allowable)
{
	struct ways ways = ways_of(p, at, kind);
	for (int i = 0; i < ways.count; i++)
		if ((kind == LEVEL_SLIP_SIGN || on_rod(p, ways.likely[i])) &&
		    llabs(w + sign_of(at) * (ways.likely[i] - p->reading[at] * unit_of(p))) <=
		        allowable)
			return true;
	if (kind == LEVEL_SLIP_EXCHANGED)
		return at % 2 == 0 && llabs(w + 2 * (p->reading[at + 1] - p->reading[at]) *
		                                    unit_of(p)) <= allowable;
	return kind == LEVEL_SLIP_TWICE && at > 0 && p->reading[at] == p->reading[at - 1] &&
	       on_rod(p, p->reading[at] * unit_of(p) - sign_of(at) * w);
}

static bool found(const struct level_slips *slips, int at, bool exchanged, size_t first)
{
	for (size_t i = 0; i < slips->count && i < first; i++)
		if (slips->slip[i].at == (size_t)at &&
		    (slips->slip[i].kind == LEVEL_SLIP_EXCHANGED) == exchanged)
			return true;
	return false;
}

/* Whether a kind is as common as another one, or commoner (common practice, no source). */
static bool as_common(enum level_slip_kind kind, enum level_slip_kind other)
{
	static const int place[LEVEL_SLIPS] = {
	    [LEVEL_SLIP_WHOLE] = 0,   [LEVEL_SLIP_TWICE] = 1,  [LEVEL_SLIP_TRANSPOSED] = 2,
	    [LEVEL_SLIP_MISREAD] = 3, [LEVEL_SLIP_ACROSS] = 4, [LEVEL_SLIP_EXCHANGED] = 5,
	    [LEVEL_SLIP_WIRE] = 6,    [LEVEL_SLIP_UNIT] = 7,   [LEVEL_SLIP_SHIFTED] = 8,
	    [LEVEL_SLIP_SIGN] = 9,
	};
	return place[kind] <= place[other];
}

/* Entries, but for the planted one, with a slip of kinds up to the last; each of them must have
 * been found. */
static int rivals(const struct plain *p, const struct slipped *s, int planted, bool exchanged,
                  enum level_slip_kind last)
{
	int count = 0;
	for (int at = 0; at < p->count; at++)
		for (int swap = 0; swap < 2; swap++) {
			bool common = false, any = false;
			for (int kind = 0; kind < LEVEL_SLIP_EARLIER; kind++) {
				bool does = (kind == LEVEL_SLIP_EXCHANGED) == swap &&
				            explains(p, at, (enum level_slip_kind)kind,
				                     s->closing.corrected, s->closing.allowable);
				any = any || does;
				common =
				    common || (does && as_common((enum level_slip_kind)kind, last));
			}
			ck_assert_int_eq(found(&s->slips, at, swap, SIZE_MAX), any);
			count += common && !(at == planted && swap == exchanged);
		}
	return count;
}

static void check_leaves(const struct slipped *s)
{
	for (size_t i = 0; i < s->slips.count; i++) {
		const struct level_slip *slip = &s->slips.slip[i];
		struct level_sight sights[2 * SETUPS];
		struct level_run run = s->run;
		if (!slip->has_likely)
			continue;
		memcpy(sights, s->sight, sizeof sights);
		run.sight = sights;
		sights[slip->at].reading = slip->likely;
		if (slip->kind == LEVEL_SLIP_EXCHANGED)
			sights[slip->other].reading = slip->booked;
		ck_assert_int_eq(closed_with(&run, &s->terms, "third-order", 0).corrected,
		                 slip->leaves);
	}
}

/* Books one reading by a slip; false where that cannot be, or changes nothing. *right is what the
 * reading should be. */
static bool plant(uint64_t *state, struct plain *p, enum level_slip_kind kind, int at,
                  level_nm *right)
{
	level_nm unit = unit_of(p);
	struct ways ways;
	int booked = p->reading[at];
	*right = booked * unit;
	switch (kind) {
	case LEVEL_SLIP_EXCHANGED:
		if (at % 2)
			return false;
		p->reading[at] = p->reading[at + 1];
		p->reading[at + 1] = booked;
		return true;
	case LEVEL_SLIP_TWICE:
		if (at == 0)
			return false;
		p->reading[at] = p->reading[at - 1];
		return true;
	case LEVEL_SLIP_SIGN:
		*right = -*right;
		return true;
	case LEVEL_SLIP_UNIT:
		/* Tenths on the page, inches on the rod: no more than 9.9 of them. */
		*right = booked / 100 * LEVEL_NM_PER_FT + booked % 100 * (LEVEL_NM_PER_IN / 10);
		return booked % 100 != 0;
	case LEVEL_SLIP_SHIFTED:
		/* 1.430 as 0.143, and 0.143 as 1.430: no digit is lost */
		if (chance(state, 0, 1)) {
			*right = booked / 10 * 10 * unit;
			booked /= 10;
		} else {
			booked *= 10;
		}
		break;
	case LEVEL_SLIP_WIRE:
		booked += (int)((chance(state, 0, 1) ? 1 : -1) *
		                level_round_ratio(p->distance[at], 200 * unit));
		break;
	default:
		/* What is a slip one way is one the other way too. */
		ways = ways_of(p, at, kind);
		if (ways.count == 0)
			return false;
		booked = (int)(ways.likely[chance(state, 0, ways.count - 1)] / unit);
	}
	p->reading[at] = booked;
	return booked >= 0 && booked <= rod_of(p);
}

struct tally {
	int told, first, three;
};

/* One run, drawn anew until it closes before the slip and misses after it. */
static void one_run(uint64_t *state, enum level_slip_kind kind, struct tally *tally)
{
	struct slipped s;
	for (;;) {
		struct plain p = draw(state, kind == LEVEL_SLIP_UNIT);
		int at = (int)chance(state, 0, p.count - 1);
		bool exchanged = kind == LEVEL_SLIP_EXCHANGED;
		level_nm rise = rise_of(&p), right = 0;
		book(&p, rise, &s);
		slipped_find(&s, "third-order", 0);
		if (s.closing.closes != LEVEL_YES) {
			level_slips_free(&s.slips);
			continue;
		}
		ck_assert_uint_eq(s.slips.count, 0);
		rise -= sign_of(at) * p.reading[at] * unit_of(&p);
		if (!plant(state, &p, kind, at, &right))
			continue;
		book(&p, rise + sign_of(at) * right, &s);
		slipped_find(&s, "third-order", 0);
		if (s.closing.closes != LEVEL_NO) {
			ck_assert_uint_eq(s.slips.count, 0);
			continue;
		}
		check_leaves(&s);
		if (rivals(&p, &s, at, exchanged, kind) < 3) {
			tally->told++;
			tally->first += found(&s.slips, at, exchanged, 1);
			tally->three += found(&s.slips, at, exchanged, 3);
		}
		level_slips_free(&s.slips);
		return;
	}
}

/* What was struck is no slip that can be drawn: unit/slips has it. */
START_TEST(test_planted)
{
	uint64_t state = chance_seed("planted slips");
	for (int kind = 0; kind < LEVEL_SLIP_EARLIER; kind++) {
		struct tally tally = {0};
		for (int i = 0; i < RUNS; i++)
			one_run(&state, (enum level_slip_kind)kind, &tally);
		printf("%-10s %4d of %d runs can be told (%.1f %% left out); among the first three "
		       "in %d (%.1f %%), first in %d\n",
		       level_slip_name((enum level_slip_kind)kind), tally.told, RUNS,
		       100.0 * (RUNS - tally.told) / RUNS, tally.three,
		       100.0 * tally.three / tally.told, tally.first);
		ck_assert_int_ge(tally.told, TOLD_LEAST);
		ck_assert_int_ge(10 * tally.three, 9 * tally.told);
	}
}
END_TEST

int main(void)
{
	return RUN_TESTS("slips property", test_planted);
}
