/* What a plan promises with the day's measured air, against the share of simulated days on which
 * the sight told: a round surface was shown. */
#ifndef ORACLE_COVERAGE_PLANS_H
#define ORACLE_COVERAGE_PLANS_H

#include "coverage_booked.h"
#include "coverage_rows.h"
#include "coverage_table.h"
#include "rodbook/level/drop/plan.h"

/* The mean chance may miss what came true by so many percent (no source: several points are no
 * lie). It promises too much where the water is colder and k may lie farther above than below: 39
 * where 30 came true. */
#define PLAN_MISS 10
#define PLAN_BINS 5

struct promises {
	int days, told;
	double promised;
	struct {
		int days, told;
		double promised;
	} bin[PLAN_BINS];
};

static inline void promises_add(struct promises *p, double chance, bool told)
{
	int bin = (int)fmin(PLAN_BINS - 1, chance * PLAN_BINS);
	p->days++;
	p->told += told;
	p->promised += chance;
	p->bin[bin].days++;
	p->bin[bin].told += told;
	p->bin[bin].promised += chance;
}

/* As it is made at the shore: the level is tested, the air read, and nothing else. */
static inline struct level_planned plan_of(const struct crossing_truth *t,
                                           const struct level_air_reading *air)
{
	struct level_plan plan = {.distance = level_to_meters(t->place->far[0].typed),
	                          .near = level_to_meters(t->place->near[0].typed),
	                          .near_method = LEVEL_ROD,
	                          .far_method = LEVEL_TARGET,
	                          .distance_by = LEVEL_STEPPED,
	                          .has_hi = true,
	                          .hi = t->outing->line,
	                          .waters = t->outing->waters[0],
	                          .over = LEVEL_OVER_WATER,
	                          .by_air = true,
	                          .air = *air,
	                          .terms = coverage_terms()};
	plan.terms.instrument[0] = t->level->found;
	return level_plan_of(&plan);
}

/* One day; one whose light is lost tells nothing. */
static inline void plan_and_cross(gsl_rng *rng, const struct outing *outing,
                                  struct level_page *page, struct promises *out)
{
	double radius = LEVEL_MEAN_RADIUS;
	struct true_level level = draw_level(rng, outing, radius);
	struct true_kit kit = draw_kit(rng, outing);
	struct true_place place = draw_true_place(rng, outing);
	struct air_world air = draw_outing_air(rng, outing);
	struct true_water water[] = {draw_water(rng, outing, 0), draw_water(rng, outing, 1)};
	struct crossing_truth truth = {outing, radius, &level, &kit, &place, &air, water, false};
	struct booked booked;
	struct level_finding found;
	struct level_planned planned;
	bool lost = !book_crossing(rng, &truth, &booked);
	if (lost) {
		struct level_air_reading read = read_air(rng, outing, &kit, &air);
		planned = plan_of(&truth, &read);
		if (planned.has_chance)
			promises_add(out, planned.chance, false);
		return;
	}
	planned = plan_of(&truth, &booked.air[0]);
	found = close_booked(&booked, page, LEVEL_BY_U95).finding;
	if (planned.has_chance)
		promises_add(out, planned.chance,
		             !found.none && (found.answer == LEVEL_SHOWN_COMPATIBLE ||
		                             found.answer == LEVEL_SHOWN_INCOMPATIBLE));
}

static inline void print_promises(const char *name, const struct promises *p, struct broken *broken)
{
	printf("| %s | %.0f | %.0f |", name, 100 * p->promised / p->days,
	       percent(p->told, p->days));
	check_near(broken, name, 100 * p->promised / p->days, percent(p->told, p->days), p->days,
	           PLAN_MISS);
	for (int i = 0; i < PLAN_BINS; i++) {
		int days = p->bin[i].days;
		if (days == 0) {
			printf(" - |");
			continue;
		}
		printf(" %.0f %.0f (%.0f) |", 100 * p->bin[i].promised / days,
		       percent(p->bin[i].told, days), percent(days, p->days));
	}
	printf("\n");
	fflush(stdout);
}

static const struct outing plan_rows[] = {
    {"untested, 800 m, 1/6 m", USUAL, .air = BY_PAIR},
    {"4 sets, 800 m, 1/6 m", BRIEF, FOUR, USUAL, .air = BY_PAIR},
    {"4 sets, 800 m, water, hard", FOUR, USUAL, .air = BY_WATER, HARD},
    {"careful, 800 m, 1/6 m", BRIEF, CAREFUL, USUAL, .air = BY_PAIR},
    {"careful, 800 m, water", BRIEF, CAREFUL, USUAL, .air = BY_WATER},
    {"careful, 1.5 km, 1/6 m, hard", CAREFUL, OVER(1500, 2.4), WATERS(10, 10), .air = BY_PAIR,
     HARD},
    {"careful, 1.5 km, both ways", CAREFUL, OVER(1500, 2.4), WATERS(10, 10), .air = BY_BOTH},
    {"careful, 300 m at 4 m, 1/6 m", CAREFUL, OVER(300, 4), WATERS(10, 10), .air = BY_PAIR},
    {"careful, 5 km at 6 m, 1/6 m", CAREFUL, OVER(5000, 6), WATERS(10, 10), .air = BY_PAIR},
    {"careful, 800 m, 1/6 m, 3 water readings", CAREFUL, OVER(800, 2.4), WATERS(3, 3),
     .air = BY_PAIR},
};

#endif
