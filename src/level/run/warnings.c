#include "rodbook/level/warnings.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static level_nm magnitude(level_nm value)
{
	return value < 0 ? -value : value;
}

static bool over(level_nm figure, double limit)
{
	return limit > 0 && figure > level_from_meters(limit);
}

/* The BS of the setup that row `at` belongs to; run->count where there is none. */
static size_t bs_before(const struct level_run *run, size_t at)
{
	while (at-- > 0)
		if (level_counted(&run->sight[at]) && run->sight[at].kind == LEVEL_BS)
			return at;
	return run->count;
}

/* An FS may come back to the start of the run; any other mark that was there before is likely a
 * slip of the name. */
static int earlier_setup(const struct level_run *run, const struct level_page *page, size_t at)
{
	const struct level_sight *sight = &run->sight[at];
	size_t start = level_counted_from(run, 0);
	if (sight->kind == LEVEL_BS || start >= at ||
	    strcmp(run->sight[start].station, sight->station) == 0 || sight->has_known)
		return 0;
	for (size_t i = 0; i < at; i++)
		if (strcmp(run->sight[i].station, sight->station) == 0 &&
		    level_counted(&run->sight[i]))
			return page->row[i].setup ? page->row[i].setup
			                          : page->row[i].line.setups_begun;
	return 0;
}

static void warn(struct level_warned *out, enum level_warning warning)
{
	out->set |= 1u << warning;
}

bool level_is_below(const struct level_sight *sight)
{
	return sight->kind != LEVEL_OFF && sight->reading < 0;
}

bool level_wires_differ(const struct level_sight *sight, level_nm stadia)
{
	return sight->wires && stadia > 0 && sight->distance &&
	       magnitude(stadia - sight->distance) > LEVEL_NM_PER_M / 2 + stadia / 100;
}

struct level_warned level_warn(const struct level_run *run, const struct level_page *page,
                               size_t at, const struct level_tolerance *set, level_nm stadia,
                               double u)
{
	const struct level_sight *sight = &run->sight[at];
	size_t bs = bs_before(run, at);
	struct level_warned out = {.distance = sight->distance, .interval = stadia};
	if (sight->state == LEVEL_BLANK || !level_counted(sight))
		return out;
	if (sight->wires) {
		out.half = level_half_difference(sight);
		if (over(out.half, set->half))
			warn(&out, LEVEL_WARN_HALF);
		if (level_wires_differ(sight, stadia))
			warn(&out, LEVEL_WARN_INTERVAL);
	}
	if (run->kind != LEVEL_CROSSING && over(sight->distance, set->sight))
		warn(&out, LEVEL_WARN_SIGHT);
	if (run->kind != LEVEL_CROSSING && sight->kind == LEVEL_FS && bs < run->count &&
	    sight->distance && run->sight[bs].distance) {
		out.other = run->sight[bs].distance;
		if (over(magnitude(sight->distance - out.other), set->setup_imbalance))
			warn(&out, LEVEL_WARN_IMBALANCE);
	}
	if (sight->method == LEVEL_ROD && set->clearance > 0 && sight->reading >= 0 &&
	    sight->reading < level_from_meters(set->clearance))
		warn(&out, LEVEL_WARN_CLEARANCE);
	if (level_is_below(sight))
		warn(&out, LEVEL_WARN_BELOW);
	if (run->kind != LEVEL_CROSSING && sight->distance > 0 &&
	    sight->distance < LEVEL_NEAREST * LEVEL_NM_PER_M)
		warn(&out, LEVEL_WARN_NEAR);
	if (sight->method == LEVEL_TAPE && sight->kind != LEVEL_OFF &&
	    sight->distance > LEVEL_TAPE_FARTHEST * LEVEL_NM_PER_M)
		warn(&out, LEVEL_WARN_TAPE);
	if (sight->set_count > 1 && sight->set_sd > 3 * u)
		warn(&out, LEVEL_WARN_SPREAD);
	out.standings = page->row[at].line.differ;
	if (run->kind != LEVEL_CROSSING && sight->kind == LEVEL_FS &&
	    over(out.standings, set->standings))
		warn(&out, LEVEL_WARN_STANDINGS);
	if (page->row[at].line.standings < 2)
		out.setup = earlier_setup(run, page, at);
	if (out.setup)
		warn(&out, LEVEL_WARN_NAME);
	return out;
}

void level_warn_curvature(const struct level_run *run, const struct level_closing *c,
                          const struct level_terms *terms, struct level_warned *out)
{
	/* |S'|/2: what a curvature of 1/m would add to the drop */
	double half = c->separation * terms->radius;
	if (!c->has_observed || c->finding.none != LEVEL_ANSWERED || c->shown == 0 ||
	    fabs(c->shown) - c->allowance.total_bound <= half / LEVEL_RADIUS_LEAST)
		return;
	warn(out, LEVEL_WARN_CURVATURE);
	out->radius = half / (c->shown * c->finding.turn);
	for (size_t i = 0; i < run->count; i++)
		if (level_counted(&run->sight[i]) && run->sight[i].distance > out->farthest)
			out->farthest = run->sight[i].distance;
}

const char *level_warning_name(enum level_warning warning)
{
	static const char *const names[] = {
	    "half intervals",  "long sight",  "imbalance",  "low line",
	    "interval",        "used name",   "spread",     "standings",
	    "station differs", "time back",   "time ahead", "below zero",
	    "curvature",       "near",        "look-alike", "decimals",
	    "no water",        "far by tape", "number",     "seals early"};
	return names[warning];
}

void level_warned_names(const struct level_warned *warned, char text[LEVEL_REMARK_BYTES])
{
	size_t used = 0;
	text[0] = '\0';
	for (int i = 0; i < LEVEL_WARNINGS; i++) {
		const char *name = level_warning_name((enum level_warning)i);
		/* More than a book has room for are never true of one sight. */
		if (warned->set & 1u << i && used + strlen(name) + 2 <= LEVEL_REMARK_CHARS)
			used += (size_t)snprintf(text + used, LEVEL_REMARK_BYTES - used, "%s%s",
			                         used ? "; " : "", name);
	}
}
