/* Figures: values by name, a line each, and the terms that follow from them. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book/store.h"

/* Whether a line is of that figure. */
static bool is_of(const char *line, const char *name)
{
	size_t size = strlen(name);
	return strncmp(line, name, size) == 0 && line[size] == '\t';
}

/* The line of a figure, and where its value begins; NULL where there is none. */
static const char *find(const struct book_figures *figures, const char *name, const char **value)
{
	const char *line = figures->text;
	while (*line) {
		if (is_of(line, name)) {
			*value = line + strlen(name) + 1;
			return line;
		}
		line += strcspn(line, "\n");
		line += *line == '\n';
	}
	return NULL;
}

static void copy(char *out, size_t size, const char *from, size_t length)
{
	if (length >= size)
		length = size - 1;
	memcpy(out, from, length);
	out[length] = '\0';
}

bool book_figure(const struct book_figures *figures, const char *name, char value[BOOK_VALUE_BYTES])
{
	const char *at;
	*value = '\0';
	if (!find(figures, name, &at))
		return false;
	copy(value, BOOK_VALUE_BYTES, at, strcspn(at, "\n"));
	return true;
}

/* The figure of a line, and the line behind it; false at the end. */
static bool take_line(const char **at, char name[BOOK_VALUE_BYTES], char value[BOOK_VALUE_BYTES])
{
	const char *line = *at;
	size_t split = strcspn(line, "\t\n"), rest;
	if (!*line)
		return false;
	copy(name, BOOK_VALUE_BYTES, line, split);
	line += split + (line[split] == '\t');
	rest = strcspn(line, "\n");
	copy(value, BOOK_VALUE_BYTES, line, rest);
	line += rest;
	*at = line + (*line == '\n');
	return true;
}

bool book_figure_at(const struct book_figures *figures, size_t i, char name[BOOK_VALUE_BYTES],
                    char value[BOOK_VALUE_BYTES])
{
	const char *line = figures->text;
	for (; *line && i > 0; i--) {
		line += strcspn(line, "\n");
		line += *line == '\n';
	}
	return take_line(&line, name, value);
}

bool book_figure_put(struct book_figures *figures, const char *name, const char *value,
                     struct fault *why)
{
	char line[2 * BOOK_VALUE_BYTES], *at;
	const char *old, *ignored;
	size_t used, size, gone = 0;
	if (!level_check_text(name, BOOK_VALUE_BYTES / 4, "name of a figure", why) ||
	    !level_check_text(value, BOOK_VALUE_BYTES / 4, name, why))
		return false;
	snprintf(line, sizeof line, "%s\t%s\n", name, value);
	size = *value ? strlen(line) : 0;
	used = strlen(figures->text);
	old = find(figures, name, &ignored);
	at = old ? figures->text + (old - figures->text) : figures->text + used;
	if (old)
		gone = strcspn(old, "\n") + 1;
	if (used - gone + size >= sizeof figures->text)
		return fault_say(why, FAULT_INPUT, "there is no room for more figures");
	memmove(at + size, at + gone, strlen(at + gone) + 1);
	memcpy(at, line, size);
	return true;
}

void book_default_figures(struct book_figures *out)
{
	*out = (struct book_figures){0};
	for (size_t i = 0; i < book_setting_count(); i++)
		if (setting_is_figure(i))
			book_figure_put(out, setting_name(i), setting_default(i), NULL);
	book_figure_put(out, "k_source", level_k_source_name(LEVEL_K_DEFAULT), NULL);
	book_figure_put(out, "instrument_source", "a default", NULL);
}

/* "instrument NAME", "tilt NAME", "tilt_u NAME", "tilt_sets NAME", "tilt_g NAME" of an instrument
 * of the run; "wind_speed". */
static bool take_named(const struct book_run *run, const char *name, const char *value,
                       struct level_terms *terms, struct fault *why)
{
	const char *blank = strchr(name, ' ');
	struct level_instrument *instrument = NULL;
	level_nm length;
	if (strcmp(name, "wind_speed") == 0)
		return level_parse_quantity(value, LEVEL_SPEED, 0, &terms->wind, why);
	if (!blank)
		return true;
	for (int i = 1; run && i < run->instruments; i++)
		if (strcmp(run->instrument[i], blank + 1) == 0)
			instrument = &terms->instrument[i];
	if (!instrument)
		return true;
	if (strncmp(name, "instrument ", 11) == 0)
		return level_parse_slope(value, &instrument->tolerance, why);
	instrument->tested = true;
	if (strncmp(name, "tilt_sets ", 10) == 0) {
		instrument->sets = atoi(value);
		return true;
	}
	if (strncmp(name, "tilt_g ", 7) == 0) {
		if (!level_parse_length(value, LEVEL_M, &length, why))
			return false;
		instrument->g = level_to_meters(length);
		return true;
	}
	return level_parse_tilt(
	    value, strncmp(name, "tilt ", 5) == 0 ? &instrument->tilt : &instrument->u, why);
}

/* What the figures do not name has its default. */
static bool take_defaults(const struct book_figures *figures, struct book_settings *settings,
                          struct fault *why)
{
	const char *next = figures->text, *ignored;
	for (size_t i = 0; i < book_setting_count(); i++) {
		if (!setting_is_figure(i))
			continue;
		/* Most stand in the order of the settings. */
		if (is_of(next, setting_name(i))) {
			next += strcspn(next, "\n");
			next += *next == '\n';
		} else if (!find(figures, setting_name(i), &ignored) &&
		           !setting_apply(settings, i, setting_default(i), why)) {
			return false;
		}
	}
	return true;
}

bool figures_radius(const struct book_figures *figures, double *radius, struct fault *why)
{
	struct book_settings settings = {.style = level_style_default(LEVEL_M)};
	char value[BOOK_VALUE_BYTES];
	size_t i = setting_find("radius");
	bool ok = setting_apply(
	    &settings, i, book_figure(figures, "radius", value) ? value : setting_default(i), why);
	*radius = settings.terms.radius;
	return ok;
}

bool book_terms_of(const struct book_figures *figures, const struct book_run *run,
                   struct level_terms *out, struct fault *why)
{
	/* Lengths carry their unit; what an old seal does not name has its default. */
	struct book_settings settings = {.style = level_style_default(LEVEL_M)};
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	const char *line = figures->text;
	if (!take_defaults(figures, &settings, why))
		return false;
	while (take_line(&line, name, value)) {
		size_t setting = setting_find(name);
		bool ok = setting < book_setting_count() && setting_is_figure(setting)
		              ? setting_apply(&settings, setting, value, why)
		              : take_named(run, name, value, &settings.terms, why);
		if (!ok)
			return false;
	}
	*out = settings.terms;
	/* Before that rule 0 was the default, which nobody had to choose. */
	if (!book_figure(figures, BOOK_RULE, value) && out->air_common == 0)
		out->air_declared = false;
	for (int i = 1; run && i < run->instruments; i++)
		if (out->instrument[i].tolerance == 0)
			return fault_say(
			    why, FAULT_INPUT,
			    "the tolerance of the instrument %.160s is not known: give "
			    "it with rodbook instrument BOOK",
			    run->instrument[i]);
	return true;
}

bool figures_are_sound(const struct book_figures *figures, struct fault *why)
{
	char name[BOOK_VALUE_BYTES], value[BOOK_VALUE_BYTES];
	struct level_terms ignored;
	for (size_t i = 0; book_figure_at(figures, i, name, value); i++)
		if (!level_check_text(name, BOOK_VALUE_BYTES / 4, "name of a figure", why) ||
		    !level_check_text(value, BOOK_VALUE_BYTES / 4, "figure", why))
			return false;
	return book_terms_of(figures, NULL, &ignored, why);
}
