/* k of a run or a plan: from its air where that gives one, else as it was set, else the default. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"
#include "rodbook/level/page.h"

/* How far k may be off, as far as it was chosen. */
static bool take_dk(const struct book_figures *open, double dk[2], bool set[2], struct fault *why)
{
	static const char *const names[] = {"dk", "dk_low", "dk_high"};
	struct book_settings settings = {0};
	char value[BOOK_VALUE_BYTES];
	for (int i = 0; i < 3; i++)
		if (book_figure(open, names[i], value) &&
		    !setting_apply(&settings, setting_find(names[i]), value, why))
			return false;
	set[0] = settings.dk_low_set;
	set[1] = settings.dk_high_set;
	dk[0] = settings.terms.dk_low;
	dk[1] = settings.terms.dk_high;
	return true;
}

static bool put_number(struct book_figures *figures, const char *name, const char *format,
                       double value, struct fault *why)
{
	char text[40];
	snprintf(text, sizeof text, format, value);
	return book_figure_put(figures, name, text, why);
}

static bool is_measured(const struct level_k_found *found)
{
	return found->source == LEVEL_K_THERMOMETERS || found->source == LEVEL_K_WATER;
}

/* Whether an air gives it, that of the run or of its plan. */
static bool is_by_air(const struct level_k_found *found)
{
	return is_measured(found) || found->source == LEVEL_K_PLAN_AIR;
}

bool figures_take_k(const struct book_figures *open, const struct level_k_found *found,
                    struct book_figures *figures, struct fault *why)
{
	double dk[2];
	bool set[2];
	*figures = *open;
	if (!take_dk(open, dk, set, why))
		return false;
	if (is_by_air(found)) {
		if (!put_number(figures, "k", "%.4f", found->chosen.k, why) ||
		    !book_figure_put(figures, "k_source", level_k_source_name(found->source), why))
			return false;
		set[0] = set[1] = false;
	}
	return book_figure_put(figures, "dk", "", why) &&
	       put_number(figures, "dk_low", is_by_air(found) ? "%.4f" : "%g",
	                  set[0] ? dk[0] : found->chosen.low, why) &&
	       put_number(figures, "dk_high", is_by_air(found) ? "%.4f" : "%g",
	                  set[1] ? dk[1] : found->chosen.high, why);
}

enum level_k_source figures_k_source(const struct book_figures *figures)
{
	char text[BOOK_VALUE_BYTES];
	book_figure(figures, "k_source", text);
	for (int i = 0; i < LEVEL_K_SOURCES; i++)
		if (strcmp(text, level_k_source_name((enum level_k_source)i)) == 0)
			return (enum level_k_source)i;
	/* As earlier versions sealed it. */
	if (strncmp(text, "the air", 7) == 0)
		return LEVEL_K_THERMOMETERS;
	if (strcmp(text, "the plan's air") == 0)
		return LEVEL_K_PLAN_AIR;
	if (strcmp(text, "the plan") == 0)
		return LEVEL_K_PLAN;
	return strcmp(text, "a default") == 0 ? LEVEL_K_DEFAULT : LEVEL_K_SET;
}

static struct level_k_found find(const struct book_k *k)
{
	struct level_sightline unknown = {NAN, 0, LEVEL_MEAN_RADIUS};
	struct level_k_found found =
	    level_k_mean(k->reading, k->has_line ? k->readings : 0,
	                 k->has_line ? &k->line : &unknown, LEVEL_OVER_WATER);
	struct level_k_found planned;
	if (!k->has_line || is_measured(&found))
		return found;
	planned = level_k_find(&k->plan, &k->line, LEVEL_OVER_WATER);
	if (!is_measured(&planned))
		return found;
	planned.source = LEVEL_K_PLAN_AIR;
	return planned;
}

/* The line of the run, with what its plan says where the run says nothing. */
static void find_line(struct book_k *k, const struct level_run *run, double radius)
{
	struct level_sightline line;
	char text[BOOK_VALUE_BYTES];
	level_nm length;
	bool planned = book_figure(&k->open, "distance", text) &&
	               level_parse_distance(text, LEVEL_M, &length, NULL);
	k->has_line = level_run_sightline(run, radius, &line);
	if (!k->has_line && planned) {
		line = (struct level_sightline){NAN, level_to_meters(length), radius};
		k->has_line = true;
	}
	if (!k->has_line)
		return;
	if (isnan(line.height) && book_figure(&k->open, "hi", text) &&
	    level_parse_length(text, LEVEL_M, &length, NULL))
		line.height = level_to_meters(length);
	k->line = line;
}

/* The wind that sets water up: the strongest read. */
static bool take_wind(const struct book_k *k, struct book_figures *figures, struct fault *why)
{
	double wind = k->plan.wind > 0 ? k->plan.wind : 0;
	for (size_t i = 0; i < k->readings; i++)
		if (k->reading[i].wind > wind)
			wind = k->reading[i].wind;
	return wind <= 0 || put_number(figures, "wind_speed", "%.2f m/s", wind, why);
}

bool terms_find_figures(struct book_terms *terms, const struct level_run *run, struct fault *why)
{
	struct book_k *k = &terms->k;
	double radius;
	if (!figures_radius(&k->open, &radius, why))
		return false;
	find_line(k, run, radius);
	k->found = find(k);
	if (!figures_take_k(&k->open, &k->found, &terms->figures, why) ||
	    !take_wind(k, &terms->figures, why))
		return false;
	terms->k_source = figures_k_source(&terms->figures);
	return true;
}

bool book_terms_find_k(struct book_terms *terms, const struct book_run *names,
                       const struct level_run *run, struct fault *why)
{
	return terms->sealed || (terms_find_figures(terms, run, why) &&
	                         book_terms_of(&terms->figures, names, &terms->terms, why));
}

bool book_terms_air_tells(const struct book_terms *terms)
{
	/* Any sight will do to tell whether there is a k in what was read. */
	static const struct level_sightline some = {1.5, 100, LEVEL_MEAN_RADIUS};
	const struct level_k_found found =
	    level_k_mean(terms->k.reading, terms->k.readings, &some, LEVEL_OVER_WATER);
	return is_measured(&found) || found.from_land;
}

enum book_air_wait book_terms_air_waits(const struct book_terms *terms)
{
	const struct book_k *k = &terms->k;
	if (terms->sealed || (k->has_line && !isnan(k->line.height)) ||
	    !book_terms_air_tells(terms))
		return BOOK_AIR_WAITS_NOT;
	return k->has_line ? BOOK_AIR_WAITS_FOR_WATER : BOOK_AIR_WAITS_FOR_SIGHT;
}

bool terms_take_airs(struct book *book, int64_t run, struct book_k *k, struct fault *why)
{
	struct book_air *list;
	size_t count, from = 0, used = 0;
	if (!book_airs(book, run, &list, &count, why))
		return false;
	for (size_t i = 0; i < count; i++)
		if (!*list[i].struck && ++used > BOOK_AIRS_MOST)
			from++;
	k->readings = 0;
	for (size_t i = 0; i < count; i++) {
		if (*list[i].struck)
			continue;
		if (from)
			from--;
		else
			k->reading[k->readings++] = list[i].reading;
	}
	free(list);
	return true;
}
