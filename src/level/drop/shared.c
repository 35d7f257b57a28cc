/* What errors that crossings share make of a weighted sum of crossings. */
#include "level/drop/shared.h"

#include <math.h>

/* The source of b that is the same error as this one; NULL where there is none. */
static const struct level_source *same_source(const struct level_crossing *b,
                                              const struct level_source *source)
{
	for (size_t i = 0; i < b->sources; i++)
		if (level_key_same(&b->source[i].key, &source->key))
			return &b->source[i];
	return NULL;
}

static bool is_same_length(const struct level_length *a, const struct level_length *b)
{
	return level_key_same(&a->key, &b->key) && a->distance == b->distance;
}

/* u, in which samples count with t u/2; signed. */
static double weighed_u(const struct level_source *source)
{
	double more = source->sampled.expanded - source->sampled.variance;
	return copysign(sqrt(source->u * source->u + more), source->u);
}

/* Tilts are unknowns in a fit, not errors. */
static bool counts(const struct level_source *source, bool with_tilts)
{
	return with_tilts || source->instrument < 0;
}

/* What one crossing alone is off by, with the air of its own. */
double shared_own(const struct level_crossing *a, bool with_tilts)
{
	double air = (a->dk_low + a->dk_high) / 4 * a->air_u, sum = air * air;
	for (size_t i = 0; i < a->sources; i++)
		if (counts(&a->source[i], with_tilts))
			sum += weighed_u(&a->source[i]) * weighed_u(&a->source[i]);
	for (size_t i = 0; i < a->lengths; i++)
		sum += a->length[i].a * a->length[i].u * a->length[i].a * a->length[i].u;
	return sum;
}

/* What two crossings are off by together. */
double shared_covariance(const struct level_crossing *a, const struct level_crossing *b,
                         bool with_tilts)
{
	double sum = 0;
	for (size_t i = 0; i < a->sources; i++) {
		const struct level_source *other = same_source(b, &a->source[i]);
		if (other && counts(&a->source[i], with_tilts))
			sum += weighed_u(&a->source[i]) * weighed_u(other);
	}
	for (size_t i = 0; i < a->lengths; i++)
		for (size_t j = 0; j < b->lengths; j++)
			if (is_same_length(&a->length[i], &b->length[j]))
				sum += a->length[i].a * a->length[i].u * b->length[j].a *
				       b->length[j].u;
	return sum;
}

/* The errors of a combination of crossings, as a case whose left-over is value - kappa. */
static void add_shared(const struct level_crossing *c, size_t n, const double *gain,
                       bool with_tilts, struct level_case *out)
{
	for (size_t i = 0; i < n; i++)
		for (size_t s = 0; s < c[i].sources; s++) {
			const struct level_source *source = &c[i].source[s];
			double u = gain[i] * source->u, bound = gain[i] * source->bound;
			bool seen = false;
			if (!counts(source, with_tilts))
				continue;
			for (size_t j = 0; j < n; j++) {
				const struct level_source *same =
				    j == i ? NULL : same_source(&c[j], source);
				if (!same)
					continue;
				seen = seen || j < i;
				u += gain[j] * same->u;
				bound += gain[j] * same->bound;
			}
			if (seen)
				continue;
			out->variance += u * u;
			out->bound += fabs(bound);
			/* One sample, however many crossings share it. */
			if (source->u != 0)
				level_sampled_add(&out->sampled, &source->sampled, u / source->u);
		}
}

/* Each day's air by itself, or one air for all: whichever does more. */
static void add_air(const struct level_crossing *c, size_t n, const double *gain,
                    struct level_case *out)
{
	for (int side = 0; side < 2; side++) {
		double common = 0, own = 0;
		for (size_t i = 0; i < n; i++) {
			double dk = side ? c[i].dk_high : c[i].dk_low;
			double alone = gain[i] * dk / 2 * c[i].air_u;
			common += gain[i] * dk / 2 * c[i].air_common;
			own += alone * alone;
			out->air_bound[side] += fabs(gain[i]) * dk * c[i].air_most;
		}
		out->air_u[side] = fmax(fabs(common), sqrt(own));
	}
}

static size_t merge_lengths(const struct level_crossing *c, size_t n, const double *gain,
                            struct level_length *out)
{
	size_t count = 0;
	for (size_t i = 0; i < n; i++)
		for (size_t l = 0; l < c[i].lengths; l++) {
			const struct level_length *length = &c[i].length[l];
			size_t at = 0;
			while (at < count && !is_same_length(&out[at], length))
				at++;
			if (at == count) {
				out[count] = *length;
				out[count].a = out[count].b = 0;
				count++;
			}
			out[at].a += gain[i] * length->a;
			out[at].b += gain[i] * length->b;
		}
	return count;
}

struct level_case shared_case(const struct level_crossing *c, size_t n, const double *gain,
                              bool with_tilts, struct level_length *lengths)
{
	struct level_case out = {.span = 2, .length = lengths, .several = n > 1};
	add_shared(c, n, gain, with_tilts, &out);
	add_air(c, n, gain, &out);
	out.lengths = merge_lengths(c, n, gain, lengths);
	return out;
}

void level_crossing_of(const struct level_drop_sums *sums, const struct level_terms *terms,
                       const struct level_ends *ends, const struct level_identity *identity,
                       const int instrument[LEVEL_INSTRUMENTS], double observed,
                       struct level_crossing *out)
{
	struct level_air_effect air = level_air_effect(sums);
	double air_u = level_air_u(&air, terms);
	*out = (struct level_crossing){
	    .s = level_drop_s(sums),
	    .span = level_drop_span(sums, terms),
	    .radius = terms->radius,
	    .dk_low = terms->dk_low,
	    .dk_high = terms->dk_high,
	    .shown = observed - level_drop_flat(sums, terms),
	    .air_u = air_u,
	    .air_common = terms->air_declared ? copysign(air_u, air.common) : air.common,
	    .air_most = air.most};
	out->sources = level_sources(sums, terms, ends, identity, out->source);
	for (size_t i = 0; i < out->sources; i++)
		if (out->source[i].instrument >= 0)
			out->source[i].instrument = instrument[out->source[i].instrument];
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0)
			out->s_d[instrument[i]] += sums->s_d[i];
}
