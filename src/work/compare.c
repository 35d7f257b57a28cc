#include "rodbook/work/compare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "work/stations_gather.h"

static void against_section(struct work_compared *out, const struct level_section *section)
{
	out->against = WORK_AGAINST_GIVEN;
	out->difference = section->difference;
	out->has_allowable = section->has_allowable;
	out->allowable = section->has_allowable ? section->allowable : 0;
	out->holds = section->holds != LEVEL_NO;
}

static void against_found(struct work_compared *out, enum work_against against, level_nm found,
                          level_nm then, double variance)
{
	double u = sqrt(variance);
	out->against = against;
	out->difference = found - then;
	out->has_allowable = true;
	out->allowable = level_from_meters(2 * u);
	out->holds = !level_differs(out->difference, u);
}

static bool find_given(const struct level_run *run, const struct level_page *page,
                       const struct level_terms *terms, const struct level_rule *rule, size_t at,
                       struct level_section *out)
{
	const struct level_sight *sight = &run->sight[at];
	const struct level_line *line = &page->row[at].line;
	if (sight->kind == LEVEL_IS)
		return level_section_aside(run, page, terms, rule, at, out);
	if (!sight->has_known || sight->aside || !level_carries(run, page, at))
		return false;
	/* There the misclosure tells. */
	if (strcmp(run->sight[line->start_row].station, sight->station) == 0 ||
	    (run->kind != LEVEL_OPEN && line->known_before == line->start_row))
		return false;
	return level_section_before(run, page, terms, rule, at, out);
}

/* What a determination hangs on, by the start of its run. */
static void by_start(struct work_determination *d, const struct level_sight *start)
{
	strcpy(d->start, start->station);
	d->start_known = start->has_known;
	d->start_u = start->has_known ? level_to_meters(start->known_u) : 0;
}

struct work_compared work_compare(const struct level_run *run, const struct level_page *page,
                                  const struct level_terms *terms, const struct level_rule *rule,
                                  size_t at, const struct work_determination *other)
{
	struct work_compared out = {.holds = true};
	struct level_section section;
	struct level_determination now, before;
	const struct level_sight *start;
	struct work_determination found = {0};
	/* What it shows is a drop. */
	if (run->kind == LEVEL_CROSSING)
		return out;
	if (find_given(run, page, terms, rule, at, &section)) {
		against_section(&out, &section);
		return out;
	}
	if (run->sight[at].has_known || level_is_passing(run->sight[at].station) ||
	    !level_determine(run, page, terms, at, &now))
		return out;
	start = &run->sight[page->row[at].line.start_row];
	if (strcmp(start->station, run->sight[at].station) == 0)
		return out;
	if (level_determined_before(run, page, terms, &now, &before)) {
		against_found(&out, WORK_AGAINST_EARLIER, now.elevation, before.elevation,
		              level_path_variance_between(&before.path, &now.path, terms));
		out.setup = page->row[before.row].setup ? page->row[before.row].setup
		                                        : page->row[before.row].line.setups_begun;
		return out;
	}
	if (!other)
		return out;
	by_start(&found, start);
	found.path_variance = level_path_variance(&now.path, terms);
	against_found(&out, WORK_AGAINST_RUN, now.elevation, other->elevation,
	              stations_variance(&found, other));
	snprintf(out.run, sizeof out.run, "%s", other->run);
	return out;
}

/* The one of them that was determined last by another run, and goes with this one. */
static bool pick(const struct work_stations *all, const struct book_run *run,
                 const struct level_sight *start, struct work_determination *out)
{
	struct work_determination here = {0};
	bool has = false;
	by_start(&here, start);
	for (size_t i = 0; i < all->determinations; i++) {
		const struct work_determination *d = &all->determination[i];
		if (d->run_id == run->info.id || !stations_go_together(d, &here) ||
		    (has && d->order < out->order))
			continue;
		*out = *d;
		has = true;
	}
	return has;
}

bool work_determined(struct book *book, const struct book_run *run, const char *station,
                     struct work_determination *out, bool *has, struct fault *why)
{
	size_t start = level_counted_from(&run->run, 0);
	struct work_stations all;
	bool ok;
	*has = false;
	/* Nothing is compared on a turning point, whose name is in all runs. */
	if (start == run->run.count || run->run.kind == LEVEL_CROSSING || level_is_passing(station))
		return true;
	if (!book_hold(book, why))
		return false;
	ok = stations_gather(book, station, &all, why);
	book_release(book);
	*has = ok && pick(&all, run, &run->run.sight[start], out);
	work_stations_free(&all);
	return ok;
}
