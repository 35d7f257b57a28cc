/* Every error that a crossing may carry: one formula for each, for its own allowance and for what
 * it shares with other crossings. */
#include <math.h>

#include "rodbook/level/drop/allowance.h"

/* Wind sets water up by about this much times W^2 d/depth; m, m/s (recalled). */
#define SET_UP 1.6e-7

enum kind { OWN, TILT, DRIFT, DECLARED, SLOPE, FLOOR, WATER, FLOW, SET_UP_BY_WIND, MARK, LENGTH };

bool level_key_same(const struct level_key *a, const struct level_key *b)
{
	return a->kind && a->kind == b->kind && a->what == b->what && a->when == b->when;
}

struct list {
	size_t count;
	struct level_source *source;
};

/* A key that nobody shares where it names nobody. */
static struct level_key key_of(enum kind kind, int what, int when)
{
	if (what == 0)
		return (struct level_key){OWN, 0, 0};
	return (struct level_key){(int)kind, what, when};
}

static void add(struct list *list, enum level_allowance_line line, struct level_key key, double u,
                double bound)
{
	if (u == 0 && bound == 0)
		return;
	list->source[list->count++] = (struct level_source){
	    .line = line, .key = key, .instrument = -1, .u = u, .bound = bound};
}

static void add_rectangular(struct list *list, enum level_allowance_line line, struct level_key key,
                            double bound)
{
	add(list, line, key, bound / sqrt(3.0), bound);
}

static void add_tilt(struct list *list, const struct level_drop_sums *sums,
                     const struct level_terms *terms, const struct level_identity *identity, int i)
{
	const struct level_instrument *with = &terms->instrument[i];
	double reach = -sums->s_d[i];
	struct level_key key = key_of(TILT, identity->state[i], 0);
	struct level_source *source = &list->source[list->count];
	if (level_test_counts(terms, i)) {
		double t = level_tilt_coverage(with);
		struct level_mean_u mean = {with->u * fabs(reach),
		                            with->sets > 1 ? with->sets - 1 : (double)INFINITY,
		                            t * with->u * fabs(reach)};
		add(list, LEVEL_LINE_INSTRUMENT, key, with->u * reach, t * with->u * reach);
		source->sampled = level_sampled_of(&mean);
	} else {
		add_rectangular(list, LEVEL_LINE_INSTRUMENT, key, with->tolerance * reach);
	}
	source->instrument = i;
	add(list, LEVEL_LINE_DRIFT, key_of(DRIFT, identity->state[i], 0), terms->drift * reach,
	    2 * terms->drift * reach);
}

static void add_declared(struct list *list, const struct level_drop_sums *sums,
                         const struct level_terms *terms, const struct level_identity *identity)
{
	double turn = identity->back ? -1 : 1, reach = level_drop_reach(sums);
	for (int i = 0; i < LEVEL_DECLARED_MOST; i++) {
		const struct level_declared *declared = &terms->declared[i];
		int name = identity->declared[i];
		add_rectangular(list, LEVEL_LINE_DECLARED, key_of(DECLARED, identity->pair, name),
		                turn * declared->bound);
		add_rectangular(list, LEVEL_LINE_DECLARED, key_of(SLOPE, name, 0),
		                declared->slope * reach);
	}
}

static void add_mean(struct list *list, double turn, const struct level_mean_u *mean)
{
	struct level_source *source = &list->source[list->count];
	if (mean->u == 0)
		return;
	add(list, LEVEL_LINE_WATER, key_of(OWN, 0, 0), turn * mean->u, turn * mean->bound);
	source->sampled = level_sampled_of(mean);
}

static void add_water(struct list *list, const struct level_drop_sums *sums,
                      const struct level_terms *terms, const struct level_ends *ends,
                      const struct level_identity *identity)
{
	double turn = identity->back ? -1 : 1;
	int stations[2] = {identity->start, identity->end}, pair = identity->pair,
	    day = identity->day;
	if (!ends->water)
		return;
	for (int end = 0; end < 2; end++) {
		double sign = end ? 1 : -1;
		add_mean(list, sign, &ends->mean[end]);
		if (ends->mean[end].u > 0)
			add_rectangular(list, LEVEL_LINE_WATER, key_of(FLOOR, stations[end], day),
			                sign * terms->water_floor);
	}
	add_rectangular(list, LEVEL_LINE_WATER, key_of(WATER, pair, day), turn * terms->water);
	if (terms->flow > 0)
		add_rectangular(list, LEVEL_LINE_WATER, key_of(FLOW, pair, 0),
		                turn * terms->flow * sums->length);
	if (terms->depth > 0)
		add_rectangular(list, LEVEL_LINE_WATER, key_of(SET_UP_BY_WIND, pair, day),
		                turn * SET_UP * terms->wind * terms->wind * sums->length /
		                    terms->depth);
}

size_t level_sources(const struct level_drop_sums *sums, const struct level_terms *terms,
                     const struct level_ends *ends, const struct level_identity *identity,
                     struct level_source out[LEVEL_SOURCES_MOST])
{
	struct list list = {0, out};
	for (int i = 0; i < LEVEL_INSTRUMENTS; i++)
		if (sums->s_d[i] != 0)
			add_tilt(&list, sums, terms, identity, i);
	if (sums->reading_variance > 0) {
		struct level_source *reading = &out[list.count];
		add(&list, LEVEL_LINE_READING, key_of(OWN, 0, 0), sqrt(sums->reading_variance),
		    sums->reading_bound);
		reading->sampled = sums->sampled;
	}
	add_declared(&list, sums, terms, identity);
	add_water(&list, sums, terms, ends, identity);
	add(&list, LEVEL_LINE_KNOWN, key_of(MARK, identity->start, 0), -ends->known_u[0],
	    -2 * ends->known_u[0]);
	add(&list, LEVEL_LINE_KNOWN, key_of(MARK, identity->end, 0), ends->known_u[1],
	    2 * ends->known_u[1]);
	return list.count;
}

void level_length_add(struct level_length *list, size_t *count, const struct level_terms *terms,
                      const struct level_identity *identity, double s, double distance,
                      enum level_distance_way way, int instrument)
{
	struct level_length *length = NULL;
	for (size_t i = 0; i < *count; i++)
		if (way != LEVEL_WIRED && list[i].way == way && list[i].distance == distance)
			length = &list[i];
	if (!length && *count == LEVEL_LENGTHS_MOST)
		length = &list[*count - 1];
	if (!length) {
		length = &list[(*count)++];
		*length = (struct level_length){
		    .key = way == LEVEL_WIRED ? key_of(OWN, 0, 0)
		                              : key_of(LENGTH, identity->pair, (int)way),
		    .way = way,
		    .distance = distance,
		    .u = terms->distance_u[way] * distance};
	}
	length->a +=
	    s * (level_light_tilt(terms, instrument) - terms->k * distance / LEVEL_MEAN_RADIUS);
	length->b += s * distance;
}

struct level_air_effect level_air_effect(const struct level_drop_sums *sums)
{
	double twice = 2 * LEVEL_MEAN_RADIUS;
	return (struct level_air_effect){level_drop_s(sums) / twice, sqrt(sums->d4) / twice,
	                                 sums->d2 / twice};
}
