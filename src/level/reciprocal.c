/* Two banks, and the pairs of setups that are two banks. */
#include "rodbook/level/reciprocal.h"
#include "level/wide.h"

#include <math.h>
#include <string.h>

#define READING_LIMIT (100 * LEVEL_NM_PER_M)
/* Setups whose sights differ by less are balanced ones, or meant to be. */
#define LONGER 2

static double squared(double value)
{
	return value * value;
}

static bool check_bank(const struct level_bank *bank, struct fault *why)
{
	if (bank->near < 0 || bank->far < 0 || bank->near > READING_LIMIT ||
	    bank->far > READING_LIMIT)
		return fault_say(why, FAULT_INPUT,
		                 "readings are 0 or more and at most 100 m: give what the rod "
		                 "shows");
	if (!(bank->far_sight.distance > 0 &&
	      bank->far_sight.distance <= level_to_meters(LEVEL_DISTANCE_LIMIT)))
		return fault_say(why, FAULT_INPUT,
		                 "the distance across is above 0 and at most 100 km");
	if (!(bank->near_sight.distance >= 0 &&
	      bank->near_sight.distance < bank->far_sight.distance))
		return fault_say(why, FAULT_INPUT,
		                 "the near sight is 0 or more, and shorter than the one across");
	return true;
}

static double reading_variance(const struct level_reach *reach, const struct level_terms *terms)
{
	return squared(level_reading_u(terms, reach).u);
}

static double bank_variance(const struct level_bank *bank, const struct level_terms *terms)
{
	return reading_variance(&bank->near_sight, terms) +
	       reading_variance(&bank->far_sight, terms);
}

static bool has_tilt(const struct level_reach *reach, const struct level_terms *terms)
{
	return level_test_counts(terms, reach->instrument);
}

/* By how much a reading is too high through the tilt alone, m. */
static double tilted(const struct level_reach *reach, const struct level_terms *terms)
{
	return has_tilt(reach, terms) ? terms->instrument[reach->instrument].tilt * reach->distance
	                              : 0;
}

static double tilt_across(const struct level_bank *bank, const struct level_terms *terms)
{
	return tilted(&bank->far_sight, terms) - tilted(&bank->near_sight, terms);
}

static double curvature_across(const struct level_bank *bank, const struct level_terms *terms)
{
	return level_curvature(bank->far_sight.distance, terms->radius) -
	       level_curvature(bank->near_sight.distance, terms->radius);
}

/* The same with refraction and tilt. */
static double too_high_across(const struct level_bank *bank, const struct level_terms *terms)
{
	return curvature_across(bank, terms) -
	       level_refraction(bank->far_sight.distance, terms->k) +
	       level_refraction(bank->near_sight.distance, terms->k) + tilt_across(bank, terms);
}

/* Variance of the mean of both banks' tilt (far - near), each instrument's own error being one and
 * the same wherever it is read with. */
static double tilt_variance(const struct level_bank *a, const struct level_bank *b,
                            const struct level_terms *terms)
{
	double lever[LEVEL_INSTRUMENTS] = {0}, sum = 0;
	lever[a->far_sight.instrument] += a->far_sight.distance / 2;
	lever[a->near_sight.instrument] -= a->near_sight.distance / 2;
	lever[b->far_sight.instrument] += b->far_sight.distance / 2;
	lever[b->near_sight.instrument] -= b->near_sight.distance / 2;
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		sum += squared(lever[i] * terms->instrument[i].u);
	return sum;
}

static void find_k(const struct level_bank *a, const struct level_bank *b,
                   const struct level_terms *terms, double combined, struct level_reciprocal *out)
{
	out->has_k = has_tilt(&a->near_sight, terms) && has_tilt(&a->far_sight, terms) &&
	             has_tilt(&b->near_sight, terms) && has_tilt(&b->far_sight, terms);
	if (!out->has_k)
		return;
	out->k = ((curvature_across(a, terms) + curvature_across(b, terms)) / 2 +
	          (tilt_across(a, terms) + tilt_across(b, terms)) / 2 - combined) /
	         out->bend;
	out->u_k = sqrt(squared(out->u_rise) + tilt_variance(a, b, terms)) / out->bend;
}

bool level_reciprocal(const struct level_bank *a, const struct level_bank *b,
                      const struct level_terms *terms, struct level_reciprocal *out,
                      struct fault *why)
{
	/* both banks' a - b, and both banks' near - far */
	level_nm rises = (a->near - a->far) + (b->far - b->near);
	level_nm across = (a->far - a->near) + (b->far - b->near);
	*out = (struct level_reciprocal){0};
	if (!check_bank(a, why) || !check_bank(b, why))
		return false;
	out->rise = level_round_ratio(rises, 2);
	out->combined = level_round_ratio(across, 2);
	out->u_rise = sqrt(bank_variance(a, terms) + bank_variance(b, terms)) / 2;
	out->unequal = (too_high_across(b, terms) - too_high_across(a, terms)) / 2;
	out->two_levels = a->near_sight.instrument != a->far_sight.instrument ||
	                  b->near_sight.instrument != b->far_sight.instrument ||
	                  a->near_sight.instrument != b->near_sight.instrument;
	out->lever = (a->far_sight.distance - a->near_sight.distance + b->far_sight.distance -
	              b->near_sight.distance) /
	             2;
	out->bend = (squared(a->far_sight.distance) - squared(a->near_sight.distance) +
	             squared(b->far_sight.distance) - squared(b->near_sight.distance)) /
	            (4 * LEVEL_MEAN_RADIUS);
	find_k(a, b, terms, level_to_meters(across) / 2, out);
	return true;
}

bool level_parse_bank(const char *text, enum level_unit bare, bool near_first,
                      struct level_bank *out, struct fault *why)
{
	const char *comma = strchr(text, ',');
	char first[64];
	size_t size = comma ? (size_t)(comma - text) : 0;
	if (!comma || strchr(comma + 1, ',') || size >= sizeof first)
		return fault_say(why, FAULT_INPUT,
		                 "\"%.80s\" is no bank: write the readings on A and on B with one "
		                 "comma between them, as in 1.432,1.318",
		                 text);
	memcpy(first, text, size);
	first[size] = '\0';
	return level_parse_length(first, bare, near_first ? &out->near : &out->far, why) &&
	       level_parse_length(comma + 1, bare, near_first ? &out->far : &out->near, why);
}

/* A setup that is complete, by its rows. */
struct setup {
	size_t bs, fs;
};

static bool setup_ending_at(const struct level_page *page, size_t fs, struct setup *out)
{
	if (fs >= page->count || fs == 0 || page->row[fs - 1].line.bs_row == SIZE_MAX)
		return false;
	*out = (struct setup){page->row[fs - 1].line.bs_row, fs};
	return true;
}

/* The first complete setup whose FS is at row `from` or behind it. */
static bool setup_from(const struct level_run *run, const struct level_page *page, size_t from,
                       struct setup *out)
{
	size_t fs = level_counted_from(run, from);
	while (fs < run->count && run->sight[fs].kind != LEVEL_FS)
		fs = level_counted_from(run, fs + 1);
	return setup_ending_at(page, fs, out);
}

/* The bank of a setup, and the mark beside the level; false where no sight is the longer one. */
static bool bank_of(const struct level_run *run, const struct setup *setup, struct level_bank *out,
                    const char **beside)
{
	const struct level_sight *near = &run->sight[setup->bs], *far = &run->sight[setup->fs];
	if (!near->distance || !far->distance)
		return false;
	if (near->distance > far->distance) {
		const struct level_sight *swap = near;
		near = far;
		far = swap;
	}
	if (far->distance < LONGER * near->distance)
		return false;
	*out = (struct level_bank){near->reading, far->reading, level_reach_of(near),
	                           level_reach_of(far)};
	*beside = near->station;
	return true;
}

static bool same_marks(const struct level_run *run, const struct setup *one,
                       const struct setup *other)
{
	const char *from = run->sight[one->bs].station, *to = run->sight[one->fs].station;
	const char *from2 = run->sight[other->bs].station, *to2 = run->sight[other->fs].station;
	return strcmp(from, to) != 0 && ((strcmp(from, from2) == 0 && strcmp(to, to2) == 0) ||
	                                 (strcmp(from, to2) == 0 && strcmp(to, from2) == 0));
}

static bool pair_of(const struct level_run *run, const struct level_page *page,
                    const struct setup *one, const struct setup *other,
                    const struct level_terms *terms, struct level_reciprocal_pair *out)
{
	const char *a = run->sight[one->bs].station, *beside_one, *beside_other;
	struct level_bank bank_one, bank_other;
	bool begins_at_a;
	/* A setup without its FS may stand between them. */
	if (page->row[other->bs].setup != page->row[one->bs].setup + 1 ||
	    !same_marks(run, one, other) || !bank_of(run, one, &bank_one, &beside_one) ||
	    !bank_of(run, other, &bank_other, &beside_other) ||
	    strcmp(beside_one, beside_other) == 0)
		return false;
	begins_at_a = strcmp(beside_one, a) == 0;
	*out = (struct level_reciprocal_pair){
	    .first = one->bs,
	    .last = other->fs,
	    .a = a,
	    .b = run->sight[one->fs].station,
	    .bank_a = begins_at_a ? bank_one : bank_other,
	    .bank_b = begins_at_a ? bank_other : bank_one,
	};
	return level_reciprocal(&out->bank_a, &out->bank_b, terms, &out->got, NULL);
}

bool level_reciprocal_in(const struct level_run *run, const struct level_page *page, size_t at,
                         const struct level_terms *terms, struct level_reciprocal_pair *out)
{
	struct setup here, before, behind;
	if (!setup_from(run, page, at, &here) || here.bs > at)
		return false;
	if (here.bs > 0 && setup_ending_at(page, page->row[here.bs - 1].line.end_row, &before) &&
	    pair_of(run, page, &before, &here, terms, out))
		return true;
	return setup_from(run, page, here.fs + 1, &behind) &&
	       pair_of(run, page, &here, &behind, terms, out);
}
