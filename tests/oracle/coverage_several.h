/* Several crossings together: what they share is drawn once, each is booked by itself, and all go
 * through the combination. */
#ifndef ORACLE_COVERAGE_SEVERAL_H
#define ORACLE_COVERAGE_SEVERAL_H

#include "coverage_booked.h"
#include "coverage_rows.h"
#include "coverage_table.h"
#include "rodbook/level/drop/combine.h"

#define JOINT_MOST 10
#define JOINT_LEVELS 2
#define JOINT_PLACES 3

/* One of them: over which shores, on which day, with which level. */
struct joint_crossing {
	int place, day, level;
	bool back;
};

struct joint {
	const char *name;
	bool brief;
	struct outing outing; /* of all; far and line: by place where that has its own */
	struct {
		double far, line;
	} place[JOINT_PLACES];
	bool daily; /* pegs each day, else one test of each level */
	bool free;  /* tilt and curvature apart */
	double power;
	size_t count;
	struct joint_crossing crossing[JOINT_MOST];
};

/* What they share. Thermometers are off alike on all days. */
struct joint_truth {
	struct outing outing[JOINT_PLACES];
	struct true_level level[JOINT_LEVELS][JOINT_MOST]; /* on each day */
	struct true_place place[JOINT_PLACES];
	struct true_water water[JOINT_PLACES][JOINT_MOST][2];
	struct air_world air[JOINT_MOST];
	struct true_kit kit;
};

static inline int days_of(const struct joint *joint)
{
	int last = 0;
	for (size_t i = 0; i < joint->count; i++)
		if (joint->crossing[i].day > last)
			last = joint->crossing[i].day;
	return last + 1;
}

/* Half of the variance of a level's drift is there on all days after one test. */
static inline void draw_levels(gsl_rng *rng, const struct joint *joint, double radius,
                               struct joint_truth *out)
{
	double u = coverage_terms().drift * sqrt(0.5);
	for (int l = 0; l < JOINT_LEVELS; l++) {
		struct true_level level = draw_level(rng, &joint->outing, radius);
		double drift = normal(rng, u);
		for (int day = 0; day < days_of(joint); day++) {
			if (joint->daily) {
				out->level[l][day] = draw_level(rng, &joint->outing, radius);
				continue;
			}
			out->level[l][day] = level;
			out->level[l][day].tilt = level.at_pegs + drift + normal(rng, u);
		}
	}
}

static inline void draw_joint(gsl_rng *rng, const struct joint *joint, double radius,
                              struct joint_truth *out)
{
	draw_levels(rng, joint, radius, out);
	for (int p = 0; p < JOINT_PLACES; p++) {
		out->outing[p] = joint->outing;
		if (joint->place[p].far > 0) {
			out->outing[p].far = joint->place[p].far;
			out->outing[p].line = joint->place[p].line;
		}
		out->place[p] = draw_true_place(rng, &out->outing[p]);
		for (int day = 0; day < days_of(joint); day++)
			for (int end = 0; end < 2; end++)
				out->water[p][day][end] = draw_water(rng, &joint->outing, end);
	}
	for (int day = 0; day < days_of(joint); day++)
		out->air[day] = draw_outing_air(rng, &joint->outing);
	out->kit = draw_kit(rng, &joint->outing);
}

/* The names that crossings share, as numbers from 1 on. */
static inline struct level_identity identity_of(const struct joint *joint, size_t i)
{
	const struct joint_crossing *c = &joint->crossing[i];
	int first = 2 * c->place + 1, second = first + 1;
	return (struct level_identity){
	    .run = (int)i + 1,
	    .state = {1 + c->level + JOINT_LEVELS * (joint->daily ? c->day : 0)},
	    .pair = c->place + 1,
	    .start = c->back ? second : first,
	    .end = c->back ? first : second,
	    .back = c->back,
	    .day = c->day + 1,
	    .declared = {1, 2}};
}

/* Books one and makes it ready; false where its light is lost. */
static inline bool make_crossing(gsl_rng *rng, const struct joint *joint, size_t i, double radius,
                                 const struct joint_truth *of, struct level_page *page,
                                 struct level_crossing *out)
{
	const struct joint_crossing *c = &joint->crossing[i];
	struct crossing_truth truth = {.outing = &of->outing[c->place],
	                               .radius = radius,
	                               .level = &of->level[c->level][c->day],
	                               .kit = &of->kit,
	                               .place = &of->place[c->place],
	                               .air = &of->air[c->day],
	                               .water = of->water[c->place][c->day],
	                               .back = c->back};
	struct level_identity identity = identity_of(joint, i);
	int index[LEVEL_INSTRUMENTS] = {c->level};
	struct level_closing closing;
	struct booked booked;
	if (!book_crossing(rng, &truth, &booked))
		return false;
	closing = close_booked(&booked, page, LEVEL_BY_U95);
	level_crossing_of(&level_page_sums(page)->drop, &booked.terms, &closing.ends, &identity,
	                  index, closing.observed, out);
	out->lengths = level_run_lengths(&booked.run, page, &booked.terms, &identity, out->length);
	return true;
}

/* Beside the answer: tilts fitted, and how many their interval at 95 % held. */
struct joint_tally {
	struct tally tally;
	int tilts, tilts_held;
};

static inline void take_tilts(const struct joint *joint, const struct joint_truth *of,
                              const struct level_combined *got, struct joint_tally *out)
{
	for (int t = 0; t < got->tilts && !joint->outing.sets; t++) {
		double truth = of->level[got->tilt_instrument[t]][0].tilt;
		out->tilts++;
		out->tilts_held += fabs(got->tilt[t].value - truth) <= got->tilt[t].u95;
	}
}

/* One drawing of all of them. */
static inline void cross_jointly(gsl_rng *rng, const struct joint *joint, double radius,
                                 struct level_page *page, struct joint_tally *out)
{
	struct level_crossing crossing[JOINT_MOST];
	struct level_combined got;
	struct level_finding by[2];
	struct joint_truth truth;
	struct fault why;
	size_t made = 0;
	while (made < joint->count) {
		draw_joint(rng, joint, radius, &truth);
		for (made = 0; made < joint->count; made++)
			if (!make_crossing(rng, joint, made, radius, &truth, page, &crossing[made]))
				break;
	}
	for (int i = 0; i < 2; i++) {
		if (!level_combine(crossing, joint->count, i ? LEVEL_BY_ALL : LEVEL_BY_U95, &got,
		                   &why))
			ck_abort_msg("%s: %s", joint->name, why.text);
		ck_assert_msg(!joint->free || got.has_fit, "%s: no fit", joint->name);
		by[i] = joint->free ? got.fit : got.finding;
		if (i == 0 && joint->free)
			take_tilts(joint, &truth, &got, out);
	}
	tally_add(&out->tally, by, 1 / radius);
}

static inline void print_joint(const struct joint *joint, const struct joint_tally by[2],
                               struct broken *broken)
{
	struct tally both[2] = {by[0].tally, by[1].tally};
	int tilts = by[0].tilts + by[1].tilts;
	double held = percent(by[0].tilts_held + by[1].tilts_held, tilts);
	print_tallies(joint->name, both);
	check_tallies(broken, joint->name, both, joint->power);
	if (tilts == 0)
		return;
	printf("| its tilt | %.1f | | | | | | |\n", held);
	check_percent(broken, joint->name, "tilt, U holds", held, COVERAGE_LEAST, tilts, true);
}

/* Of one day unless a day is named. */
#define JOINT_USUAL(air_) .outing = {OVER(800, 2.4), WATERS(10, 10), .sets = 4, .air = (air_)}
#define JOINT_HARD(air_)                                                                           \
	.outing = {OVER(800, 2.4), WATERS(10, 10), .sets = 4, .air = (air_), HARD, .apart = 0.1}
#define THREE .count = 3, .crossing = {{0}, {0}, {0}}
#define FIVE_DAYS                                                                                  \
	.count = 5, .crossing = {{.day = 0}, {.day = 1}, {.day = 2}, {.day = 3}, {.day = 4}}
#define TWO_LENGTHS                                                                                \
	.place = {{500, 2.4}, {1500, 2.4}}, .free = true, .count = 4,                              \
	.crossing = {                                                                              \
	    {.place = 0}, {.place = 1}, {.place = 0, .back = true}, {.place = 1, .back = true}}

static const struct joint joint_rows[] = {
    {"3 of one day, 1/6 m", BRIEF, JOINT_USUAL(BY_PAIR), THREE},
    {"3 of one day, untested, 300 m at 4 m, 1/6 m", BRIEF,
     .outing = {OVER(300, 4), WATERS(10, 10), .air = BY_PAIR}, THREE},
    {"3 of one day, default air", JOINT_USUAL(BY_DEFAULT), THREE},
    {"3 of one day, default air, hard", BRIEF, JOINT_HARD(BY_DEFAULT), THREE},
    {"3 of one day, water, hard, 10 % apart", JOINT_HARD(BY_WATER), THREE},
    {"5 days, 1/6 m, one peg test", BRIEF, JOINT_USUAL(BY_PAIR), FIVE_DAYS},
    {"5 days, 1/6 m, pegs each day", JOINT_USUAL(BY_PAIR), FIVE_DAYS, .daily = true},
    {"5 days, water, hard, 10 % apart", BRIEF, JOINT_HARD(BY_WATER), FIVE_DAYS, .daily = true},
    {"5 days, default air", JOINT_USUAL(BY_DEFAULT), FIVE_DAYS, .daily = true},
    {"5 days, default air, hard", BRIEF, JOINT_HARD(BY_DEFAULT), FIVE_DAYS},
    {"there and back, 1/6 m", BRIEF, JOINT_USUAL(BY_PAIR), .count = 2,
     .crossing = {{0}, {.back = true}}},
    {"there and back, marks 5 mm declared, 3 readings correlated",
     .outing = {OVER(800, 2.4), WATERS(3, 3), .sets = 4, .air = BY_PAIR, .marks = 0.005,
                .correlated = true},
     .count = 2, .crossing = {{0}, {.back = true}}},
    {"two levels, there and back, 1/6 m", BRIEF, JOINT_USUAL(BY_PAIR), .count = 4,
     .crossing =
         {{.level = 0}, {.level = 1}, {.level = 0, .back = true}, {.level = 1, .back = true}}},
    {"two levels untested, 3 days, default air", .outing = {OVER(800, 2.4), WATERS(10, 10)},
     .count = 6,
     .crossing = {{.day = 0},
                  {.level = 1},
                  {.day = 1},
                  {.day = 1, .level = 1},
                  {.day = 2},
                  {.day = 2, .level = 1}}},
    {"500 and 1500 m, tilt free, untested, 1/6 m", BRIEF,
     .outing = {OVER(800, 2.4), WATERS(10, 10), .air = BY_PAIR}, TWO_LENGTHS},
    {"500 and 1500 m, tilt free, untested, default air, hard",
     .outing = {OVER(800, 2.4), WATERS(10, 10), HARD}, TWO_LENGTHS},
    {"500 and 1500 m, tilt free, tested, water", JOINT_USUAL(BY_WATER), TWO_LENGTHS},
    {"500 and 1500 m, tilt free, untested, 1/6 m, 3 readings",
     .outing = {OVER(800, 2.4), WATERS(3, 3), .air = BY_PAIR}, TWO_LENGTHS},
    {"300, 800, 1500 m on 3 days, 1/6 m", JOINT_USUAL(BY_PAIR),
     .place = {{300, 2.4}, {800, 2.4}, {1500, 2.4}}, .count = 3,
     .crossing = {{0}, {.place = 1, .day = 1}, {.place = 2, .day = 2}}},
    {"5 days, 1/6 m, 0.1 K, pegs by target each day", BRIEF,
     .outing = {OVER(800, 2.4), WATERS(10, 10), .air = BY_PAIR, CAREFUL}, FIVE_DAYS, .daily = true},
};

#endif
