/* What U would hold without its floor, "never less than what any one sample needs by itself": the
 * case of level_weigh() again, made of the same parts, and judged with and without. */
#ifndef ORACLE_COVERAGE_FLOOR_H
#define ORACLE_COVERAGE_FLOOR_H

#include "coverage_booked.h"
#include "coverage_rows.h"
#include "coverage_table.h"

/* All errors but air and distance. */
static inline void add_sources(const struct level_drop_sums *sums, const struct booked *booked,
                               const struct level_ends *ends, struct level_case *c)
{
	static const struct level_identity nobody;
	struct level_source source[LEVEL_SOURCES_MOST];
	size_t count = level_sources(sums, &booked->terms, ends, &nobody, source);
	for (size_t i = 0; i < count; i++) {
		c->variance += source[i].u * source[i].u;
		c->bound += fabs(source[i].bound);
		level_sampled_add(&c->sampled, &source[i].sampled, 1);
	}
}

/* By U with the floor, which must be the program's own answer, and without it. */
static inline void judge_both(const struct booked *booked, const struct level_page *page,
                              const struct level_closing *closing, struct level_finding by[2])
{
	static const struct level_identity nobody;
	const struct level_drop_sums *sums = &level_page_sums(page)->drop;
	const struct level_terms *terms = &booked->terms;
	struct level_air_effect air = level_air_effect(sums);
	struct level_length length[LEVEL_LENGTHS_MOST];
	double air_u = level_air_u(&air, terms);
	struct level_case c = {.shown = closing->shown,
	                       .span = level_drop_span(sums, terms),
	                       .prediction = 1 / terms->radius,
	                       .air_u = {terms->dk_low / 2 * air_u, terms->dk_high / 2 * air_u},
	                       .air_bound = {terms->dk_low * air.most, terms->dk_high * air.most},
	                       .length = length,
	                       .decides = LEVEL_BY_U95};
	c.lengths = level_run_lengths(&booked->run, page, terms, &nobody, length);
	add_sources(sums, booked, &closing->ends, &c);
	by[0] = level_judge(&c);
	ck_assert_int_eq(by[0].answer, closing->finding.answer);
	ck_assert_double_eq_tol(by[0].low, closing->finding.low, 1e-15);
	c.sampled.largest = 0;
	by[1] = level_judge(&c);
}

static const struct outing floor_rows[] = {
    {"2 and 2 readings, waves 0.5 and 25 mm", BRIEF, AT_300, WATERS(2, 2), WAVES(0.0005, 0.025)},
    {"2 and 2, waves 0.5 and 50 mm", AT_300, WATERS(2, 2), WAVES(0.0005, 0.050)},
    {"2 and 20, waves 25 and 50 mm", AT_300, WATERS(2, 20), WAVES(0.025, 0.050)},
    {"20 and 2, waves 0.5 and 25 mm", AT_300, WATERS(20, 2), WAVES(0.0005, 0.025)},
    {"3 and 3, waves 0.5 and 25 mm", AT_300, WATERS(3, 3), WAVES(0.0005, 0.025)},
    {"5 and 5, waves 0.5 and 25 mm", AT_300, WATERS(5, 5), WAVES(0.0005, 0.025)},
    {"2 and 2, waves drawn", AT_300, WATERS(2, 2)},
    {"3 and 3, waves drawn", AT_300, WATERS(3, 3)},
    {"10 and 10, waves drawn", AT_300, WATERS(10, 10)},
    {"2 sets of pegs, 800 m, 1/6 m", .sets = 2, USUAL, .air = BY_PAIR},
    {"3 sets, 800 m, 1/6 m", .sets = 3, USUAL, .air = BY_PAIR},
    {"4 sets, 800 m, 1/6 m", FOUR, USUAL, .air = BY_PAIR},
    {"careful, 800 m, 1/6 m", CAREFUL, USUAL, .air = BY_PAIR},
};

#endif
