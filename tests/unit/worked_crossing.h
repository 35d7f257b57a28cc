/* A long sight over 800 m, level tested by four sets of pegs, as more than one test reckons it. The
 * answers are of two programs that share nothing with this one (unit/test_worked has them all). */
#ifndef UNIT_WORKED_CROSSING_H
#define UNIT_WORKED_CROSSING_H

#include <check.h>
#include <math.h>

#include "rodbook/level/page.h"
#include "rodbook/level/pegtest.h"

#define WORKED_MM 0.001

static inline level_nm mm(double value)
{
	return (level_nm)llround(value * 1e6);
}

static inline struct level_terms worked_terms(void)
{
	return (struct level_terms){
	    .radius = 6371000,
	    .dk_low = 0.40,
	    .dk_high = 0.60,
	    .instrument = {{.tolerance = 0.05 * WORKED_MM}},
	    .drift = 0.010 * WORKED_MM,
	    .reading_fixed = {[LEVEL_TAPE] = 0.00001, [LEVEL_TARGET] = 0.0003},
	    .reading_slope = {[LEVEL_TARGET] = 0.000005},
	    .distance_u = {0.01, 0.01, 0.001, 0.01},
	    .declared = {{.name = "mark_a", .bound = WORKED_MM},
	                 {.name = "mark_b", .bound = WORKED_MM}},
	    .water_floor = 2 * WORKED_MM,
	    .decides = LEVEL_BY_U95,
	};
}

/* Four sets about the mean readings, 30/30 and 5/55 m, whose tilts spread by 0.01000 mm/m in the
 * mean; the readings' own gives 0.00917 mm/m, with target readings of 0.3 mm + 0.005 mm/m. */
static inline struct level_peg_result worked_level(bool round)
{
	/* Four tilts at +-x spread by 2x/sqrt 3, their mean by x/sqrt 3; over 50 m apart. */
	const double off = 0.01 * sqrt(3.0) * 50;
	struct level_terms terms = {.radius = 6371000,
	                            .reading_fixed = {[LEVEL_TARGET] = 0.0003},
	                            .reading_slope = {[LEVEL_TARGET] = 0.000005}};
	const struct level_peg_way way = {0.13, 1.0, LEVEL_TARGET};
	double a1 = round ? 1500.36 : 1500.29, b1 = round ? 1250.36 : 1250.29, a2 = 1512.35,
	       b2 = round ? 1263.06 : 1262.82;
	struct level_standing s[8];
	struct level_peg_result out;
	for (int i = 0; i < 4; i++) {
		s[2 * i] = (struct level_standing){mm(30000), mm(a1), mm(30000), mm(b1)};
		s[2 * i + 1] = (struct level_standing){mm(5000), mm(a2), mm(55000),
		                                       mm(b2 + (i % 2 ? off : -off))};
	}
	ck_assert(level_peg_test(s, 8, &terms, &way, &out, NULL));
	return out;
}

static inline struct level_closing worked_closing(bool round, double k, double bs, double fs,
                                                  enum level_decides decides,
                                                  struct level_peg_result *pegs)
{
	struct level_sight sight[2] = {{.kind = LEVEL_BS,
	                                .method = LEVEL_TARGET,
	                                .reading = mm(bs),
	                                .distance = mm(10000),
	                                .station = "A",
	                                .water_count = 10,
	                                .water = mm(250),
	                                .water_sd = 0.50 * WORKED_MM * sqrt(10)},
	                               {.kind = LEVEL_FS,
	                                .method = LEVEL_TARGET,
	                                .reading = mm(fs),
	                                .distance = mm(800000),
	                                .station = "B",
	                                .water_count = 10,
	                                .water = mm(250),
	                                .water_sd = 0.60 * WORKED_MM * sqrt(10)}};
	struct level_run run = {LEVEL_CROSSING, 2, sight, ""};
	struct level_terms terms = worked_terms();
	struct level_page page = {0};
	struct level_closing out;
	*pegs = worked_level(round);
	terms.k = k;
	terms.decides = decides;
	terms.instrument[0].tested = true;
	terms.instrument[0].tilt = pegs->tilt;
	terms.instrument[0].u = pegs->u;
	terms.instrument[0].sets = pegs->by_spread ? pegs->sets : 0;
	terms.instrument[0].g = pegs->g;
	ck_assert(level_reduce(&run, 0, &terms, &page));
	out = level_close(&run, &page, &terms, level_tolerance_find("setups", NULL), 0.01);
	level_page_free(&page);
	return out;
}

#endif
