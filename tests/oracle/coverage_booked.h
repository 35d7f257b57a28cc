/* A crossing of coverage_worlds.h as it is booked, and its way through the program. */
#ifndef ORACLE_COVERAGE_BOOKED_H
#define ORACLE_COVERAGE_BOOKED_H

#include <string.h>

#include "coverage_worlds.h"
#include "rodbook/level/set.h"
#include "rodbook/level/tolerance.h"
#include "level/wide.h"

/* What a crossing is made of, drawn before. */
struct crossing_truth {
	const struct outing *outing;
	double radius; /* INFINITY: flat */
	const struct true_level *level;
	const struct true_kit *kit;
	const struct true_place *place;
	const struct air_world *air;    /* at the mast */
	const struct true_water *water; /* of both shores */
	bool back;                      /* from the second shore to the first */
};

#define COVERAGE_SIGHTS 4
#define COVERAGE_AIRS 5
struct booked {
	struct level_sight sight[COVERAGE_SIGHTS];
	struct level_run run;
	struct level_terms terms;
	struct level_air_reading air[COVERAGE_AIRS];
	size_t airs;
	struct air_world world[2]; /* of each setup's long sight */
	bool lost;                 /* light that comes too near the water */
};

/* Marks on both shores, on an island, and of a short setup: above one level surface, m. */
enum mark { FIRST, SECOND, ISLE };
static const double mark_height[] = {1, 0.8, 0.5};
static const char *const mark_name[] = {"A", "B", "TP1"};

static inline struct level_sight *add_sight(struct booked *booked, enum level_kind kind,
                                            enum mark mark, const struct true_length *length)
{
	struct level_sight *sight = &booked->sight[booked->run.count++];
	*sight = (struct level_sight){.kind = kind, .distance = length->typed};
	snprintf(sight->station, sizeof sight->station, "%s", mark_name[mark]);
	return sight;
}

/* Where the line meets a mark's plumb line, above the mark. */
static inline double true_reading(const struct crossing_truth *t, const struct air_world *world,
                                  enum mark mark, double distance, struct booked *booked)
{
	struct level_sightline line = {t->outing->line, distance, t->radius};
	double k = 0, tilt = t->level->tilt + t->place->slope;
	booked->lost = booked->lost || !world_k(world, &line, &k);
	return line_height(t->radius, line.height, tilt, k, distance) - mark_height[mark];
}

static inline void read_near(gsl_rng *rng, const struct crossing_truth *t,
                             const struct air_world *world, enum level_kind kind, enum mark mark,
                             int near, struct booked *booked)
{
	const struct true_length *length = &t->place->near[near];
	struct level_sight *sight = add_sight(booked, kind, mark, length);
	double truth = true_reading(t, world, mark, length->truth, booked);
	sight->distance_by = t->outing->taped ? LEVEL_TAPED : LEVEL_STEPPED;
	sight->method = LEVEL_ROD;
	sight->reading = written(truth + normal(rng, method_u(LEVEL_ROD, length->truth)));
}

/* A set shimmers beside what the eye does each time. */
static inline void read_set(gsl_rng *rng, int n, double truth, double shimmer,
                            struct level_sight *sight)
{
	level_nm one[LEVEL_SET_MOST];
	level_wide sum = 0;
	double squares = 0;
	for (int i = 0; i < n; i++)
		sum += one[i] = written(truth + normal(rng, n > 1 ? shimmer : 0));
	sight->reading = level_round_ratio(sum, n);
	for (int i = 0; i < n; i++) {
		double off = level_to_meters(one[i] - sight->reading);
		squares += off * off;
	}
	sight->set_count = n;
	sight->set_sd = n > 1 ? sqrt(squares / (n - 1)) : 0;
}

static inline void read_far(gsl_rng *rng, const struct crossing_truth *t,
                            const struct air_world *world, enum level_kind kind, enum mark mark,
                            int far, struct booked *booked)
{
	static const enum level_method methods[] = {LEVEL_TARGET, LEVEL_ROD, LEVEL_TAPE};
	const struct true_length *length = &t->place->far[far];
	struct level_sight *sight = add_sight(booked, kind, mark, length);
	double truth = true_reading(t, world, mark, length->truth, booked);
	sight->distance_by = t->outing->taped ? LEVEL_TAPED : LEVEL_STEPPED;
	sight->method = methods[t->outing->far_by];
	truth += normal(rng, method_u(sight->method, length->truth));
	read_set(rng, t->outing->set ? t->outing->set : 1, truth, 5e-6 * length->truth, sight);
}

static inline void read_sights(gsl_rng *rng, const struct crossing_truth *t, struct booked *booked)
{
	enum mark from = t->back ? SECOND : FIRST, to = t->back ? FIRST : SECOND;
	const struct air_world *world = booked->world;
	switch (t->outing->shape) {
	case LONG_BS:
	case LONG_BS_AND_MORE:
		read_far(rng, t, world, LEVEL_BS, from, 0, booked);
		if (t->outing->shape == LONG_BS) {
			read_near(rng, t, world, LEVEL_FS, to, 0, booked);
			break;
		}
		read_near(rng, t, world, LEVEL_FS, ISLE, 0, booked);
		read_near(rng, t, world, LEVEL_BS, ISLE, 2, booked);
		read_near(rng, t, world, LEVEL_FS, to, 3, booked);
		break;
	case THERE_AND_BACK:
		read_near(rng, t, world, LEVEL_BS, from, 0, booked);
		read_far(rng, t, world, LEVEL_FS, to, 0, booked);
		read_near(rng, t, world + 1, LEVEL_BS, to, 1, booked);
		read_far(rng, t, world + 1, LEVEL_FS, from, 0, booked);
		break;
	case ISLAND:
		read_near(rng, t, world, LEVEL_BS, from, 0, booked);
		read_far(rng, t, world, LEVEL_FS, ISLE, 0, booked);
		read_near(rng, t, world + 1, LEVEL_BS, ISLE, 1, booked);
		read_far(rng, t, world + 1, LEVEL_FS, to, 1, booked);
		break;
	default:
		read_near(rng, t, world, LEVEL_BS, from, 0, booked);
		read_far(rng, t, world, LEVEL_FS, to, 0, booked);
	}
}

/* Wind sets water up as the program has it (recalled), but for its direction and the depth, which
 * is known to a quarter. */
static inline double set_up(gsl_rng *rng, const struct crossing_truth *t)
{
	double wind = world_wind(t->air, 2), depth = t->outing->depth;
	if (depth == 0)
		return 0;
	return cos(gsl_ran_flat(rng, 0, acos(-1.0))) * 1.6e-7 * wind * wind * t->outing->far /
	       (depth * gsl_ran_flat(rng, 0.8, 1.25));
}

/* How far the ends stand above the water, or what they are known to be. */
static inline void read_ends(gsl_rng *rng, const struct crossing_truth *t, struct booked *booked)
{
	struct level_sight *end[] = {booked->sight, &booked->sight[booked->run.count - 1]};
	double rise = t->place->flow * t->outing->far + set_up(rng, t);
	for (int i = 0; i < 2; i++) {
		enum mark mark = strcmp(end[i]->station, mark_name[SECOND]) == 0 ? SECOND : FIRST;
		double above = mark_height[mark];
		if (t->outing->waters[0] == 0) {
			end[i]->has_known = true;
			end[i]->known = level_from_meters(above + t->place->mark[mark]);
			end[i]->known_u = level_from_meters(t->outing->known_u);
			continue;
		}
		if (mark == SECOND)
			above += t->place->transfer - rise;
		read_waters(rng, &t->water[mark], t->outing->waters[i], above, end[i]);
	}
}

/* With several readings each is made while a long sight is read; one alone stands for all. */
static inline void read_airs(gsl_rng *rng, const struct crossing_truth *t, struct booked *booked)
{
	int airs = t->outing->airs ? t->outing->airs : 1;
	if (t->outing->air == BY_DEFAULT)
		return;
	for (int i = 0; i < airs; i++) {
		const struct air_world *world = i < 2 ? &booked->world[i] : t->air;
		booked->air[booked->airs++] =
		    read_air(rng, t->outing, t->kit, airs == 1 ? t->air : world);
	}
}

/* k as a book finds it for a run that has nothing declared of it; the height of a line that no
 * water was read for is a plan's. */
static inline void find_terms(const struct crossing_truth *t, struct booked *booked)
{
	struct level_terms *terms = &booked->terms;
	struct level_sightline line;
	struct level_k_found found;
	*terms = coverage_terms();
	if (!level_run_sightline(&booked->run, terms->radius, &line))
		abort();
	if (isnan(line.height))
		line.height = t->outing->line;
	found = level_k_mean(booked->air, booked->airs, &line, LEVEL_OVER_WATER);
	terms->no_k = !found.has;
	terms->k = found.chosen.k;
	terms->dk_low = found.chosen.low;
	terms->dk_high = found.chosen.high;
	terms->instrument[0] = t->level->found;
	terms->declared[0] = (struct level_declared){"marks", t->outing->marks, 0};
	terms->declared[1] = (struct level_declared){"compensator", 0, t->outing->slope};
	terms->flow = t->outing->flow;
	terms->depth = t->outing->depth;
	for (size_t i = 0; i < booked->airs; i++)
		terms->wind = fmax(terms->wind, booked->air[i].wind);
}

/* Makes a crossing and books it; false where its light is lost. */
static inline bool book_crossing(gsl_rng *rng, const struct crossing_truth *t,
                                 struct booked *booked)
{
	*booked = (struct booked){.world = {*t->air, *t->air}};
	booked->run = (struct level_run){LEVEL_CROSSING, 0, booked->sight, ""};
	for (int i = 0; i < 2 && t->outing->apart > 0; i++)
		booked->world[i] = disturb_air_world(rng, t->air, t->outing->apart);
	read_sights(rng, t, booked);
	if (booked->lost)
		return false;
	read_ends(rng, t, booked);
	read_airs(rng, t, booked);
	find_terms(t, booked);
	return true;
}

/* The program's way. */
static inline struct level_closing close_booked(struct booked *booked, struct level_page *page,
                                                enum level_decides decides)
{
	booked->terms.decides = decides;
	if (!level_reduce(&booked->run, 0, &booked->terms, page))
		abort();
	return level_close(&booked->run, page, &booked->terms, level_tolerance_find("setups", NULL),
	                   0.01);
}

#endif
