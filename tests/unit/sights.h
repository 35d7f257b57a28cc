/* Runs for tests, a line a sight. */
#ifndef UNIT_SIGHTS_H
#define UNIT_SIGHTS_H

#include <stdio.h>

#include "rodbook/level/page.h"

#define MM(n) ((level_nm)(n)*1000000)
#define METRES(n) ((level_nm)(n)*LEVEL_NM_PER_M)

static inline struct level_sight sight(enum level_kind kind, const char *station, level_nm reading,
                                       level_nm distance)
{
	struct level_sight out = {.kind = kind, .reading = reading, .distance = distance};
	snprintf(out.station, sizeof out.station, "%s", station);
	return out;
}

static inline struct level_sight known(struct level_sight on, level_nm elevation, level_nm u)
{
	on.has_known = true;
	on.known = elevation;
	on.known_u = u;
	return on;
}

static inline struct level_sight as(struct level_sight on, enum level_state state)
{
	on.state = state;
	return on;
}

/* A run over an array of sights. */
#define RUN(run_kind, sights)                                                                      \
	((struct level_run){                                                                       \
	    .kind = run_kind, .count = sizeof(sights) / sizeof *(sights), .sight = (sights)})

/* The default terms of the trade (common practice, no source), k after Gauss. */
static inline struct level_terms usual_terms(void)
{
	return (struct level_terms){.radius = LEVEL_MEAN_RADIUS,
	                            .k = 0.13,
	                            .dk_low = 0.15,
	                            .dk_high = 0.15,
	                            .instrument = {{.tolerance = 0.0001}},
	                            .reading_fixed = {0.0005, 0.001, 0.0003},
	                            .reading_slope = {0.00001, 0, 0.000005}};
}

#endif
