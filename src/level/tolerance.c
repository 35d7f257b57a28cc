#include "rodbook/tolerance.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define FGCC                                                                                       \
	"FGCC, Standards and Specifications for Geodetic Control Networks, 1984, sec. 3.5 "        \
	"(recalled)"

static const struct level_tolerance sets[] = {
    {"first-order-1", "first order, class I", {0.003, 0.004}, 0, 0, true, FGCC},
    {"first-order-2", "first order, class II", {0.004, 0.005}, 0, 0, true, FGCC},
    {"second-order-1", "second order, class I", {0.006, 0.006}, 0, 0, true, FGCC},
    {"second-order-2", "second order, class II", {0.008, 0.008}, 0, 0, true, FGCC},
    {"third-order", "third order", {0.012, 0.012}, 0, 0, true, FGCC},
    {"construction",
     "ordinary construction",
     {0.024, 0.024},
     0,
     0,
     true,
     "US Army Corps of Engineers EM 1110-1-1005, 2007 (recalled)"},
    {"stream-gauge",
     "stream gauge",
     {0, 0},
     0.003 * 0.3048,
     0.015 * 0.3048,
     false,
     "USGS Techniques and Methods 3-A19, Kenney, 2010"},
    {"setups", "by setups", {0, 0}, 0, 0, false, "common practice, no source"},
};

const struct level_tolerance *level_tolerances(size_t *count)
{
	*count = sizeof sets / sizeof *sets;
	return sets;
}

const struct level_tolerance *level_tolerance_find(const char *name, struct fault *why)
{
	char names[300] = "";
	size_t used = 0;
	for (size_t i = 0; i < sizeof sets / sizeof *sets; i++) {
		if (strcmp(sets[i].name, name) == 0)
			return &sets[i];
		used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i ? ", " : "",
		                         sets[i].name);
	}
	fault_say(why, FAULT_INPUT, "there is no tolerance set \"%.60s\": choose from %s", name,
	          names);
	return NULL;
}

bool level_allowable(const struct level_tolerance *set, enum level_run_kind kind, bool has_length,
                     double length_km, int setups, double setup_figure, double *allowable)
{
	double per_km = set->per_km[kind == LEVEL_LOOP];
	double per_setup = set->per_setup > 0 ? set->per_setup : setup_figure;
	if (per_km > 0) {
		if (!has_length || length_km <= 0)
			return false;
		*allowable = per_km * sqrt(length_km);
		return true;
	}
	if (setups <= 0 || per_setup <= 0)
		return false;
	*allowable = per_setup * sqrt((double)setups);
	if (set->cap > 0 && *allowable > set->cap)
		*allowable = set->cap;
	return true;
}
