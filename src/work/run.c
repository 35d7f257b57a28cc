/* A run, reduced and closed. */
#include "rodbook/work/run.h"

#include <stdlib.h>
#include <string.h>

#include "work/held.h"

static bool find_sections(struct work_run *run, const struct level_rule *rule)
{
	const struct level_terms *terms = &run->terms.terms;
	struct level_section section;
	struct level_double both;
	size_t sections = 0, doubles = 0, at;
	for (at = SIZE_MAX;
	     level_section_before(&run->book.run, &run->page, terms, rule, at, &section);
	     at = section.from_row)
		sections++;
	for (at = SIZE_MAX; level_double_before(&run->book.run, &run->page, terms, rule, at, &both);
	     at = both.back_row)
		doubles++;
	run->sections = malloc((sections + 1) * sizeof *run->sections);
	run->doubles = malloc((doubles + 1) * sizeof *run->doubles);
	if (!run->sections || !run->doubles)
		return false;
	run->section_count = sections;
	run->double_count = doubles;
	for (at = SIZE_MAX; sections; at = run->sections[sections].from_row)
		level_section_before(&run->book.run, &run->page, terms, rule, at,
		                     &run->sections[--sections]);
	/* Found on the way back, they stand in the order of the way out all the same. */
	doubles = 0;
	for (at = SIZE_MAX; doubles < run->double_count; at = run->doubles[doubles++].back_row)
		level_double_before(&run->book.run, &run->page, terms, rule, at,
		                    &run->doubles[doubles]);
	return true;
}

static bool read_all(struct book *book, int64_t id, const struct level_tolerance *set,
                     struct work_run *out, struct fault *why)
{
	if (!book_settings(book, &out->settings, why) || !book_load(book, id, &out->book, why))
		return false;
	if (!book_run_terms(book, &out->book, &out->terms, why) ||
	    !work_tested(book, &out->book, &out->terms, set ? set : &out->settings.tolerance,
	                 &out->tested, why) ||
	    !work_times(book, &out->book, &out->terms, &out->times, why) ||
	    !work_airs(book, &out->book, &out->terms, out->settings.blind && !out->terms.sealed,
	               &out->airs, why) ||
	    !book_closings(book, id, &out->closings, &out->closing_count, why) ||
	    !book_asides(book, id, &out->asides, &out->aside_count, why)) {
		work_run_free(out);
		return false;
	}
	if (!level_reduce(&out->book.run, 0, &out->terms.terms, &out->page)) {
		work_run_free(out);
		return fault_memory(why);
	}
	out->closing =
	    level_close(&out->book.run, &out->page, &out->terms.terms,
	                set ? set : &out->settings.tolerance, out->settings.setup_figure);
	work_hide(&out->settings, &out->terms, out->book.run.kind, &out->closing);
	if (!find_sections(out, &(struct level_rule){set ? set : &out->settings.tolerance,
	                                             out->settings.setup_figure})) {
		work_run_free(out);
		return fault_memory(why);
	}
	if (!gauges_take(book, out, why) || !setouts_take(book, out, why) ||
	    !heads_take(book, out, why)) {
		work_run_free(out);
		return false;
	}
	return true;
}

/* In one state of the book. */
static bool load(struct book *book, int64_t id, const struct level_tolerance *set,
                 struct work_run *out, struct fault *why)
{
	bool ok;
	if (!book_hold(book, why))
		return false;
	ok = read_all(book, id, set, out, why);
	book_release(book);
	return ok;
}

bool work_run_load(struct book *book, const char *name, const struct level_tolerance *set,
                   struct work_run *out, struct fault *why)
{
	struct book_run_info info;
	*out = (struct work_run){0};
	return book_run_find(book, name, &info, why) && load(book, info.id, set, out, why);
}

bool work_run_load_listed(struct book *book, const struct book_run_info *info, struct work_run *out,
                          struct fault *why)
{
	*out = (struct work_run){0};
	return load(book, info->id, NULL, out, why);
}

void work_run_free(struct work_run *run)
{
	level_page_free(&run->page);
	book_run_free(&run->book);
	free(run->closings);
	free(run->sections);
	free(run->doubles);
	free(run->asides);
	free(run->gauges);
	free(run->setouts);
	free(run->heads);
	run->closings = NULL;
	run->sections = NULL;
	run->doubles = NULL;
	run->asides = NULL;
	run->gauges = NULL;
	run->setouts = NULL;
	run->heads = NULL;
}

void work_hide(const struct book_settings *settings, const struct book_terms *terms,
               enum level_run_kind kind, struct level_closing *closing)
{
	if (settings->blind && kind == LEVEL_CROSSING && !terms->sealed)
		level_hide_drop(closing);
}

bool work_two_rods(const struct work_run *run)
{
	const char *first = NULL;
	for (size_t i = 0; i < run->book.run.count; i++) {
		const struct level_sight *sight = &run->book.run.sight[i];
		if (!level_counted(sight) || sight->method != LEVEL_ROD)
			continue;
		if (first && strcmp(first, run->book.note[i].rod) != 0)
			return true;
		first = run->book.note[i].rod;
	}
	return false;
}

enum work_drop work_drop_of(const struct work_run *run)
{
	const struct level_closing *c = &run->closing;
	if (run->book.run.kind != LEVEL_CROSSING)
		return WORK_NO_CROSSING;
	if (!c->finding.none && !c->has_misclosure)
		return WORK_NOT_COMPLETE;
	return c->has_observed && !c->finding.none ? WORK_ANSWERED : WORK_NO_ANSWER;
}
