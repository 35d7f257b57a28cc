/* Tolerance sets: the line that is read, written anew from its figures, is read as the same set. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "fuzz.h"
#include "rodbook/level/tolerance.h"

static const char *const seeds[] = {
    "section=12 mm; loop=8 mm; sight=90 m; tilt=0.1 mm/m; source=our own",
    "setups=2 mm; cap=10 mm; days=30; graded=yes",
    "title=Canal works; imbalance=10 m",
    "half=0.3 mm; standings=1 mm; clearance=0.5 m; setup-imbalance=5 ft",
    "section=0",
    NULL};
static const char *const dictionary[] = {
    "section=",   "loop=",   "setups=",    "cap=",       "sight=",  "setup-imbalance=",
    "imbalance=", "half=",   "standings=", "clearance=", "tilt=",   "days=",
    "title=",     "source=", "graded=",    "yes",        "no",      " mm",
    " m",         " ft",     " in",        " mm/m",      " arcsec", "; ",
    "=",          ";",       NULL};

static size_t put(char *text, size_t room, size_t used, const char *name, double value,
                  int decimals, const char *unit)
{
	/* What was not given is left out: 0 is another thing for the defaults. */
	return value > 0 ? used + (size_t)snprintf(text + used, room - used, "%s=%.*f%s; ", name,
	                                           decimals, value, unit)
	                 : used;
}

static void write(const struct level_tolerance *set, char *text, size_t room)
{
	size_t used = 0;
	used = put(text, room, used, "section", set->per_km[0], 9, " m");
	used = put(text, room, used, "loop", set->per_km[1], 9, " m");
	used = put(text, room, used, "setups", set->per_setup, 9, " m");
	used = put(text, room, used, "cap", set->cap, 9, " m");
	used = put(text, room, used, "sight", set->sight, 9, " m");
	used = put(text, room, used, "setup-imbalance", set->setup_imbalance, 9, " m");
	used = put(text, room, used, "imbalance", set->imbalance, 9, " m");
	used = put(text, room, used, "half", set->half, 9, " m");
	used = put(text, room, used, "standings", set->standings, 9, " m");
	used = put(text, room, used, "clearance", set->clearance, 9, " m");
	used = put(text, room, used, "tilt", set->tilt * 1000, 6, " mm/m");
	used = put(text, room, used, "days", set->days, 9, "");
	snprintf(text + used, room - used, "graded=%s; title=%s; source=%s",
	         set->graded ? "yes" : "no", set->title, set->source);
}

static bool same(double a, double b)
{
	return fabs(a - b) <= 1e-9;
}

static bool one(const char *text, unsigned options)
{
	const char *name = options & 1 ? "ours" : "canal 1";
	struct level_tolerance set, back;
	char written[2000];
	struct fault why = {0};
	double allowable = 0;
	if (!level_parse_tolerance(name, text, &set, &why)) {
		FUZZ_LAW(why.kind == FAULT_INPUT && *why.text, "\"%s\" is refused without a reason",
		         text);
		return false;
	}
	FUZZ_LAW(isfinite(set.per_km[0]) && set.per_km[0] >= 0 && set.per_setup >= 0 &&
	             set.standings > 0 && set.tilt >= 0 && set.tilt <= 0.01 && set.days >= 0 &&
	             set.days <= 10000,
	         "\"%s\" is a set that cannot be", text);
	if (level_allowable(&set, LEVEL_LOOP, true, 4, 9, 0.002, &allowable))
		FUZZ_LAW(isfinite(allowable) && allowable >= 0, "\"%s\" allows %g", text,
		         allowable);
	write(&set, written, sizeof written);
	/* A smaller tilt, or one of days, is written as 0. */
	if ((set.tilt > 0 && set.tilt < 1e-8) || (set.days > 0 && set.days < 1e-8))
		return true;
	if (!FUZZ_LAW(level_parse_tolerance(name, written, &back, &why),
	              "\"%s\" written as \"%s\" cannot be read: %s", text, written, why.text))
		return true;
	FUZZ_LAW(same(set.per_km[0], back.per_km[0]) && same(set.per_km[1], back.per_km[1]) &&
	             same(set.per_setup, back.per_setup) && same(set.cap, back.cap) &&
	             same(set.sight, back.sight) &&
	             same(set.setup_imbalance, back.setup_imbalance) &&
	             same(set.imbalance, back.imbalance) && same(set.half, back.half) &&
	             same(set.standings, back.standings) && same(set.clearance, back.clearance) &&
	             same(set.tilt, back.tilt) && same(set.days, back.days) &&
	             set.graded == back.graded && strcmp(set.title, back.title) == 0 &&
	             strcmp(set.source, back.source) == 0,
	         "\"%s\" written as \"%s\" is another set", text, written);
	return true;
}

const struct fuzz_target fuzz_target = {
    .name = "tolerance",
    .words = "tolerance sets, read, written from their figures and read again",
    .seeds = seeds,
    .dictionary = dictionary,
    .most = 400,
    .tries = 30000,
    .one = one,
};
