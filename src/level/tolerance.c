#include "rodbook/level/tolerance.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/drop/drop.h"

/* data/tolerances.txt, as it was when the library was built. */
extern const char rodbook_tolerances[];

#define SETS_MOST 32

static bool parse_length(const char *text, double *out)
{
	level_nm value;
	if ((level_is_bare(text) && strcmp(text, "0") != 0) ||
	    !level_parse_length(text, LEVEL_M, &value, NULL) || value < 0)
		return false;
	*out = level_to_meters(value);
	return true;
}

static bool parse_days(const char *text, double *out)
{
	char *end;
	*out = strtod(text, &end);
	return *text >= '0' && *text <= '9' && *end == '\0' && *out <= 10000;
}

static bool take_text(const char *text, char *out, size_t size)
{
	if (strlen(text) >= size)
		return false;
	strcpy(out, text);
	return true;
}

static bool take_figure(const char *name, const char *value, struct level_tolerance *out)
{
	const struct {
		const char *name;
		double *value;
	} lengths[] = {{"section", &out->per_km[0]},   {"loop", &out->per_km[1]},
	               {"setups", &out->per_setup},    {"cap", &out->cap},
	               {"sight", &out->sight},         {"setup-imbalance", &out->setup_imbalance},
	               {"imbalance", &out->imbalance}, {"half", &out->half},
	               {"standings", &out->standings}, {"clearance", &out->clearance}};
	for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++)
		if (strcmp(name, lengths[i].name) == 0)
			return parse_length(value, lengths[i].value);
	if (strcmp(name, "tilt") == 0)
		return level_parse_slope(value, &out->tilt, NULL);
	if (strcmp(name, "days") == 0)
		return parse_days(value, &out->days);
	if (strcmp(name, "title") == 0)
		return take_text(value, out->title, sizeof out->title);
	if (strcmp(name, "source") == 0)
		return take_text(value, out->source, sizeof out->source);
	if (strcmp(name, "graded") == 0) {
		out->graded = strcmp(value, "yes") == 0;
		return out->graded || strcmp(value, "no") == 0;
	}
	return false;
}

/* The next "name=value" of a list parted by semicolons; false at its end. */
static bool next_pair(const char **at, char name[200], char value[200], bool *sound)
{
	const char *equals, *begin = *at + strspn(*at, " ");
	size_t size = strcspn(begin, ";"), left;
	if (*begin == '\0')
		return false;
	*at = begin + size + (begin[size] == ';');
	while (size && begin[size - 1] == ' ')
		size--;
	equals = memchr(begin, '=', size);
	*sound = equals && size < 200;
	if (!*sound)
		return true;
	left = (size_t)(equals - begin);
	memcpy(name, begin, left);
	name[left] = '\0';
	memcpy(value, equals + 1, size - left - 1);
	value[size - left - 1] = '\0';
	return true;
}

bool level_parse_tolerance(const char *name, const char *figures, struct level_tolerance *out,
                           struct fault *why)
{
	char figure[200] = "", value[200];
	bool sound = true;
	*out = (struct level_tolerance){0};
	if (!level_check_name(name, "tolerance set", why))
		return false;
	if (!take_text(name, out->name, sizeof out->name))
		return fault_say(why, FAULT_INPUT, "the name of a tolerance set is too long");
	while (next_pair(&figures, figure, value, &sound))
		if (!sound || !take_figure(figure, value, out))
			return fault_say(
			    why, FAULT_INPUT,
			    "the tolerance set %.40s: \"%.60s\" cannot be read: figures "
			    "are written section=12 mm; sight=90 m; tilt=0.1 mm/m; "
			    "source=...",
			    name, figure);
	if (out->per_setup > 0 && (out->per_km[0] > 0 || out->per_km[1] > 0))
		return fault_say(
		    why, FAULT_INPUT,
		    "the tolerance set %.40s goes by length or by setups, not by both: "
		    "leave out section and loop, or setups",
		    name);
	if (!*out->title)
		strcpy(out->title, out->name);
	/* Common practice, no source. */
	if (out->standings == 0)
		out->standings = 0.003;
	if (out->per_km[0] > 0 && out->per_km[1] == 0)
		out->per_km[1] = out->per_km[0];
	return true;
}

/* A line "name; figures" of the data. */
static bool take_line(const char *line, size_t size, struct level_tolerance *out)
{
	char text[1000], *figures;
	if (size == 0 || *line == '#' || size >= sizeof text)
		return false;
	memcpy(text, line, size);
	text[size] = '\0';
	figures = strchr(text, ';');
	if (!figures)
		return false;
	*figures = '\0';
	return level_parse_tolerance(text, figures + 1, out, NULL);
}

const struct level_tolerance *level_tolerances(size_t *count)
{
	/* Read once: it is data of the program, and never changes while it runs. */
	static struct level_tolerance sets[SETS_MOST];
	static size_t known;
	const char *line = rodbook_tolerances;
	while (known == 0 && *line) {
		size_t read = 0;
		while (*line && read < SETS_MOST) {
			size_t size = strcspn(line, "\n");
			read += take_line(line, size, &sets[read]);
			line += size + (line[size] == '\n');
		}
		known = read;
	}
	*count = known;
	return sets;
}

const struct level_tolerance *level_tolerance_find(const char *name, struct fault *why)
{
	char names[400] = "";
	size_t used = 0, count;
	const struct level_tolerance *sets = level_tolerances(&count);
	for (size_t i = 0; i < count; i++) {
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
