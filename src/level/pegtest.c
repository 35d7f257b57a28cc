#include "rodbook/level/pegtest.h"

#include <math.h>
#include <string.h>

/* Standings that differ by less tell nothing that a reading could show. */
#define LEAST_DIFFERENCE 1.0

/* A reading difference a - b with curvature and refraction taken off, m. */
static double difference(const struct level_standing *s, const struct level_terms *terms, double k)
{
	return level_to_meters(s->reading_a - s->reading_b) -
	       level_visible_drop(level_to_meters(s->distance_a), terms->radius, k) +
	       level_visible_drop(level_to_meters(s->distance_b), terms->radius, k);
}

/* Of a standing's distances, m and m^2. */
static double apart_of(const struct level_standing *s)
{
	return level_to_meters(s->distance_a - s->distance_b);
}

static double squares_apart_of(const struct level_standing *s)
{
	return apart_of(s) * level_to_meters(s->distance_a + s->distance_b);
}

static double variance(const struct level_standing *s, const struct level_terms *terms,
                       enum level_method method)
{
	double a = terms->reading_fixed[method] +
	           terms->reading_slope[method] * level_to_meters(s->distance_a);
	double b = terms->reading_fixed[method] +
	           terms->reading_slope[method] * level_to_meters(s->distance_b);
	return a * a + b * b;
}

static bool is_sound(const struct level_standing *s)
{
	return s->distance_a > 0 && s->distance_b > 0 && s->reading_a >= 0 && s->reading_b >= 0 &&
	       s->distance_a <= LEVEL_DISTANCE_LIMIT && s->distance_b <= LEVEL_DISTANCE_LIMIT;
}

/* One set; its variance and geometry are added to those of the others. */
static bool take_set(const struct level_standing *first, const struct level_standing *second,
                     const struct level_terms *terms, const struct level_peg_way *way, double *tilt,
                     struct level_peg_result *sums, struct fault *why)
{
	double apart = apart_of(second) - apart_of(first);
	if (!is_sound(first) || !is_sound(second))
		return fault_say(why, FAULT_INPUT,
		                 "distances are above 0 and readings 0 or more: give distance and "
		                 "reading of A, then of B");
	if (fabs(apart) < LEAST_DIFFERENCE)
		return fault_say(
		    why, FAULT_INPUT,
		    "both standings see the pegs alike, so no tilt can show: stand midway "
		    "once, and once near one peg");
	*tilt = (difference(second, terms, way->k) - difference(first, terms, way->k)) / apart;
	sums->own += (variance(first, terms, way->method) + variance(second, terms, way->method)) /
	             (apart * apart);
	sums->g += (squares_apart_of(second) - squares_apart_of(first)) / apart;
	return true;
}

#define ODD 4

/* Sets with their variances, m^2/m^2, held against each other. */
static void find_odd(const double *tilt, const double *variance, size_t sets,
                     struct level_peg_result *out)
{
	double most = ODD, mean = 0, all = 0;
	for (size_t i = 0; i < sets; i++) {
		mean += tilt[i] / (double)sets;
		all += variance[i];
	}
	for (size_t i = 0; i < sets && sets > 1; i++) {
		double others = (double)sets - 1, off = (tilt[i] - mean) * (double)sets / others;
		double u = sqrt(variance[i] + (all - variance[i]) / (others * others));
		if (fabs(off) <= most * u)
			continue;
		most = fabs(off) / u;
		out->odd = sets == 2 ? LEVEL_PEG_EITHER : (int)i + 1;
		out->odd_off = off;
		out->odd_u = u;
	}
}

bool level_peg_test(const struct level_standing *standings, size_t count,
                    const struct level_terms *terms, const struct level_peg_way *way,
                    struct level_peg_result *out, struct fault *why)
{
	double tilt[LEVEL_STANDINGS_MOST / 2] = {0}, own[LEVEL_STANDINGS_MOST / 2] = {0},
	                                   squares = 0, mean_u;
	const struct level_standing *last;
	size_t sets = count / 2;
	*out = (struct level_peg_result){0};
	if (count == 0 || count % 2 || count > LEVEL_STANDINGS_MOST)
		return fault_say(
		    why, FAULT_INPUT,
		    "a peg test has two standings in each set, and at most %d standings in all",
		    LEVEL_STANDINGS_MOST);
	for (size_t i = 0; i < sets; i++) {
		const double before = out->own;
		if (!take_set(&standings[2 * i], &standings[2 * i + 1], terms, way, &tilt[i], out,
		              why))
			return false;
		own[i] = out->own - before;
		out->tilt += tilt[i] / (double)sets;
	}
	find_odd(tilt, own, sets, out);
	for (size_t i = 0; i < sets; i++)
		squares += (tilt[i] - out->tilt) * (tilt[i] - out->tilt);
	out->sets = (int)sets;
	out->g /= (double)sets;
	out->own = mean_u = sqrt(out->own) / (double)sets;
	if (sets > 1) {
		out->spread = sqrt(squares / (double)(sets - 1));
		out->by_spread = out->spread / sqrt((double)sets) > out->own;
		mean_u = fmax(out->own, out->spread / sqrt((double)sets));
	}
	out->air = fabs(out->g) * way->dk / (4 * LEVEL_MEAN_RADIUS);
	out->u = sqrt(mean_u * mean_u + out->air * out->air);
	last = &standings[count - 1];
	out->should_a =
	    level_to_meters(last->reading_a) - out->tilt * level_to_meters(last->distance_a);
	out->should_b =
	    level_to_meters(last->reading_b) - out->tilt * level_to_meters(last->distance_b);
	return true;
}

bool level_peg_is_likely(const struct level_peg_result *result, struct fault *why)
{
	return fabs(result->tilt) <= LEVEL_TILT_MOST ||
	       fault_say(why, FAULT_INPUT,
	                 "that is a tilt of %.0f mm/m, which no level has: a standing is distance "
	                 "to A, reading on A, distance to B, reading on B",
	                 result->tilt * 1000);
}

bool level_parse_standing(const char *text, const struct level_style *bare,
                          struct level_standing *out, struct fault *why)
{
	level_nm *values[] = {&out->distance_a, &out->reading_a, &out->distance_b, &out->reading_b};
	const char *at = text;
	for (int i = 0; i < 4; i++) {
		char length[64];
		size_t size = strcspn(at, ",");
		if (size >= sizeof length || (at[size] == '\0') != (i == 3))
			return fault_say(
			    why, FAULT_INPUT,
			    "\"%.80s\" is no standing: write distance and reading of A, "
			    "then of B, as in 30,1.432,30,1.318",
			    text);
		memcpy(length, at, size);
		length[size] = '\0';
		if (!level_parse_length(length, i % 2 ? bare->unit : bare->distance, values[i],
		                        why))
			return false;
		at += size + 1;
	}
	return true;
}

double level_tilt_arcsec(double tilt)
{
	return atan(tilt) * 180 / acos(-1.0) * 3600;
}
